package condition

import (
	"math"

	"tubewright/geom"
)

// chain is a stroke as smooth runs with corners between them. Corner i lies
// between runs i-1 and i; a closed chain has one at 0, an open one has not.
type chain struct {
	closed  bool
	runs    []geom.Path
	corners []corner // len(runs)+1, or len(runs) if closed; the outer two of an open chain are its ends
}

// corner is a joint where the direction jumps.
type corner struct {
	at     geom.Point // as drawn
	turn   geom.Angle
	apex   geom.Vec // which way a pointed corner is carried; zero for none
	radius float64
	fillet fillet
	bulb   bool // the bend is a bulb
	failed bool // no bend of the least radius fits
}

// chained cuts a path at its corners. A closed path is started at one, if it
// has any.
func chained(p geom.Path) chain {
	segs := joined(p.Segments)
	n := len(segs)
	c := chain{closed: p.Closed}
	if p.Closed {
		for i := range segs {
			if turnAt(segs[(i+n-1)%n], segs[i]) > straightOn {
				segs = append(append([]geom.Segment{}, segs[i:]...), segs[:i]...)
				break
			}
		}
	}
	first := 0
	for i := 1; i <= n; i++ {
		if i < n && turnAt(segs[i-1], segs[i]) <= straightOn {
			continue
		}
		c.runs = append(c.runs, geom.Path{Segments: segs[first:i]})
		first = i
	}
	for i := range c.runs {
		c.corners = append(c.corners, corner{at: c.runs[i].Start()})
	}
	if !p.Closed {
		c.corners = append(c.corners, corner{at: p.End()})
	}
	for i := range c.corners {
		if a, b, ok := c.legs(i); ok {
			c.corners[i].turn = a.EndDir().TurnTo(b.StartDir())
		}
	}
	return c
}

// joined makes one of consecutive lines in one direction, and of arcs of one
// circle, as long as they turn less than all the way round.
func joined(segs []geom.Segment) []geom.Segment {
	var out []geom.Segment
	for _, g := range segs {
		if n := len(out); n > 0 {
			if j, ok := joinedPair(out[n-1], g); ok {
				out[n-1] = j
				continue
			}
		}
		out = append(out, g)
	}
	return out
}

func joinedPair(a, b geom.Segment) (geom.Segment, bool) {
	switch a := a.(type) {
	case geom.Line:
		if b, ok := b.(geom.Line); ok && turnAt(a, b) < straightOn/10 {
			return geom.Line{A: a.A, B: b.B}, true
		}
	case geom.Arc:
		b, ok := b.(geom.Arc)
		if ok && a.Centre.Dist(b.Centre) < 1e-9*a.Radius && math.Abs(a.Radius-b.Radius) < 1e-9*a.Radius &&
			(a.Sweep > 0) == (b.Sweep > 0) && (a.Sweep+b.Sweep).Abs() < 1.9*math.Pi {
			return geom.Arc{Centre: a.Centre, Radius: a.Radius, From: a.From, Sweep: a.Sweep + b.Sweep}, true
		}
	}
	return nil, false
}

// legs returns the runs before and after corner i; false at the ends of an
// open chain and on a ring without a corner.
func (c *chain) legs(i int) (before, after geom.Path, ok bool) {
	n := len(c.runs)
	if !c.closed {
		if i == 0 || i == n {
			return before, after, false
		}
		return c.runs[i-1], c.runs[i], true
	}
	before, after = c.runs[(i+n-1)%n], c.runs[i]
	if n == 1 && before.EndDir().TurnTo(after.StartDir()).Abs() <= straightOn {
		return before, after, false
	}
	return before, after, true
}

// free reports which of the runs at corner i end in an end of the stroke.
func (c *chain) free(i int) [2]bool {
	if c.closed {
		return [2]bool{}
	}
	return [2]bool{i == 1, i == len(c.runs)-1}
}

// fillet is the bend in a corner: one arc that touches the runs before and
// after it, or the pieces of a bulb.
type fillet struct {
	back, ahead float64 // mm of each run it takes the place of
	segs        []geom.Segment
	ok          bool
}

// A bend may take filletReach times what straight legs would give it, and cut
// off filletCut times as much of the corner.
const (
	filletReach = 4
	filletCut   = 2
)

// filletOf returns the arc of radius r in the corner between two runs: its
// centre lies r to the inner side of both. The place on the first run is found
// by bisection on how far the centre is from the second.
//
//	        ______ a        back: from the corner along a to the tangent point
//	      ,'               ahead: the same along b
//	     (  + centre
//	b ___ `.____
func filletOf(a, b geom.Path, turn geom.Angle, r float64) fillet {
	side := 1.0
	if turn < 0 {
		side = -1
	}
	room, reach := a.Length(), b.Length()
	centre := func(u float64) geom.Point {
		return a.PointAt(room - u).Add(a.DirAt(room - u).Left().Mul(side * r))
	}
	// gap is how much farther than r the centre is from the second run.
	gap := func(u float64) (g, s float64) {
		q := centre(u)
		// Only as far along the second run as a bend could reach: it may curl.
		s, _ = b.Cut(0, min(reach, 2*u+2*r)).Nearest(q)
		return side*b.DirAt(s).Left().Dot(q.Sub(b.PointAt(s))) - r, s
	}
	// Straight legs need r·tan(turn/2) each. Much more than that means a leg
	// curls, and the arc would take the place of a piece of the letter.
	half := min(math.Abs(float64(turn)), 3) / 2
	limit := min(room, filletReach*r*math.Tan(half)+r/4)
	reach = min(reach, limit)
	const steps = 100
	step := max(r/8, limit/steps)
	lo, hi, found := 0.0, 0.0, false
	for u := step; lo < limit; u += step {
		hi = min(u, limit)
		if g, _ := gap(hi); g >= 0 {
			found = true
			break
		}
		lo = hi
	}
	if !found {
		return fillet{}
	}
	for range 80 {
		mid := (lo + hi) / 2
		if g, _ := gap(mid); g >= 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	_, s := gap(hi)
	q := centre(hi)
	p, e := a.PointAt(room-hi), b.PointAt(s)
	// A foot at the far end of the second run is no tangent point.
	if math.Abs(q.Dist(e)-r) > 1e-7*r || math.Abs(q.Sub(e).Dot(b.DirAt(s))) > 1e-7*r {
		return fillet{}
	}
	arc := arcAbout(q, p, e, side, r)
	corner := a.End()
	if arc.PointAt(arc.Nearest(corner)).Dist(corner) > filletCut*r*(1/math.Cos(half)-1)+r/8 {
		return fillet{}
	}
	return fillet{back: hi, ahead: s, ok: true, segs: []geom.Segment{arc}}
}
