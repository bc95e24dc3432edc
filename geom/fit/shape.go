package fit

import (
	"math"

	"tubewright/geom"
)

// shape is a line or circle through no point in particular, as the set
//
//	A·|p-o|² + B·(p-o) + D = 0   with |B|² - 4AD = 1,
//
// which has no singular case: A = 0 is a line (Pratt, "Direct least-squares
// fitting of algebraic surfaces", SIGGRAPH 1987). The curvature is 2A.
type shape struct {
	o    geom.Point
	a, d float64
	b    geom.Vec
	rms  float64 // mm, weighted
}

// offset returns the signed distance of p from the shape; its sign is that of
// the gradient B.
func (c shape) offset(p geom.Point) float64 {
	v := p.Sub(c.o)
	q := float64(c.a*v.Dot(v)) + c.b.Dot(v) + c.d
	root := 1 + float64(4*c.a*q)
	if root < 0 {
		root = 0
	}
	return 2 * q / (1 + math.Sqrt(root))
}

// dir returns the unit direction of the shape near p, along forward.
func (c shape) dir(p geom.Point, forward geom.Vec) geom.Vec {
	g := c.b.Add(p.Sub(c.o).Mul(2 * c.a)).Unit()
	t := geom.Vec{X: g.Y, Y: -g.X}
	if t.Dot(forward) < 0 {
		return t.Neg()
	}
	return t
}

// moments are weighted sums over samples about the point o. Taking o among the
// samples keeps the digits.
type moments struct {
	o                geom.Point
	n, x, y          float64
	xx, xy, yy       float64
	xz, yz, zz, sumZ float64 // z = x² + y²
}

func (m *moments) add(p geom.Point, w float64) {
	x, y := p.X-m.o.X, p.Y-m.o.Y
	xx, yy := float64(x*x), float64(y*y)
	z := xx + yy
	wx, wy, wz := float64(w*x), float64(w*y), float64(w*z)
	m.n += w
	m.x += wx
	m.y += wy
	m.xx += float64(w * xx)
	m.xy += float64(wx * y)
	m.yy += float64(w * yy)
	m.sumZ += wz
	m.xz += float64(wz * x)
	m.yz += float64(wz * y)
	m.zz += float64(wz * z)
}

// line returns the weighted least-squares line.
func (m *moments) line() shape {
	mx, my := m.x/m.n, m.y/m.n
	cxx := m.xx/m.n - float64(mx*mx)
	cyy := m.yy/m.n - float64(my*my)
	cxy := m.xy/m.n - float64(mx*my)
	angle := math.Atan2(2*cxy, cxx-cyy) / 2
	normal := geom.UnitAt(geom.Angle(angle)).Left()
	ss := float64(cxx*normal.X*normal.X) + float64(2*cxy*normal.X*normal.Y) + float64(cyy*normal.Y*normal.Y)
	return shape{
		o: geom.Point{X: m.o.X + mx, Y: m.o.Y + my}, b: normal,
		rms: math.Sqrt(max(0, ss)),
	}
}

// circle returns Pratt's circle, and false where the samples give none better
// than a line. Newton's method from zero finds the least root of Pratt's
// quartic, and cannot pass it.
func (m *moments) circle() (shape, bool) {
	mx, my := m.x/m.n, m.y/m.n
	s := float64(mx*mx) + float64(my*my)
	cxx := m.xx/m.n - float64(mx*mx)
	cyy := m.yy/m.n - float64(my*my)
	cxy := m.xy/m.n - float64(mx*my)
	// Moments of z about the mean: |u-c|² = z - 2c·u + |c|².
	zbar := m.sumZ / m.n
	cz := cxx + cyy // mean of the centred z
	cxz := m.xz/m.n - float64(2*mx*m.xx/m.n) - float64(2*my*m.xy/m.n) + float64(s*mx) - float64(mx*cz)
	cyz := m.yz/m.n - float64(2*mx*m.xy/m.n) - float64(2*my*m.yy/m.n) + float64(s*my) - float64(my*cz)
	czz := m.zz/m.n + float64(4*mx*mx*m.xx/m.n) + float64(4*my*my*m.yy/m.n) + float64(s*s) -
		float64(4*mx*m.xz/m.n) - float64(4*my*m.yz/m.n) + float64(2*s*zbar) +
		float64(8*mx*my*m.xy/m.n) - float64(4*s*s)
	cov := float64(cxx*cyy) - float64(cxy*cxy)
	varZ := czz - float64(cz*cz)
	a2 := float64(4*cov) - float64(3*cz*cz) - czz
	a1 := float64(varZ*cz) + float64(4*cov*cz) - float64(cxz*cxz) - float64(cyz*cyz)
	a0 := float64(cxz*(float64(cxz*cyy)-float64(cyz*cxy))) + float64(cyz*(float64(cyz*cxx)-float64(cxz*cxy))) - float64(varZ*cov)
	x, y := 0.0, a0
	for range 20 {
		dy := a1 + float64(x*(2*a2+float64(16*x*x)))
		next := x - y/dy
		if !(next >= 0) || next == x {
			break
		}
		ny := a0 + float64(next*(a1+float64(next*(a2+float64(4*next*next)))))
		if math.Abs(ny) >= math.Abs(y) {
			break
		}
		x, y = next, ny
	}
	det := float64(x*x) - float64(x*cz) + cov
	bx := float64(cxz*(cyy-x)) - float64(cyz*cxy)
	by := float64(cyz*(cxx-x)) - float64(cxz*cxy)
	norm := math.Sqrt(float64(bx*bx) + float64(by*by) + float64(4*det*det*(cz+2*x)))
	if !(norm > 0) || math.IsInf(norm, 0) {
		return shape{}, false
	}
	a := det / norm
	return shape{
		o: geom.Point{X: m.o.X + mx, Y: m.o.Y + my},
		a: a, b: geom.Vec{X: -bx / norm, Y: -by / norm}, d: -float64(a * (cz + 2*x)),
		rms: math.Sqrt(max(0, x)),
	}, true
}
