package order

import (
	"container/heap"
	"math"
	"slices"
)

// leastSwing is what is known of the smallest largest swing of the orders with as few
// awkward heats as can be.
type leastSwing struct {
	found
	bound float64 // mm: none of them swings less at its largest
	none  bool    // there certainly is no such order
}

// exactHeats is up to how many heats the search is meant to see all sets that matter;
// beyond, their number doubles with each heat, and the effort is a small part.
const exactHeats = 12

// The most simulations that the searches for the least swing may ask for: with up to
// exactHeats, with more, and, from straight glass on, a heat: that search finds at
// once an order that swings no more than the floor, where there is one.
const (
	leastEffort     = 2500
	leastEffortMany = 120
	leastEffortEach = 8
)

// least returns the order with the smallest largest swing among those that make as
// few heats awkward as can be, or none of them where awkward says so; proved the
// least, where found says whole, else with a bound. Orders with that largest swing
// that grow one formed piece, for they are what a bender can lay on the pattern,
// come before others.
func (m *model) least(awkward bool, any *peeling) leastSwing {
	floor := m.floor()
	out := m.raise(awkward, true, floor, leastEffortEach*len(m.heats))
	if !out.whole {
		effort := leastEffort
		if len(m.heats) > exactHeats {
			effort = leastEffortMany
		}
		back := m.raise(awkward, false, floor, effort)
		back.bound = max(back.bound, out.bound)
		out = back
	}
	switch {
	case out.none:
		return out
	case !out.whole:
		if out.moves = m.lower(awkward, out.bound, any); len(out.moves) == 0 {
			return out
		}
		out.bound = min(out.bound, out.last().max)
		out.whole = out.last().awkward == 0 && out.last().max <= out.bound+slack
	}
	if one := m.grow(awkward, out.last().max+slack); one != nil && one[len(one)-1].cost.awkward <= out.last().awkward {
		out.moves = one
	}
	return out
}

// last returns what an order costs in all.
func (f found) last() cost { return f.moves[len(f.moves)-1].cost }

// visit is a set of heats that an order passes through.
type visit struct {
	done  set
	heat  int  // the last one bent on the way here, or unbent
	cost  cost // of the way here
	known bool // whether the simulation was asked
	size  int  // heats still to come
	from  int  // the visit before, −1 at the start
	order int
}

// visits hands out visits, cheapest first, of those the nearest to the goal.
type visits []visit

func (q visits) Len() int { return len(q) }
func (q visits) Less(i, j int) bool {
	a, b := &q[i], &q[j]
	switch {
	case a.cost.awkward != b.cost.awkward:
		return a.cost.awkward < b.cost.awkward
	case math.Abs(a.cost.max-b.cost.max) > slack:
		return a.cost.max < b.cost.max
	case a.size != b.size:
		return a.size < b.size
	}
	return a.order < b.order
}
func (q visits) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *visits) Push(x any)   { *q = append(*q, x.(visit)) }
func (q *visits) Pop() any {
	n := len(*q) - 1
	x := (*q)[n]
	*q = (*q)[:n]
	return x
}

// raiser is a search from one end of all orders for the one with the smallest largest
// swing. A set is left by the cheapest way in only after every set with a cheaper one,
// so the cost at which the search stands is a bound, and the first whole order is the
// best. What no order can do without (floor) costs nothing, so that the search goes
// straight on as far as it can.
type raiser struct {
	m       *model
	awkward bool
	forward bool // from straight glass to the unit; else from the unit, taken apart
	open    visits
	past    []visit
	seen    map[set]bool
	count   int
}

// raise runs the search for at most effort simulations.
func (m *model) raise(awkward, forward bool, floor float64, effort int) leastSwing {
	r := &raiser{m: m, awkward: awkward, forward: forward, seen: map[set]bool{}}
	var start set
	for h := range m.heats {
		if !forward {
			start = start.with(h)
		}
	}
	limit := m.checks + effort
	r.leave(visit{done: start, size: len(m.heats), from: -1, cost: cost{max: floor}})
	for len(r.open) > 0 {
		x := heap.Pop(&r.open).(visit)
		if r.seen[x.done] {
			continue
		}
		if m.checks >= limit || m.tired() {
			if x.cost.awkward > 0 {
				x.cost.max = floor
			}
			return leastSwing{bound: x.cost.max}
		}
		if !x.known {
			if x.known = r.ask(&x); x.known {
				heap.Push(&r.open, x)
			}
			continue
		}
		if x.size == 0 {
			return leastSwing{found: found{moves: r.moves(x), whole: true}, bound: x.cost.max}
		}
		r.leave(x)
	}
	return leastSwing{found: found{whole: true}, bound: math.Inf(1), none: true}
}

// leave adds the sets that can follow a visit, at no less than what they cost.
func (r *raiser) leave(x visit) {
	r.seen[x.done] = true
	r.past = append(r.past, x)
	for _, h := range r.next(x.done) {
		y := visit{done: x.done.without(h), heat: h, cost: x.cost, size: x.size - 1, from: len(r.past) - 1, order: r.count}
		if r.forward {
			y.done = x.done.with(h)
		}
		if r.seen[y.done] {
			continue
		}
		r.count++
		y.cost.max = max(y.cost.max, r.m.lightest(r.before(y), h))
		heap.Push(&r.open, y)
	}
}

// next returns the heats that may follow, in the order in which they are tried.
func (r *raiser) next(done set) []int {
	if !r.forward {
		return r.m.candidates(done)
	}
	var out []int
	for h := range r.m.heats {
		if !done.has(h) {
			out = append(out, h)
		}
	}
	return out
}

// before returns the heats that are bent when the heat of a visit is made.
func (r *raiser) before(x visit) set { return x.done.without(x.heat) }

// ask puts the true cost into a visit; false where the heat is not possible.
func (r *raiser) ask(x *visit) bool {
	a := r.m.ask(r.before(*x), x.heat, r.awkward)
	if a.stops(r.awkward) != Possible {
		return false
	}
	x.cost, _, _ = r.past[x.from].cost.made(a)
	return true
}

// moves returns the way to a visit in the order of bending, priced.
func (r *raiser) moves(x visit) []move {
	var heats []int
	for x.from >= 0 {
		heats = append(heats, x.heat)
		x = r.past[x.from]
	}
	if r.forward {
		slices.Reverse(heats)
	}
	out := make([]move, 0, len(heats))
	var done set
	for _, h := range heats {
		done = done.with(h)
		out = append(out, move{heat: h, done: done})
	}
	r.m.price(out, r.awkward)
	return out
}

// lowerShares are the shares of the way from the bound to the best order found at which
// a better one is looked for, one after the other.
var lowerShares = [2]float64{0.8, 0.95}

// lower looks for orders with a smaller largest swing than any, above a bound. None
// where there is no order.
func (m *model) lower(awkward bool, bound float64, any *peeling) []move {
	if any.awkward != awkward {
		any = m.peel(awkward, anySwing)
	}
	best := any.moves
	for _, share := range lowerShares {
		for len(best) > 0 {
			most := best[len(best)-1].cost
			q := m.peel(awkward, bound+float64(share*(most.max-bound)))
			if len(q.moves) == 0 || !q.moves[len(q.moves)-1].cost.less(most) {
				break
			}
			best = q.moves
		}
	}
	return best
}
