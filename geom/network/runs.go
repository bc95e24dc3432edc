package network

import "slices"

// solveRuns solves many parts in runs from left to right, each as a whole, and
// then joins the runs, each to the next, where that is cheaper than a trail
// more. The bound is that of partBounds.
func (q *inspector) solveRuns(parts []int) answer {
	var all []answer
	var out answer
	runs := q.runs(parts)
	for _, r := range runs {
		a := q.solve(r)
		if a.cost >= never {
			return a
		}
		all = append(all, a)
		out.links = append(out.links, a.links...)
		out.cost += a.cost
	}
	joins, v := q.joinRuns(runs, all)
	out.links = append(out.links, joins...)
	out.cost = min(never, out.cost+v)
	out.bound = min(out.cost, q.partBounds(parts))
	return out
}

// runs cuts parts, by their left edges, into runs of few nodes.
func (q *inspector) runs(parts []int) [][]int {
	order := slices.Clone(parts)
	slices.SortStableFunc(order, func(i, j int) int { return sign(q.parts[i].box.Min.X - q.parts[j].box.Min.X) })
	var out [][]int
	nodes := 0
	for _, p := range order {
		n := len(q.parts[p].nodes)
		if len(out) == 0 || nodes+n > wholeNodes/2 {
			out = append(out, nil)
			nodes = 0
		}
		out[len(out)-1] = append(out[len(out)-1], p)
		nodes += n
	}
	return out
}

// gate is where the trail comes into a run and where it leaves.
type gate struct{ in, out int }

// gates returns the choices for a run: its free ends either way round, or any
// node where its trail is closed.
func (q *inspector) gates(run []int, a answer) []gate {
	if len(a.ends) > 0 {
		e := a.ends[0]
		return []gate{{e.a, e.b}, {e.b, e.a}}
	}
	var out []gate
	for _, p := range run {
		for _, n := range q.parts[p].nodes {
			out = append(out, gate{n, n})
		}
	}
	return out
}

// joinRuns chooses the gates of the runs so that the jumps between them, or the
// units where jumps are dearer, cost least, from the first run to the last.
func (q *inspector) joinRuns(runs [][]int, all []answer) ([]tie, cost) {
	if q.rates.Closed {
		return q.joinClosed(runs)
	}
	gates := make([][]gate, len(runs))
	from := make([][]int, len(runs)) // the gate before, for each gate
	var costs []cost
	for i := range runs {
		gates[i] = q.gates(runs[i], all[i])
		next := make([]cost, len(gates[i]))
		from[i] = make([]int, len(gates[i]))
		for x, g := range gates[i] {
			if i == 0 {
				continue
			}
			next[x] = never
			for y, h := range gates[i-1] {
				if v := costs[y] + min(q.jump(h.out, g.in), q.unit); v < next[x] {
					next[x], from[i][x] = v, y
				}
			}
		}
		costs = next
	}
	last := slices.Index(costs, slices.Min(costs))
	v := costs[last]
	var out []tie
	for i := len(runs) - 1; i > 0; i-- {
		before := from[i][last]
		a, b := gates[i-1][before].out, gates[i][last].in
		if q.jump(a, b) <= q.unit {
			out = append(out, q.leap(a, b))
		}
		last = before
	}
	return out, v
}

// joinClosed joins closed trails, each to the next, by a jump there and back
// between the nearest nodes, or leaves them apart where that is cheaper.
func (q *inspector) joinClosed(runs [][]int) ([]tie, cost) {
	var out []tie
	var sum cost
	for i := 1; i < len(runs); i++ {
		best, a, b := q.unit, -1, -1
		for _, g := range q.gates(runs[i-1], answer{}) {
			for _, h := range q.gates(runs[i], answer{}) {
				if v := 2 * q.jump(g.out, h.in); v < best {
					best, a, b = v, g.out, h.in
				}
			}
		}
		sum = min(never, sum+best)
		if a >= 0 {
			out = append(out, q.leap(a, b), q.leap(b, a))
		}
	}
	return out, sum
}

func (q *inspector) leap(a, b int) tie {
	return tie{a, b, []Step{{Leap, -1, a, b}}, q.jump(a, b)}
}

// partBounds is a bound on what any trails cost, part by part: an odd node that
// is not linked inside its part is the end of a trail, which is half a unit, or
// of a jump to another part, half of which is counted here and half there; and
// each part has at least two such ends, at odd nodes or others. The first unit
// is free, or where there is but one trail, its two ends are.
func (q *inspector) partBounds(parts []int) cost {
	price := q.prices(parts)
	var sum, dearest cost
	for _, p := range parts {
		k := q.newCluster([]int{p})
		least := cost(never)
		for _, n := range k.nodes {
			least, dearest = min(least, price[n]), max(dearest, price[n])
		}
		linked := pairOff(k.odd, func(a, b int) cost {
			return min(k.link(a, b), price[k.nodes[a]]+price[k.nodes[b]])
		}, never, true)
		ended := pairOff(k.odd, k.link, k.unit, false)
		sum += max(linked.cost, ended.cost+2*least)
	}
	if q.unit < never {
		return max(0, sum-q.unit)
	}
	return max(0, sum-2*dearest)
}

// prices returns for each node the least that an end there can cost: half a
// unit, or half the jump to the nearest node of another part. It is found by
// going left and right from the node until all else is farther.
func (q *inspector) prices(parts []int) []cost {
	var order []int
	for _, p := range parts {
		order = append(order, q.parts[p].nodes...)
	}
	nodes := q.g.Nodes
	slices.SortStableFunc(order, func(i, j int) int { return sign(nodes[i].At.X - nodes[j].At.X) })
	out := make([]cost, len(nodes))
	for x, i := range order {
		best := q.unit
		for _, step := range [2]int{-1, 1} {
			for y := x + step; y >= 0 && y < len(order); y += step {
				j := order[y]
				dx := nodes[i].At.X - nodes[j].At.X
				if priced(q.rates.PerJump, q.rates.Jump, max(dx, -dx)) >= best {
					break
				}
				if q.partOf[i] != q.partOf[j] {
					best = min(best, q.jump(i, j))
				}
			}
		}
		out[i] = best / 2
	}
	return out
}
