package bend

import (
	"tubewright/geom"
	"tubewright/pattern/tube"
)

// No hand sets a bend of a degree or two: what turns by less than leastTurn in all
// beside another heat, no farther off than one fire reaches, is made with that heat,
// and what turns by less than straightTurn, however long and wherever, is glass that
// is left straight there (common practice, no source). The table keeps its arcs, so
// that it still rebuilds the tube: they have the number of the heat.
const (
	leastTurn    = 3 * geom.Degree
	straightTurn = 1 * geom.Degree
)

// settle gives heats that bend nothing to their neighbours. A run of them goes as a
// whole to one: to a curve before other kinds, then to the nearer, then to the one
// that bends more.
func (g *grouper) settle(heats []Heat) []Heat {
	var out []Heat
	for i := 0; i < len(heats); {
		j := i
		for j < len(heats) && heats[j].Angle < leastTurn {
			j++
		}
		if run := heats[i:j]; len(run) > 0 {
			var before, after *Heat
			if len(out) > 0 && g.takes(out[len(out)-1], run) {
				before = &out[len(out)-1]
			}
			if j < len(heats) && g.takes(heats[j], run) {
				after = &heats[j]
			}
			if to := g.nearer(before, after, run); to != nil {
				for _, h := range run {
					g.take(to, h)
				}
			} else {
				out = append(out, run...)
			}
		}
		if j < len(heats) {
			out = append(out, heats[j])
		}
		i = j + 1
	}
	return out
}

// takes reports whether a run of slight heats can be made with heat h beside it, which
// must be none itself.
func (g *grouper) takes(h Heat, run []Heat) bool {
	if h.Angle < leastTurn {
		return false
	}
	var turn geom.Angle
	for _, r := range run {
		turn += r.Angle
	}
	return turn < straightTurn || turn < leastTurn && g.span(h, run) <= shortArc*g.rules.Diameter
}

// span is how far a run of slight heats reaches beyond heat h, mm.
func (g *grouper) span(h Heat, run []Heat) float64 {
	if last := run[len(run)-1]; last.Last < h.First {
		return g.starts[h.First] - g.starts[run[0].First]
	}
	return g.starts[run[len(run)-1].Last+1] - g.starts[h.Last+1]
}

// nearer returns which of two heats takes a run between them; either may be nil.
func (g *grouper) nearer(before, after *Heat, run []Heat) *Heat {
	switch {
	case before == nil:
		return after
	case after == nil, before.Kind == Curve && after.Kind != Curve:
		return before
	case before.Kind != Curve && after.Kind == Curve:
		return after
	}
	const same = 1e-6
	gapBefore := g.starts[run[0].First] - g.starts[before.Last+1]
	gapAfter := g.starts[after.First] - g.starts[run[len(run)-1].Last+1]
	switch {
	case gapBefore < gapAfter-same:
		return before
	case gapAfter < gapBefore-same:
		return after
	case after.Angle > before.Angle+same:
		return after
	}
	return before
}

// take puts the pieces of a slight heat, and what lies between, into h. Its tangent
// points and its zone stay those of what is bent.
func (g *grouper) take(h *Heat, slight Heat) {
	h.First, h.Last = min(h.First, slight.First), max(h.Last, slight.Last)
	h.Angle += slight.Angle
}

// Span returns from where to where the pieces of a heat reach along its tube,
// developed mm from seal A: Start to End, and the slight bends made with it.
func (h Heat) Span(t tube.Tube) (from, to float64) {
	at := 0.0
	for i, p := range t[:h.Last+1] {
		if i == h.First {
			from = at
		}
		at += p.Seg.Length()
	}
	return from, at
}
