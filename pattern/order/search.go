package order

import (
	"math"
	"slices"

	"tubewright/geom"
)

// manyHeats is from where a mixed search sees only a small part of the orders.
const manyHeats = 16

// effortFor returns how many simulations one search may ask for: each costs more
// the more heats there are, and tells less.
func effortFor(heats int) int {
	switch {
	case heats <= 10:
		return 800
	case heats <= manyHeats:
		return 300
	}
	return 150
}

// beamWidth is how many states of each size the mixed search keeps where it
// cannot keep all.
const beamWidth = 64

// found is the result of one search: moves in order, and whether the search saw
// every order of its kind.
type found struct {
	moves []move
	whole bool
}

// grow searches the orders in which the formed glass is one piece that grows at
// either end, from any heat: first for the smallest largest swing, then, among
// the orders with that, for the smallest sum.
//
// The states are the n(n+1)/2 stretches of heats. The simulation is asked only
// for moves that are the cheapest left, so most are never simulated.
func (m *model) grow(edge bool) found {
	limit := m.checks + m.effort
	first := m.growBy(edge, cost.less, math.Inf(1), limit)
	if first == nil {
		return found{whole: m.checks < limit}
	}
	last := first[len(first)-1].cost
	bySum := func(a, b cost) bool {
		if a.edges != b.edges {
			return a.edges < b.edges
		}
		return a.sum < b.sum-slack
	}
	second := m.growBy(edge, bySum, last.max+slack, math.MaxInt)
	return found{moves: second, whole: true}
}

// growBy is a search for the cheapest way by one order of costs over moves that
// swing no more than most.
func (m *model) growBy(edge bool, less func(a, b cost) bool, most float64, limit int) []move {
	n := len(m.heats)
	q := &queue{less: less}
	var nodes []move
	settled := map[set]bool{}
	push := func(from int, done set, h int, c cost) {
		if h >= 0 && h < n {
			q.add(move{heat: h, cost: c.plus(m.lightest(done, h), false), from: from, done: done.with(h)}, false)
		}
	}
	for h := range n {
		push(-1, set{}, h, cost{})
	}
	for {
		x, ok := q.next()
		if !ok || m.checks >= limit {
			return nil
		}
		if settled[x.done] {
			continue
		}
		if !x.known {
			if y, ok := m.truly(x.move, nodes, edge); ok && y.cost.max <= most {
				q.add(y, true)
			}
			continue
		}
		settled[x.done] = true
		nodes = append(nodes, x.move)
		i, j := bounds(x.done, n)
		if j-i+1 == n {
			return path(nodes, len(nodes)-1)
		}
		push(len(nodes)-1, x.done, i-1, x.cost)
		push(len(nodes)-1, x.done, j+1, x.cost)
	}
}

// lightest returns a little less than the smaller of the two swings of a heat, or
// that swing, without asking whether it is possible.
func (m *model) lightest(done set, h int) float64 {
	q := question{done, h}
	if a, ok := m.cache[q]; ok {
		return min(a.swing[0], a.swing[1])
	}
	if v, ok := m.light[q]; ok {
		return v
	}
	lo, hi := m.present(done, h)
	reach := min(m.reachBefore(done, h, lo), m.reachAfter(done, h, hi))
	v := float64(math.Abs(m.heats[h].turn.angle) * reach)
	m.light[q] = v
	return v
}

// reachBefore and reachAfter return how far from heat h the ends of the
// straights on a side are, at most.
func (m *model) reachBefore(done set, h int, lo float64) float64 {
	f, at, reach := identity(), m.heats[h].start, 0.0
	for k := h - 1; k >= -1; k-- {
		gap := min(m.straight[k+1], at-lo)
		f, at = f.along(-gap), at-gap
		reach = max(reach, f.o.Dist(geom.Point3{}))
		if k < 0 || at <= lo {
			break
		}
		if done.has(k) {
			f = f.then(m.heats[k].back)
		} else {
			f = f.along(-min(m.heats[k].length, at-lo))
		}
		at -= m.heats[k].length
	}
	return reach
}

func (m *model) reachAfter(done set, h int, hi float64) float64 {
	f, at, reach := identity(), m.heats[h].start+m.heats[h].length, 0.0
	for k := h + 1; k <= len(m.heats); k++ {
		gap := min(m.straight[k], hi-at)
		f, at = f.along(gap), at+gap
		reach = max(reach, f.o.Dist(geom.Point3{}))
		if k == len(m.heats) || at >= hi {
			break
		}
		if done.has(k) {
			f = f.then(m.heats[k].exit)
		} else {
			f = f.along(min(m.heats[k].length, hi-at))
		}
		at += m.heats[k].length
	}
	return reach
}

// truly asks the simulation about a move; false where it is not possible.
func (m *model) truly(x move, nodes []move, edge bool) (move, bool) {
	var done set
	var c cost
	if x.from >= 0 {
		done, c = nodes[x.from].done, nodes[x.from].cost
	}
	a := m.ask(done, x.heat, edge)
	if !a.possible(edge) {
		return x, false
	}
	x.side, x.edge = a.cheapest(edge)
	x.cost = c.plus(a.swing[x.side], x.edge)
	return x, true
}

func bounds(s set, n int) (i, j int) {
	for !s.has(i) {
		i++
	}
	for j = i; j+1 < n && s.has(j+1); j++ {
	}
	return i, j
}

func path(nodes []move, i int) []move {
	var out []move
	for ; i >= 0; i = nodes[i].from {
		out = append(out, nodes[i])
	}
	slices.Reverse(out)
	return out
}

// mixed searches all orders, set size by set size: of the ways to one set only the
// cheapest is kept, which is exact, since what is possible depends only on the
// set. Where there are more sets than the budget of simulations allows, the
// cheapest of each size are kept, and the search is not whole.
func (m *model) mixed(edge bool) found {
	n := len(m.heats)
	level := []int{-1}
	var nodes []move
	whole := true
	limit := m.checks + m.effort
	for range n {
		var candidates []move
		for _, from := range level {
			var done set
			var c cost
			if from >= 0 {
				done, c = nodes[from].done, nodes[from].cost
			}
			for h := range n {
				if !done.has(h) {
					candidates = append(candidates, move{heat: h, from: from, done: done.with(h), cost: c.plus(m.lightest(done, h), false)})
				}
			}
		}
		kept, complete := m.keep(candidates, nodes, edge, limit)
		whole = whole && complete
		if len(kept) == 0 {
			return found{whole: whole}
		}
		level = level[:0]
		for _, x := range kept {
			nodes = append(nodes, x)
			level = append(level, len(nodes)-1)
		}
	}
	return found{moves: path(nodes, level[0]), whole: whole}
}

// keep returns the possible moves, the cheapest to each set, cheapest first, and
// whether none was left out.
func (m *model) keep(candidates, nodes []move, edge bool, limit int) (kept []move, complete bool) {
	best := map[set]int{}
	sortMoves(candidates)
	complete = true
	for _, x := range candidates {
		if len(kept) >= beamWidth && m.checks > limit-m.effort/2 || m.checks > limit && len(kept) > 0 {
			complete = false
			break
		}
		y, ok := m.truly(x, nodes, edge)
		if !ok {
			continue
		}
		if i, seen := best[y.done]; !seen {
			best[y.done] = len(kept)
			kept = append(kept, y)
		} else if y.cost.less(kept[i].cost) {
			kept[i] = y
		}
	}
	sortMoves(kept)
	return kept, complete
}

func sortMoves(ms []move) {
	slices.SortStableFunc(ms, func(a, b move) int {
		switch {
		case a.cost.less(b.cost):
			return -1
		case b.cost.less(a.cost):
			return 1
		}
		return a.heat - b.heat
	})
}
