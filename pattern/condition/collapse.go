package condition

import "tubewright/geom"

// shortRun is a run too short for the bends at its ends.
type shortRun struct {
	at         geom.Point
	need, room float64 // mm
}

// collapseRun is the longest run, in least radii, that may be given up.
const collapseRun = 3

// collapsed returns the chain without its shortest run that has no room for
// bends of the least radius at its ends: its neighbours are led to meet in its
// middle, or at the stroke's end. It reports false where there is no such run
// or its neighbours cannot be led there.
func (c *chain) collapsed(least float64) (chain, shortRun, bool) {
	best := -1
	n := len(c.corners)
	for k, run := range c.runs {
		if len(c.runs) < 2 || run.Length() > collapseRun*least {
			continue
		}
		if !c.corners[k].failed && !c.corners[(k+1)%n].failed {
			continue
		}
		if best < 0 || run.Length() < c.runs[best].Length() {
			best = k
		}
	}
	if best < 0 {
		return chain{}, shortRun{}, false
	}
	run := c.runs[best]
	info := shortRun{run.PointAt(run.Length() / 2), c.needOf(best, least), run.Length()}
	next, ok := c.without(best)
	return next, info, ok
}

// without returns the chain with run k taken out.
func (c *chain) without(k int) (chain, bool) {
	m := len(c.runs)
	run := c.runs[k]
	meet := run.PointAt(run.Length() / 2)
	hasBefore, hasAfter := c.closed || k > 0, c.closed || k < m-1
	if !hasBefore {
		meet = run.Start()
	}
	if !hasAfter {
		meet = run.End()
	}
	runs := append([]geom.Path{}, c.runs...)
	ok := true
	if hasBefore {
		runs[(k+m-1)%m], ok = ledTo(runs[(k+m-1)%m], meet)
	}
	if hasAfter && ok {
		var back geom.Path
		back, ok = ledTo(runs[(k+1)%m].Reversed(), meet)
		runs[(k+1)%m] = back.Reversed()
	}
	if !ok {
		return chain{}, false
	}
	p := geom.Path{Closed: c.closed}
	for i, r := range runs {
		if i != k {
			p.Segments = append(p.Segments, r.Segments...)
		}
	}
	return chained(p), true
}
