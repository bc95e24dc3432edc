package network

import (
	"math"

	"tubewright/geom"
)

// hit is a pair of distances along two segments where they are together, or
// nearest to each other.
type hit struct{ s, t float64 }

// segmentHits returns where two segments cross or touch; where they come no
// nearer than a gap of up to tol inside both, the places of that; and where
// they lie on one line or circle, the ends of the shared stretch.
func segmentHits(a, b geom.Segment, tol float64) []hit {
	switch a := a.(type) {
	case geom.Line:
		switch b := b.(type) {
		case geom.Line:
			return lineLine(a, b, tol)
		case geom.Arc:
			return lineArc(a, b, tol)
		}
	case geom.Arc:
		switch b := b.(type) {
		case geom.Line:
			return swapped(lineArc(b, a, tol))
		case geom.Arc:
			return arcArc(a, b, tol)
		}
	}
	panic("network: unknown segment")
}

func swapped(list []hit) []hit {
	for i, h := range list {
		list[i] = hit{h.t, h.s}
	}
	return list
}

// parallel is the sine of the angle under which two lines count as parallel
// rather than crossing somewhere far off.
const parallel = 1e-9

func lineLine(a, b geom.Line, tol float64) []hit {
	u, v := a.B.Sub(a.A), b.B.Sub(b.A)
	la, lb := u.Norm(), v.Norm()
	if la == 0 || lb == 0 {
		return nil
	}
	w := b.A.Sub(a.A)
	cross := u.Cross(v)
	if math.Abs(cross) > parallel*la*lb {
		s, t := w.Cross(v)/cross, w.Cross(u)/cross
		return onBoth(a, b, hit{s * la, t * lb})
	}
	if math.Abs(u.Cross(w)) > tol*la {
		return nil
	}
	// One line: the ends of each that lie on the other.
	var out []hit
	for _, q := range [2]geom.Point{b.A, b.B} {
		if s := q.Sub(a.A).Dot(u) / la; s >= 0 && s <= la {
			out = append(out, hit{s, q.Dist(b.A)})
		}
	}
	for _, p := range [2]geom.Point{a.A, a.B} {
		if t := p.Sub(b.A).Dot(v) / lb; t >= 0 && t <= lb {
			out = append(out, hit{p.Dist(a.A), t})
		}
	}
	return out
}

// lineArc solves for the feet on the line of the circle's crossings: the foot
// of the centre plus or minus half the chord.
func lineArc(l geom.Line, c geom.Arc, tol float64) []hit {
	n := l.Length()
	if n == 0 {
		return nil
	}
	d := l.B.Sub(l.A).Mul(1 / n)
	v := c.Centre.Sub(l.A)
	foot, off := v.Dot(d), d.Cross(v)
	half := float64(c.Radius*c.Radius) - float64(off*off)
	var at []float64
	switch {
	case half > 0:
		h := math.Sqrt(half)
		at = []float64{foot - h, foot + h}
	case math.Abs(off) <= c.Radius+tol:
		at = []float64{foot}
	}
	var out []hit
	for _, s := range at {
		p := l.A.Add(d.Mul(s))
		if t, ok := alongArc(c, p); ok {
			out = append(out, onBoth(l, c, hit{s, t})...)
		}
	}
	return out
}

// arcArc crosses two circles: the foot of the radical line on the line of
// centres, plus or minus half the common chord.
func arcArc(a, b geom.Arc, tol float64) []hit {
	v := b.Centre.Sub(a.Centre)
	d := v.Norm()
	if d < 1e-9*(a.Radius+b.Radius) {
		if math.Abs(a.Radius-b.Radius) > tol {
			return nil
		}
		return sameCircle(a, b)
	}
	u := v.Mul(1 / d)
	x := (float64(d*d) + float64((a.Radius-b.Radius)*(a.Radius+b.Radius))) / (2 * d)
	half := float64(a.Radius*a.Radius) - float64(x*x)
	var at []geom.Point
	switch {
	case half > 0:
		h := u.Left().Mul(math.Sqrt(half))
		foot := a.Centre.Add(u.Mul(x))
		at = []geom.Point{foot.Add(h), foot.Add(h.Neg())}
	case d <= a.Radius+b.Radius+tol && d >= math.Abs(a.Radius-b.Radius)-tol:
		// Side by side, or one inside the other: nearest on the line of centres.
		side := 1.0
		if d < math.Max(a.Radius, b.Radius) && b.Radius > a.Radius {
			side = -1
		}
		at = []geom.Point{a.Centre.Add(u.Mul(side * a.Radius))}
	}
	var out []hit
	for _, p := range at {
		s, okS := alongArc(a, p)
		t, okT := alongArc(b, p)
		if okS && okT {
			out = append(out, onBoth(a, b, hit{s, t})...)
		}
	}
	return out
}

// sameCircle returns the ends of each arc that lie on the other.
func sameCircle(a, b geom.Arc) []hit {
	var out []hit
	for _, e := range [2]float64{0, b.Length()} {
		if s, ok := alongArc(a, b.PointAt(e)); ok {
			out = append(out, onBoth(a, b, hit{s, e})...)
		}
	}
	for _, e := range [2]float64{0, a.Length()} {
		if t, ok := alongArc(b, a.PointAt(e)); ok {
			out = append(out, onBoth(a, b, hit{e, t})...)
		}
	}
	return out
}

// alongArc returns the distance along the arc of the direction of p from its
// centre. It may be beyond the end; just before the start it is a little under 0.
func alongArc(c geom.Arc, p geom.Point) (float64, bool) {
	v := p.Sub(c.Centre)
	if v.Norm() == 0 {
		return 0, false
	}
	turn := float64(v.Heading() - c.From)
	if c.Sweep < 0 {
		turn = -turn
	}
	turn = math.Mod(turn, 2*math.Pi)
	if turn < 0 {
		turn += 2 * math.Pi
	}
	sweep := float64(c.Sweep.Abs())
	if turn > sweep && 2*math.Pi-turn < turn-sweep {
		turn -= 2 * math.Pi
	}
	return turn * c.Radius, true
}

// onBoth keeps the hit if it is within both segments, but for rounding.
func onBoth(a, b geom.Segment, h hit) []hit {
	la, lb := a.Length(), b.Length()
	if slack := rounding * (1 + la); h.s < -slack || h.s > la+slack {
		return nil
	}
	if slack := rounding * (1 + lb); h.t < -slack || h.t > lb+slack {
		return nil
	}
	return []hit{{min(max(h.s, 0), la), min(max(h.t, 0), lb)}}
}

// rounding is the relative error forgiven at the ends of segments.
const rounding = 1e-10
