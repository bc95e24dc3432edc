package trace

import (
	"math"
	"slices"

	"tubewright/geom"
)

// roundCap returns the first and last wall point of a round end about one place,
// half a width inside; if there is none, those that capOf finds.
func (t *tracer) roundCap(p []wallPoint, r float64) (from, to int) {
	if from, to, ok := t.evenCap(p, r); ok {
		return from, to
	}
	return capOf(p)
}

func (t *tracer) hasRoundCap(p []wallPoint, r float64) bool {
	_, _, ok := t.evenCap(p, r)
	return ok
}

// evenCap finds the round end of an even pen: wall that turns about one place,
// with the same stroke before and after.
func (t *tracer) evenCap(p []wallPoint, r float64) (from, to int, ok bool) {
	if !t.evenPen() {
		return 0, 0, false
	}
	all := make([]geom.Point, len(p))
	for i, w := range p {
		all[i] = w.at.Add(w.n.Mul(r))
	}
	from, to, turn := pivotSpan(all, p, r)
	if turn < capTurn || slices.ContainsFunc(p[from:to+1], func(w wallPoint) bool { return w.turn > roundStep }) {
		return 0, 0, false
	}
	return from, to, sameWay(all[:from], middle(p[from:to+1], r), all[to+1:], r)
}

// capOf returns the first and last point of the outline that make up the
// turn of a stroke's end: the middle of the turn and what lies within
// capFull of it.
func capOf(p []wallPoint) (from, to int) {
	total := 0.0
	for _, w := range p {
		total += max(w.turn, 0)
	}
	margin := max(0, total-capFull) / 2
	from, to = -1, -1
	sum := 0.0
	for i, w := range p {
		if w.turn <= 0 {
			continue
		}
		if from < 0 && sum+w.turn > margin+1e-9 {
			from = i
		}
		if sum < total-margin-1e-9 {
			to = i
		}
		sum += w.turn
	}
	return from, to
}

// circleThrough fits a circle to wall points by their normals: the point
// nearest to all the normals' lines, in the sense of least squares.
func circleThrough(p []wallPoint) (geom.Point, float64, bool) {
	var a11, a12, a22, b1, b2 float64
	for _, w := range p {
		u := w.n.Left()
		k := u.X*w.at.X + u.Y*w.at.Y
		a11 += u.X * u.X
		a12 += u.X * u.Y
		a22 += u.Y * u.Y
		b1 += u.X * k
		b2 += u.Y * k
	}
	det := float64(a11*a22) - float64(a12*a12)
	if math.Abs(det) < 1e-3 {
		return geom.Point{}, 0, false
	}
	c := geom.Point{X: (float64(b1*a22) - float64(b2*a12)) / det, Y: (float64(a11*b2) - float64(a12*b1)) / det}
	r := 0.0
	for _, w := range p {
		r += w.at.Dist(c) / float64(len(p))
	}
	for _, w := range p {
		if math.Abs(w.at.Dist(c)-r) > 0.15*r {
			return geom.Point{}, 0, false
		}
	}
	return c, r, true
}
