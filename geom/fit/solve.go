package fit

import (
	"math"

	"tubewright/geom"
)

// target says what a spline must meet exactly.
type target struct {
	closed   bool
	fixStart bool    // start heading given
	end      pose    // for an open curve: where it ends
	fixEnd   bool    // end.h given
	turns    float64 // for a closed curve: its total turn, a multiple of 2π
	kmax     float64 // greatest curvature
}

// problem is one least-squares fit of a spline of given structure.
type problem struct {
	sm []sample
	w  []float64 // weight of each sample
	target
	feet []foot
	// Work space, kept between iterations.
	row, h, g []float64
	c         [3][]float64
}

// params says which unknowns exist, in the order of the columns: x, y (closed
// only), heading, then for each span its length and, for arcs, its curvature.
type params struct {
	n          int
	x, h       int // -1 where fixed; y is x+1
	len, curve []int
}

func (pr *problem) columns(c *spline, fixed []bool) params {
	p := params{x: -1, h: -1}
	if pr.closed {
		p.x, p.n = 0, 2
	}
	if !pr.fixStart {
		p.h = p.n
		p.n++
	}
	p.len = make([]int, len(c.spans))
	p.curve = make([]int, len(c.spans))
	for i, s := range c.spans {
		p.len[i] = p.n
		p.n++
		p.curve[i] = -1
		if !s.line && !fixed[i] {
			p.curve[i] = p.n
			p.n++
		}
	}
	return p
}

// rowAt fills row with the derivative along u of the point at distance t on
// span i. The start, the heading and every earlier span move it as parts of a
// rigid body; its own span bends it.
func (c *spline) rowAt(p params, row []float64, i int, t float64, u geom.Vec) {
	clear(row)
	at := c.spans[i].along(c.at[i], t).p
	lever := func(o geom.Point) float64 { return u.Dot(at.Sub(o).Left()) }
	if p.x >= 0 {
		row[p.x], row[p.x+1] = u.X, u.Y
	}
	if p.h >= 0 {
		row[p.h] = lever(c.start.p)
	}
	for j := 0; j <= i; j++ {
		s, n := c.spans[j], c.spans[j].l
		d := geom.UnitAt(geom.Angle(c.at[j].h))
		if j < i {
			e := c.at[j+1]
			row[p.len[j]] = u.Dot(geom.UnitAt(geom.Angle(e.h))) + float64(s.k*lever(e.p))
		} else {
			n = t
		}
		if k := p.curve[j]; k >= 0 {
			x, y := bowByK(float64(s.k*n), n)
			row[k] = float64(x*u.Dot(d)) + float64(y*u.Dot(d.Left()))
			if j < i {
				row[k] += float64(n * lever(c.at[j+1].p))
			}
		}
	}
}

// miss returns what is left of the exact conditions: position, and heading
// where it is fixed (0 where not).
func (pr *problem) miss(c *spline) [3]float64 {
	e := c.at[len(c.spans)]
	goal, h, fixed := pr.end.p, pr.end.h, pr.fixEnd
	if pr.closed {
		goal, h, fixed = c.start.p, c.start.h+pr.turns, true
	}
	v := e.p.Sub(goal)
	out := [3]float64{v.X, v.Y, 0}
	if fixed {
		out[2] = e.h - h
	}
	return out
}

// conditions fills pr.c with the derivatives of miss and returns their number.
func (pr *problem) conditions(c *spline, p params) int {
	last := len(c.spans) - 1
	end := c.spans[last].l
	for i, u := range [2]geom.Vec{{X: 1}, {Y: 1}} {
		c.rowAt(p, pr.c[i], last, end, u)
		pr.c[i][p.len[last]] = u.Dot(geom.UnitAt(geom.Angle(c.at[last+1].h)))
	}
	if pr.closed { // the start moves too
		pr.c[0][p.x], pr.c[1][p.x+1] = 0, 0
	}
	if !pr.closed && !pr.fixEnd {
		return 2
	}
	clear(pr.c[2])
	if p.h >= 0 && !pr.closed {
		pr.c[2][p.h] = 1
	}
	for i, s := range c.spans {
		pr.c[2][p.len[i]] = s.k
		if k := p.curve[i]; k >= 0 {
			pr.c[2][k] = s.l
		}
	}
	return 3
}

// residuals moves the feet and returns the weighted sum of squares.
func (pr *problem) residuals(c *spline) float64 {
	var sum float64
	for i, q := range pr.sm {
		pr.feet[i] = c.track(pr.feet[i], q.p)
		r := pr.residual(c, i)
		sum += float64(pr.w[i] * r * r)
	}
	return sum
}

// residual returns the signed distance of the spline from sample i, left
// positive.
func (pr *problem) residual(c *spline, i int) float64 {
	f := pr.feet[i]
	e := c.spans[f.i].along(c.at[f.i], f.t)
	return geom.UnitAt(geom.Angle(e.h)).Left().Dot(e.p.Sub(pr.sm[i].p))
}

// distance returns how far sample i is from its foot.
func (pr *problem) distance(c *spline, i int) float64 {
	f := pr.feet[i]
	return c.spans[f.i].along(c.at[f.i], f.t).p.Dist(pr.sm[i].p)
}

// solve moves the spline to the least-squares fit of its structure, conditions
// met exactly. It reports false where they cannot be met, or a span vanishes.
func (pr *problem) solve(c *spline, rounds int) bool {
	scale := pr.sm[len(pr.sm)-1].s
	fixed := make([]bool, len(c.spans))
	damp := 1e-10
	c.lay()
	sum := pr.residuals(c)
	merit := pr.merit(c, sum)
	for range rounds {
		p := pr.columns(c, fixed)
		step, ok := pr.step(c, p, damp)
		if !ok {
			damp = max(damp*100, 1e-8)
			if damp > 1 {
				return false
			}
			continue
		}
		next, share := pr.moved(c, p, step)
		before := append([]foot(nil), pr.feet...)
		sum = pr.residuals(next)
		m := pr.merit(next, sum)
		if !(m <= merit*(1+1e-12)+1e-24*scale*scale) {
			copy(pr.feet, before)
			pr.residuals(c)
			damp = max(damp*100, 1e-8)
			if damp > 100 {
				break
			}
			continue
		}
		moved := pr.size(c, next)
		*c = *next
		merit, damp = m, max(damp/100, 1e-10)
		changed := pr.bind(c, p, step, fixed)
		if moved < 1e-10*scale && share == 1 && !changed {
			break
		}
	}
	return pr.meet(c)
}

// merit weighs the conditions so heavily that a step may not trade them for fit.
func (pr *problem) merit(c *spline, sum float64) float64 {
	m := pr.miss(c)
	scale := pr.sm[len(pr.sm)-1].s
	return sum + float64(10*scale*(float64(m[0]*m[0])+float64(m[1]*m[1])+float64(scale*scale*m[2]*m[2]/100)))
}

// size returns how far the joints moved.
func (pr *problem) size(a, b *spline) float64 {
	var d float64
	for i := range a.at {
		d = max(d, a.at[i].p.Dist(b.at[i].p))
	}
	return d
}

// bind holds the curvatures that lie on the bound and are pushed outward.
func (pr *problem) bind(c *spline, p params, step []float64, fixed []bool) bool {
	changed := false
	for i, s := range c.spans {
		if s.line || fixed[i] {
			continue
		}
		if math.Abs(s.k) >= pr.kmax && p.curve[i] >= 0 && float64(step[p.curve[i]]*s.k) >= 0 {
			fixed[i], changed = true, true
		}
	}
	return changed
}

// moved returns the spline after as much of the step as keeps every length
// above a fifth of what it was and no heading from turning more than 0.5.
func (pr *problem) moved(c *spline, p params, step []float64) (*spline, float64) {
	share := 1.0
	for i, s := range c.spans {
		if d := step[p.len[i]]; d < -0.8*s.l {
			share = min(share, -0.8*s.l/d)
		}
		if k := p.curve[i]; k >= 0 {
			if turn := math.Abs(step[k] * s.l); turn > 0.5 {
				share = min(share, 0.5/turn)
			}
		}
	}
	out := c.clone()
	if p.x >= 0 {
		out.start.p.X += float64(share * step[p.x])
		out.start.p.Y += float64(share * step[p.x+1])
	}
	if p.h >= 0 {
		out.start.h += float64(share * step[p.h])
	}
	for i := range out.spans {
		s := &out.spans[i]
		s.l += float64(share * step[p.len[i]])
		if k := p.curve[i]; k >= 0 {
			s.k = min(max(s.k+float64(share*step[k]), -pr.kmax), pr.kmax)
		}
	}
	out.lay()
	return out, share
}
