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

// label is one way to have laid some runs: the fewest units so far, their
// cost, and the glass in the unit at hand. The steps are read back from prev.
type label struct {
	units  int
	cost   float64
	length float64 // glass of the unit at hand
	left   float64 // lit glass not laid yet
	bends  int     // bends out of the face in the unit at hand
	at     step
	cut    bool // a new unit starts with this step
	prev   *label
}

// chainer finds the order of the runs of a line and where it is cut into units.
type chainer struct {
	p         *planner
	runs      []run
	cap       float64         // longest unit allowed
	most      int             // no more units than this; 0 while the least number is being found
	longest   float64         // glass of the longest run of the line
	free      bool            // the line fits one unit whatever the order, so lengths do not matter
	forbidden map[[2]int]bool // exit end and entry end of links that found no way
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
	c := &chainer{p: p, runs: runs, cap: t.longest, forbidden: t.forbidden}
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
		if order := c.p.wishedOrder(c.runs, letter); order != nil {
			front = c.along(front, [][]step{order})
		} else if len(letter) > exactRuns || !c.free && len(letter) > exactCut {
			c.p.searched = true
			front = c.along(front, c.p.searchOrders(c.runs, letter))
		} else {
			front = c.exact(front, letter)
		}
	}
	var best *label
	for _, l := range front {
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

// after returns the labels that lay a step after a label: linked, if a link
// may be, and as the start of a new unit.
func (c *chainer) after(l *label, s step) []*label {
	run := c.runs[s.run].len
	var out []*label
	if l.units > 0 && !c.forbidden[[2]int{endKey(l.at, true), endKey(s, false)}] {
		linked := &label{
			units: l.units, cost: l.cost + c.p.linkCost(c.runs, l.at, s),
			length: l.length + c.p.linkLength(c.runs, l.at, s) + run, left: l.left - run, at: s, prev: l,
			bends: l.bends + linkBends + c.runs[s.run].bends,
		}
		if linked.length <= c.cap && linked.bends <= c.p.rules.MaxBends && !c.hopeless(linked) {
			out = append(out, linked)
		}
	}
	fresh := &label{
		units: l.units + 1, cost: l.cost + c.p.costs.Electrodes,
		length: 2*c.p.legLength() + run, left: l.left - run, at: s, cut: true, prev: l,
		bends: c.runs[s.run].bends,
	}
	if c.hopeless(fresh) {
		return out
	}
	return append(out, fresh)
}

// beats reports whether a label makes another that ends at the same place
// needless: it is at least as good in all three respects, or it has fewer units
// and could be cut here, for one more pair of electrodes, and still be so.
func (c *chainer) beats(o, l *label) bool {
	const eps = 1e-9
	if c.most == 0 {
		return o.units < l.units || o.units == l.units && o.length <= l.length+eps
	}
	if o.units <= l.units && o.cost <= l.cost+eps && (c.free || o.length <= l.length+eps) {
		return true
	}
	return o.units < l.units && o.cost+c.p.costs.Electrodes <= l.cost+eps
}

// keep adds a label to a set unless another beats it, and drops those it beats.
func (c *chainer) keep(set []*label, l *label) []*label {
	for _, o := range set {
		if c.beats(o, l) {
			return set
		}
	}
	return append(slices.DeleteFunc(set, func(o *label) bool { return c.beats(l, o) }), l)
}

// exact lays all runs of a letter after the labels of the letter before, in
// the best order for every exit.
func (c *chainer) exact(before []*label, letter []int) []*label {
	n := len(letter)
	table := make([][]*label, (1<<n)*2*n) // by set of runs laid and exit end
	at := func(set, k, side int) *[]*label { return &table[set*2*n+2*k+side] }
	for k, r := range letter {
		for side := range 2 {
			cell := at(1<<k, k, 1-side)
			for _, l := range before {
				for _, m := range c.entering(l, step{r, side}, true) {
					*cell = c.keep(*cell, m)
				}
			}
		}
	}
	for set := 1; set < 1<<n; set++ {
		for k := range n {
			for side := range 2 {
				for _, l := range *at(set, k, side) {
					c.spread(table, letter, set, l)
				}
			}
		}
	}
	var out []*label
	for k := range n {
		for side := range 2 {
			out = append(out, *at(1<<n-1, k, side)...)
		}
	}
	return c.prune(out)
}

// spread lays every run that is not in the set after the label.
func (c *chainer) spread(table [][]*label, letter []int, set int, l *label) {
	n := len(letter)
	for k, r := range letter {
		if set&(1<<k) != 0 {
			continue
		}
		for side := range 2 {
			cell := &table[(set|1<<k)*2*n+2*k+1-side]
			for _, m := range c.after(l, step{r, side}) {
				*cell = c.keep(*cell, m)
			}
		}
	}
}

// prune drops labels that end at the same place and are beaten there.
func (c *chainer) prune(labels []*label) []*label {
	byExit := map[int][]*label{}
	var keys []int
	for _, l := range labels {
		k := endKey(l.at, true)
		if _, ok := byExit[k]; !ok {
			keys = append(keys, k)
		}
		byExit[k] = c.keep(byExit[k], l)
	}
	slices.Sort(keys)
	var out []*label
	for _, k := range keys {
		out = append(out, byExit[k]...)
	}
	return out
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

// steps reads the order back from its last label, with the starts of units.
func (l *label) steps() (order []step, cuts []int) {
	for ; l != nil && l.units > 0; l = l.prev {
		order = append(order, l.at)
		if l.cut {
			cuts = append(cuts, len(order))
		}
	}
	slices.Reverse(order)
	for i := range cuts {
		cuts[i] = len(order) - cuts[i]
	}
	slices.Sort(cuts)
	return order, cuts
}

// linkCost is what a link costs before its way is known: the cheaper of a
// jump in the open and a way doubled back behind the strokes of its letter.
func (p *planner) linkCost(runs []run, a, b step) float64 {
	cost := p.jumpCost(runs, a, b)
	if c, ok := p.bypassCost(runs, a, b); ok {
		cost = min(cost, c)
	}
	return cost
}

// jumpCost counts the glass behind the face, painted out all round, its turns,
// and how crowded they are.
func (p *planner) jumpCost(runs []run, a, b step) float64 {
	d := linkSpan(runs, a, b)
	crowded := max(0, 2*p.rules.DoubleBackRadius-d)
	return (p.costs.Hidden+p.costs.Paint)*p.linkLength(runs, a, b) + 2*p.costs.DoubleBack + p.costs.Crowded*crowded
}

// bypassCost counts the same for the way behind the strokes, which needs no
// paint but takes more glass and bends. Ways shorter than two turns are jumps.
func (p *planner) bypassCost(runs []run, a, b step) (float64, bool) {
	w := p.bypassOf(runs, a, b)
	if !w.ok || w.length < 3*p.rules.DoubleBackRadius {
		return 0, false
	}
	glass := w.length + (math.Pi-2)*p.rules.DoubleBackRadius
	return p.costs.Hidden*glass + 2*p.costs.DoubleBack + p.costs.Bend*float64(len(w.via)), true
}

// linkLength is the glass of a straight link between two posts in the first
// plane behind the face.
func (p *planner) linkLength(runs []run, a, b step) float64 {
	return linkSpan(runs, a, b) + (math.Pi-2)*p.rules.DoubleBackRadius
}

func linkSpan(runs []run, a, b step) float64 {
	return runs[a.run].place[1-a.from].Dist(runs[b.run].place[b.from])
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
