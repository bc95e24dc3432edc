package condition

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/fit"
)

// meantSharp is the turn from which a vertex of a coarse polyline is meant as
// a corner, in radians (46 degrees: chords of the finest curves in the
// single-line sets turn by up to 45).
const meantSharp = 46 * math.Pi / 180

// lonely is the turn, in radians, from which a single vertex between two long
// pieces is a corner: nobody draws a long curve with one vertex.
const lonely = 15 * math.Pi / 180

// straightRatio is how many times longer than its neighbour an edge must be to
// be taken as straight: who draws a curve in chords makes them alike.
const straightRatio = 2

// smoothed returns the curve a coarse polyline stands for, as lines and arcs.
// Vertices that turn more than meantSharp stay corners. A polyline that comes
// back to its first vertex is a closed curve. Paths with arcs are returned as
// they are.
func smoothed(p geom.Path, lim Limits) geom.Path {
	var v []geom.Point
	for _, g := range p.Segments {
		l, ok := g.(geom.Line)
		if !ok {
			return p
		}
		v = append(v, l.A)
	}
	closed := p.Closed || len(v) > 2 && p.End().Dist(p.Start()) < 1e-9*p.Length()
	if !closed {
		v = append(v, p.End())
	}
	corners := sharpVertices(v, closed, 2*lim.Diameter)
	if closed && len(corners) == 0 {
		return smoothRing(v, lim)
	}
	if closed { // start at a corner, and come back to it
		k := corners[0]
		v = slices.Concat(v[k:], v[:k], v[k:k+1])
		for i := range corners {
			corners[i] -= k
		}
		corners = append(corners, len(v)-1)
	} else {
		corners = slices.Concat([]int{0}, corners, []int{len(v) - 1})
	}
	out := geom.Path{Closed: closed}
	for i := 1; i < len(corners); i++ {
		out.Segments = append(out.Segments, smoothRun(v[corners[i-1]:corners[i]+1], lim)...)
	}
	return out
}

// sharpVertices returns the indexes of the vertices meant as corners: those that
// turn enough, and those that stand alone between two straight pieces, both at
// least long mm, as in the arm of a Y.
func sharpVertices(v []geom.Point, closed bool, long float64) []int {
	n := len(v)
	sharp := make([]bool, n)
	var inner []int
	for i := range v {
		if closed || i > 0 && i < n-1 {
			inner = append(inner, i)
		}
	}
	turn := func(i int) float64 {
		return float64(v[i].Sub(v[(i+n-1)%n]).TurnTo(v[(i+1)%n].Sub(v[i])).Abs())
	}
	for _, i := range inner {
		sharp[i] = turn(i) >= meantSharp
	}
	var out []int
	for _, i := range inner {
		a, b := (i+n-1)%n, (i+1)%n
		lone := (sharp[a] || !closed && a == 0) && (sharp[b] || !closed && b == n-1) &&
			turn(i) > lonely && min(v[i].Dist(v[a]), v[i].Dist(v[b])) > long
		if sharp[i] || lone {
			out = append(out, i)
		}
	}
	return out
}

// smoothRun returns the smooth curve through the vertices.
func smoothRun(v []geom.Point, lim Limits) []geom.Segment {
	if len(v) == 2 {
		return []geom.Segment{geom.Line{A: v[0], B: v[1]}}
	}
	t := tangents(v, false)
	r, err := fit.Curve(through(v, t), fit.Options{Tol: coarseTol(v, lim)})
	if err != nil {
		return []geom.Segment{geom.Line{A: v[0], B: v[len(v)-1]}}
	}
	return r.Path.Segments
}

// smoothRing returns the smooth closed curve through the vertices.
func smoothRing(v []geom.Point, lim Limits) geom.Path {
	t := tangents(v, true)
	pts := through(slices.Concat(v, v[:1]), slices.Concat(t, t[:1]))
	r, err := fit.Curve(pts, fit.Options{Tol: coarseTol(v, lim), Closed: true})
	if err != nil {
		return geom.Path{}
	}
	return r.Path
}

// coarseTol returns how far the curve may leave the one through the vertices.
func coarseTol(v []geom.Point, lim Limits) float64 {
	chords := make([]float64, len(v)-1)
	for i := range chords {
		chords[i] = v[i].Dist(v[i+1])
	}
	slices.Sort(chords)
	return min(max(smoothTol*lim.Diameter, smoothShare*chords[len(chords)/2]), smoothMost*lim.Diameter)
}

// tangents returns the direction of the curve at each vertex. Between edges
// alike it halves the turn; beside an edge straightRatio times longer it is
// that edge's own direction, so that stems stay straight.
func tangents(v []geom.Point, closed bool) []geom.Vec {
	n := len(v)
	out := make([]geom.Vec, n)
	for i := range v {
		if !closed && (i == 0 || i == n-1) {
			continue
		}
		a, b := v[i].Sub(v[(i+n-1)%n]), v[(i+1)%n].Sub(v[i])
		la, lb := a.Norm(), b.Norm()
		ratio := max(la, lb) / min(la, lb)
		share := 0.5 * max(0, (straightRatio-ratio)/(straightRatio-1)) // of the turn, from the longer edge
		if la < lb {
			share = 1 - share
		}
		out[i] = a.Unit().Turned(geom.Angle(share) * a.TurnTo(b))
	}
	if !closed { // an end edge bends evenly: as much after its middle as before
		first, last := v[1].Sub(v[0]), v[n-1].Sub(v[n-2])
		out[0] = first.Unit().Turned(-first.TurnTo(out[1]))
		out[n-1] = last.Unit().Turned(last.TurnTo(out[n-2]) * -1)
	}
	return out
}

// through returns points on the cubic Hermite curve through the vertices.
func through(v []geom.Point, t []geom.Vec) []geom.Point {
	const parts = 10
	out := []geom.Point{v[0]}
	for i := 1; i < len(v); i++ {
		a, b := v[i-1], v[i]
		chord := b.Sub(a)
		n := chord.Norm()
		// The handles of the cubic nearest to a circular arc of this turn.
		c := math.Cos(float64(t[i-1].TurnTo(t[i])) / 4)
		handle := n / (3 * c * c)
		c1, c2 := a.Add(t[i-1].Mul(handle)), b.Add(t[i].Mul(-handle))
		curve := geom.Curve{Kind: geom.CubicTo, C1: c1, C2: c2, To: b}
		for k := 1; k <= parts; k++ {
			out = append(out, curve.At(a, float64(k)/parts))
		}
	}
	return out
}
