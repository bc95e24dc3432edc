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

// exactRuns is the most runs of one letter whose order is found exactly; of
// more, good orders are searched (see searchOrders).
const exactRuns = 12

// Search says how good the orders of strokes are. Cost is what they cost as
// planned, in mm-equivalents, links and electrodes; Bound is a proved bound under
// which no order in as few and as even units costs. They are the same where every
// order is Exact. Planes is how many planes behind the face the links lie in, and
// LeastPlanes a number that they cannot be fewer than in this order: some link, or
// some two, find no way in fewer with no other link about.
type Search struct {
	Exact               bool
	Cost, Bound         float64
	Planes, LeastPlanes int
}

func (s *Search) add(o Search) {
	s.Exact = s.Exact && o.Exact
	s.Cost, s.Bound = s.Cost+o.Cost, s.Bound+o.Bound
	s.Planes, s.LeastPlanes = max(s.Planes, o.Planes), max(s.LeastPlanes, o.LeastPlanes)
}

// Gap is how far the cost may be from the least, as a share of the bound.
func (s Search) Gap() float64 {
	if s.Cost <= s.Bound {
		return 0
	}
	return s.Cost/s.Bound - 1
}

// chainer finds the order of the runs of a line and where it is cut into units.
type chainer struct {
	p          *planner
	runs       []run
	cap        float64         // longest unit allowed
	most       int             // no more units than this; 0 if any number
	byCost     bool            // the cost alone decides, and units are as many as it likes
	counting   bool            // the least number of units is sought, and then the least glass; not the least cost
	rough      bool            // large letters are laid along orders found by search
	upper      float64         // a chain of this cost is known
	rest       []float64       // least cost of the letters from each one on
	need       []int           // and the units they need; nil where that is not known
	glass      float64         // lit glass of the line
	longest    float64         // and of its longest run
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
// bounded to little more than it must be. A taste that would rather have more
// units than what it saves on takes the cheapest of all.
//
// The order in a letter, the sides where letters are entered and left, and the
// cuts are found together, by labels (units, cost, length of the unit at
// hand) of which only those no other beats are kept.
func (p *planner) chain(runs []run, line [][]int, t try) (*label, Search) {
	c := p.newChainer(runs, line, t)
	units := 0
	if !c.byCost {
		units = c.fewest(line)
	}
	if units > 1 {
		c.cap = min(t.longest, c.evenLength(line, units, t.longest)*(1+min(evenSlack, 1/float64(units))))
	}
	l := c.cheapest(line, units)
	found := Search{Exact: true, Cost: l.cost, Bound: l.cost}
	for _, letter := range line {
		if len(letter) > exactRuns && wishedOrder(letter, p.claims(runs, letter)) == nil {
			found = Search{Cost: l.cost, Bound: min(l.cost, c.lineBound())}
		}
	}
	return l, found
}

// evenSlack is the share by which units may be longer than they must be if that is
// cheaper; where they are many, so little that all of it is no more than a unit.
const evenSlack = 0.05

// evenLength returns the least length that the longest of so many units can have,
// to a 32nd of the limit, or to a quarter of what one unit more or less makes.
func (c *chainer) evenLength(line [][]int, units int, longest float64) float64 {
	low, high := c.glass/float64(units), longest
	for width := min(1.0/32, 1/(4*float64(units))); high-low > width*longest*(1+1e-9); {
		c.cap = (low + high) / 2
		if c.fit(line, units) {
			high = c.cap
		} else {
			low = c.cap
		}
	}
	return high
}

func (p *planner) newChainer(runs []run, line [][]int, t try) *chainer {
	c := &chainer{p: p, runs: runs, cap: t.longest, forbidden: t.forbidden, dearestCut: p.costs.Electrodes, upper: math.Inf(1)}
	c.byCost = p.options.Taste == TasteLeastPaint || p.options.Taste == TasteFewestBends
	for _, w := range p.options.Wishes {
		c.joins = c.joins || w.JoinBefore
	}
	for _, v := range p.seats {
		c.dearestCut = max(c.dearestCut, p.costs.Electrodes+2*v)
	}
	for _, letter := range line {
		for _, r := range letter {
			c.glass += runs[r].len
			c.longest = max(c.longest, runs[r].len)
		}
	}
	c.prepare(line)
	return c
}

// fewest returns the least number of units, 0 if the line cannot be laid.
func (c *chainer) fewest(line [][]int) int {
	if c.fitsAnyhow(line) && len(c.forbidden) == 0 && len(c.p.options.Wishes) == 0 {
		return 1
	}
	c.most, c.counting, c.free = 0, true, false
	units := 0
	if c.hasLarge(line) {
		c.rough = true
		units = unitsOf(c.sweep(line))
		c.rough = false
		if c.most = units - 1; units > 0 && c.hopeless(&label{left: c.glass}) {
			return units
		}
		c.most = max(0, c.most)
	}
	if units == 1 {
		return 1
	}
	if less := unitsOf(c.sweep(line)); less > 0 {
		return less
	}
	return units
}

func unitsOf(l *label) int {
	if l == nil {
		return 0
	}
	return l.units
}

// fit reports whether the line can be laid in so many units of no more than
// the longest length.
func (c *chainer) fit(line [][]int, units int) bool {
	c.most, c.counting, c.free = units, true, false
	if c.hopeless(&label{left: c.glass}) {
		return false
	}
	if c.hasLarge(line) {
		c.rough = true
		found := c.sweep(line)
		if c.rough = false; found != nil {
			return true
		}
	}
	return c.sweep(line) != nil
}

// cheapest returns the cheapest chain in so many units. Where letters are large,
// orders found by search give a cost first, and what cannot come under it is
// not followed.
func (c *chainer) cheapest(line [][]int, units int) *label {
	if c.need = nil; units > 1 && len(c.p.options.Wishes) == 0 {
		c.need = c.needed(line)
	}
	c.most, c.counting, c.free = units, false, c.fitsAnyhow(line)
	c.upper = math.Inf(1)
	if c.hasLarge(line) {
		c.rough = true
		if l := c.sweep(line); l != nil {
			c.upper = l.cost + 1e-6
		}
		c.rough = false
	}
	return c.sweep(line)
}

func (c *chainer) hasLarge(line [][]int) bool {
	return slices.ContainsFunc(line, func(letter []int) bool { return len(letter) > quickRuns })
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
	whole := geom.EmptyRect()
	for _, letter := range line {
		for _, r := range letter {
			whole = whole.Union(c.runs[r].box)
		}
	}
	link := math.Hypot(box.Width(), box.Height()) + 2*c.p.rules.DoubleBackRadius
	return c.fitsBox(whole) && total+float64(n)*link <= c.cap && bends <= c.p.rules.MaxBends
}

// sweep runs the labels over the line once.
func (c *chainer) sweep(line [][]int) *label {
	front := []*label{{left: c.glass}}
	for i, letter := range line {
		front = c.over(front, letter, c.rest[i+1])
		if c.need != nil {
			front = slices.DeleteFunc(front, func(l *label) bool { return l.units+c.need[i+1]-1 > c.most })
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

// over runs the labels over one letter; rest is the least cost of those after it.
func (c *chainer) over(front []*label, letter []int, rest float64) []*label {
	claims := c.p.claims(c.runs, letter)
	if order := wishedOrder(letter, claims); order != nil {
		return c.along(front, [][]step{order})
	}
	if len(letter) > exactRuns || c.rough && len(letter) > quickRuns && claims == nil {
		return c.along(front, c.p.netOf(c.runs, letter).orders)
	}
	return c.exact(front, letter, claims, rest)
}

// needed returns how many units the letters from each one on need at least, were
// one begun there: what the line needs from its end backward. Without it the
// labels of a long line would be as many as it has units to spare somewhere.
func (c *chainer) needed(line [][]int) []int {
	c.most, c.counting, c.free = 0, true, false
	need := make([]int, len(line)+1)
	need[len(line)] = 1 // the unit at hand goes on into the letters to come, or ends
	front := []*label{{left: c.glass}}
	for i := len(line) - 1; i >= 0; i-- {
		front = c.over(front, line[i], 0)
		need[i] = math.MaxInt32
		for _, l := range front {
			need[i] = min(need[i], l.units)
		}
	}
	return need
}

func (c *chainer) better(l, o *label) bool {
	if l.units != o.units && !c.byCost {
		return l.units < o.units
	}
	if c.counting {
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
	left := l.left
	if l.units > 0 {
		left -= max(0, c.cap-l.length)
	}
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
