package route

import (
	"math"
	"slices"
)

// linesOf returns the runs of each line of text, letter by letter, as they are
// chained. Units do not run from line to line, but where a letter that begins a
// line is asked to go on from the one before it, or where electrodes are to be
// few: such lines are one.
func (p *planner) linesOf(runs []run) [][][]int {
	lines := p.byLine(runs)
	if p.options.Taste == TasteFewestElectrodes && p.bothWays() {
		lines = p.boustrophedon(runs, lines)
	}
	out := lines[:0:0]
	for i, line := range lines {
		first := p.wishOf(p.lanes[runs[line[0][0]].lane].Letter)
		if i > 0 && (p.options.Taste == TasteFewestElectrodes || first.JoinBefore) {
			last := len(out) - 1
			out[last] = slices.Concat(out[last], line)
			continue
		}
		out = append(out, line)
	}
	return out
}

// bothWays reports whether lines may be run from right to left: nothing is said
// of the letter before another.
func (p *planner) bothWays() bool {
	return !slices.ContainsFunc(p.options.Wishes, func(w Wish) bool { return w.BreakBefore || w.JoinBefore })
}

// boustrophedon turns round those lines for which the links from line to line
// are then cheapest in all: a letter is near the one above or under it.
func (p *planner) boustrophedon(runs []run, lines [][][]int) [][][]int {
	type way struct {
		cost   float64
		before int // 1 if the line before is turned, on the cheapest way to this one
	}
	facing := func(line [][]int, turned, end int) []int { // the letter at the start (0) or end (1) of a line
		if turned != end {
			return line[len(line)-1]
		}
		return line[0]
	}
	ways := make([][2]way, len(lines))
	for i := 1; i < len(lines); i++ {
		for to := range 2 {
			ways[i][to].cost = math.Inf(1)
			for from := range 2 {
				cost := ways[i-1][from].cost + p.between(runs, facing(lines[i-1], from, 1), facing(lines[i], to, 0))
				if cost < ways[i][to].cost-1e-9 {
					ways[i][to] = way{cost, from}
				}
			}
		}
	}
	out := slices.Clone(lines)
	turned := 0
	for i := len(lines) - 1; i >= 0; i-- {
		if i == len(lines)-1 && ways[i][1].cost < ways[i][0].cost-1e-9 {
			turned = 1
		}
		if turned == 1 {
			out[i] = slices.Clone(lines[i])
			slices.Reverse(out[i])
		}
		turned = ways[i][turned].before
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
