package condition

import (
	"math"
	"slices"

	"tubewright/geom"
)

// slightTurn is the turn in radians (one degree) under which an arc that strays no
// farther from its chord than straightShare bends nothing: nobody sets such a bend
// at the fire (common practice, no source), and it would be a heat of its own.
const slightTurn = math.Pi / 180

func isSlight(a geom.Arc, lim Limits) bool {
	turn := float64(a.Sweep.Abs())
	return turn <= slightTurn && float64(turn*a.Length())/8 <= straightShare*lim.Diameter
}

// withoutSlightBows returns the path with a line for each arc that bends nothing
// between two that do, or between one and an end of the stroke: the line that
// touches both circles, so that the directions still run on.
func withoutSlightBows(p geom.Path, lim Limits) geom.Path {
	out := geom.Path{Closed: p.Closed, Segments: slices.Clone(p.Segments)}
	n := len(p.Segments)
	for i, g := range p.Segments {
		arc, ok := g.(geom.Arc)
		if !ok || n < 3 || !isSlight(arc, lim) {
			continue
		}
		before, after := (i+n-1)%n, (i+1)%n
		a, okA := out.Segments[before].(geom.Arc)
		b, okB := out.Segments[after].(geom.Arc)
		if !p.Closed && i == 0 {
			a, okA = geom.Arc{Centre: arc.Start()}, true
		}
		if !p.Closed && i == n-1 {
			b, okB = geom.Arc{Centre: arc.End()}, true
		}
		if !okA || !okB || a.Radius > 0 && isSlight(a, lim) || b.Radius > 0 && isSlight(b, lim) {
			continue
		}
		a, b, ok = touching(a, b, arc)
		if !ok {
			continue
		}
		out.Segments[i] = geom.Line{A: a.End(), B: b.Start()}
		if a.Radius > 0 {
			out.Segments[before] = a
		}
		if b.Radius > 0 {
			out.Segments[after] = b
		}
	}
	return out
}

// touching returns arcs a and b, before and after the slight one, ended and
// started where one line touches both circles; a radius of 0 is a point. It
// reports false where that would take more than half of one of them.
//
//	a ,--.________ d      the centres lie to the left of the line by their
//	 (  + n ^     `.      radii, or to the right where the arc turns right
//	  `-'   |   +   ) b
func touching(a, b, slight geom.Arc) (geom.Arc, geom.Arc, bool) {
	ra, rb := math.Copysign(a.Radius, float64(a.Sweep)), math.Copysign(b.Radius, float64(b.Sweep))
	apart := b.Centre.Sub(a.Centre)
	lean := (rb - ra) / apart.Norm()
	if !(math.Abs(lean) < 1) {
		return a, b, false
	}
	d := apart.Unit().Turned(-geom.Angle(math.Asin(lean)))
	more := slight.DirAt(0).TurnTo(d)
	less := slight.DirAt(slight.Length()).TurnTo(d)
	if a.Radius > 0 && more.Abs() > a.Sweep.Abs()/2 || b.Radius > 0 && less.Abs() > b.Sweep.Abs()/2 {
		return a, b, false
	}
	a.Sweep += more
	b.From += less
	b.Sweep -= less
	return a, b, b.Start().Sub(a.End()).Dot(d) > 0
}
