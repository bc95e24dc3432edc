package order

import "math"

// peeling is the search of any order, from the end: the finished unit is unbent
// heat by heat, each one that could have been the last. Where glass is boxed in,
// that shows at once, and what cannot be unbent any further is what blocks itself.
//
// What is possible depends only on the set of heats that are bent, so a set that
// leads nowhere is never looked at twice. Taken apart this way, most sets have a
// heat that can go, and the first way tried is the answer.
type peeling struct {
	m       *model
	awkward bool    // whether awkward heats will do
	most    float64 // mm, the largest swing allowed
	limit   int     // of simulations; drawn in once a way led nowhere
	dead    map[set]bool
	core    set // the smallest set that none can leave
	moves   []move
	cut     bool // the limit was reached
}

// peelEffort is how many simulations the search may ask for once a way led nowhere,
// and peelEach how many more a heat: other ways mostly end at the same glass.
const (
	peelEffort = 100
	peelEach   = 5
)

// peel returns an order of all heats, or the heats that block each other.
func (m *model) peel(awkward bool, most float64) *peeling {
	n := len(m.heats)
	p := &peeling{m: m, awkward: awkward, most: most, limit: math.MaxInt, dead: map[set]bool{}}
	for i := range n {
		p.core = p.core.with(i)
	}
	if p.down(p.core) {
		m.price(p.moves, awkward)
	} else {
		p.moves = nil
	}
	return p
}

// down unbends what is bent, and notes the moves in the order of bending.
func (p *peeling) down(done set) bool {
	if done == (set{}) {
		return true
	}
	if p.dead[done] {
		return false
	}
	for _, h := range p.m.candidates(done) {
		if p.m.checks >= p.limit || p.m.tired() {
			p.cut = true
			return false
		}
		rest := done.without(h)
		if p.m.lightest(rest, h) > p.most {
			continue
		}
		a := p.m.ask(rest, h, p.awkward)
		if a.stops(p.awkward) != Possible || p.swings(a) > p.most {
			continue
		}
		if p.down(rest) {
			p.moves = append(p.moves, move{heat: h, done: done})
			return true
		}
		if p.cut {
			return false
		}
	}
	if len(p.dead) == 0 {
		p.limit = p.m.checks + peelEffort + peelEach*len(p.m.heats)
	}
	p.dead[done] = true
	if done.size() < p.core.size() {
		p.core = done
	}
	return false
}

func (p *peeling) swings(a answer) float64 {
	side, _ := a.cheapest()
	return a.swing[side]
}

// candidates returns the heats of a set in the order in which they are tried: the
// two outermost first, the one that swings less before the other, then the others
// from the outside in.
func (m *model) candidates(done set) []int {
	var all []int
	for h := range m.heats {
		if done.has(h) {
			all = append(all, h)
		}
	}
	out := make([]int, 0, len(all))
	for i, j := 0, len(all)-1; i <= j; i, j = i+1, j-1 {
		a, b := all[i], all[j]
		if i == 0 && m.lightest(done.without(a), a) < m.lightest(done.without(b), b)-slack {
			a, b = b, a
		}
		out = append(out, b)
		if i < j {
			out = append(out, a)
		}
	}
	return out
}

// price works out what moves cost from the first to the last.
func (m *model) price(moves []move, awkward bool) {
	var done set
	var c cost
	for i := range moves {
		x := &moves[i]
		x.cost, x.side, x.edge = c.made(m.ask(done, x.heat, awkward))
		c, done = x.cost, x.done
	}
}

// anySwing allows every swing.
var anySwing = math.Inf(1)
