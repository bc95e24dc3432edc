package route

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// legLength returns the glass of a leg behind its quarter turn.
func (p *planner) legLength() float64 { return p.rules.Leg }

// layUnits orders the runs of each line, cut into units, and lays the links.
// A link that finds no way behind the face is forbidden, and the order is
// found again without it.
func (p *planner) layUnits(runs []run) []tube.Tube {
	var out []tube.Tube
	y := p.newLayer(runs)
	p.markLive(runs)
	y.weighSeats()
	p.search.Exact = true
	if len(runs) > 0 {
		p.checkFirst(p.lanes[runs[0].lane])
	}
	for _, line := range p.linesOf(runs) {
		t := try{longest: p.rules.MaxUnit, forbidden: map[[3]int]bool{}}
		for {
			l, found := p.chain(runs, line, t)
			c := l.steps()
			tubes, links, bad := y.layLine(c)
			if bad == nil {
				found.Planes, found.LeastPlanes = links.planes(), links.leastPlanes()
				p.search.add(found)
				p.checkJoins(runs, c)
				y.checkSeats(c)
				out = append(out, tubes...)
				y.keepLinks(links)
				break
			}
			t.learn(c, *bad)
			y.dropLinks()
		}
	}
	return out
}

// try is what earlier tries to lay a line have taught: the longest unit to
// plan for, and the links, by exit and entry end and choice, that found no way.
type try struct {
	longest   float64
	forbidden map[[3]int]bool
}

// setback says why a line could not be laid: the link to a step found no way,
// or a unit came out longer than it was planned, by the given factor.
type setback struct {
	step   int
	factor float64
}

func (t *try) learn(c chainOf, bad setback) {
	if bad.factor > 1 {
		t.longest /= bad.factor * 1.001
		return
	}
	from, to, way := endKey(c.order[bad.step-1], true), endKey(c.order[bad.step], false), c.ways[bad.step]
	t.forbidden[[3]int{from, to, way}], t.forbidden[[3]int{to, from, way}] = true, true
}

// dropLinks takes the glass of an abandoned try out of the world; keepLinks
// makes what was laid so far permanent.
func (y *layer) dropLinks() {
	y.world = tube.NewWorld(y.p.rules.Need() + 0.5)
	for i, r := range y.runs {
		y.world.Add(i, 0, r.segs)
	}
	y.laid = nil
	clear(y.legs)
	for _, k := range y.kept {
		k()
	}
	for _, l := range y.links {
		y.put(l)
	}
}

func (y *layer) keepLinks(k *linking) {
	y.kept = append(y.kept, y.laid...)
	y.laid = nil
	y.links = append(y.links, k.laid()...)
}

// layLine lays the units of one line of text, or says what stands against it.
func (y *layer) layLine(c chainOf) ([]tube.Tube, *linking, *setback) {
	y.placePosts(c.order, c.cuts)
	links, failed := y.layLinks(c)
	if failed >= 0 {
		return nil, nil, &setback{step: failed}
	}
	var out []tube.Tube
	for k, start := range c.cuts {
		end := len(c.order)
		if k+1 < len(c.cuts) {
			end = c.cuts[k+1]
		}
		t := y.unit(c.order[start:end], links.links[start:end])
		if n := t.Length(); n > y.p.rules.MaxUnit && end-start > 1 {
			return nil, nil, &setback{factor: n / y.p.rules.MaxUnit}
		}
		out = append(out, t)
	}
	return out, links, nil
}

// placePosts puts the straight glass behind every end of the line into the
// world: a whole leg at the ends of units, and down to the first plane where a
// link begins or ends.
func (y *layer) placePosts(order []step, cuts []int) {
	rules := y.p.rules
	first := map[int]bool{}
	for _, c := range cuts {
		first[c] = true
	}
	var start step
	for i, s := range order {
		if first[i] {
			start = s
		}
		for _, exit := range [2]bool{false, true} {
			if atCut := !exit && first[i] || exit && (i+1 == len(order) || first[i+1]); atCut {
				y.seat(s, exit, start)
				continue
			}
			_, _, top := y.post(s, exit)
			y.record(func() { y.addPost(s, exit, max(rules.BackPlane, top+rules.DoubleBackRadius)) })
		}
	}
}

// record does something to the world and remembers it, so that the world can
// be built again without what was abandoned.
func (y *layer) record(do func()) { do(); y.laid = append(y.laid, do) }

// unit puts one unit together of its runs and the links that lead to them.
func (y *layer) unit(steps []step, links []link) tube.Tube {
	t := slices.Clone(y.leg(steps[0], false))
	for i, s := range steps {
		for _, g := range links[i].segs {
			t = append(t, tube.Piece{Seg: g, Role: tube.Hidden})
		}
		t = append(t, y.lit(s)...)
	}
	t = append(t, y.leg(steps[len(steps)-1], true)...)
	return y.p.cutLongArcs(t)
}

func (y *layer) lit(s step) tube.Tube {
	r := y.runs[s.run]
	id := y.p.lanes[r.lane].ID
	t := make(tube.Tube, len(r.segs))
	for i, g := range r.segs {
		t[i] = tube.Piece{Seg: g, Role: tube.Lit, Stroke: id, From: r.along[i], To: r.along[i+1]}
	}
	for side, i := range [2]int{0, len(t) - 1} {
		if r.dark[side] {
			t[i] = tube.Piece{Seg: t[i].Seg, Role: tube.Hidden}
		}
	}
	if r.shade {
		for i, piece := range t {
			if y.p.behindStrand(piece.Seg) {
				t[i] = tube.Piece{Seg: piece.Seg, Role: tube.Hidden}
			}
		}
	}
	if s.from == 1 {
		t = t.Reversed()
	}
	return t
}

// cutLongArcs cuts arcs longer than one ribbon fire heats into equal parts of
// the same circle, each a heat of its own.
func (p *planner) cutLongArcs(t tube.Tube) tube.Tube {
	var out tube.Tube
	for _, piece := range t {
		n := 1
		if a, ok := piece.Seg.(geom.Arc3); ok {
			n = int(math.Ceil(a.Length()/p.rules.HeatLength - 1e-9))
		}
		if n <= 1 {
			out = append(out, piece)
			continue
		}
		for k := n; k > 1; k-- {
			var part tube.Piece
			part, piece = piece.Cut(piece.Seg.Length() / float64(k))
			out = append(out, part)
			piece.Joined = false // a heat of its own
		}
		out = append(out, piece)
	}
	return out
}
