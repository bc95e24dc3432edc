package route

import (
	"math"
	"slices"

	"tubewright/geom"
)

// step is one run in the order of work; from is the side where it is entered.
type step struct {
	run  int
	from int
}

// exactRuns is the most runs of one letter whose order is found exactly, by
// dynamic programming over subsets (Held and Karp, 1962), where the whole line
// fits one unit in any order; exactCut where it may have to be cut. Above it,
// good orders are searched (see searchOrders).
const (
	exactRuns = 12
	exactCut  = 9
)

// chainer finds the order of the runs of a line and where it is cut into units.
type chainer struct {
	p          *planner
	runs       []run
	cap        float64         // longest unit allowed
	most       int             // no more units than this; 0 while the least number is being found
	longest    float64         // glass of the longest run of the line
	free       bool            // the line fits one unit whatever the order, so lengths do not matter
	forbidden  map[[3]int]bool // exit end, entry end and choice of links that found no way
	joins      bool            // some letters must go on from the one before
	dearestCut float64         // the most that a pair of electrodes costs anywhere
}

// linkBends is how many bends a straight link has.
const linkBends = 2

// endKey numbers the ends of runs.
func endKey(s step, exit bool) int {
	side := s.from
	if exit {
		side = 1 - s.from
	}
	return 2*s.run + side
}

// chain returns the order of the runs of one line, letter by letter in reading
// order, cut into the fewest units within the longest length, and of those the
// cheapest. Units are kept even: once their number is known, the longest is
// bounded to little more than it must be.
//
// The order in a letter, the sides where letters are entered and left, and the
// cuts are found together, by labels (units, cost, length of the unit at
// hand) of which only those no other beats are kept.
func (p *planner) chain(runs []run, line [][]int, t try) *label {
	c := p.newChainer(runs, t)
	best := c.solve(line)
	if best == nil || best.units == 1 {
		return best
	}
	units, low, high := best.units, 0.0, t.longest
	for range 5 {
		c.cap = (low + high) / 2
		if l := c.solve(line); l != nil && l.units == units {
			high = c.cap
		} else {
			low = c.cap
		}
	}
	c.cap = min(t.longest, 1.05*high)
	if l := c.solve(line); l != nil && l.units == units {
		return l
	}
	return best
}

func (p *planner) newChainer(runs []run, t try) *chainer {
	c := &chainer{p: p, runs: runs, cap: t.longest, forbidden: t.forbidden, dearestCut: p.costs.Electrodes}
	for _, w := range p.options.Wishes {
		c.joins = c.joins || w.JoinBefore
	}
	for _, v := range p.seats {
		c.dearestCut = max(c.dearestCut, p.costs.Electrodes+2*v)
	}
	return c
}

// solve returns the best label over the whole line. The least number of units
// is found first, by glass alone; then labels that cannot end within it are
// dropped as they come up.
func (c *chainer) solve(line [][]int) *label {
	c.free = c.fitsAnyhow(line)
	if c.free && len(c.forbidden) == 0 && len(c.p.options.Wishes) == 0 {
		c.most = 1
		return c.sweep(line)
	}
	c.most = 0
	fewest := c.sweep(line)
	if fewest == nil {
		return nil
	}
	c.most = fewest.units
	return c.sweep(line)
}

// fitsAnyhow reports whether the line is within one unit even if every link
// ran across all of it.
func (c *chainer) fitsAnyhow(line [][]int) bool {
	box := geom.EmptyRect()
	n, bends, total := 0, 0, 2*c.p.legLength()
	for _, letter := range line {
		for _, r := range letter {
			box = box.Including(c.runs[r].place[0]).Including(c.runs[r].place[1])
			total += c.runs[r].len
			bends += c.runs[r].bends + linkBends
			n++
		}
	}
	link := math.Hypot(box.Width(), box.Height()) + 2*c.p.rules.DoubleBackRadius
	return total+float64(n)*link <= c.cap && bends <= c.p.rules.MaxBends
}

// sweep runs the labels over the line once.
func (c *chainer) sweep(line [][]int) *label {
	start := &label{}
	for _, letter := range line {
		for _, r := range letter {
			start.left += c.runs[r].len
			c.longest = max(c.longest, c.runs[r].len)
		}
	}
	front := []*label{start}
	for _, letter := range line {
		claims := c.p.claims(c.runs, letter)
		if order := wishedOrder(letter, claims); order != nil {
			front = c.along(front, [][]step{order})
		} else if len(letter) > exactRuns || !c.free && len(letter) > exactCut {
			c.p.searched = true
			front = c.along(front, c.p.searchOrders(c.runs, letter))
		} else {
			front = c.exact(front, letter, claims)
		}
	}
	var best *label
	for _, l := range front {
		l.cost += c.p.seatCost(l.at, true)
		if l.units > 0 && (best == nil || c.better(l, best)) {
			best = l
		}
	}
	return best
}

func (c *chainer) better(l, o *label) bool {
	if l.units != o.units {
		return l.units < o.units
	}
	if c.most == 0 {
		return l.length < o.length-1e-9
	}
	return l.cost < o.cost-1e-9
}

// hopeless reports whether a label must end with more units than are needed:
// what is left to lay does not fit into those it may still begin.
func (c *chainer) hopeless(l *label) bool {
	if c.most == 0 {
		return false
	}
	room := max(c.cap-2*c.p.legLength(), c.longest) // one run is a unit, however long
	left := l.left - max(0, c.cap-l.length)
	extra := int(math.Ceil(left/room - 1e-9))
	return l.units+max(0, extra) > c.most
}

// along lays a letter along given orders (asked for, or found by search), cut
// where the labels find it best.
func (c *chainer) along(before []*label, orders [][]step) []*label {
	var out []*label
	for _, order := range orders {
		front := before
		for i, s := range order {
			var next []*label
			for _, l := range front {
				for _, m := range c.entering(l, s, i == 0) {
					next = c.keep(next, m)
				}
			}
			front = next
		}
		out = append(out, front...)
	}
	return c.prune(out)
}

// entering is after, held to what is asked where a letter begins.
func (c *chainer) entering(l *label, s step, first bool) []*label {
	labels := c.after(l, s)
	if !first || l.units == 0 {
		return labels
	}
	w := c.p.wishOf(c.p.lanes[c.runs[s.run].lane].Letter)
	if w.BreakBefore {
		return slices.DeleteFunc(labels, func(m *label) bool { return !m.cut })
	}
	if w.JoinBefore && len(labels) > 0 && !labels[0].cut {
		return labels[:1] // the link comes first where there is one
	}
	return labels
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
