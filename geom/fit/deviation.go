package fit

import (
	"math"

	"tubewright/geom"
)

// deviation returns the largest distance between polyline and path, taken in
// order along both: of each point from its place on the path, and of the path
// between two such places from the edge between the points.
func deviation(pts []geom.Point, path geom.Path, closed bool) float64 {
	at := follow(pts, path, closed)
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
// nearest to it, going forward from the place of the point before.
func follow(pts []geom.Point, path geom.Path, closed bool) []float64 {
	out := make([]float64, len(pts))
	s := 0.0
	if closed {
		s, _ = path.Nearest(pts[0])
	}
	out[0] = s
	w := walker{path: path, closed: closed}
	w.seek(s)
	for i := 1; i < len(pts); i++ {
		out[i] = w.next(pts[i], 2*pts[i].Dist(pts[i-1]))
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

// next moves to the nearest place to q within reach of where the walker stands.
func (w *walker) next(q geom.Point, reach float64) float64 {
	best, bestAt, bestI, bestBase := math.Inf(1), w.at, w.i, w.base
	i, base := w.i, w.base
	for range len(w.path.Segments) + 1 {
		g := w.path.Segments[i]
		lo, hi := max(0, w.at-reach-base), min(g.Length(), w.at+reach-base)
		if hi > lo {
			piece := g.Cut(lo, hi)
			t := piece.Nearest(q)
			if d := piece.PointAt(t).Dist(q); d < best {
				best, bestAt, bestI, bestBase = d, base+lo+t, i, base
			}
		}
		base += g.Length()
		i++
		if i == len(w.path.Segments) {
			if !w.closed {
				break
			}
			i = 0
		}
		if base > w.at+reach {
			break
		}
	}
	w.at, w.i, w.base = bestAt, bestI, bestBase
	return bestAt
}
