package route

import "tubewright/pattern/tube"

// darkest, in D, is the longest dark stretch that is left alone; where a
// trimmed end would leave more, the end is sunk.
const darkest = 0.95

// sinkEnds takes ends that had to be trimmed too far, because their stroke
// runs into another at a shallow angle, down a ramp instead: the strand goes
// behind the other one while it draws near, and turns back from there.
func (p *planner) sinkEnds() {
	for range 2 {
		dark := p.darkEnds()
		if len(dark) == 0 {
			return
		}
		was := make([]span, len(dark))
		for i, e := range dark {
			was[i] = *p.span(e)
			p.trySink(e)
		}
		p.trimEnds()
		again := false
		for i, e := range dark {
			if p.span(e).stuck[e.side] { // no place was found; as it was before
				*p.span(e) = was[i]
				again = true
			}
		}
		if again {
			p.trimEnds()
		}
	}
}

// darkEnds returns the ends beside dark stretches over the limit.
func (p *planner) darkEnds() []end {
	lit := litPlan(p.litRuns(), p.rules.Diameter)
	var out []end
	for i, l := range p.lanes {
		for _, r := range darkRuns(l.Path, lit, 0.5*p.rules.Diameter+0.25) {
			if r.to-r.from <= darkest*p.rules.Diameter {
				continue
			}
			for k, sp := range l.spans {
				if sp.sunk[0] == 0 && r.from < sp.lo && r.to > sp.lo-2*p.rules.Diameter {
					out = append(out, end{i, k, 0})
				}
				if sp.sunk[1] == 0 && r.to > sp.hi && r.from < sp.hi+2*p.rules.Diameter {
					out = append(out, end{i, k, 1})
				}
			}
		}
	}
	return out
}

func (p *planner) litRuns() []tube.Tube {
	var out []tube.Tube
	for _, r := range p.runs() {
		t := make(tube.Tube, len(r.segs))
		for i, g := range r.segs {
			t[i] = tube.Piece{Seg: g}
			if i == 0 && r.dark[0] || i == len(r.segs)-1 && r.dark[1] {
				t[i].Role = tube.Hidden
			}
		}
		out = append(out, t)
	}
	return out
}

// trySink sinks an end with the longest ramp of 3 D to 1.75 D for which there
// is room, back at the place where its stroke was drawn to end.
func (p *planner) trySink(e end) {
	l, sp := p.lanes[e.lane], p.span(e)
	was := *sp
	for _, run := range []float64{3, 2.5, 2, 1.75} {
		*sp = was
		if e.side == 0 {
			sp.lo -= sp.trimmed[0]
		} else {
			sp.hi += sp.trimmed[1]
		}
		sp.trimmed[e.side], sp.stuck[e.side] = 0, false
		sp.sunk[e.side] = run * p.rules.Diameter
		from, to := sp.level()
		if to-from < p.rules.Diameter || p.hitsDip(e) {
			continue
		}
		at := to + sp.sunk[1]
		if e.side == 0 {
			at = sp.lo + sp.radius[0]
		}
		d := tube.Dip{At: at, Depth: p.rules.DipDepth, Run: sp.sunk[e.side]}
		if p.rampBends(l, d, e.side) {
			return
		}
	}
	*sp = was
}

// rampBends reports whether the ramp, bent in plan and in depth at once, stays
// over the least radius.
func (p *planner) rampBends(l *lane, d tube.Dip, side int) bool {
	if side == 0 {
		return p.bends(l.Path.Cut(d.At, d.At+d.Run), d)
	}
	return p.bends(l.Path.Cut(d.At-d.Run, d.At), d)
}
