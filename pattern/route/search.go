package route

import (
	"cmp"
	"math"
	"slices"
)

// A round is an order of the runs of a letter: the ends, as a net numbers them,
// by which they are entered. A run is left by the end beside the one it is
// entered by.
type round []int

// search returns good orders of many runs: nearest end next from each of
// a spread of ends, improved by turning stretches round and by moving short
// stretches elsewhere, until neither helps; the best is then shaken and improved
// again. Cheapest first.
func (g *net) search() []round {
	var found []round
	for e := 0; e < 2*g.n; e += max(1, 2*g.n/16) {
		r := g.nearestNext(e)
		g.improve(r)
		found = append(found, r)
	}
	slices.SortStableFunc(found, func(a, b round) int { return cmp.Compare(g.cost(a), g.cost(b)) })
	found[0] = g.kicked(found[0])
	var out []round
	for _, r := range found[:min(len(found), 4)] {
		out = append(out, r, flipped(r))
	}
	return out
}

// cost is what the order costs beside its first unit.
func (g *net) cost(r round) float64 {
	var c float64
	for i := 1; i < len(r); i++ {
		c += g.w[r[i-1]^1][r[i]]
	}
	return c
}

// gap is the cost between two places of an order; none before its start and
// after its end.
func (g *net) gap(a, b int) float64 {
	if a < 0 || b < 0 {
		return 0
	}
	return g.w[a^1][b]
}

// at returns the end entered at a place of an order, -1 outside it.
func (r round) at(i int) int {
	if i < 0 || i >= len(r) {
		return -1
	}
	return r[i]
}

func flipped(r round) round {
	out := make(round, len(r))
	for i, e := range r {
		out[len(r)-1-i] = e ^ 1
	}
	return out
}

func (g *net) nearestNext(first int) round {
	r := round{first}
	used := make([]bool, g.n)
	used[first/2] = true
	for len(r) < g.n {
		best, bestCost := -1, math.Inf(1)
		for e := range 2 * g.n {
			if c := g.w[r[len(r)-1]^1][e]; !used[e/2] && c < bestCost {
				best, bestCost = e, c
			}
		}
		used[best/2] = true
		r = append(r, best)
	}
	return r
}

func (g *net) improve(r round) {
	for g.turnStretches(r) || g.moveStretches(r) {
	}
}

// turnStretches reverses stretches of the order in place while that makes it
// cheaper (2-opt) and reports whether anything changed.
func (g *net) turnStretches(r round) bool {
	changed := false
	for better := true; better; {
		better = false
		for i := range r {
			for j := i; j < len(r); j++ {
				before := g.gap(r.at(i-1), r[i]) + g.gap(r[j], r.at(j+1))
				after := g.gap(r.at(i-1), r[j]^1) + g.gap(r[i]^1, r.at(j+1))
				if after < before-1e-9 {
					copy(r[i:j+1], flipped(r[i:j+1]))
					better, changed = true, true
				}
			}
		}
	}
	return changed
}

// moveStretches moves a stretch of one to three runs elsewhere, either way
// round, if that makes the order cheaper (or-opt), and reports whether it did.
func (g *net) moveStretches(r round) bool {
	for size := 1; size <= 3; size++ {
		for i := 0; i+size <= len(r); i++ {
			first, last := r[i], r[i+size-1]
			a, b := r.at(i-1), r.at(i+size)
			won := g.gap(a, first) + g.gap(last, b) - g.gap(a, b)
			for j := -1; j < len(r); j++ { // between j and j+1
				if j >= i-1 && j < i+size {
					continue
				}
				p, q := r.at(j), r.at(j+1)
				straight := g.gap(p, first) + g.gap(last, q)
				turned := g.gap(p, last^1) + g.gap(first^1, q)
				if min(straight, turned)-g.gap(p, q) < won-1e-9 {
					moveTo(r, i, size, j, turned < straight)
					return true
				}
			}
		}
	}
	return false
}

// moveTo moves the stretch of a size at i to stand after place j.
func moveTo(r round, i, size, j int, turned bool) {
	piece := slices.Clone(r[i : i+size])
	if turned {
		piece = flipped(piece)
	}
	if j < i {
		copy(r[j+1+size:i+size], slices.Clone(r[j+1:i]))
		copy(r[j+1:], piece)
		return
	}
	copy(r[i:], slices.Clone(r[i+size:j+1]))
	copy(r[j+1-size:], piece)
}

// kicks is how often a good order is shaken and improved again; the shakes
// swap two neighbouring stretches (a double bridge), cut at places that a fixed
// sequence of numbers gives, so that every run of the program does the same.
const kicks = 150

func (g *net) kicked(r round) round {
	if len(r) < 4 {
		return r
	}
	best, cost := r, g.cost(r)
	seed := uint32(1)
	next := func(n int) int {
		seed = seed*1664525 + 1013904223 // Knuth, The Art of Computer Programming, vol. 2, 3.3.4
		return int(seed>>8) % n
	}
	for range kicks {
		cuts := []int{next(len(r) + 1), next(len(r) + 1), next(len(r) + 1)}
		slices.Sort(cuts)
		b := best[cuts[0]:cuts[1]]
		if next(2) == 1 {
			b = flipped(b)
		}
		try := slices.Concat(best[:cuts[0]], best[cuts[1]:cuts[2]], b, best[cuts[2]:])
		g.improve(try)
		if v := g.cost(try); v < cost-1e-9 {
			best, cost = try, v
		}
	}
	return best
}

// searchOrders returns the orders found as steps.
func (g *net) searchOrders(letter []int) [][]step {
	var out [][]step
	for _, r := range g.search() {
		path := make([]step, len(r))
		for i, e := range r {
			path[i] = step{letter[e/2], e % 2}
		}
		out = append(out, path)
	}
	return out
}
