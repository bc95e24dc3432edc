package order

import (
	"math"
	"slices"

	"tubewright/geom"
)

// effortFor returns how many simulations one search may ask for: each costs more
// the more heats there are, and tells less.
func effortFor(heats int) int {
	switch {
	case heats <= 10:
		return 800
	case heats <= 16:
		return 200
	}
	return 100
}

// found is the result of one search: moves in order, and whether the search saw
// every order of its kind.
type found struct {
	moves []move
	whole bool
}

// grow searches the orders in which the formed glass is one piece that grows at
// either end, from any heat, for the smallest sum of swings of at most most mm each.
//
// The states are the n(n+1)/2 stretches of heats. The simulation is asked only
// for moves that are the cheapest left, so most are never simulated.
func (m *model) grow(awkward bool, most float64) []move {
	limit := m.checks + effortFor(len(m.heats))
	n := len(m.heats)
	q := &queue{}
	var nodes []move
	settled := map[set]bool{}
	push := func(from int, done set, h int, c cost) {
		if h >= 0 && h < n {
			q.add(move{heat: h, cost: c.plus(m.lightest(done, h)), from: from, done: done.with(h)}, false)
		}
	}
	for h := range n {
		push(-1, set{}, h, cost{})
	}
	for {
		x, ok := q.next()
		if !ok || m.checks >= limit || m.tired() {
			return nil
		}
		if settled[x.done] {
			continue
		}
		if !x.known {
			if y, ok := m.truly(x.move, nodes, awkward); ok && y.cost.max <= most {
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

// lightest returns the smaller of the two swings of a heat or less, without asking
// whether it is possible. It does not depend on what was asked before.
func (m *model) lightest(done set, h int) float64 {
	q := question{done, h}
	if v, ok := m.light[q]; ok {
		return v
	}
	lo, hi := m.present(done, h)
	reach := min(m.reachBefore(done, h, lo), m.reachAfter(done, h, hi))
	v := float64(math.Abs(float64(m.heats[h].turn.angle))*reach) + m.heats[h].shift()
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
func (m *model) truly(x move, nodes []move, awkward bool) (move, bool) {
	var done set
	var c cost
	if x.from >= 0 {
		done, c = nodes[x.from].done, nodes[x.from].cost
	}
	a := m.ask(done, x.heat, awkward)
	if a.stops(awkward) != Possible {
		return x, false
	}
	x.cost, x.side, x.edge = c.made(a)
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
