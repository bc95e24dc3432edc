package route

import (
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/network"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// Stroke is one conditioned centreline at z = 0: tangent-continuous, no arc
// under the least radius.
type Stroke struct {
	ID     string
	Letter int    // index of the letter; strokes of one letter stand together
	Text   string // what the letter shows, for findings
	Line   int    // line of text; units do not run from line to line unless asked
	Path   geom.Path
	from   float64 // where on its lane a part of a stroke begins
}

// Result is the finished glass. Strokes are those given, in order, some of
// them lengthened or opened (a ring is cut, since glass has two ends).
type Result struct {
	Strokes  []Stroke
	Tubes    []tube.Tube
	Costs    [][]Term // what each unit costs, by letter and term
	Search   Search
	Findings []finding.Finding
}

// Plan runs glass through the strokes within the rules, as the options ask.
func Plan(strokes []Stroke, rules glass.Rules, opt Options) Result {
	p := newPlanner(strokes, rules)
	p.options = opt
	if costs, ok := CostsFor(opt.Taste); ok {
		p.costs = costs
	}
	p.readWishes()
	runs := p.makeRuns()
	tubes := p.layUnits(runs)
	p.checkDoublings(tubes)
	out := Result{Tubes: tubes, Search: p.search}
	lit := litPlan(tubes, p.rules.Diameter)
	for _, t := range tubes {
		out.Costs = append(out.Costs, p.report(t, lit))
	}
	for _, l := range p.lanes {
		out.Strokes = append(out.Strokes, l.Stroke)
	}
	out.Strokes = p.splitSelfTouches(tubes, out.Strokes)
	out.Strokes = p.leaveOutDark(tubes, out.Strokes)
	p.audit(tubes, out.Strokes)
	out.Findings = p.findings
	return out
}

// makeRuns decides where the lit glass of every stroke begins, dips and ends.
func (p *planner) makeRuns() []run {
	p.openLanes()
	p.resolveCrossings()
	p.splitLong()
	p.trimEnds()
	p.partKisses()
	p.sinkEnds()
	p.fitSpans()
	return p.runs()
}

type planner struct {
	rules    glass.Rules
	costs    Costs
	options  Options
	search   Search // of all lines
	lanes    []*lane
	findings []finding.Finding
	world    *tube.World // the lanes as drawn, with their dips; bodies are lanes

	trellises map[int]*trellis    // of letters, made as they are needed
	bypasses  map[[2]int]bypass   // between two ends of runs, likewise
	chosen    map[[2]int][]choice // what the chain may choose among, likewise
	lit       *plan               // lit glass, made when it is first asked for
	nets      map[int]*net        // of letters, by their first run, likewise
	live      map[int]bool        // ends of runs (see endKey) where an electrode is to stand
	seats     map[int]float64     // what an electrode costs there beyond a straight leg
}

// lane is one stroke in work.
type lane struct {
	Stroke
	length float64
	shift  float64 // how much the stroke was lengthened at its start since crossings were found
	dips   []tube.Dip
	spans  []span
}

// span is a stretch of a lane that is lit by one run. The run turns straight
// back at both ends: lo and hi are where the axis of the turned-back glass
// stands, so its turn takes the last radius of the span.
type span struct {
	lo, hi  float64
	radius  [2]float64 // of the turn at lo and at hi
	trimmed [2]float64 // how much of the drawn stroke was given up
	sunk    [2]float64 // plan length of a ramp before the turn, 0 where the turn starts in the face
	stuck   [2]bool    // this end cannot be trimmed any more
}

// tail returns how much of the lane the turn at one end takes, with its ramp.
func (sp span) tail(side int) float64 { return sp.radius[side] + sp.sunk[side] }

// fitSpans makes the turns and ramps of every span fit its length, and drops
// spans too short to turn back at both ends; the audit finds what that leaves
// dark.
func (p *planner) fitSpans() {
	for i, l := range p.lanes {
		var out []span
		for k, sp := range l.spans {
			n := sp.hi - sp.lo
			if n < 4*p.rules.Diameter && (p.besideCurve(end{i, k, 0}) || p.besideCurve(end{i, k, 1})) {
				continue // all turn and no stroke: it would stand beside the curve
			}
			if sp.tail(0)+sp.tail(1) > n {
				sp.sunk = [2]float64{}
				sp.radius = [2]float64{min(sp.radius[0], n/2), min(sp.radius[1], n/2)}
			}
			if min(sp.radius[0], sp.radius[1]) >= p.rules.MinRadius-1e-9 {
				out = append(out, sp)
			}
		}
		l.spans = out
	}
}

// level returns where the span's level glass starts and ends.
func (sp span) level() (from, to float64) { return sp.lo + sp.tail(0), sp.hi - sp.tail(1) }

func newPlanner(strokes []Stroke, rules glass.Rules) *planner {
	costs, _ := CostsFor(TasteUsual)
	p := &planner{rules: rules, costs: costs, trellises: map[int]*trellis{}, bypasses: map[[2]int]bypass{},
		chosen: map[[2]int][]choice{}, nets: map[int]*net{}, live: map[int]bool{}, seats: map[int]float64{}}
	for _, s := range strokes {
		l := &lane{Stroke: s}
		l.setPath(s.Path)
		p.lanes = append(p.lanes, l)
	}
	return p
}

func (l *lane) setPath(path geom.Path) { l.Path, l.length = path, path.Length() }

// z returns the height of the lane's glass at distance s.
func (l *lane) z(s float64) float64 {
	for _, d := range l.dips {
		if math.Abs(s-d.At) < d.Half() {
			z, _ := d.Height(s - d.At)
			return z
		}
	}
	return 0
}

// samples returns points of the lane as glass, about one mm apart.
func (l *lane) samples(body int) []tube.Sample {
	n := max(1, int(math.Ceil(l.length/tube.SampleStep)))
	out := make([]tube.Sample, n+1)
	for i := range out {
		s := l.length * float64(i) / float64(n)
		out[i] = tube.Sample{P: l.Path.PointAt(s).At(l.z(s)), Body: body, Pos: s}
	}
	return out
}

// window is the distance along one tube within which its own glass is not
// measured against itself: it cannot be nearer than a bend of the least
// radius brings it.
func (p *planner) window() float64 {
	return math.Pi*max(p.rules.MinRadius, p.rules.Need()/2) + 3
}

// openLanes turns closed strokes into open ones that start and end at a place
// good for a cut, lengthens strokes too short for a turn at both ends, and
// gives every lane its first span.
func (p *planner) openLanes() {
	met := p.meetingsOfRings()
	for i, l := range p.lanes {
		if l.Path.Closed {
			l.setPath(openAt(l.Path, p.ringCut(l, met[i])))
		}
		p.lengthen(l)
		p.straightenEnds(l)
		r := min(p.rules.DoubleBackRadius, l.length/2)
		l.spans = []span{{lo: 0, hi: l.length, radius: [2]float64{r, r}}}
	}
}

// straightenEnds lets a stroke that is still turning at its end run straight
// there for the length of the turn behind the face, where glass that turns in
// both directions at once would be too tight or stand beside the stroke.
func (p *planner) straightenEnds(l *lane) {
	r := p.rules.DoubleBackRadius
	if l.length < 4*r {
		return
	}
	path := l.Path
	for range 2 {
		n := path.Length()
		base, dir := path.PointAt(n-r), path.DirAt(n-r)
		tip := base.Add(dir.Mul(r))
		if _, ok := p.curvedTurn(base, dir, path.End(), r); !ok && tip.Dist(path.End()) > 0.5 {
			path = path.Cut(0, n-r)
			path.Segments = append(path.Segments, geom.Line{A: base, B: tip})
		}
		path = path.Reversed()
	}
	l.setPath(path)
}

// lengthen carries a stroke shorter than two turns straight on at both ends.
func (p *planner) lengthen(l *lane) {
	lack := 2*p.rules.MinRadius + 0.1 - l.length
	if lack <= 0 {
		return
	}
	l.setPath(extended(l.Path, lack/2, lack/2))
	f := finding.Finding{
		Code: "lengthened", Severity: finding.Note, Stroke: l.ID, At: l.Path.PointAt(l.length / 2).At(0),
		What: fmt.Sprintf("the stroke is %.1f mm longer than drawn: shorter glass cannot turn back at both ends", lack),
	}
	if lack > p.rules.Diameter {
		f.Severity, f.Remedy = finding.Warning, "make the letters higher or use a thinner tube"
	}
	p.add(f, l)
}

// meetingsOfRings returns where on each closed lane others meet it.
func (p *planner) meetingsOfRings() map[int][]float64 {
	if !slices.ContainsFunc(p.lanes, func(l *lane) bool { return l.Path.Closed }) {
		return nil
	}
	paths := make([]geom.Path, len(p.lanes))
	for i, l := range p.lanes {
		paths[i] = l.Path
	}
	out := map[int][]float64{}
	for _, m := range network.AllCrossings(paths) {
		out[m.First] = append(out[m.First], m.A)
		out[m.Second] = append(out[m.Second], m.B)
	}
	return out
}

// ringCut returns where a ring is best opened: low, or the way asked for, on
// straight glass, away from corners and from where others meet it: a strand
// needs about 6 D to dip and to turn back.
func (p *planner) ringCut(l *lane, met []float64) float64 {
	path, d := l.Path, p.rules.Diameter
	box, total := path.Bounds(), path.Length()
	open := p.wishOf(l.Letter).Open
	weight, parts := 10.0, 32 // the bender's word, before comfort
	if open == (geom.Vec{}) {
		open, weight, parts = geom.Vec{Y: -1}, 1, 4
	}
	size := max(math.Abs(open.X)*box.Width(), math.Abs(open.Y)*box.Height(), 1)
	best, bestCost := 0.0, math.Inf(1)
	at := 0.0
	for _, g := range path.Segments {
		n := g.Length()
		for k := 1; k < parts; k++ {
			t := n * float64(k) / float64(parts)
			low := weight * (0.5 - g.PointAt(t).Sub(box.Centre()).Dot(open)/size)
			room := max(0, 1-min(t, n-t)/p.rules.Need()) // a cut near a corner leaves no room to turn back
			cost := low + 3*math.Abs(g.Curvature())*d + room
			for _, m := range met {
				far := math.Abs(at + t - m)
				cost += 3 * max(0, 1-min(far, total-far)/(6*d))
			}
			if cost < bestCost-1e-9 {
				best, bestCost = at+t, cost
			}
		}
		at += n
	}
	return best
}

// openAt returns the closed path as an open one from distance s round to s.
func openAt(p geom.Path, s float64) geom.Path {
	open := geom.Path{Segments: p.Segments}
	out := open.Cut(s, p.Length())
	if s > 1e-9 {
		out.Segments = append(out.Segments, open.Cut(0, s).Segments...)
	}
	return out
}
