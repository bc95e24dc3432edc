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
	// Lift says that the swinging side is lifted over glass on the table, and
	// lowered at the end.
	Lift bool
	// Before lists heats still to come that would stop this one if they were made
	// first, by index, ascending: the reason why it comes now.
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

// Block is a pair of heats that cannot both be made: First is stopped whether
// it is made before or after Second, or stops by itself (Second -1).
type Block struct {
	First, Second int // indexes into Problem.Heats
	Reason        Reason
	Made          int // how many heats could be made at most
}

// Plan is an order of the heats of one problem in which each is possible.
type Plan struct {
	Steps []Step
	Way   Way
	// Exact says that no order of its way has a smaller largest swing. Orders that
	// grow one formed piece are taken before mixed ones even where those swing less.
	Exact  bool
	Checks int // simulations asked for
}

// LargestTravel returns the largest swing of the plan, mm.
func (p Plan) LargestTravel() float64 {
	var v float64
	for _, s := range p.Steps {
		v = max(v, s.Travel)
	}
	return v
}

// Find returns a plan for the heats, or what blocks it: first an order that
// grows one formed piece, then any order, each over the table; then the same
// with the fewest heats made at the table's edge. A problem without heats has
// an empty plan.
func Find(p Problem) (Plan, *Block) {
	if len(p.Heats) == 0 {
		return Plan{Exact: true}, nil
	}
	if len(p.Heats) > maxHeats {
		return Plan{}, &Block{Second: -1, Reason: TooMany}
	}
	m := newModel(p)
	if p.Trial {
		return m.try(p.Effort > 0)
	}
	whole := true
	for _, edge := range [2]bool{false, true} {
		for _, search := range [3]func(bool) found{m.grow, m.least, m.mixed} {
			f := search(edge)
			whole = whole && f.whole
			if len(f.moves) > 0 {
				return m.plan(f, true), nil
			}
		}
	}
	g := m.greedy()
	if len(g) == len(m.heats) {
		return m.plan(found{moves: g}, true), nil
	}
	b := m.block(g)
	return Plan{Exact: whole, Checks: m.checks}, &b
}

// try looks for any order by the two quickest searches, then, to be thorough, by
// the others.
func (m *model) try(thorough bool) (Plan, *Block) {
	if g := m.greedy(); len(g) == len(m.heats) {
		return m.plan(found{moves: g}, false), nil
	}
	if f := m.grow(true); len(f.moves) > 0 {
		return m.plan(f, false), nil
	}
	for _, edge := range [2]bool{false, true} {
		if !thorough {
			break
		}
		if f := m.mixed(edge); len(f.moves) > 0 {
			return m.plan(f, false), nil
		}
	}
	return Plan{Checks: m.checks}, &Block{First: -1, Second: -1}
}

// least is the greedy search, where there are so many heats that the mixed search
// would see little: its orders are as good as any that one finds.
func (m *model) least(edge bool) found {
	if edge && len(m.heats) > manyHeats {
		if g := m.greedy(); len(g) == len(m.heats) {
			return found{moves: g}
		}
	}
	return found{whole: true}
}

// plan writes the moves as steps.
func (m *model) plan(f found, reasons bool) Plan {
	out := Plan{Exact: f.whole, Way: wayOf(f.moves, len(m.heats))}
	var done set
	joined := make([]bool, len(m.welds))
	for n, x := range f.moves {
		a := m.ask(done, x.heat, true)
		s := Step{Heat: x.heat, Swings: x.side, Travel: a.swing[x.side], Reach: a.reach[x.side], Edge: x.edge, Lift: a.sweep.lifted[x.side]}
		s.Glass[0], s.Glass[1] = m.present(done, x.heat)
		for i, w := range m.welds {
			if !joined[i] && s.Glass[0] < w && w < s.Glass[1] {
				joined[i] = true
				s.Joins = append(s.Joins, i)
			}
		}
		for _, y := range f.moves[n+1:] {
			if !reasons {
				break
			}
			if !m.ask(done.with(y.heat), x.heat, x.edge).possible(x.edge) {
				s.Before = append(s.Before, y.heat)
			}
		}
		slices.Sort(s.Before)
		out.Steps = append(out.Steps, s)
		done = done.with(x.heat)
	}
	out.Checks = m.checks
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

// greedy makes the heat that swings least, again and again, as far as that goes,
// over the edge of the table if need be.
func (m *model) greedy() []move {
	var out []move
	var done set
	for {
		best := move{heat: -1}
		for h := range m.heats {
			if done.has(h) {
				continue
			}
			if a := m.ask(done, h, true); a.possible(true) {
				side, below := a.cheapest(true)
				if x := (move{heat: h, side: side, edge: below, cost: cost{}.plus(a.swing[side], below), done: done.with(h)}); best.heat < 0 || x.cost.less(best.cost) {
					best = x
				}
			}
		}
		if best.heat < 0 {
			return out
		}
		out, done = append(out, best), best.done
	}
}

// block tells what stops the first of the heats that are left after moves.
func (m *model) block(moves []move) Block {
	var done set
	if n := len(moves); n > 0 {
		done = moves[n-1].done
	}
	b := Block{First: -1, Second: -1, Made: done.size()}
	for h := range m.heats {
		if a := m.ask(done, h, true); !done.has(h) && (b.First < 0 || b.Second < 0 && a.other >= 0) {
			b.First, b.Second, b.Reason = h, a.other, a.reason
		}
	}
	if b.Second == b.First {
		b.Second = -1
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
