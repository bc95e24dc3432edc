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
	feet  []foot
	scale float64 // length of what is fitted, mm
	loose float64 // mm; a step smaller than this ends the iteration
	bent  []geom.Vec
	work  *int // what may still be spent, in products; see workFor
	// Work space, kept between iterations.
	h, g []float64
	c    [3][]float64
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
//
// bent[j] is the derivative of the end of span j with respect to its curvature.
func (c *spline) rowAt(p params, row []float64, bent []geom.Vec, i int, t float64, u geom.Vec) {
	clear(row)
	at := c.spans[i].along(c.at[i], t).p
	lever := func(o geom.Point) float64 { return u.Dot(at.Sub(o).Left()) }
	if p.x >= 0 {
		row[p.x], row[p.x+1] = u.X, u.Y
	}
	if p.h >= 0 {
		row[p.h] = lever(c.start.p)
	}
	for j, s := range c.spans[:i] {
		e := c.at[j+1]
		arm := lever(e.p)
		row[p.len[j]] = u.Dot(e.d) + float64(s.k*arm)
		if k := p.curve[j]; k >= 0 {
			row[k] = u.Dot(bent[j]) + float64(s.l*arm)
		}
	}
	if k := p.curve[i]; k >= 0 {
		row[k] = u.Dot(c.spans[i].bentBy(c.at[i], t))
	}
}

// bentBy returns the derivative with respect to curvature of the point at
// distance t of the span that starts at q.
func (s span) bentBy(q pose, t float64) geom.Vec {
	x, y := bowByK(float64(s.k*t), t)
	return q.d.Mul(x).Add(q.d.Left().Mul(y))
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
	pr.bend(c)
	last := len(c.spans) - 1
	end := c.spans[last].l
	for i, u := range [2]geom.Vec{{X: 1}, {Y: 1}} {
		c.rowAt(p, pr.c[i], pr.bent, last, end, u)
		pr.c[i][p.len[last]] = u.Dot(c.at[last+1].d)
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

// bend fills pr.bent.
func (pr *problem) bend(c *spline) {
	pr.bent = pr.bent[:0]
	for i, s := range c.spans {
		pr.bent = append(pr.bent, s.bentBy(c.at[i], s.l))
	}
}

// residual returns the signed distance of the spline from sample i, left
// positive.
func (pr *problem) residual(c *spline, i int) float64 {
	f := pr.feet[i]
	at, d := c.spans[f.i].reach(c.at[f.i], f.t)
	return d.Left().Dot(at.Sub(pr.sm[i].p))
}

// distances returns how far each sample is from its foot.
func (pr *problem) distances(c *spline) []float64 {
	out := make([]float64, len(pr.sm))
	for i, f := range pr.feet {
		out[i] = c.spans[f.i].along(c.at[f.i], f.t).p.Dist(pr.sm[i].p)
	}
	return out
}

// Levenberg's damping: where it starts, and how it answers a good and a bad
// step. Structures with a joint the samples say little about need much of it.
const (
	dampStart = 1e-4
	dampLeast = 1e-12
	dampGood  = 0.1
	dampBad   = 8
)

// workFor bounds one attempt at n points, so that no input however wild takes
// longer than about half a second a thousand points: five to ten times what
// lettering needs.
func workFor(n int) *int {
	w := 100_000_000 + 400_000*n
	return &w
}

// solve moves the spline to the least-squares fit of its structure, conditions
// met exactly. It reports false where they cannot be met, or a span vanishes.
func (pr *problem) solve(c *spline, rounds int) bool {
	fixed := make([]bool, len(c.spans))
	damp := dampStart
	c.lay()
	pr.restore(c)
	sum := pr.residuals(c)
	merit := pr.merit(c, sum)
	before := make([]foot, len(pr.feet))
	for range rounds {
		p := pr.columns(c, fixed)
		if *pr.work -= len(pr.sm) * p.n * (p.n + 20); *pr.work < 0 {
			return false
		}
		step, ok := pr.step(c, p, damp)
		if !ok {
			if damp *= dampBad; damp > 1e4 {
				return false
			}
			continue
		}
		next, share := pr.moved(c, p, step)
		pr.restore(next)
		copy(before, pr.feet)
		sum = pr.residuals(next)
		m := pr.merit(next, sum)
		moved := pr.size(c, next)
		if !(m <= merit*(1+1e-9)+1e-24*pr.scale*pr.scale) {
			copy(pr.feet, before)
			if damp *= dampBad; damp > 1e4 || moved < max(pr.loose, 1e-9*pr.scale) {
				break
			}
			continue
		}
		gain := merit - m
		*c = *next
		merit, damp = m, max(damp*dampGood, dampLeast)
		changed := pr.bind(c, p, step, fixed)
		if share < 1 || changed {
			continue
		}
		if moved < max(1e-10*pr.scale, pr.loose) || pr.loose > 0 && gain < 1e-3*m {
			break
		}
	}
	return pr.meet(c)
}

// merit weighs what is left of the conditions so heavily that a step may not
// trade them for fit.
func (pr *problem) merit(c *spline, sum float64) float64 {
	m := pr.miss(c)
	return sum + float64(10*pr.scale*(float64(m[0]*m[0])+float64(m[1]*m[1])+float64(pr.scale*pr.scale*m[2]*m[2]/100)))
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
