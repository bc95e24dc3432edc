package route

import (
	"cmp"
	"math"
	"slices"
)

// searchOrders returns good orders of many runs: nearest end next from each of
// the outermost ends, improved by turning stretches round and by moving short
// stretches elsewhere, until neither helps. Cheapest first.
func (p *planner) searchOrders(runs []run, letter []int) [][]step {
	type scored struct {
		cost float64
		path []step
	}
	var found []scored
	for _, first := range p.outerSteps(runs, letter) {
		path := p.nearestNext(runs, letter, first)
		p.improve(runs, path)
		found = append(found, scored{p.pathCost(runs, path), path})
	}
	slices.SortStableFunc(found, func(a, b scored) int { return cmp.Compare(a.cost, b.cost) })
	found[0].path = p.kicked(runs, found[0].path)
	var out [][]step
	for _, f := range found[:min(len(found), 4)] {
		out = append(out, f.path, flippedPath(f.path))
	}
	return out
}

func (p *planner) improve(runs []run, path []step) {
	for p.turnStretches(runs, path) || p.moveStretches(runs, path) {
	}
}

// kicks is how often a good order is shaken and improved again; the shakes
// swap two neighbouring stretches (a double bridge), cut at places that a fixed
// sequence of numbers gives, so that every run of the program does the same.
const kicks = 60

func (p *planner) kicked(runs []run, path []step) []step {
	n := len(path)
	if n < 4 {
		return path
	}
	best, cost := path, p.pathCost(runs, path)
	seed := uint32(1)
	next := func(n int) int {
		seed = seed*1664525 + 1013904223 // Knuth, The Art of Computer Programming, vol. 2, 3.3.4
		return int(seed>>8) % n
	}
	for range kicks {
		cuts := []int{next(n + 1), next(n + 1), next(n + 1)}
		slices.Sort(cuts)
		a, b, c := best[:cuts[0]], best[cuts[0]:cuts[1]], best[cuts[1]:cuts[2]]
		if next(2) == 1 {
			b = flippedPath(b)
		}
		try := slices.Concat(a, c, b, best[cuts[2]:])
		p.improve(runs, try)
		if v := p.pathCost(runs, try); v < cost-1e-9 {
			best, cost = try, v
		}
	}
	return best
}

func flipped(s step) step { return step{s.run, 1 - s.from} }

func flippedPath(path []step) []step {
	out := make([]step, len(path))
	for i, s := range path {
		out[len(path)-1-i] = flipped(s)
	}
	return out
}

// outerSteps returns the starts worth trying: the ends farthest left, right,
// up and down, and a spread of others.
func (p *planner) outerSteps(runs []run, letter []int) []step {
	var all []step
	for _, r := range letter {
		all = append(all, step{r, 0}, step{r, 1})
	}
	place := func(s step) (x, y float64) { q := runs[s.run].place[s.from]; return q.X, q.Y }
	slices.SortStableFunc(all, func(a, b step) int {
		ax, ay := place(a)
		bx, by := place(b)
		return cmp.Or(cmp.Compare(ax, bx), cmp.Compare(ay, by))
	})
	var out []step
	for i := 0; i < len(all); i += max(1, len(all)/16) {
		out = append(out, all[i])
	}
	return append(out, all[len(all)-1])
}

func (p *planner) nearestNext(runs []run, letter []int, first step) []step {
	path := []step{first}
	used := map[int]bool{first.run: true}
	for len(path) < len(letter) {
		best, bestCost := step{-1, 0}, math.Inf(1)
		for _, r := range letter {
			if used[r] {
				continue
			}
			for side := range 2 {
				if c := p.linkCost(runs, path[len(path)-1], step{r, side}); c < bestCost {
					best, bestCost = step{r, side}, c
				}
			}
		}
		used[best.run] = true
		path = append(path, best)
	}
	return path
}

func (p *planner) pathCost(runs []run, path []step) float64 {
	var c float64
	for i := 1; i < len(path); i++ {
		c += p.linkCost(runs, path[i-1], path[i])
	}
	return c
}

// turnStretches reverses stretches of the order in place while that makes it
// cheaper (2-opt) and reports whether anything changed.
func (p *planner) turnStretches(runs []run, path []step) bool {
	changed := false
	for better := true; better; {
		better = false
		for i := range path {
			for j := i; j < len(path); j++ {
				var before, after float64
				if i > 0 {
					before += p.linkCost(runs, path[i-1], path[i])
					after += p.linkCost(runs, path[i-1], flipped(path[j]))
				}
				if j+1 < len(path) {
					before += p.linkCost(runs, path[j], path[j+1])
					after += p.linkCost(runs, flipped(path[i]), path[j+1])
				}
				if after < before-1e-9 {
					for a, b := i, j; a <= b; a, b = a+1, b-1 {
						path[a], path[b] = flipped(path[b]), flipped(path[a])
					}
					better, changed = true, true
				}
			}
		}
	}
	return changed
}

// moveStretches moves stretches of one to three runs elsewhere, either way
// round, if that makes the order cheaper (or-opt), and reports whether it did.
func (p *planner) moveStretches(runs []run, path []step) bool {
	cost := p.pathCost(runs, path)
	for size := 1; size <= 3; size++ {
		for i := 0; i+size <= len(path); i++ {
			piece := slices.Clone(path[i : i+size])
			rest := slices.Concat(path[:i], path[i+size:])
			for _, m := range [][]step{piece, flippedPath(piece)} {
				for j := range len(rest) + 1 {
					try := slices.Concat(rest[:j], m, rest[j:])
					if c := p.pathCost(runs, try); c < cost-1e-9 {
						copy(path, try)
						return true
					}
				}
			}
		}
	}
	return false
}
