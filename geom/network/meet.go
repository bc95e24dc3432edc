package network

import (
	"math"
	"slices"

	"tubewright/geom"
)

// Kind says how two paths meet.
type Kind int

const (
	Cross   Kind = iota // one passes to the other side of the other
	Touch               // they meet and stay on their sides, or one ends there
	Overlap             // they run together for a stretch
)

func (k Kind) String() string { return [...]string{"cross", "touch", "overlap"}[k] }

// Meeting is a place where two paths meet.
type Meeting struct {
	Kind Kind
	At   geom.Point // half way between the two paths
	// A and B are the distances along the two paths. An Overlap runs from A to
	// AEnd on the first and from B to BEnd on the second; BEnd is less than B
	// where they run in opposite directions. Elsewhere AEnd = A and BEnd = B.
	A, AEnd, B, BEnd float64
	// Angle between the directions, from 0 to a right angle.
	Angle geom.Angle
}

// exact is the tolerance of Crossings in mm: far above the rounding of
// coordinates up to a kilometre, far below anything that can be bent.
const exact = 1e-6

// Crossings returns where two paths meet, in order along a: intersections of
// their lines and arcs in closed form. Touching and running together are
// recognised to a millionth of a millimetre.
func Crossings(a, b geom.Path) []Meeting {
	return (&finder{a: newWay(&a), b: newWay(&b), tol: exact}).meetings()
}

// SelfCrossings returns where a path meets itself, A before B along it, in
// order of A. That segments follow each other is no meeting.
func SelfCrossings(p geom.Path) []Meeting {
	w := newWay(&p)
	return (&finder{a: w, b: w, tol: exact, self: true}).meetings()
}

// meetings returns where the paths come within tol of each other, in order
// along the first.
func (f *finder) meetings() []Meeting {
	hits := f.hits()
	var out []Meeting
	for _, h := range hits {
		if f.covered(out, h) {
			continue
		}
		m, ok := f.meeting(h)
		if ok {
			out = append(out, m)
		}
	}
	slices.SortStableFunc(out, func(x, y Meeting) int {
		switch {
		case x.A < y.A:
			return -1
		case x.A > y.A:
			return 1
		}
		return 0
	})
	return out
}

// way is a path with the distances at which its segments start.
type way struct {
	*geom.Path
	at     []float64
	length float64
	boxes  []geom.Rect
}

func newWay(p *geom.Path) way {
	w := way{Path: p}
	for _, g := range p.Segments {
		w.at = append(w.at, w.length)
		w.length += g.Length()
		w.boxes = append(w.boxes, geom.Path{Segments: []geom.Segment{g}}.Bounds())
	}
	return w
}

// point and dir take any distance; a closed path goes round.
func (w way) point(s float64) geom.Point { g, t := w.segment(s); return g.PointAt(t) }
func (w way) dir(s float64) geom.Vec     { g, t := w.segment(s); return g.DirAt(t) }

func (w way) segment(s float64) (geom.Segment, float64) {
	s = w.inside(s)
	i, found := slices.BinarySearch(w.at, s)
	if !found {
		i--
	}
	i = max(i, 0)
	return w.Segments[i], min(s-w.at[i], w.Segments[i].Length())
}

// inside brings a distance into the path: round a closed one, to the nearer end
// of an open one.
func (w way) inside(s float64) float64 {
	if !w.Closed {
		return min(max(s, 0), w.length)
	}
	s = math.Mod(s, w.length)
	if s < 0 {
		s += w.length
	}
	return s
}

// nearest returns the place nearest to q within reach of s, found by going
// downhill: halving brackets, then golden sections.
func (w way) nearest(q geom.Point, s, reach float64) (float64, float64) {
	const parts = 8
	best, dist := s, w.point(s).Dist(q)
	lo, hi := s-reach, s+reach
	if !w.Closed {
		lo, hi = max(lo, 0), min(hi, w.length)
	}
	for range 60 {
		step := (hi - lo) / parts
		if step < 1e-13*(1+w.length) {
			break
		}
		for k := range parts + 1 {
			t := lo + step*float64(k)
			if d := w.point(t).Dist(q); d < dist {
				best, dist = t, d
			}
		}
		nl, nh := best-step, best+step
		lo, hi = max(lo, nl), min(hi, nh)
	}
	return best, dist
}

// finder looks for the meetings of two paths, or of one with itself.
type finder struct {
	a, b way
	tol  float64
	self bool
}

// hits returns candidates: where segments meet, and where an end of one path is
// within tol of the other.
func (f *finder) hits() []hit {
	var out []hit
	for i, g := range f.a.Segments {
		for j, h := range f.b.Segments {
			if f.self && j < i || !f.a.boxes[i].Grown(f.tol).Overlaps(f.b.boxes[j]) {
				continue
			}
			if f.self && i == j {
				continue
			}
			for _, x := range segmentHits(g, h, f.tol) {
				out = append(out, hit{f.a.at[i] + x.s, f.b.at[j] + x.t})
			}
		}
	}
	out = append(out, f.endHits(f.a, f.b)...)
	if !f.self {
		out = append(out, swapped(f.endHits(f.b, f.a))...)
	}
	if f.self {
		for i, h := range out {
			if h.s > h.t {
				out[i] = hit{h.t, h.s}
			}
		}
		out = slices.DeleteFunc(out, func(h hit) bool { return f.same(h.s, h.t) })
	}
	slices.SortStableFunc(out, func(x, y hit) int {
		if x.s != y.s {
			return sign(x.s - y.s)
		}
		return sign(x.t - y.t)
	})
	return out
}

func sign(v float64) int {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// same reports whether places s < t on one path are the same place, within what
// the tolerance makes of a corner, or have passed each other.
func (f *finder) same(s, t float64) bool {
	d := t - s
	if f.a.Closed {
		d = min(d, f.a.length-d)
	}
	return d <= 4*f.tol
}

// endHits returns the places on b, one on each segment, within tol of the ends
// of an open path a.
func (f *finder) endHits(a, b way) []hit {
	if a.Closed {
		return nil
	}
	var out []hit
	for _, s := range [2]float64{0, a.length} {
		p := a.point(s)
		for j, g := range b.Segments {
			t := g.Nearest(p)
			if g.PointAt(t).Dist(p) <= f.tol {
				out = append(out, hit{s, b.at[j] + t})
			}
		}
	}
	return out
}

// covered reports whether a meeting already found includes the hit.
func (f *finder) covered(found []Meeting, h hit) bool {
	for _, m := range found {
		if f.between(f.a, h.s, m.A, m.AEnd) && f.between(f.b, h.t, m.B, m.BEnd) {
			return true
		}
	}
	return false
}

// between reports whether s lies from lo to hi, either way round, or near.
func (f *finder) between(w way, s, lo, hi float64) bool {
	if lo > hi {
		lo, hi = hi, lo
	}
	slack := 2 * f.tol
	for _, turn := range [3]float64{0, w.length, -w.length} {
		if v := s + turn; v >= lo-slack && v <= hi+slack && (turn == 0 || w.Closed) {
			return true
		}
	}
	return false
}

// Pair is a meeting of two paths of a set, First ≤ Second; of a path with itself where
// they are the same.
type Pair struct {
	First, Second int
	Meeting
}

// AllCrossings returns the meetings of every two paths of a set, and of each
// with itself, ordered by path and place. Only paths whose boxes touch are
// looked at.
func AllCrossings(paths []geom.Path) []Pair {
	boxes := make([]geom.Rect, len(paths))
	ways := make([]way, len(paths))
	for i := range paths {
		boxes[i], ways[i] = paths[i].Bounds(), newWay(&paths[i])
	}
	var out []Pair
	for _, p := range closePairs(boxes, exact) {
		f := &finder{a: ways[p.a], b: ways[p.b], tol: exact, self: p.a == p.b}
		for _, m := range f.meetings() {
			out = append(out, Pair{p.a, p.b, m})
		}
	}
	return out
}
