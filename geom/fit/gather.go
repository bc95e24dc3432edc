package fit

import "tubewright/geom"

// lever is how an unknown moves a point of the spline as part of a rigid body:
// by x·u.X + y·u.Y + z·(u × point) along the direction u.
type lever [3]float64

// tug is what a sample says: its direction and lever arm, how its own span's
// curvature moves it, and how far it is off.
type tug [5]float64

const (
	tugBent = 3 // of the own curvature
	tugOff  = 4
)

// tugs is the weighted sum of the products of tugs.
type tugs [5][5]float64

func (m *tugs) add(w float64, v *tug) {
	for i := range v {
		a := w * v[i]
		for j := range i + 1 {
			m[i][j] += float64(a * v[j])
		}
	}
}

// at returns the product sum of columns i and j.
func (m *tugs) at(i, j int) float64 { return m[max(i, j)][min(i, j)] }

// with returns the products of column i with the rigid move of an unknown.
func (m *tugs) with(i int, a *lever) float64 {
	return float64(a[0]*m.at(0, i)) + float64(a[1]*m.at(1, i)) + float64(a[2]*m.at(2, i))
}

// gather fills the lower half of the normal equations. An unknown moves all
// later spans as a rigid body, so the samples of a span count by their sums
// alone: time in proportion to samples plus the square of the unknowns.
func (pr *problem) gather(c *spline, p params) {
	n := len(c.spans)
	own := make([]tugs, n)
	for i, q := range pr.sm {
		w := pr.w[i]
		if w == 0 {
			continue
		}
		f := pr.feet[i]
		at, d := c.spans[f.i].reach(c.at[f.i], f.t)
		u := d.Left()
		v := tug{u.X, u.Y, geom.Vec(at).Cross(u), 0, u.Dot(at.Sub(q.p))}
		if p.curve[f.i] >= 0 {
			v[tugBent] = u.Dot(c.spans[f.i].bentBy(c.at[f.i], f.t))
		}
		own[f.i].add(w, &v)
	}
	levers := pr.levers(c, p)
	var later tugs // of all spans after span i
	for i := n - 1; i >= 0; i-- {
		from := p.len[i]
		pr.rigid(&later, levers, from, pr.past(p, i))
		if k := p.curve[i]; k >= 0 {
			for j := range from {
				pr.h[k*p.n+j] += own[i].with(tugBent, &levers[j])
			}
			pr.h[k*p.n+k] += own[i].at(tugBent, tugBent)
			pr.g[k] += own[i].at(tugBent, tugOff)
		}
		for a := range later {
			for b := range a + 1 {
				later[a][b] += own[i][a][b]
			}
		}
	}
	pr.rigid(&later, levers, 0, p.len[0])
}

// past returns the column after those of span i.
func (pr *problem) past(p params, i int) int {
	if i+1 < len(p.len) {
		return p.len[i+1]
	}
	return p.n
}

// rigid adds what the samples of m say of the unknowns from column from to
// column to, which move all of them rigidly, as do all columns before.
func (pr *problem) rigid(m *tugs, levers []lever, from, to int) {
	n := len(levers)
	for i := from; i < to; i++ {
		a := &levers[i]
		v := lever{m.with(0, a), m.with(1, a), m.with(2, a)}
		for j, b := range levers[:i+1] {
			pr.h[i*n+j] += float64(v[0]*b[0]) + float64(v[1]*b[1]) + float64(v[2]*b[2])
		}
		pr.g[i] += m.with(tugOff, a)
	}
}

// levers returns how each unknown moves what comes after its span.
func (pr *problem) levers(c *spline, p params) []lever {
	out := make([]lever, p.n)
	// A turn about o moves the point q by (q−o).Left()·u = q×u − o×u.
	turn := func(o geom.Point, by float64) lever { return lever{float64(by * o.Y), float64(-by * o.X), by} }
	if p.x >= 0 {
		out[p.x], out[p.x+1] = lever{1, 0, 0}, lever{0, 1, 0}
	}
	if p.h >= 0 {
		out[p.h] = turn(c.start.p, 1)
	}
	for j, s := range c.spans {
		e := c.at[j+1]
		l := turn(e.p, s.k)
		out[p.len[j]] = lever{l[0] + e.d.X, l[1] + e.d.Y, l[2]}
		if k := p.curve[j]; k >= 0 {
			l = turn(e.p, s.l)
			out[k] = lever{l[0] + pr.bent[j].X, l[1] + pr.bent[j].Y, l[2]}
		}
	}
	return out
}
