package tube

import (
	"cmp"
	"math"
	"slices"

	"tubewright/geom"
)

// Clash is a stretch of glass that comes nearer to other glass than asked: the
// nearest places of one pair of pieces.
type Clash struct {
	A, B       int     // tubes, A ≤ B
	PosA, PosB float64 // distances along them
	Dist       float64 // between the centrelines, to within ClashError
	At         geom.Point3
}

// ClashError bounds what Clashes can be wrong by, mm: arcs are halved until
// they bulge from their chords by no more than half of it, and distances between
// chords are exact.
const ClashError = 0.01

// Clashes returns where glass comes nearer to other glass than need, centre to
// centre, along whole tubes: every piece is held against every other that its
// box can reach (a sweep through a grid), by branch and bound on chords and how
// far arcs bulge from them. Of one tube, places within window of each other
// along it are not compared. There is one clash for each pair of pieces, up to
// clashPiece long, in order.
func Clashes(tubes []Tube, need, window float64) []Clash {
	var all []stretch
	for i, t := range tubes {
		at := 0.0
		for _, p := range t {
			all = append(all, stretches(i, at, p.Seg, need)...)
			at += p.Seg.Length()
		}
	}
	s := &sweep{all: all, need: need, window: window, cells: map[cell][]int{}, size: 2 * need}
	return s.clashes()
}

// stretch is a short piece of one tube.
type stretch struct {
	tube   int
	from   float64 // distance along the tube
	seg    geom.Segment3
	a, b   geom.Point3
	length float64
	bulge  float64 // no point is further from the chord a-b
}

// stretches cuts a segment into pieces of no more than need, arcs also by
// angle, so that a bulge is known from the chord.
func stretches(tube int, from float64, seg geom.Segment3, need float64) []stretch {
	l := seg.Length()
	n := max(1, int(math.Ceil(l/need)))
	if a, ok := seg.(geom.Arc3); ok {
		n = max(n, int(math.Ceil(float64(a.Angle)/0.8)))
	}
	out := make([]stretch, n)
	for k := range out {
		lo, hi := l*float64(k)/float64(n), l*float64(k+1)/float64(n)
		out[k] = newStretch(tube, from+lo, seg, lo, hi)
	}
	return out
}

func newStretch(tube int, from float64, seg geom.Segment3, lo, hi float64) stretch {
	s := stretch{tube: tube, from: from, seg: seg, a: seg.PointAt(lo), b: seg.PointAt(hi), length: hi - lo}
	if n := seg.Length(); lo > 0 || hi < n {
		s.seg = seg.Cut(lo, hi)
	}
	if a, ok := s.seg.(geom.Arc3); ok {
		s.bulge = a.Radius() * (1 - math.Cos(float64(a.Angle)/2))
	}
	return s
}

func (s stretch) halves() (stretch, stretch) {
	m := s.length / 2
	return newStretch(s.tube, s.from, s.seg, 0, m), newStretch(s.tube, s.from+m, s.seg, m, s.seg.Length())
}

// sweep is all glass in a grid of cells.
type sweep struct {
	all          []stretch
	need, window float64
	cells        map[cell][]int
	size         float64
}

func (w *sweep) clashes() []Clash {
	seen := make([]int, len(w.all))
	var out []Clash
	for i, s := range w.all {
		lo, hi := w.reach(s, w.need)
		each(lo, hi, func(c cell) {
			for _, j := range w.cells[c] {
				if seen[j] == i+1 {
					continue
				}
				seen[j] = i + 1
				if c, ok := w.nearest(w.all[j], s); ok {
					out = append(out, c)
				}
			}
		})
		lo, hi = w.reach(s, 0)
		each(lo, hi, func(c cell) { w.cells[c] = append(w.cells[c], i) })
	}
	slices.SortFunc(out, func(a, b Clash) int {
		return cmp.Or(cmp.Compare(a.A, b.A), cmp.Compare(a.B, b.B), cmp.Compare(a.PosA, b.PosA), cmp.Compare(a.PosB, b.PosB))
	})
	return out
}

// reach returns the cells of the box of a stretch, grown.
func (w *sweep) reach(s stretch, grown float64) (lo, hi [3]int) {
	grown += s.bulge
	for k, v := range [3][2]float64{{s.a.X, s.b.X}, {s.a.Y, s.b.Y}, {s.a.Z, s.b.Z}} {
		lo[k] = int(math.Floor((min(v[0], v[1]) - grown) / w.size))
		hi[k] = int(math.Floor((max(v[0], v[1]) + grown) / w.size))
	}
	return lo, hi
}

func each(lo, hi [3]int, f func(cell)) {
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			for z := lo[2]; z <= hi[2]; z++ {
				f(pack(x, y, z))
			}
		}
	}
}

// nearest returns the nearest places of two stretches that are nearer than
// need, a standing before b in the order of the tubes.
func (w *sweep) nearest(a, b stretch) (Clash, bool) {
	best := Clash{A: a.tube, B: b.tube, Dist: w.need}
	w.narrow(a, b, &best)
	return best, best.Dist < w.need
}

// shortStretch is how fine stretches are cut at the border of the window, mm.
const shortStretch = 0.05

// narrow looks for a place nearer than the best: it drops what cannot hold one,
// and halves what may.
func (w *sweep) narrow(a, b stretch, best *Clash) {
	whole := true
	if a.tube == b.tube {
		near, far := b.from-a.from-a.length, b.from+b.length-a.from
		if a.from > b.from {
			near, far = a.from-b.from-b.length, a.from+a.length-b.from
		}
		if far <= w.window {
			return
		}
		whole = near >= w.window
	}
	d, s, t := segmentDistance(a.a, a.b, b.a, b.b)
	if d-a.bulge-b.bulge >= best.Dist {
		return
	}
	if !whole && max(a.length, b.length) > shortStretch {
		w.split(a, b, a.length >= b.length, best)
		return
	}
	if a.bulge+b.bulge > ClashError/2 {
		w.split(a, b, a.bulge >= b.bulge, best)
		return
	}
	if d < best.Dist {
		best.Dist, best.PosA, best.PosB = d, a.from+float64(s*a.length), b.from+float64(t*b.length)
		best.At = a.a.Lerp(a.b, s)
	}
}

func (w *sweep) split(a, b stretch, first bool, best *Clash) {
	if first {
		x, y := a.halves()
		w.narrow(x, b, best)
		w.narrow(y, b, best)
		return
	}
	x, y := b.halves()
	w.narrow(a, x, best)
	w.narrow(a, y, best)
}

// segmentDistance returns the distance of two line segments and where on each
// it is, as shares (Ericson, Real-Time Collision Detection, 2005, 5.1.9).
func segmentDistance(p1, q1, p2, q2 geom.Point3) (dist, s, t float64) {
	d1, d2, r := q1.Sub(p1), q2.Sub(p2), p1.Sub(p2)
	a, e, f := d1.Dot(d1), d2.Dot(d2), d2.Dot(r)
	clamp := func(v float64) float64 { return min(max(v, 0), 1) }
	switch {
	case a <= 1e-18 && e <= 1e-18:
	case a <= 1e-18:
		t = clamp(f / e)
	case e <= 1e-18:
		s = clamp(-d1.Dot(r) / a)
	default:
		b, c := d1.Dot(d2), d1.Dot(r)
		if den := float64(a*e) - float64(b*b); den > 1e-12*a*e {
			s = clamp((float64(b*f) - float64(c*e)) / den)
		}
		if t = (float64(b*s) + f) / e; t < 0 {
			t, s = 0, clamp(-c/a)
		} else if t > 1 {
			t, s = 1, clamp((b-c)/a)
		}
	}
	return p1.Lerp(q1, s).Dist(p2.Lerp(q2, t)), s, t
}
