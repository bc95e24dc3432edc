package route

import (
	"math"
	"slices"

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

// depth returns how far behind the face the turn of an end starts.
func (p *planner) depth(e end) float64 {
	if p.span(e).sunk[e.side] > 0 {
		return p.rules.DipDepth
	}
	return 0
}

// turn returns the glass of an end from the level run on: the ramp, if the
// end is sunk, and the quarter turn straight back.
func (p *planner) turn(e end) []geom.Segment3 {
	l, sp := p.lanes[e.lane], p.span(e)
	r, z := sp.radius[e.side], -p.depth(e)
	path, at := l.Path, sp.hi
	if e.side == 0 {
		path, at = path.Reversed(), l.length-sp.lo
	}
	var out []geom.Segment3
	if n := sp.sunk[e.side]; n > 0 {
		out = tube.Sink(path.Cut(at-r-n, at-r), p.rules.DipDepth)
	}
	base, dir := path.PointAt(at-r), path.DirAt(at-r)
	if tip := path.PointAt(at); sp.sunk[e.side] == 0 && tip.Sub(base).Unit().Dot(dir) < 1-1e-9 {
		if segs, ok := p.curvedTurn(base, dir, tip, r); ok {
			return segs
		}
	}
	from := geom.Vec3{Z: r}
	return append(out, geom.Arc3{
		Centre: base.At(z - r), Axis: geom.Vec3{Z: 1}.Cross(dir.At(0)).Unit(), From: from, Angle: math.Pi / 2,
	})
}

// curvedTurn turns straight back on a curve, so that the glass behind stands
// on the curve and not beside it; false where that bends too tight.
func (p *planner) curvedTurn(base geom.Point, dir geom.Vec, tip geom.Point, r float64) ([]geom.Segment3, bool) {
	segs := tube.Biarc(base.At(0), dir.At(0), tip.At(-r), geom.Vec3{Z: -1})
	for _, s := range segs {
		if a, ok := s.(geom.Arc3); !ok || a.Radius() < p.rules.MinRadius {
			return nil, false
		}
	}
	return segs, true
}

// endGlass returns samples of the turn of an end and of the straight glass
// behind it, as deep as other lanes could come near it. Pos is the distance
// along the lane.
func (p *planner) endGlass(e end) []tube.Sample {
	segs := p.turn(e)
	tip := segs[len(segs)-1].End()
	deepest := p.rules.DipDepth + p.rules.Need()
	segs = append(segs, geom.Line3{A: tip, B: tip.Add(geom.Vec3{Z: -min(p.rules.Leg, deepest)})})
	from, to := p.span(e).level()
	out := tube.SampleSegments(e.lane, 0, segs)
	for i := range out {
		if e.side == 0 {
			out[i].Pos = from - out[i].Pos
		} else {
			out[i].Pos += to
		}
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
		if from, to := sp.level(); s >= from && s <= to {
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
	t := &trimmer{planner: p, ends: p.ends()}
	t.glass = make([][]tube.Sample, len(t.ends))
	t.boxes = make([]geom.Rect, len(t.ends))
	t.clear = make([]int, len(t.ends))
	t.last = slices.Repeat([]tube.Sample{{Body: none}}, len(t.ends))
	t.near = p.neighbours(t.ends)
	index := map[end]int{}
	work := make([]bool, len(t.ends))
	for i, e := range t.ends {
		index[e], work[i] = i, true
		t.measure(i)
	}
	for moved := true; moved; {
		moved = false
		for i := range t.ends {
			if !work[i] {
				continue
			}
			work[i] = false
			for _, m := range t.movers(i) {
				sp := p.span(m)
				stuck, turns := sp.stuck[m.side], sp.radius
				if p.stepBack(m) {
					j := index[m]
					t.measure(j)
					moved, work[j], work[i] = true, true, true
					for _, k := range t.near[j] {
						work[k] = work[k] || t.boxes[j].Overlaps(t.boxes[k])
						if sp.radius != turns { // tighter turns leave more level glass
							t.clear[k] = 0
						}
					}
				} else if !stuck { // another must give way
					moved, work[i] = true, true
				}
			}
		}
	}
}

// trimmer is the ends in work: their glass, its boxes in plan grown by half the
// distance to keep, and the ends that could come near each.
type trimmer struct {
	*planner
	ends  []end
	glass [][]tube.Sample
	boxes []geom.Rect
	near  [][]int
	clear []int         // how many samples of the glass are clear of all lanes
	last  []tube.Sample // what the next one was too near when last looked at, of body none if nothing
}

const none = -1

// measure samples the glass of an end anew.
func (t *trimmer) measure(i int) {
	t.glass[i], t.clear[i] = t.endGlass(t.ends[i]), 0
	box := geom.EmptyRect()
	for _, s := range t.glass[i] {
		box = box.Including(s.P.Plan())
	}
	t.boxes[i] = box.Grown(t.rules.Need() / 2)
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
func (t *trimmer) movers(i int) []end {
	e := t.ends[i]
	if t.besideCurve(e) {
		return []end{e}
	}
	if by, ok := t.blocker(i); ok {
		if f, ok := t.teeOn(e, by); ok {
			return []end{f}
		}
		if f, ok := t.cornerEnd(e, by); ok {
			return []end{f}
		}
		return []end{e}
	}
	return t.meeting(i)
}

// blocker returns the first glass of a lane that is too near the glass of an end.
// Lanes only lose glass, so what was found clear is not looked at again.
func (t *trimmer) blocker(i int) (by tube.Sample, blocked bool) {
	need, mine := t.rules.Need()-slack, t.glass[i]
	for ; t.clear[i] < len(mine); t.clear[i]++ {
		s := mine[t.clear[i]]
		if by := t.last[i]; by.Body != none && by.P.Dist(s.P) < need && t.counts(t.ends[i], s, by) {
			return by, true
		}
		t.world.Visit(s.P, func(o tube.Sample, d float64) {
			if !blocked && d < need && t.counts(t.ends[i], s, o) {
				blocked, by = true, o
			}
		})
		if blocked {
			t.last[i] = by
			return by, true
		}
	}
	return by, false
}

// counts reports whether glass o of a lane must be clear of glass s of an end.
func (p *planner) counts(e end, s, o tube.Sample) bool {
	return !p.sameGlass(e, s, o) && p.lanes[o.Body].isGlass(o.Pos)
}

// meeting returns the ends that must step back because the glass of another end
// is too near: the one that gives way.
func (t *trimmer) meeting(i int) []end {
	p, e, mine := t.planner, t.ends[i], t.glass[i]
	need := p.rules.Need() - slack
	for _, j := range t.near[i] {
		f := t.ends[j]
		if f.lane == e.lane && f.span == e.span && p.span(e).hi-p.span(e).lo < p.window() {
			continue
		}
		if !t.boxes[i].Overlaps(t.boxes[j]) || !samplesNear(mine, t.glass[j], need) {
			continue
		}
		switch a, b := p.lanes[e.lane].length, p.lanes[f.lane].length; {
		case e.lane == f.lane:
			return []end{e, f}
		case p.rests(f, e.lane) && !p.span(f).stuck[f.side]:
			return []end{f}
		case p.rests(e, f.lane):
			return []end{e}
		case p.span(f).stuck[f.side] || a < b || a == b && e.lane > f.lane:
			return []end{e}
		default:
			return []end{f}
		}
	}
	return nil
}

// sameGlass says that sample o lies on the same span as sample s of end e, so
// near along the glass that the two cannot be measured against each other.
func (p *planner) sameGlass(e end, s, o tube.Sample) bool {
	sp := p.span(e)
	return o.Body == e.lane && o.Pos >= sp.lo && o.Pos <= sp.hi && math.Abs(o.Pos-s.Pos) < p.window()
}

// samplesNear reports whether two pieces of glass, each sampled along its length,
// come nearer than need. Samples that the step between them keeps away are passed
// over: of b those that must be farther than need, and of a as many as half of what
// the samples looked at have to spare allows, since those between them may be nearer.
func samplesNear(a, b []tube.Sample, need float64) bool {
	for i := 0; i < len(a); {
		nearest := math.Inf(1)
		for j, last := 0, len(b)-1; j <= last; {
			d := a[i].P.Dist(b[j].P)
			if d < need {
				return true
			}
			nearest = min(nearest, d)
			skip := max(1, int((d-need)/tube.SampleStep))
			if j < last {
				skip = min(skip, last-j) // the last is looked at, or nearest would say nothing of the tail
			}
			j += skip
		}
		i += max(1, int((nearest-need)/(2*tube.SampleStep)))
	}
	return false
}

// besideCurve reports whether the turn of an end far from where its stroke was
// drawn to end would stand visibly beside the stroke, since the stroke bends
// too tight there to be followed.
func (p *planner) besideCurve(e end) bool {
	l, sp := p.lanes[e.lane], p.span(e)
	if sp.sunk[e.side] > 0 {
		return false
	}
	r := sp.radius[e.side]
	path, at := l.Path, sp.hi
	if e.side == 0 {
		path, at = path.Reversed(), l.length-sp.lo
	}
	base, dir, tip := path.PointAt(at-r), path.DirAt(at-r), path.PointAt(at)
	far := func(q geom.Point) bool { return q.Dist(path.End()) >= 2.2*p.rules.Diameter }
	if base.Add(dir.Mul(r)).Dist(tip) < mostBeside {
		return false
	}
	segs, ok := p.curvedTurn(base, dir, tip, r)
	if !ok {
		return far(tip)
	}
	drawn := path.Cut(at-r, at)
	for _, s := range tube.SampleSegments(0, 0, segs) {
		q := s.P.Plan()
		if _, d := drawn.Nearest(q); d > mostBowed && far(q) {
			return true
		}
	}
	return false
}

// How far, mm, a straight turn may stand beside its stroke, and a curved one bow away
// from it, unseen (judgement, no source; under a tenth of the usual tubes).
const (
	mostBeside = 0.8
	mostBowed  = 0.95
)

// rests reports whether a stroke was drawn to end on the inside of another.
func (p *planner) rests(e end, lane int) bool {
	l, o := p.lanes[e.lane], p.lanes[lane]
	sp := p.span(e)
	drawn, own := l.Path.Start(), sp.lo-sp.trimmed[0]
	if e.side == 1 {
		drawn, own = l.Path.End(), l.length-sp.hi-sp.trimmed[1]
	}
	if own > 1e-6 { // not an end of the stroke but a place where it was parted
		return false
	}
	s, d := o.Path.Nearest(drawn)
	return d < 0.6*p.rules.Diameter && min(s, o.length-s) > p.rules.Diameter
}

// teeOn returns the end of the blocking lane that rests on the lane of e near
// the place: where a branch runs into a stem near the stem's end, it is the
// branch that gives way.
func (p *planner) teeOn(e end, by tube.Sample) (end, bool) {
	if by.Body == e.lane {
		return end{}, false
	}
	l := p.lanes[by.Body]
	for k, sp := range l.spans {
		for side, at := range [2]float64{sp.lo, sp.hi} {
			f := end{by.Body, k, side}
			if math.Abs(at-by.Pos) < 5*p.rules.Diameter && !sp.stuck[side] && p.rests(f, e.lane) {
				return f, true
			}
		}
	}
	return end{}, false
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

// stepBack moves an end back by one step and reports whether it could. Ramps
// and turns shrink before a span is given up as too short.
func (p *planner) stepBack(e end) bool {
	sp := p.span(e)
	if sp.stuck[e.side] {
		return false
	}
	if !p.shrink(sp) || p.hitsDip(e) {
		sp.stuck[e.side] = true
		return false
	}
	if e.side == 0 {
		sp.lo += trimStep
	} else {
		sp.hi -= trimStep
	}
	sp.trimmed[e.side] += trimStep
	return true
}

// shrink makes the tails of a span fit what is left of it after one more step.
func (p *planner) shrink(sp *span) bool {
	room := sp.hi - sp.lo - trimStep
	over := sp.tail(0) + sp.tail(1) - room
	if over <= 0 {
		return true
	}
	if sp.sunk != [2]float64{} {
		return false
	}
	r := room / 2
	if r < p.rules.MinRadius {
		return false
	}
	sp.radius = [2]float64{min(sp.radius[0], r), min(sp.radius[1], r)}
	return true
}

// hitsDip reports whether one more step would run an end into a dip.
func (p *planner) hitsDip(e end) bool {
	sp := p.span(e)
	from, to := sp.level()
	for _, d := range p.lanes[e.lane].dips {
		if e.side == 0 && d.At > sp.lo && from+trimStep > d.At-d.Half() ||
			e.side == 1 && d.At < sp.hi && to-trimStep < d.At+d.Half() {
			return true
		}
	}
	return false
}
