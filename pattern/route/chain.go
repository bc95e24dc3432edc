package route

import (
	"math"
)

// step is one run in the order of work; from is the side where it is entered.
type step struct {
	run  int
	from int
}

// exactRuns is the most runs of one letter whose order is found exactly, by
// dynamic programming over subsets (Held and Karp); above it the nearest end
// is taken next and the order then improved by turning stretches of it round.
const exactRuns = 9

// chain orders the runs: letter by letter, in each letter and from letter to
// letter so that the links together are shortest. It returns one order a line
// of text.
//
// For each letter the cost of the best order from every first entry to every
// last exit is found; letters are then joined in reading order by dynamic
// programming over the exits.
func (p *planner) chain(runs []run) [][]step {
	var out [][]step
	for _, line := range p.byLine(runs) {
		type state struct {
			cost float64
			path []step
		}
		var states []state
		for _, letter := range line {
			var next []state
			for _, o := range p.orders(runs, letter) {
				best := state{cost: o.cost}
				first := true
				for _, s := range states {
					c := s.cost + o.cost + p.linkCost(runs, s.path[len(s.path)-1], o.path[0])
					if first || c < best.cost {
						best, first = state{c, s.path}, false
					}
				}
				best.path = append(append([]step(nil), best.path...), o.path...)
				next = append(next, best)
			}
			if len(next) > 0 {
				states = next
			}
		}
		best := -1
		for i, s := range states {
			if best < 0 || s.cost < states[best].cost {
				best = i
			}
		}
		if best >= 0 {
			out = append(out, states[best].path)
		}
	}
	return out
}

// byLine groups run indices by line of text and letter, in the order given.
func (p *planner) byLine(runs []run) [][][]int {
	var out [][][]int
	line, letter := -1, -1
	for i, r := range runs {
		l := p.lanes[r.lane]
		if l.Line != line || len(out) == 0 {
			out = append(out, nil)
			line, letter = l.Line, -1
		}
		last := len(out) - 1
		if l.Letter != letter || len(out[last]) == 0 {
			out[last] = append(out[last], nil)
			letter = l.Letter
		}
		k := len(out[last]) - 1
		out[last][k] = append(out[last][k], i)
	}
	return out
}

// order is one way through the runs of a letter.
type order struct {
	cost float64
	path []step
}

// linkCost is the glass a link takes, in mm: the way behind the face and its
// two posts. Ends too near each other for two comfortable turns cost more.
func (p *planner) linkCost(runs []run, a, b step) float64 {
	d := runs[a.run].place[1-a.from].Dist(runs[b.run].place[b.from])
	u := p.rules.DoubleBackRadius
	return d + 2*u + 10*max(0, 2*u-d)
}

// orders returns the best order of a letter's runs for every first entry and
// last exit.
func (p *planner) orders(runs []run, letter []int) []order {
	if len(letter) > exactRuns {
		return p.greedyOrders(runs, letter)
	}
	n := len(letter)
	var out []order
	for start := range 2 * n {
		out = append(out, p.fromStart(runs, letter, start)...)
	}
	return out
}

// fromStart solves one start: cost[set][end] is the cheapest order that
// covers the set and leaves by the end; ends are numbered 2·run + side.
func (p *planner) fromStart(runs []run, letter []int, start int) []order {
	n := len(letter)
	size := 1 << n
	cost := make([]float64, size*2*n)
	back := make([]int, size*2*n)
	for i := range cost {
		cost[i], back[i] = math.Inf(1), -1
	}
	at := func(set, exit int) int { return set*2*n + exit }
	leaving := func(exit int) step { return step{letter[exit/2], 1 - exit%2} }
	cost[at(1<<(start/2), start^1)] = 0
	for set := range size {
		for exit := range 2 * n {
			c := cost[at(set, exit)]
			if math.IsInf(c, 1) {
				continue
			}
			for k := range n {
				if set&(1<<k) != 0 {
					continue
				}
				for side := range 2 {
					next := at(set|1<<k, 2*k+1-side)
					if v := c + p.linkCost(runs, leaving(exit), step{letter[k], side}); v < cost[next]-1e-9 {
						cost[next], back[next] = v, exit
					}
				}
			}
		}
	}
	var out []order
	for exit := range 2 * n {
		c := cost[at(size-1, exit)]
		if math.IsInf(c, 1) {
			continue
		}
		path := make([]step, 0, n)
		for set, e := size-1, exit; e >= 0; {
			path = append(path, leaving(e))
			set, e = set&^(1<<(e/2)), back[at(set, e)]
		}
		for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
			path[i], path[j] = path[j], path[i]
		}
		out = append(out, order{c, path})
	}
	return out
}

// greedyOrders starts at the leftmost and the rightmost end, takes the nearest
// end next, and turns stretches round while that shortens the links.
func (p *planner) greedyOrders(runs []run, letter []int) []order {
	var out []order
	for _, first := range p.outerSteps(runs, letter) {
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
		p.turnStretches(runs, path)
		out = append(out, order{p.pathCost(runs, path), path})
	}
	return out
}

func (p *planner) outerSteps(runs []run, letter []int) []step {
	left, right := step{letter[0], 0}, step{letter[0], 0}
	for _, r := range letter {
		for side := range 2 {
			if runs[r].place[side].X < runs[left.run].place[left.from].X {
				left = step{r, side}
			}
			if runs[r].place[side].X > runs[right.run].place[right.from].X {
				right = step{r, side}
			}
		}
	}
	return []step{left, right}
}

func (p *planner) pathCost(runs []run, path []step) float64 {
	var c float64
	for i := 1; i < len(path); i++ {
		c += p.linkCost(runs, path[i-1], path[i])
	}
	return c
}

// turnStretches reverses stretches of the order in place while that shortens
// it (2-opt); the first run stays first.
func (p *planner) turnStretches(runs []run, path []step) {
	for better := true; better; {
		better = false
		for i := 1; i < len(path); i++ {
			for j := i; j < len(path); j++ {
				before := p.linkCost(runs, path[i-1], path[i])
				flipped := func(s step) step { return step{s.run, 1 - s.from} }
				after := p.linkCost(runs, path[i-1], flipped(path[j]))
				if j+1 < len(path) {
					before += p.linkCost(runs, path[j], path[j+1])
					after += p.linkCost(runs, flipped(path[i]), path[j+1])
				}
				if after < before-1e-9 {
					for a, b := i, j; a <= b; a, b = a+1, b-1 {
						path[a], path[b] = flipped(path[b]), flipped(path[a])
					}
					better = true
				}
			}
		}
	}
}
