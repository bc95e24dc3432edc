package trace

import (
	"math"
	"slices"
)

// plans lists pairings from the least bent on, each with every order in which
// up to three arms can end on what is there already.
func (t *tracer) plans(z *zone, runs []boundary) []plan {
	n := len(z.arms)
	cost := make([][]float64, n)
	for i := range cost {
		cost[i] = make([]float64, n)
	}
	for i := range z.arms {
		for j := range i {
			c := t.pairCost(&z.arms[i], &z.arms[j], runs)
			cost[i][j], cost[j][i] = c, c
		}
	}
	matchings := pairings(cost)
	var out []plan
	for _, m := range matchings {
		var rest []int
		for i := range n {
			if !slices.ContainsFunc(m.pairs, func(p [2]int) bool { return p[0] == i || p[1] == i }) {
				rest = append(rest, i)
			}
		}
		orders := [][]int{rest}
		if len(m.pairs) > 0 && len(rest) <= 3 {
			orders = permutations(rest)
		}
		for _, o := range orders {
			out = append(out, plan{pairs: m.pairs, order: o, bend: m.bend})
		}
		if len(out) >= plansTried {
			break
		}
	}
	return out
}

// pairCost is the bend of a pair, less where a whole wall leads round it.
func (t *tracer) pairCost(a, b *arm, runs []boundary) float64 {
	c := bend(tip{a.p, a.d, a.k}, tip{b.p, b.d, b.k})
	if t.evenPen() { // then what one wall tells is as good as what two do
		toB, toA := t.approach(a, b, runs)
		c = min(c, bend(toB.tipOf(), toA.tipOf()))
	}
	if r, back := sharedRun(a, b, runs, capFull); r != nil {
		c *= 0.4
		if _, corner := alongWall(a, b, r, back); corner < 0 {
			c = min(c, sharedBend)
		}
	}
	return c
}

// bend is how far two arms are from going on into each other: the larger of
// the turns at either end from the arm, bent on as it is, to the way across.
func bend(a, b tip) float64 {
	way := b.p.Sub(a.p)
	gap := way.Norm()
	if gap == 0 {
		return float64(a.d.TurnTo(b.d.Neg()).Abs())
	}
	limit := 0.4 / max(gap, 1e-9)
	ka, kb := clamp(a.k, -limit, limit), clamp(-b.k, -limit, limit)
	t1 := float64(a.d.TurnTo(way)) - ka*gap/2
	t2 := float64(way.TurnTo(b.d.Neg())) - kb*gap/2
	return max(math.Abs(t1), math.Abs(t2))
}

func clamp(v, lo, hi float64) float64 { return min(max(v, lo), hi) }

type matching struct {
	pairs [][2]int
	bend  float64
}

// pairings lists the likeliest matchings by rising cost, an unmatched arm
// costing alone; of more arms than mostPaired the greedy one.
func pairings(cost [][]float64) []matching {
	n := len(cost)
	if n > mostPaired {
		return []matching{{pairs: greedyPairs(cost)}}
	}
	var out []matching
	var try func(used int, m matching)
	try = func(used int, m matching) {
		if len(out) == plansTried && m.bend >= out[len(out)-1].bend {
			return
		}
		i := 0
		for i < n && used&(1<<i) != 0 {
			i++
		}
		if i == n {
			at := len(out)
			for at > 0 && out[at-1].bend > m.bend {
				at--
			}
			out = slices.Insert(out, at, matching{slices.Clone(m.pairs), m.bend})
			out = out[:min(len(out), plansTried)]
			return
		}
		for j := i + 1; j < n; j++ {
			if used&(1<<j) == 0 && cost[i][j] <= straight {
				try(used|1<<i|1<<j, matching{append(slices.Clip(m.pairs), [2]int{i, j}), m.bend + cost[i][j]})
			}
		}
		try(used|1<<i, matching{m.pairs, m.bend + alone})
	}
	try(0, matching{})
	return out
}

// mostPaired is the most arms of a junction whose pairings are all weighed.
const mostPaired = 14

func permutations(v []int) [][]int {
	if len(v) <= 1 {
		return [][]int{v}
	}
	var out [][]int
	for i := range v {
		rest := append(slices.Clone(v[:i]), v[i+1:]...)
		for _, p := range permutations(rest) {
			out = append(out, append([]int{v[i]}, p...))
		}
	}
	return out
}

func greedyPairs(cost [][]float64) [][2]int {
	used := make([]bool, len(cost))
	var out [][2]int
	for {
		best, bi, bj := straight, -1, -1
		for i := range cost {
			for j := range i {
				if !used[i] && !used[j] && cost[i][j] < best {
					best, bi, bj = cost[i][j], i, j
				}
			}
		}
		if bi < 0 {
			return out
		}
		used[bi], used[bj] = true, true
		out = append(out, [2]int{bj, bi})
	}
}
