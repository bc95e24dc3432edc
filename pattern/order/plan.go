package order

import (
	"slices"

	"tubewright/geom"
)

// Step is one heat of the plan, in the order in which they are made.
type Step struct {
	Heat   int     // index into Problem.Heats
	Swings Side    // the side that is swung; the other lies in its place
	Travel float64 // mm that the farthest point of it travels
	Reach  float64 // mm from the heat to that point
	// Joins are the welds (indexes into Problem.Welds) made before this heat,
	// because it needs the glass behind them.
	Joins []int
	// Edge says that glass hangs below the table in this step: it is made at the
	// edge of the table.
	Edge bool
	// Pinch says that there is room for fingertips only, not for a fist.
	Pinch bool
	// Lift is how far the swinging side is lifted over glass on the table, and
	// lowered at the end; 0 where it is swung flat.
	Lift geom.Angle
	// Before lists heats still to come that would stop this one if they were made
	// first, by index, ascending: the reason why it comes now. Heats more than 8
	// away along the tube are not looked at.
	Before []int
	// Glass is the stretch of glass there is, developed mm from seal A.
	Glass [2]float64
}

// Way says how the formed glass grows.
type Way int

const (
	FromA    Way = iota // from the end with electrode A
	FromB               // from the end with electrode B
	Outwards            // from a heat, outwards to both ends
	Mixed               // in more than one piece
)

// String returns the way as files tell it.
func (w Way) String() string { return [...]string{"from A", "from B", "outwards", "mixed"}[w] }

// Stop says why one heat cannot be the last of those that block each other.
type Stop struct {
	Heat   int // index into Problem.Heats
	Other  int // the heat whose glass is in the way; −1 where none is to blame
	Reason Reason
}

// Block is a set of heats of which none can be bent last, whatever else is bent
// before or after: at least one of them must be made in another piece.
type Block struct {
	Stops  []Stop // in the order of travel; none where there were too many heats
	Proved bool   // false if the search stopped at its limit
}

// Plan is an order of the heats of one problem in which each is possible.
type Plan struct {
	Steps []Step
	Way   Way
	// Exact says that no order has fewer awkward heats, or as few and a smaller largest
	// swing. Else Bound tells how small that might be.
	Exact  bool
	Bound  float64 // mm; no order with as few awkward heats swings less at its largest
	Checks int     // simulations asked for
}

// LargestTravel returns the largest swing of the plan, mm.
func (p Plan) LargestTravel() float64 {
	var v float64
	for _, s := range p.Steps {
		v = max(v, s.Travel)
	}
	return v
}

// Gap returns the share of the largest swing that may not be needed: 0 where the plan
// is exact.
func (p Plan) Gap() float64 {
	if v := p.LargestTravel(); v > 0 && !p.Exact {
		return (v - p.Bound) / v
	}
	return 0
}

// Find returns a plan for the heats, or what blocks it. Of all orders it looks for
// those that make the fewest heats awkward, of those for the ones with the smallest
// largest swing, and of those for one that grows one formed piece. A problem without
// heats has an empty plan.
func Find(p Problem) (Plan, *Block) {
	if len(p.Heats) == 0 {
		return Plan{Exact: true}, nil
	}
	if len(p.Heats) > MaxHeats {
		return Plan{}, &Block{}
	}
	m := newModel(p)
	any := m.peel(true, anySwing)
	if len(any.moves) == 0 {
		return Plan{Checks: m.checks}, m.block(any)
	}
	if p.Trial {
		return m.plan(leastSwing{found: found{moves: any.moves}}, false), nil
	}
	return m.plan(m.best(any), true), nil
}

// best looks for a better order than any.
func (m *model) best(any *peeling) leastSwing {
	f := m.least(false, any)
	if len(f.moves) > 0 {
		return f
	}
	g := m.least(true, any)
	g.whole = g.whole && f.none
	return g
}

// plan writes the moves as steps.
func (m *model) plan(f leastSwing, reasons bool) Plan {
	out := Plan{Exact: f.whole, Bound: f.bound, Way: wayOf(f.moves, len(m.heats))}
	var done set
	joined := make([]bool, len(m.welds))
	for n, x := range f.moves {
		a := m.ask(done, x.heat, true)
		s := Step{Heat: x.heat, Swings: x.side, Travel: a.swing[x.side], Reach: a.reach[x.side],
			Edge: x.edge, Pinch: a.pinch, Lift: geom.Angle(a.sweep.lift[x.side])}
		s.Glass[0], s.Glass[1] = m.present(done, x.heat)
		for i, w := range m.welds {
			if !joined[i] && s.Glass[0] < w && w < s.Glass[1] {
				joined[i] = true
				s.Joins = append(s.Joins, i)
			}
		}
		if reasons {
			s.Before = m.waitsFor(done, x, f.moves[n+1:])
		}
		out.Steps = append(out.Steps, s)
		done = done.with(x.heat)
	}
	out.Checks = m.checks
	return out
}

// farReasons is how many heats along the tube another one may be away to be given as
// a reason: what is farther off lies differently by the time it is made.
const farReasons = 8

// waitsFor returns those of the moves still to come that would stop x if they
// were made first.
func (m *model) waitsFor(done set, x move, later []move) []int {
	awkward := m.ask(done, x.heat, true).stops(false) != Possible
	var out []int
	for _, y := range later {
		if max(x.heat-y.heat, y.heat-x.heat) > farReasons || m.tired() {
			continue
		}
		if m.ask(done.with(y.heat), x.heat, awkward).stops(awkward) != Possible {
			out = append(out, y.heat)
		}
	}
	slices.Sort(out)
	return out
}

func wayOf(moves []move, n int) Way {
	forward, backward, one := true, true, true
	for k, x := range moves {
		forward = forward && x.heat == k
		backward = backward && x.heat == n-1-k
		i, j := bounds(x.done, n)
		one = one && j-i == k
	}
	switch {
	case forward:
		return FromA
	case backward:
		return FromB
	case one:
		return Outwards
	}
	return Mixed
}

// block tells what stops each heat of the smallest set that none can leave.
func (m *model) block(p *peeling) *Block {
	b := &Block{Proved: !p.cut}
	for h := range m.heats {
		if !p.core.has(h) {
			continue
		}
		a := m.ask(p.core.without(h), h, true)
		if a.stops(true) != Possible {
			b.Stops = append(b.Stops, Stop{Heat: h, Other: a.other, Reason: a.reason})
		}
	}
	return b
}

// Part says what a strand of a picture is.
type Part int

const (
	Still  Part = iota // lies in its place
	Hot                // the heat of this step
	Moving             // the side that swings
)

// Strand is glass in a picture: its centreline in the bench frame, from the fire
// outwards. Side says which side of the fire it is on; hot glass is on neither.
type Strand struct {
	Part   Part
	Side   Side
	Points []geom.Point3
}

// Pictures returns the glass before and after step k of a plan of this problem, in
// the bench frame, as far as it is there.
func (p Problem) Pictures(plan Plan, k int) (before, after []Strand) {
	m := newModel(p)
	var done set
	for _, s := range plan.Steps[:k] {
		done = done.with(s.Heat)
	}
	s := plan.Steps[k]
	return m.picture(done, s, 0), m.picture(done, s, 1)
}

func (m *model) picture(done set, s Step, bent float64) []Strand {
	near, far := m.sides(done, s.Heat)
	b := &m.heats[s.Heat]
	pose := way{b: b, swings: s.Swings}.pose(bent)
	nearFrame, farFrame := b.entry, b.entry.then(pose)
	if s.Swings == SideA {
		nearFrame, farFrame = b.exitDone.then(pose), b.exitDone
	}
	parts := [2]Part{Still, Moving}
	if s.Swings == SideA {
		parts = [2]Part{Moving, Still}
	}
	strand := func(side Side, f frame, groups []group) Strand {
		out := Strand{Part: parts[side], Side: side}
		for _, g := range groups {
			for _, q := range g.pts {
				out.Points = append(out.Points, f.at(q))
			}
		}
		return out
	}
	zone, _ := b.bent(bent)
	hot := Strand{Part: Hot}
	for _, q := range zone {
		hot.Points = append(hot.Points, nearFrame.at(q))
	}
	return []Strand{strand(SideA, nearFrame, near), strand(SideB, farFrame, far), hot}
}
