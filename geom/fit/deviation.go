package fit

import (
	"math"

	"tubewright/geom"
)

// deviation returns the largest distance between polyline and path, taken in
// order along both: of each point from its place on the path, and of the path
// between two such places from the edge between the points.
//
// tol only saves work: at or under it the quick way of finding places is taken
// at its word, above it the exact one has the last word.
func deviation(pts []geom.Point, path geom.Path, tol float64) float64 {
	quick := apart(pts, path, follow(pts, path))
	if quick <= tol {
		return quick
	}
	return min(quick, apart(pts, path, matched(pts, path)))
}

// apart returns the largest distance between polyline and path when each point
// belongs to the given place.
func apart(pts []geom.Point, path geom.Path, at []float64) float64 {
	closed := path.Closed
	total := path.Length()
	worst := 0.0
	for i, p := range pts {
		worst = max(worst, path.PointAt(wrap(at[i], total, closed)).Dist(p))
	}
	for i := 1; i < len(pts); i++ {
		edge := geom.Line{A: pts[i-1], B: pts[i]}
		gap := at[i] - at[i-1]
		parts := min(24, 3+int(math.Abs(gap)*0.05))
		for k := 1; k < parts; k++ {
			q := path.PointAt(wrap(at[i-1]+float64(gap*float64(k)/float64(parts)), total, closed))
			worst = max(worst, edge.PointAt(edge.Nearest(q)).Dist(q))
		}
	}
	return worst
}

func wrap(s, total float64, closed bool) float64 {
	if closed {
		s = math.Mod(s, total)
		if s < 0 {
			s += total
		}
	}
	return s
}

// follow returns, for each point, the distance along the path of the place
// nearest to it, within reach of the place of the point before: a little more
// than the way between the points forward, or that way back.
func follow(pts []geom.Point, path geom.Path) []float64 {
	out := make([]float64, len(pts))
	s := 0.0
	if path.Closed {
		s, _ = path.Nearest(pts[0])
	}
	out[0] = s
	w := walker{path: path, closed: path.Closed}
	w.seek(s)
	for i := 1; i < len(pts); i++ {
		out[i] = w.next(pts[i], pts[i].Dist(pts[i-1]))
	}
	return out
}

// walker goes along a path segment by segment.
type walker struct {
	path   geom.Path
	closed bool
	i      int     // segment
	base   float64 // where it starts
	at     float64
}

func (w *walker) seek(s float64) {
	for w.i = 0; w.i < len(w.path.Segments)-1; w.i++ {
		n := w.path.Segments[w.i].Length()
		if s <= w.base+n {
			break
		}
		w.base += n
	}
	w.at = s
}

// slack is how much farther than the polyline a path may run between two
// points: it may bow, or go round the outside of a corner.
const slack = 1.6

// next moves to the place nearest to q from way back to slack·way on.
func (w *walker) next(q geom.Point, way float64) float64 {
	from, to := w.at-way, w.at+slack*way
	i, base := w.i, w.base
	for base > from && (i > 0 || w.closed) {
		i = (i + len(w.path.Segments) - 1) % len(w.path.Segments)
		base -= w.path.Segments[i].Length()
	}
	best := math.Inf(1)
	for base <= to {
		g := w.path.Segments[i]
		n := g.Length()
		lo, hi := max(0, from-base), min(n, to-base)
		if hi > lo {
			piece := g.Cut(lo, hi)
			t := piece.Nearest(q)
			if d := piece.PointAt(t).Dist(q); d < best {
				best, w.at, w.i, w.base = d, base+lo+t, i, base
			}
		}
		base += n
		i++
		if i == len(w.path.Segments) {
			if !w.closed {
				break
			}
			i = 0
		}
	}
	return w.at
}

// maxPlaces bounds points times places in matched.
const maxPlaces = 2_000_000

// matched returns places in order along the path, chosen together so that the
// sum of squared distances is least (dynamic time warping with every point
// used once). It finds its way where follow can slip onto another strand.
func matched(pts []geom.Point, path geom.Path) []float64 {
	total := path.Length()
	begin := 0.0
	if path.Closed {
		begin, _ = path.Nearest(pts[0])
	}
	n := len(pts)
	m := min(max(200, 8*n), max(maxPlaces/n, n))
	place := make([]geom.Point, m+1)
	for j := range place {
		place[j] = path.PointAt(wrap(begin+total*float64(j)/float64(m), total, path.Closed))
	}
	cost := make([]float64, m+1)
	choice := make([]int32, n*(m+1))
	for i, p := range pts {
		best, from := math.Inf(1), 0
		for j, q := range place {
			if i > 0 && cost[j] < best || i == 0 && j == 0 {
				best, from = cost[j], j // the first point is at the start
			}
			v := p.Sub(q)
			cost[j] = best + v.Dot(v) // +Inf + … where the first point would not be at the start
			choice[i*(m+1)+j] = int32(from)
		}
	}
	out := make([]float64, n)
	j := m // and the last at the end
	step := total / float64(m)
	for i := n - 1; i >= 0; i-- {
		out[i] = begin + nearTo(path, pts[i], begin, float64(j)*step, step)
		j = int(choice[i*(m+1)+j])
	}
	return out
}

// nearTo returns the place nearest to q within step of the place s after begin.
func nearTo(path geom.Path, q geom.Point, begin, s, step float64) float64 {
	total := path.Length()
	best, dist := s, math.Inf(1)
	const parts = 16
	for k := -parts; k <= parts; k++ {
		t := min(max(s+step*float64(k)/parts, 0), total)
		if d := path.PointAt(wrap(begin+t, total, path.Closed)).Dist(q); d < dist {
			best, dist = t, d
		}
	}
	return best
}
