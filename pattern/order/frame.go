package order

import (
	"math"

	"tubewright/geom"
)

// frame is a place and three unit axes, right-handed; X points along the
// travel. It maps local coordinates to those it is given in.
type frame struct {
	o       geom.Point3
	x, y, z geom.Vec3
}

func identity() frame {
	return frame{x: geom.Vec3{X: 1}, y: geom.Vec3{Y: 1}, z: geom.Vec3{Z: 1}}
}

// at returns the place of local point p.
func (f frame) at(p geom.Point3) geom.Point3 {
	return f.o.Add(f.x.Mul(p.X)).Add(f.y.Mul(p.Y)).Add(f.z.Mul(p.Z))
}

func (f frame) dir(v geom.Vec3) geom.Vec3 {
	return f.x.Mul(v.X).Add(f.y.Mul(v.Y)).Add(f.z.Mul(v.Z))
}

// then returns the frame g, given in the coordinates of f.
func (f frame) then(g frame) frame {
	return frame{f.at(g.o), f.dir(g.x), f.dir(g.y), f.dir(g.z)}
}

// inverse undoes f.
func (f frame) inverse() frame {
	x := geom.Vec3{X: f.x.X, Y: f.y.X, Z: f.z.X}
	y := geom.Vec3{X: f.x.Y, Y: f.y.Y, Z: f.z.Y}
	z := geom.Vec3{X: f.x.Z, Y: f.y.Z, Z: f.z.Z}
	o := f.o.Sub(geom.Point3{})
	return frame{geom.Point3{X: -o.Dot(f.x), Y: -o.Dot(f.y), Z: -o.Dot(f.z)}, x, y, z}
}

// along moves the frame n mm along its travel.
func (f frame) along(n float64) frame { f.o = f.o.Add(f.x.Mul(n)); return f }

// turned turns the axes about a unit vector given in the outer coordinates.
func (f frame) turned(axis geom.Vec3, a geom.Angle) frame {
	f.x, f.y, f.z = f.x.Turned(axis, a), f.y.Turned(axis, a), f.z.Turned(axis, a)
	return f
}

// local returns the components of v along the axes of f.
func (f frame) local(v geom.Vec3) geom.Vec3 {
	return geom.Vec3{X: v.Dot(f.x), Y: v.Dot(f.y), Z: v.Dot(f.z)}
}

// alongDir returns a frame at o with travel d and any roll.
func alongDir(o geom.Point3, d geom.Vec3) frame {
	other := geom.Vec3{Z: 1}
	if math.Abs(d.Z) > 0.9 {
		other = geom.Vec3{Y: 1}
	}
	y := other.Cross(d).Unit()
	return frame{o, d, y, d.Cross(y)}
}

// rotationVector returns axis·angle of the rotation that takes the axes of
// identity to those of f, the one of its values nearest to hint: a turn by 180
// degrees or more has more than one, and hint tells which way the glass went.
func (f frame) rotationVector(hint geom.Vec3) geom.Vec3 {
	sin := geom.Vec3{X: f.y.Z - f.z.Y, Y: f.z.X - f.x.Z, Z: f.x.Y - f.y.X} // 2 sin·axis
	cos := (f.x.X + f.y.Y + f.z.Z - 1) / 2
	a := math.Atan2(sin.Norm()/2, cos)
	if a < 1e-9 {
		return geom.Vec3{}
	}
	axis := sin.Unit()
	if math.Pi-a < 1e-4 {
		axis = halfTurnAxis(f)
	}
	best, nearest := geom.Vec3{}, math.Inf(1)
	for k := -2; k <= 2; k++ {
		for _, sign := range [2]float64{1, -1} {
			if sign < 0 && math.Pi-a >= 1e-4 {
				continue
			}
			w := axis.Mul(sign*a + 2*math.Pi*float64(k))
			if d := w.Sub(hint).Norm(); d < nearest-1e-9 {
				best, nearest = w, d
			}
		}
	}
	return best
}

// halfTurnAxis returns the axis of a rotation by 180 degrees: the longest column
// of R + 1.
func halfTurnAxis(f frame) geom.Vec3 {
	cols := [3]geom.Vec3{
		f.x.Add(geom.Vec3{X: 1}), f.y.Add(geom.Vec3{Y: 1}), f.z.Add(geom.Vec3{Z: 1}),
	}
	best := cols[0]
	for _, c := range cols[1:] {
		if c.Norm() > best.Norm() {
			best = c
		}
	}
	return best.Unit()
}
