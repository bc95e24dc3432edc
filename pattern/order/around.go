package order

import (
	"math"

	"tubewright/geom"
)

// Around returns how near other glass comes, in mm between centrelines, to the place
// at (developed mm from seal A) before step k of a plan of this problem; glass less
// than own mm away along the tube is the place's own. Infinity where there is none,
// or where the place is not yet there.
func (p Problem) Around(plan Plan, k int, at, own float64) float64 {
	m := newModel(p)
	var done set
	for _, s := range plan.Steps[:k] {
		done = done.with(s.Heat)
	}
	h := plan.Steps[k].Heat
	near, far := m.sides(done, h)
	b := &m.heats[h]
	var glass []group // all in the frame of the near side, the heat straight
	glass = append(glass, near...)
	glass = append(glass, newGroup([]geom.Point3{{}, {X: b.length}}, []float64{b.start, b.start + b.length}, h))
	for _, g := range far {
		for i := range g.pts {
			g.pts[i].X += b.length
		}
		glass = append(glass, g)
	}
	q, ok := placeAt(glass, at)
	if !ok {
		return math.Inf(1)
	}
	least := math.Inf(1)
	for _, g := range glass {
		for i := 1; i < len(g.pts); i++ {
			if a, c, ok := beyond(g, i, at, own); ok {
				least = min(least, segmentDistance(q, q, a, c))
			}
		}
	}
	return least
}

// placeAt returns where the glass is at a developed place.
func placeAt(glass []group, at float64) (geom.Point3, bool) {
	for _, g := range glass {
		for i := 1; i < len(g.pts); i++ {
			a, b := g.at[i-1], g.at[i]
			if min(a, b) <= at && at <= max(a, b) && a != b {
				return g.pts[i-1].Lerp(g.pts[i], (at-a)/(b-a)), true
			}
		}
	}
	return geom.Point3{}, false
}

// beyond returns the part of chord i of a group that is at least own mm along the
// tube from a place; false where there is none.
func beyond(g group, i int, at, own float64) (a, b geom.Point3, ok bool) {
	p, q, s, t := g.pts[i-1], g.pts[i], g.at[i-1], g.at[i]
	if s > t {
		p, q, s, t = q, p, t, s
	}
	switch {
	case t <= at-own || s >= at+own:
		return p, q, true
	case s < at-own: // only its beginning; a chord that also ends beyond is cut at the near side
		return p, p.Lerp(q, (at-own-s)/(t-s)), true
	case t > at+own:
		return p.Lerp(q, (at+own-s)/(t-s)), q, true
	}
	return a, b, false
}
