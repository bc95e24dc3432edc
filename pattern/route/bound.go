package route

import "math"

// net is the cost of going on from any end of the runs of a letter to any
// other: a link, or a new unit where that is cheaper. Whatever the lengths and
// limits, no chain pays less for a step. Ends are numbered 2·k + side for the
// k-th run of the letter.
type net struct {
	n      int
	w      [][]float64
	togo   [][]float64 // for letters solved exactly: least cost of the rest, by set laid and exit end
	glass  [][]float64 // and the least glass of it, legs of new units included
	least  float64     // no order of the letter costs less
	orders [][]step    // good orders, found by search, for letters of more than quickRuns
}

// quickRuns is the most runs of a letter that are laid without looking for
// bounds first.
const quickRuns = 6

// netOf returns the net of a letter, made when it is first asked for.
func (p *planner) netOf(runs []run, letter []int) *net {
	if g, ok := p.nets[letter[0]]; ok {
		return g
	}
	g := &net{n: len(letter), w: p.endCosts(runs, letter)}
	if g.n <= exactRuns {
		g.togo = countDown(g.w)
		g.least = leastOf(g.togo)
		if g.n > quickRuns {
			g.glass = countDown(p.endGlassCosts(runs, letter))
		}
	} else {
		g.least = g.ascend()
	}
	if g.n > quickRuns {
		g.orders = g.searchOrders(letter)
	}
	p.nets[letter[0]] = g
	return g
}

func (p *planner) endCosts(runs []run, letter []int) [][]float64 {
	n := len(letter)
	w := make([][]float64, 2*n)
	for e := range w {
		w[e] = make([]float64, 2*n)
	}
	for e := range w {
		for f := range e {
			a, b := step{letter[e/2], 1 - e%2}, step{letter[f/2], f % 2}
			v := p.costs.Electrodes
			if e/2 != f/2 && !p.live[endKey(a, true)] && !p.live[endKey(b, false)] {
				for _, c := range p.choices(runs, a, b) {
					v = min(v, c.cost)
				}
			}
			w[e][f], w[f][e] = v, v
		}
	}
	return w
}

// endGlassCosts is the glass of going on from any end to any other: that of a
// link, or of two legs, and of the run itself.
func (p *planner) endGlassCosts(runs []run, letter []int) [][]float64 {
	w := make([][]float64, 2*len(letter))
	for e := range w {
		w[e] = make([]float64, 2*len(letter))
		for f := range w[e] {
			a, b := step{letter[e/2], 1 - e%2}, step{letter[f/2], f % 2}
			w[e][f] = min(p.linkLength(runs, a, b), 2*p.legLength()) + runs[b.run].len
		}
	}
	return w
}

// countDown returns the least cost of the rest for every set laid and exit end,
// by dynamic programming over subsets (Held and Karp, 1962).
func countDown(w [][]float64) [][]float64 {
	ends := len(w)
	whole := 1<<(ends/2) - 1
	togo := make([][]float64, whole+1)
	all := make([]float64, (whole+1)*ends)
	for set := whole; set > 0; set-- {
		togo[set] = all[set*ends : (set+1)*ends]
		for e := range ends {
			if set&(1<<(e/2)) == 0 || set == whole {
				continue
			}
			best := math.Inf(1)
			for f := range ends {
				if set&(1<<(f/2)) == 0 {
					best = min(best, w[e][f]+togo[set|1<<(f/2)][f^1])
				}
			}
			togo[set][e] = best
		}
	}
	return togo
}

// leastOf returns the least over all first runs.
func leastOf(togo [][]float64) float64 {
	least := math.Inf(1)
	for set := 1; set < len(togo); set <<= 1 {
		for e := range togo[set] {
			if set == 1<<(e/2) {
				least = min(least, togo[set][e])
			}
		}
	}
	return least
}

// ascents is how often the prices of ends are raised or lowered.
const ascents = 200

// ascend returns a bound that no order of the letter goes under, by Lagrangean
// relaxation (Held and Karp, Mathematical Programming 1, 1971, 6-25): an order
// is a tree over the runs in which no end is used twice; ends are priced, and the
// least tree at those prices, less the prices, is a bound.
func (g *net) ascend() float64 {
	price := make([]float64, 2*g.n)
	best, pace, stale := math.Inf(-1), 1.0, 0
	used := make([]int, 2*g.n)
	goal := 0.0
	for range ascents {
		tree := g.tree(price, used)
		for _, v := range price {
			tree -= v
		}
		if goal == 0 {
			goal = 1.05*tree + 1 // a guess at what can be reached; only the pace depends on it
		}
		if tree > best+1e-9 {
			best, stale = tree, 0
			goal = max(goal, 1.01*best)
		} else if stale++; stale == 8 {
			pace, stale = pace/2, 0
		}
		norm := 0.0
		for e, k := range used {
			if k != 1 && !(k == 0 && price[e] == 0) {
				norm += float64((k - 1) * (k - 1))
			}
		}
		if norm == 0 {
			break // an order: the bound is its cost
		}
		for e, k := range used {
			price[e] = max(0, price[e]+pace*(goal-tree)/norm*float64(k-1))
		}
	}
	return max(0, best)
}

// tree returns the cost of the least tree over the runs at the given prices,
// and how often it uses each end (Prim, 1957).
func (g *net) tree(price []float64, used []int) float64 {
	clear(used)
	n := g.n
	dist := make([]float64, n)
	link := make([][2]int, n)
	in := make([]bool, n)
	for k := range dist {
		dist[k] = math.Inf(1)
	}
	total, at := 0.0, 0
	for range n - 1 {
		in[at] = true
		next := -1
		for k := range n {
			if in[k] {
				continue
			}
			for e := 2 * at; e < 2*at+2; e++ {
				for f := 2 * k; f < 2*k+2; f++ {
					if v := g.w[e][f] + price[e] + price[f]; v < dist[k] {
						dist[k], link[k] = v, [2]int{e, f}
					}
				}
			}
			if next < 0 || dist[k] < dist[next] {
				next = k
			}
		}
		total += dist[next]
		used[link[next][0]]++
		used[link[next][1]]++
		at = next
	}
	return total
}

// lineBound returns a bound that no chain of the line goes under.
func (c *chainer) lineBound() float64 { return c.p.costs.Electrodes + c.rest[0] }

// prepare reckons, for each letter of the line, what the letters from it on
// cost at least.
func (c *chainer) prepare(line [][]int) {
	c.rest = make([]float64, len(line)+1)
	for i := len(line) - 1; i >= 0; i-- {
		c.rest[i] = c.rest[i+1] + c.p.netOf(c.runs, line[i]).least
		if i > 0 {
			c.rest[i] += c.p.between(c.runs, line[i-1], line[i])
		}
	}
}

// between is the least cost of going on from one letter to another.
func (p *planner) between(runs []run, from, to []int) float64 {
	best := p.costs.Electrodes
	for _, a := range from {
		for _, b := range to {
			for side := range 4 {
				s, t := step{a, side / 2}, step{b, side % 2}
				best = min(best, p.jumpCost(runs, s, t))
			}
		}
	}
	return best
}
