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
	t := b.crossing(s0, s1)
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
// limited by s1.j: regula falsi (Illinois), halving while a disc is unbounded.
func (b *envelopeBuilder) crossing(s0, s1 stop) float64 {
	f := b.f
	diff := func(t float64) float64 {
		p, n := f.walls[b.e].place(t)
		r0, r1 := f.radius(b.e, t, p, n, s0.j), f.radius(b.e, t, p, n, s1.j)
		if math.IsInf(r0, 1) {
			return math.Inf(1)
		}
		return r0 - r1
	}
	lo, hi := s0.t, s1.t
	flo, fhi := diff(lo), diff(hi)
	if flo >= 0 {
		return lo
	}
	if fhi <= 0 {
		return hi
	}
	side := 0
	for range 80 {
		t := (lo + hi) / 2
		if !math.IsInf(flo, 0) && !math.IsInf(fhi, 0) {
			t = lo + (hi-lo)*(flo/(flo-fhi))
		}
		if t <= lo || t >= hi {
			t = (lo + hi) / 2
		}
		v := diff(t)
		if hi-lo <= f.hair/4 || math.Abs(v) <= f.hair/1000 {
			return t
		}
		if v < 0 {
			lo, flo = t, v
			if side < 0 {
				fhi /= 2
			}
			side = -1
		} else {
			hi, fhi = t, v
			if side > 0 {
				flo /= 2
			}
			side = 1
		}
	}
	return (lo + hi) / 2
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
