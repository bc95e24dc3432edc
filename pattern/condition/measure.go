package condition

import (
	"math"
	"slices"

	"tubewright/geom"
)

// straightOn is the turn in radians up to which a joint counts as no corner:
// half of what Stroke promises.
const straightOn = 0.005 * math.Pi / 180

// fits reports whether the path keeps what Stroke promises.
func fits(p geom.Path, least float64) bool {
	n := len(p.Segments)
	if n == 0 {
		return false
	}
	for i, g := range p.Segments {
		if !(g.Length() > 0) {
			return false
		}
		if a, ok := g.(geom.Arc); ok && a.Radius < least*(1-1e-9) {
			return false
		}
		if i == n-1 && !p.Closed {
			break
		}
		next := p.Segments[(i+1)%n]
		if g.End().Dist(next.Start()) > 1e-6 || turnAt(g, next) > 2*straightOn {
			return false
		}
	}
	return true
}

// turnAt returns the size of the turn from one segment to the next, radians.
func turnAt(a, b geom.Segment) float64 {
	return float64(a.DirAt(a.Length()).TurnTo(b.DirAt(0)).Abs())
}

// meets reports whether an open path keeps the drawn ends.
func meets(p, drawn geom.Path) bool {
	if p.Closed != drawn.Closed {
		return false
	}
	return p.Closed || p.Start().Dist(drawn.Start()) < 1e-6 && p.End().Dist(drawn.End()) < 1e-6
}

// apart returns the largest distance between two paths, seen every step mm
// along each, and where it is.
func apart(a, b geom.Path, step float64) (float64, geom.Point) {
	worst, at := 0.0, a.Start()
	for _, pair := range [2][2]geom.Path{{a, b}, {b, a}} {
		for _, q := range pair[0].Samples(step) {
			if _, d := pair[1].Nearest(q); d > worst {
				worst, at = d, q
			}
		}
	}
	return worst, at
}

// sortAlong orders the problems as they come along the stroke.
func sortAlong(list []Problem, p geom.Path) {
	slices.SortStableFunc(list, func(a, b Problem) int {
		s, _ := p.Nearest(a.At)
		t, _ := p.Nearest(b.At)
		switch {
		case s < t:
			return -1
		case s > t:
			return 1
		}
		return 0
	})
}
