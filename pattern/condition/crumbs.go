package condition

import (
	"math"

	"tubewright/geom"
)

// Crumbs are segments far shorter than the tube is thick. In a traced corner
// they are what is left of the tip of the ink; no bend follows them, and a
// bend fitted into one finds no room.
const (
	crumb      = 0.3  // in D: shorter is a crumb
	crumbTurn  = 0.35 // radians: a run of crumbs that turns more stands for a corner
	crumbReach = 1.0  // in D: how far the corner may lie from the crumbs
)

// swept replaces each run of crumbs that stands for a corner by the corner
// itself: the place where the strokes before and after it, carried straight
// on, meet. Crumbs at the ends of an open stroke are dropped.
func swept(p geom.Path, lim Limits) geom.Path {
	segs := p.Segments
	if p.Closed {
		segs = startingLong(segs, lim)
	} else {
		segs = withoutTails(segs, lim)
	}
	var out []geom.Segment
	for i := 0; i < len(segs); {
		if i == 0 || segs[i].Length() >= crumb*lim.Diameter {
			out = append(out, segs[i])
			i++
			continue
		}
		end := i
		for end < len(segs) && segs[end].Length() < crumb*lim.Diameter {
			end++
		}
		before := out[len(out)-1]
		if end < len(segs) {
			if pair, ok := cornerBetween(before, segs[end], lim); ok {
				out = append(out[:len(out)-1], pair...)
				i = end + 1
				continue
			}
		}
		out = append(out, segs[i:end]...)
		i = end
	}
	return geom.Path{Segments: out, Closed: p.Closed}
}

// cornerBetween returns a and b brought to where they meet if carried on.
func cornerBetween(a, b geom.Segment, lim Limits) ([]geom.Segment, bool) {
	d, e := a.DirAt(a.Length()), b.DirAt(0)
	if d.TurnTo(e).Abs() < crumbTurn || math.Abs(d.Cross(e)) < 0.05 {
		return nil, false
	}
	gap := b.Start().Sub(a.End())
	t, u := gap.Cross(e)/d.Cross(e), gap.Cross(d)/d.Cross(e) // a.End + t·d = b.Start + u·e
	reach := crumbReach * lim.Diameter
	if t > reach || -u > reach || -t > a.Length()/2 || u > b.Length()/2 || math.Abs(t) > 2*reach || math.Abs(u) > 2*reach {
		return nil, false
	}
	at := a.End().Add(d.Mul(t))
	var out []geom.Segment
	if t >= 0 {
		out = append(out, a)
	} else {
		out = append(out, a.Cut(0, a.Length()+t))
	}
	out = appendLine(out, out[len(out)-1].End(), at)
	if u <= 0 {
		out = appendLine(out, at, b.Start())
		return append(out, b), true
	}
	rest := b.Cut(u, b.Length())
	out = appendLine(out, at, rest.Start())
	return append(out, rest), true
}

func appendLine(segs []geom.Segment, a, b geom.Point) []geom.Segment {
	if a.Dist(b) < 1e-9 {
		return segs
	}
	return append(segs, geom.Line{A: a, B: b})
}

// startingLong turns a ring so that it starts with a segment that is no crumb.
func startingLong(segs []geom.Segment, lim Limits) []geom.Segment {
	for i, g := range segs {
		if g.Length() >= crumb*lim.Diameter {
			return append(append([]geom.Segment(nil), segs[i:]...), segs[:i]...)
		}
	}
	return segs
}

// withoutTails drops crumbs at the ends that together are under a third of a
// crumb long.
func withoutTails(segs []geom.Segment, lim Limits) []geom.Segment {
	most := crumb * lim.Diameter / 3
	for n := 0.0; len(segs) > 1 && n+segs[0].Length() < most; {
		n += segs[0].Length()
		segs = segs[1:]
	}
	for n := 0.0; len(segs) > 1 && n+segs[len(segs)-1].Length() < most; {
		n += segs[len(segs)-1].Length()
		segs = segs[:len(segs)-1]
	}
	return segs
}

// straightShare, in D, is how far a run may stray from the straight between
// its ends and still be meant as one: a third of a millimetre on a 12 mm tube,
// far under what a bender works to.
const straightShare = 0.025

// straightened makes one line of each run between corners that is as good as
// straight.
func straightened(p geom.Path, lim Limits) geom.Path {
	c := chained(p)
	changed := false
	for i, run := range c.runs {
		if len(run.Segments) < 2 || run.Length() < lim.Diameter {
			continue
		}
		chord := geom.Line{A: run.Start(), B: run.End()}
		if strayFrom(run, chord) <= straightShare*lim.Diameter {
			c.runs[i] = geom.Path{Segments: []geom.Segment{chord}}
			changed = true
		}
	}
	if !changed {
		return p
	}
	return c.path()
}

// strayFrom returns the largest distance of a run from a straight.
func strayFrom(run geom.Path, chord geom.Line) float64 {
	var most float64
	for _, q := range run.Samples(run.Length() / 64) {
		most = max(most, chord.PointAt(chord.Nearest(q)).Dist(q))
	}
	return most
}
