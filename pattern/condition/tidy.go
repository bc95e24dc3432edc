package condition

import (
	"slices"

	"tubewright/geom"
	"tubewright/geom/fit"
)

// leastSegment is the length in mm under which a segment is no piece a bender
// could tell from its neighbours.
const leastSegment = 0.5

// tidied joins what is one line or circle, makes lines of arcs that bend nothing,
// and refits around segments shorter than leastSegment, where that can be done at
// next to no cost.
func tidied(p geom.Path, lim Limits) geom.Path {
	p.Segments = joined(withoutFlatArcs(p.Segments))
	p = withoutSlightBows(p, lim)
	for i := 0; i < len(p.Segments); i++ {
		if p.Segments[i].Length() >= leastSegment {
			continue
		}
		if next, ok := without(p, i, lim); ok {
			p, i = next, -1
		}
	}
	return p
}

// without returns the path refitted around segment i with fewer segments.
func without(p geom.Path, i int, lim Limits) (geom.Path, bool) {
	a, b := max(0, i-2), min(len(p.Segments), i+3)
	part := geom.Path{Segments: p.Segments[a:b]}
	o := fit.Options{Tol: gentle * lim.Diameter, MinRadius: lim.MinRadius}
	if a > 0 || p.Closed {
		o.StartDir = part.StartDir()
	}
	if b < len(p.Segments) || p.Closed {
		o.EndDir = part.EndDir()
	}
	r, err := fit.Curve(part.Samples(lim.Diameter/20), o)
	if err != nil || r.Deviation > 1.5*o.Tol || len(r.Path.Segments) >= b-a {
		return p, false
	}
	out := geom.Path{Closed: p.Closed}
	out.Segments = slices.Concat(p.Segments[:a], r.Path.Segments, p.Segments[b:])
	return out, true
}

// flattest is the sweep in radians under which an arc is given as a line.
const flattest = 2e-5

func withoutFlatArcs(segs []geom.Segment) []geom.Segment {
	out := slices.Clone(segs)
	for i, g := range out {
		if a, ok := g.(geom.Arc); ok && float64(a.Sweep.Abs()) < flattest {
			out[i] = geom.Line{A: a.Start(), B: a.End()}
		}
	}
	return out
}
