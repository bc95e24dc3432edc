package route

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// splitSelfTouches makes two strokes of one that runs into its own side (the
// ring of a 9, the bar of an e): the place is a junction like any other, and
// strokes are told apart at junctions. Lit glass that passes the place is cut
// there, as two pieces of one bend.
func (p *planner) splitSelfTouches(tubes []tube.Tube, strokes []Stroke) []Stroke {
	var out []Stroke
	for i, s := range strokes { // one a lane
		cuts := slices.Concat(p.selfTouches(s.Path), p.awkwardEnds(i), p.mergedEnds(i))
		for k, c := range cuts {
			cuts[k] = atJoint(s.Path, c)
		}
		slices.Sort(cuts)
		if len(cuts) == 0 {
			out = append(out, s)
			continue
		}
		var parts []Stroke
		at := 0.0
		for _, c := range append(cuts, s.Path.Length()) {
			if c-at >= p.rules.MinRadius {
				parts = append(parts, s.part(at, c, ".", len(parts)))
				at = c
			}
		}
		if at < s.Path.Length() { // the last cut lay too near the end
			k := len(parts) - 1
			parts[k] = s.part(parts[k].from-s.from, s.Path.Length(), ".", k)
		}
		for i := range tubes {
			tubes[i] = renameLit(tubes[i], s.ID, parts)
		}
		out = append(out, parts...)
	}
	return out
}

// awkwardEnds returns where on a lane its glass ends within a bend too tight
// to end on: the stroke is told to end there too, for so it will be seen.
func (p *planner) awkwardEnds(i int) []float64 {
	var out []float64
	for k, sp := range p.lanes[i].spans {
		for side, at := range [2]float64{sp.lo, sp.hi} {
			if p.besideCurve(end{i, k, side}) {
				out = append(out, at)
			}
		}
	}
	return out
}

// mergedEnds returns where on a lane its glass ends far from the end of the
// stroke, because the stroke runs on into another that is lit in its stead: a
// junction like any other, though strokes that merge at no angle do not cross.
func (p *planner) mergedEnds(i int) []float64 {
	l := p.lanes[i]
	far := 2 * p.rules.Diameter
	var out []float64
	for k, sp := range l.spans {
		for side, at := range [2]float64{sp.lo, sp.hi} {
			if min(at, l.length-at) > far && p.meetsOther(end{i, k, side}) {
				out = append(out, at)
			}
		}
	}
	return out
}

// meetsOther reports whether another stroke, or another stretch of the same
// one, lies within the tube's thickness of where the glass of an end stands.
func (p *planner) meetsOther(e end) bool {
	at, pos := p.place(e)
	found := false
	p.world.Visit(at.At(0), func(o tube.Sample, _ float64) {
		if !found && !(o.Body == e.lane && math.Abs(o.Pos-pos) < p.window()) {
			found = o.P.Plan().Dist(at) < p.rules.Diameter
		}
	})
	return found
}

// selfTouches returns where on a stroke its own ends rest, in order.
func (p *planner) selfTouches(path geom.Path) []float64 {
	n, w := path.Length(), p.window()
	if n < 3*w {
		return nil
	}
	reach := 0.6 * p.rules.Diameter
	var out []float64
	if s, d := path.Cut(w, n-w).Nearest(path.End()); d < reach {
		out = append(out, s+w)
	}
	if s, d := path.Cut(w, n-w).Nearest(path.Start()); d < reach {
		if s += w; len(out) == 0 || s > out[0]+w {
			out = append(out, s)
		} else if s < out[0]-w {
			out = append([]float64{s}, out...)
		}
	}
	return out
}
