package medial

import (
	"math"
	"slices"

	"tubewright/geom"
)

// piece is one stretch of axis seen from wall e, on its right: between places
// t0 < t1 of e the disc is limited by wall j. From j the same stretch is seen
// the other way: that piece is the twin.
type piece struct {
	e, j   int32
	twin   int32 // -1 until matched
	t0, t1 float64
	c0, c1 geom.Point // disc centres at t0 and t1
	r0, r1 float64
}

// stop is a place on a wall where the limiting wall is known.
type stop struct {
	t float64
	j int32
	r float64
}

// envelope works out the pieces of axis along wall e. Places in extra are
// looked at besides. hint, if not negative, is a wall likely to limit the disc
// at the start.
func (f *field) envelope(e int32, extra []float64, hint int32) []piece {
	w := &f.walls[e]
	j0, r0 := f.limit(e, 0, hint)
	from := stop{0, j0, r0}
	b := envelopeBuilder{f: f, e: e, from: 0, j: j0, out: make([]piece, 0, 3)}
	if len(extra) > 1 {
		extra = slices.Sorted(slices.Values(extra))
	}
	for i := range len(extra) + 1 {
		t := w.span
		if i < len(extra) {
			t = extra[i]
		}
		if !(t > from.t && t <= w.span) {
			continue
		}
		j, r := f.limit(e, t, from.j)
		to := stop{t, j, r}
		b.refine(from, to, 0)
		from = to
	}
	b.close(w.span)
	return b.out
}

type envelopeBuilder struct {
	f    *field
	e    int32
	out  []piece
	from float64 // where the piece being built starts
	j    int32
}

// maxDepth bounds the halving of one wall: 2^24 parts are below rounding.
const maxDepth = 48

// guesses is how often a wall is cut at a likely place before it is halved.
const guesses = 6

// refine adds the changes of limiting wall between two stops.
func (b *envelopeBuilder) refine(s0, s1 stop, depth int) {
	f := b.f
	if s0.j == s1.j {
		move := s1.t - s0.t
		if f.walls[b.e].point {
			move *= max(s0.r, s1.r)
		}
		// An interloper narrower than this is caught when its own view of the
		// axis finds no twin.
		if move <= 0.7*max(s0.r, s1.r) || depth > 16 || s0.j < 0 {
			return
		}
		b.split(s0, s1, (s0.t+s1.t)/2, depth)
		return
	}
	if depth > maxDepth || s1.t-s0.t <= f.hair/16 {
		b.change(s1.t, s1.j)
		return
	}
	t, ok := b.crossing(s0, s1)
	if !ok {
		if depth > guesses {
			t = (s0.t + s1.t) / 2
		}
		b.split(s0, s1, t, depth)
		return
	}
	j, r := f.limit(b.e, t, s0.j)
	p, n := f.walls[b.e].place(t)
	best := min(f.radius(b.e, t, p, n, s0.j), f.radius(b.e, t, p, n, s1.j))
	if j == s0.j || j == s1.j || best-r <= f.hair {
		b.refine(s0, stop{t, s0.j, best}, depth+1)
		b.change(t, s1.j)
		b.refine(stop{t, s1.j, best}, s1, depth+1)
		return
	}
	b.refine(s0, stop{t, j, r}, depth+1)
	b.refine(stop{t, j, r}, s1, depth+1)
}

func (b *envelopeBuilder) split(s0, s1 stop, t float64, depth int) {
	j, r := b.f.limit(b.e, t, s0.j)
	m := stop{t, j, r}
	b.refine(s0, m, depth+1)
	b.refine(m, s1, depth+1)
}

// crossing finds where the disc limited by s0.j becomes larger than that
// limited by s1.j: regula falsi (Illinois) on the difference of the radii. It
// returns false, and a place between, where one of the two does not limit the
// disc there at all: then some third wall does.
func (b *envelopeBuilder) crossing(s0, s1 stop) (t float64, ok bool) {
	f := b.f
	if t, ok := b.closed(s0, s1); ok {
		return t, true
	}
	radii := func(t float64) (r0, r1 float64) {
		p, n := f.walls[b.e].place(t)
		return f.radius(b.e, t, p, n, s0.j), f.radius(b.e, t, p, n, s1.j)
	}
	lo, hi := s0.t, s1.t
	lo0, lo1 := radii(lo)
	hi0, hi1 := radii(hi)
	if lo0 >= lo1 || math.IsInf(lo0, 1) {
		return lo, true
	}
	if hi0 <= hi1 && !math.IsInf(hi0, 1) {
		return hi, true
	}
	flo, fhi := lo0-lo1, hi0-hi1
	side := 0
	for range 80 {
		var share float64
		switch {
		case !math.IsInf(flo, 0) && !math.IsInf(fhi, 0):
			share = flo / (flo - fhi)
		case math.IsInf(flo, 0) && !math.IsInf(hi0, 0): // the radius changes little: where the first has it
			share = (hi1 - lo0) / (hi0 - lo0)
		case !math.IsInf(flo, 0) && math.IsInf(fhi, 0):
			share = (lo1 - lo0) / (lo1 - hi1)
		}
		t = lo + (hi-lo)*share
		if !(t > lo && t < hi) {
			t = (lo + hi) / 2
		}
		r0, r1 := radii(t)
		v := r0 - r1
		if hi-lo <= f.hair/4 || math.Abs(v) <= f.hair/1000 {
			return t, true
		}
		if math.IsInf(r0, 1) || math.IsInf(r1, 1) {
			return t, false
		}
		if v < 0 {
			lo, lo0, lo1, flo = t, r0, r1, v
			if side < 0 {
				fhi /= 2
			}
			side = -1
		} else {
			hi, hi0, hi1, fhi = t, r0, r1, v
			if side > 0 {
				flo /= 2
			}
			side = 1
		}
	}
	return (lo + hi) / 2, true
}

// closed answers crossing in closed form where two of the three walls follow
// each other: edges that share a corner, or an edge and the corner at its end.
// Each of the three walls so finds the same centre, which regula falsi does not
// promise where radii differ by second order, or edges are nearly in line.
func (b *envelopeBuilder) closed(s0, s1 stop) (t float64, ok bool) {
	f := b.f
	if s0.j < 0 || s1.j < 0 { // nothing limits the disc at one of them
		return 0, false
	}
	for _, k := range [3][3]int32{{s0.j, s1.j, b.e}, {b.e, s0.j, s1.j}, {b.e, s1.j, s0.j}} {
		i, j := k[0], k[1]
		if f.walls[j].next == i {
			i, j = j, i
		} else if f.walls[i].next != j {
			continue
		}
		t = f.walls[b.e].foot(f.walls[k[2]].level(f.follow(i, j)))
		if !(t > s0.t && t < s1.t) {
			continue
		}
		p, n := f.walls[b.e].place(t)
		if !math.IsInf(f.radius(b.e, t, p, n, s0.j), 1) && !math.IsInf(f.radius(b.e, t, p, n, s1.j), 1) {
			return t, true
		}
	}
	return 0, false
}

// follow says where discs lie that touch wall i and the next, j: the disc of
// radius r has its centre at q + r·m.
func (f *field) follow(i, j int32) (q geom.Point, m geom.Vec) {
	u, v := &f.walls[i], &f.walls[j]
	switch {
	case u.point:
		return u.a, v.n
	case v.point:
		return v.a, u.n
	}
	return v.a, u.n.Add(v.n).Mul(1 / (1 + u.n.Dot(v.n)))
}

// level returns the point q + r·m that lies r from the wall.
func (w *wall) level(q geom.Point, m geom.Vec) geom.Point {
	d := q.Sub(w.a)
	r := d.Dot(w.n) / (1 - m.Dot(w.n))
	if w.point {
		k := m.Dot(d)
		r = d.Dot(d) / (math.Sqrt(float64(k*k)-float64((m.Dot(m)-1)*d.Dot(d))) - k)
	}
	return q.Add(m.Mul(r))
}

func (b *envelopeBuilder) change(t float64, j int32) {
	if j == b.j {
		return
	}
	b.close(t)
	b.from, b.j = t, j
}

func (b *envelopeBuilder) close(t float64) {
	if t <= b.from || b.j < 0 {
		return
	}
	f := b.f
	q := piece{e: b.e, j: b.j, twin: -1, t0: b.from, t1: t}
	q.c0, q.r0 = f.disc(b.e, q.t0, b.j)
	q.c1, q.r1 = f.disc(b.e, q.t1, b.j)
	b.out = append(b.out, q)
}

// disc returns the disc that touches e at t and j, nudged off the very ends
// of its range where rounding makes it unbounded.
func (f *field) disc(e int32, t float64, j int32) (geom.Point, float64) {
	p, n := f.walls[e].place(t)
	r := f.radius(e, t, p, n, j)
	for k := 1e-9; math.IsInf(r, 1) && k < 1e-4; k *= 10 {
		d := k * f.walls[e].span
		for _, s := range [2]float64{t - d, t + d} {
			if s >= 0 && s <= f.walls[e].span {
				p, n = f.walls[e].place(s)
				r = min(r, f.radius(e, s, p, n, j))
			}
		}
	}
	if math.IsInf(r, 1) {
		_, r = f.limit(e, t, -1)
	}
	p, n = f.walls[e].place(t)
	return p.Add(n.Mul(r)), r
}
