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
	total := path.Length()
	worst := 0.0
	for i, p := range pts {
		worst = max(worst, path.PointAt(wrap(at[i], total, path.Closed)).Dist(p))
	}
	w := walker{path: path, closed: path.Closed}
	w.seek(wrap(at[0], total, path.Closed))
	w.base += at[0] - w.at
	for i := 1; i < len(pts); i++ {
		worst = max(worst, w.fromEdge(geom.Line{A: pts[i-1], B: pts[i]}, at[i-1], at[i]))
	}
	return worst
}

// fromEdge returns the largest distance of the path between places a and b from
// the edge. On each segment that is at an end, or on an arc where it runs
// parallel to the edge.
func (w *walker) fromEdge(edge geom.Line, a, b float64) float64 {
	if b < a {
		a, b = b, a
	}
	for w.base > a && (w.i > 0 || w.closed) {
		w.back()
	}
	worst := 0.0
	look := func(p geom.Point) { worst = max(worst, edge.PointAt(edge.Nearest(p)).Dist(p)) }
	along := edge.B.Sub(edge.A)
	for w.base <= b {
		g := w.path.Segments[w.i]
		n := g.Length()
		lo, hi := max(0, a-w.base), min(n, b-w.base)
		if hi > lo {
			look(g.PointAt(lo))
			look(g.PointAt(hi))
			if k := g.Curvature(); k != 0 {
				half := math.Pi / math.Abs(k) // along the arc from one parallel to the next
				turn := float64(g.DirAt(lo).TurnTo(along)) / k
				for s := lo + turn - half*math.Floor(turn/half); s < hi; s += half {
					look(g.PointAt(s))
				}
			}
		}
		if w.base+n > b || !w.on() {
			break
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

// back and on move to the neighbouring segment; on reports false at the end of
// an open path.
func (w *walker) back() {
	n := len(w.path.Segments)
	w.i = (w.i + n - 1) % n
	w.base -= w.path.Segments[w.i].Length()
}

func (w *walker) on() bool {
	if w.i == len(w.path.Segments)-1 && !w.closed {
		return false
	}
	w.base += w.path.Segments[w.i].Length()
	w.i = (w.i + 1) % len(w.path.Segments)
	return true
}

// next moves to the place nearest to q from way back to slack·way on.
func (w *walker) next(q geom.Point, way float64) float64 {
	from, to := w.at-way, w.at+slack*way
	for w.base > from && (w.i > 0 || w.closed) {
		w.back()
	}
	best, found := math.Inf(1), *w
	for {
		g := w.path.Segments[w.i]
		lo, hi := max(0, from-w.base), min(g.Length(), to-w.base)
		if hi > lo {
			piece := g.Cut(lo, hi)
			t := piece.Nearest(q)
			if d := piece.PointAt(t).Dist(q); d < best {
				best, found = d, *w
				found.at = w.base + lo + t
			}
		}
		if w.base+g.Length() > to || !w.on() {
			break
		}
	}
	*w = found
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
