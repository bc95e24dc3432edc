package route

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// trimStep is how far an end is moved back at a time, mm.
const trimStep = 0.5

// slack is how far under the asked distance a sampled distance may read; the
// samples themselves are exact, so this only keeps a result that sits on the
// limit from being refused for rounding.
const slack = 0.02

// end names one end of one span.
type end struct{ lane, span, side int }

func (p *planner) span(e end) *span { return &p.lanes[e.lane].spans[e.span] }

// ends lists every end, lane by lane.
func (p *planner) ends() []end {
	var out []end
	for i, l := range p.lanes {
		for k := range l.spans {
			out = append(out, end{i, k, 0}, end{i, k, 1})
		}
	}
	return out
}

// place returns where the axis of the turned-back glass of an end stands, and
// where along the lane that is.
func (p *planner) place(e end) (geom.Point, float64) {
	l, sp := p.lanes[e.lane], p.span(e)
	r := sp.radius[e.side]
	if e.side == 0 {
		return l.Path.PointAt(sp.lo + r).Add(l.Path.DirAt(sp.lo + r).Mul(-r)), sp.lo
	}
	return l.Path.PointAt(sp.hi - r).Add(l.Path.DirAt(sp.hi - r).Mul(r)), sp.hi
}

// turn returns the quarter turn of an end, from the face to straight back.
func (p *planner) turn(e end) geom.Arc3 {
	l, sp := p.lanes[e.lane], p.span(e)
	r := sp.radius[e.side]
	at, dir := sp.hi-r, l.Path.DirAt(sp.hi-r)
	if e.side == 0 {
		at, dir = sp.lo+r, l.Path.DirAt(sp.lo+r).Neg()
	}
	from := geom.Vec3{Z: r}
	return geom.Arc3{Centre: l.Path.PointAt(at).At(-r), Axis: from.Unit().Cross(dir.At(0)).Unit(), From: from, Angle: math.Pi / 2}
}

// endGlass returns samples of the quarter turn of an end and of the straight
// glass behind it, as deep as a leg goes. Pos is the lane position of the end.
func (p *planner) endGlass(e end) []tube.Sample {
	arc := p.turn(e)
	post := geom.Line3{A: arc.End(), B: arc.End().Add(geom.Vec3{Z: -p.rules.Leg})}
	_, pos := p.place(e)
	out := tube.SampleSegments(e.lane, 0, []geom.Segment3{arc, post})
	for i := range out {
		out[i].Pos = pos
	}
	return out
}

// buildWorld samples all lanes as drawn, with their dips.
func (p *planner) buildWorld() {
	p.world = tube.NewWorld(p.rules.Need() + 1)
	for i, l := range p.lanes {
		p.world.AddSamples(l.samples(i))
	}
}

// isGlass reports whether the lane is level glass (not yet turning back) at s.
func (l *lane) isGlass(s float64) bool {
	for _, sp := range l.spans {
		if s >= sp.lo+sp.radius[0] && s <= sp.hi-sp.radius[1] {
			return true
		}
	}
	return false
}

// trimEnds moves ends back along their strokes until the glass that turns back
// there keeps its clearance from all other lanes and ends. Where an end meets
// the inside of a stroke it is the end that moves; where two ends meet, the
// end of the shorter stroke.
func (p *planner) trimEnds() {
	p.buildWorld()
	ends := p.ends()
	work := make([]bool, len(ends))
	for i := range work {
		work[i] = true
	}
	glass := make([][]tube.Sample, len(ends))
	for i, e := range ends {
		glass[i] = p.endGlass(e)
	}
	near := p.neighbours(ends)
	index := map[end]int{}
	for i, e := range ends {
		index[e] = i
	}
	for moved := true; moved; {
		moved = false
		for i, e := range ends {
			if !work[i] {
				continue
			}
			work[i] = false
			for _, m := range p.movers(e, glass[i], near[i], glass, ends) {
				if p.stepBack(m) {
					j := index[m]
					glass[j] = p.endGlass(m)
					moved, work[j], work[i] = true, true, true
					for _, k := range near[j] {
						work[k] = true
					}
				}
			}
		}
	}
}

// neighbours returns for each end the others that could ever come near it.
func (p *planner) neighbours(ends []end) [][]int {
	reach := 10 * p.rules.Diameter
	grid := map[[2]int][]int{}
	key := func(q geom.Point) [2]int {
		return [2]int{int(math.Floor(q.X / reach)), int(math.Floor(q.Y / reach))}
	}
	places := make([]geom.Point, len(ends))
	for i, e := range ends {
		places[i], _ = p.place(e)
		k := key(places[i])
		grid[k] = append(grid[k], i)
	}
	out := make([][]int, len(ends))
	for i := range ends {
		k := key(places[i])
		for x := k[0] - 1; x <= k[0]+1; x++ {
			for y := k[1] - 1; y <= k[1]+1; y++ {
				for _, j := range grid[[2]int{x, y}] {
					if j != i && places[i].Dist(places[j]) < reach {
						out[i] = append(out[i], j)
					}
				}
			}
		}
	}
	return out
}

// movers returns the ends that must step back because the glass at e is too
// near something: e itself, the other end, or none if it stands clear.
func (p *planner) movers(e end, mine []tube.Sample, near []int, glass [][]tube.Sample, ends []end) []end {
	need := p.rules.Need() - slack
	for _, s := range mine {
		blocked, by := false, tube.Sample{}
		p.world.Visit(s.P, func(o tube.Sample, d float64) {
			if blocked || d >= need || !p.lanes[o.Body].isGlass(o.Pos) || p.sameGlass(e, o) {
				return
			}
			blocked, by = true, o
		})
		if blocked {
			if f, ok := p.cornerEnd(e, by); ok {
				return []end{f}
			}
			return []end{e}
		}
	}
	for _, j := range near {
		f := ends[j]
		if f.lane == e.lane && f.span == e.span && p.span(e).hi-p.span(e).lo < p.window() {
			continue
		}
		if !samplesNear(mine, glass[j], need) {
			continue
		}
		switch a, b := p.lanes[e.lane].length, p.lanes[f.lane].length; {
		case e.lane == f.lane:
			return []end{e, f}
		case p.span(f).stuck[f.side] || a < b || a == b && e.lane > f.lane:
			return []end{e}
		default:
			return []end{f}
		}
	}
	return nil
}

// sameGlass says that a sample lies on the same span so near the end along
// the glass that it cannot be measured against it.
func (p *planner) sameGlass(e end, o tube.Sample) bool {
	if o.Body != e.lane {
		return false
	}
	_, pos := p.place(e)
	sp := p.span(e)
	return o.Pos >= sp.lo && o.Pos <= sp.hi && math.Abs(o.Pos-pos) < p.window()
}

func samplesNear(a, b []tube.Sample, need float64) bool {
	for _, s := range a {
		for _, t := range b {
			if s.P.Dist(t.P) < need {
				return true
			}
		}
	}
	return false
}

// cornerEnd returns the end of the blocking lane if the two strokes meet end
// to end there and the other, being the shorter, should give way.
func (p *planner) cornerEnd(e end, by tube.Sample) (end, bool) {
	if by.Body == e.lane {
		return end{}, false
	}
	a, b := p.lanes[e.lane], p.lanes[by.Body]
	if a.length < b.length || a.length == b.length && e.lane > by.Body {
		return end{}, false
	}
	drawn := a.Path.Start()
	if e.side == 1 {
		drawn = a.Path.End()
	}
	for k, sp := range b.spans {
		for side, tip := range [2]geom.Point{b.Path.PointAt(sp.lo), b.Path.PointAt(sp.hi)} {
			drawnEnd := [2]float64{0, b.length}[side]
			if tip.Dist(drawn) < 4*p.rules.Diameter && b.Path.PointAt(drawnEnd).Dist(drawn) < p.rules.Diameter && !sp.stuck[side] {
				return end{by.Body, k, side}, true
			}
		}
	}
	return end{}, false
}

// stepBack moves an end back by one step and reports whether it could. Turns
// shrink to the least radius before a span is given up as too short.
func (p *planner) stepBack(e end) bool {
	sp := p.span(e)
	if sp.stuck[e.side] {
		return false
	}
	if sp.hi-sp.lo-trimStep < sp.radius[0]+sp.radius[1] {
		r := (sp.hi - sp.lo - trimStep) / 2
		if r < p.rules.MinRadius {
			sp.stuck[e.side] = true
			return false
		}
		sp.radius = [2]float64{min(sp.radius[0], r), min(sp.radius[1], r)}
	}
	for _, d := range p.lanes[e.lane].dips {
		if e.side == 0 && d.At > sp.lo && sp.lo+trimStep+sp.radius[0] > d.At-d.Half() ||
			e.side == 1 && d.At < sp.hi && sp.hi-trimStep-sp.radius[1] < d.At+d.Half() {
			sp.stuck[e.side] = true
			return false
		}
	}
	if e.side == 0 {
		sp.lo += trimStep
	} else {
		sp.hi -= trimStep
	}
	sp.trimmed[e.side] += trimStep
	return true
}
