package stick

import (
	"fmt"
	"slices"
)

// Stock is glass to cut from: off-cuts that lie in the rack, and sticks to be bought.
// Whole numbers, in any unit.
type Stock struct {
	Length  int // of a stick
	Kerf    int // lost between two items
	OffCuts []int
}

// Cutting says which items are cut from which off-cut and which from new sticks.
type Cutting struct {
	OffCuts [][]int // indexes of items, for each off-cut of the stock
	Packing         // of the new sticks; Bound and Exact are for them
}

// maxLeaves bounds how many ways to use the off-cuts are followed to the end, and
// maxOffCutWays how many ways to fill one of them are tried.
const (
	maxLeaves     = 300
	maxOffCutWays = 60
)

// Cut cuts items from off-cuts and from as few new sticks as it can find. Of each
// off-cut, the ways to fill it that leave no room for a further item are tried, and
// what is left is packed into sticks (Pack): more on an off-cut never takes more
// sticks. Within its bounds the search is over all ways, and then Exact; Bound is
// what certainly is needed in any case. It returns an error for an item longer than
// a stick and than every off-cut.
func (s Stock) Cut(items []int) (Cutting, error) {
	longest := s.Length
	for _, c := range s.OffCuts {
		longest = max(longest, c)
	}
	for _, v := range items {
		if v <= 0 || v > longest {
			return Cutting{}, fmt.Errorf("a piece of %d does not fit a stick of %d", v, longest)
		}
	}
	c := &cutter{Stock: s, items: items, bound: s.bound(items), left: maxLeaves, exact: true}
	c.order = make([]int, len(s.OffCuts))
	for i := range c.order {
		c.order[i] = i
	}
	slices.SortStableFunc(c.order, func(a, b int) int { return s.OffCuts[b] - s.OffCuts[a] })
	all := make([]int, len(items))
	for i := range all {
		all[i] = i
	}
	slices.SortStableFunc(all, func(a, b int) int { return items[b] - items[a] })
	c.use(0, all, make([][]int, len(s.OffCuts)))
	if !c.found {
		return Cutting{}, fmt.Errorf("the pieces longer than a stick of %d do not all fit the off-cuts", s.Length)
	}
	n := len(c.best.Sticks)
	c.best.Exact = n == c.bound || c.exact
	c.best.Bound = c.bound
	if c.best.Exact {
		c.best.Bound = n
	}
	return c.best, nil
}

// bound returns how many new sticks are needed at least: by the glass in all, and
// by the items that no off-cut holds.
func (s Stock) bound(items []int) int {
	total, longest := 0, 0
	for _, c := range s.OffCuts {
		total -= c + s.Kerf
		longest = max(longest, c)
	}
	var sizes []int
	for _, v := range items {
		total += v + s.Kerf
		if v > longest {
			sizes = append(sizes, v+s.Kerf)
		}
	}
	capacity := s.Length + s.Kerf
	out := max(0, (total+capacity-1)/capacity)
	if len(sizes) > 0 {
		order := make([]int, len(sizes))
		for i := range order {
			order[i] = i
		}
		out = max(out, lowerBound(order, sizes, capacity))
	}
	return out
}

// cutter is the search over the ways to use the off-cuts.
type cutter struct {
	Stock
	items []int
	order []int // off-cuts, longest first
	bound int
	left  int // leaves
	best  Cutting
	found bool
	exact bool // no way was left out
}

func (c *cutter) done() bool { return c.found && len(c.best.Sticks) == c.bound }

// use fills off-cut number k of the order from the items that are left, longest
// first, and those after it.
func (c *cutter) use(k int, rest []int, used [][]int) {
	if c.left <= 0 {
		c.exact = false
		return
	}
	if k == len(c.order) {
		c.left--
		c.buy(rest, used)
		return
	}
	at := c.order[k]
	for _, fill := range c.fillings(rest, c.OffCuts[at]) {
		used[at] = fill
		c.use(k+1, slices.DeleteFunc(slices.Clone(rest), func(i int) bool { return slices.Contains(fill, i) }), used)
		used[at] = nil
		if c.done() {
			return
		}
	}
}

// buy packs what is left into new sticks, and keeps the best.
func (c *cutter) buy(rest []int, used [][]int) {
	sizes := make([]int, len(rest))
	for i, k := range rest {
		if sizes[i] = c.items[k]; sizes[i] > c.Length {
			return
		}
	}
	p := Packing{Exact: true}
	if len(sizes) > 0 {
		var err error
		if p, err = Pack(sizes, c.Length, c.Kerf); err != nil {
			panic("stick: " + err.Error()) // every size was looked at
		}
	}
	c.exact = c.exact && p.Exact
	if c.found && len(p.Sticks) >= len(c.best.Sticks) {
		return
	}
	for _, s := range p.Sticks {
		for i := range s {
			s[i] = rest[s[i]]
		}
	}
	c.found, c.best = true, Cutting{OffCuts: cloned(used), Packing: p}
}

func cloned(lists [][]int) [][]int {
	out := make([][]int, len(lists))
	for i := range lists {
		out[i] = slices.Clone(lists[i])
	}
	return out
}

// fillings returns the ways to fill an off-cut so that nothing more fits, fullest
// first; items of one length are one way.
func (c *cutter) fillings(rest []int, length int) [][]int {
	var out [][]int
	var slack []int
	var cur []int
	steps := maxFillingWork
	var rec func(from, room int)
	rec = func(from, room int) {
		if steps--; steps <= 0 {
			c.exact = false
			return
		}
		fits := false
		for i := from; i < len(rest); i++ {
			size := c.items[rest[i]] + c.Kerf
			if size > room || i > from && c.items[rest[i]] == c.items[rest[i-1]] {
				continue
			}
			fits = true
			cur = append(cur, rest[i])
			rec(i+1, room-size)
			cur = cur[:len(cur)-1]
		}
		if !fits && c.full(rest, cur, room) {
			out, slack = append(out, slices.Clone(cur)), append(slack, room)
		}
	}
	rec(0, length+c.Kerf)
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return slack[a] - slack[b] })
	if len(order) > maxOffCutWays {
		order, c.exact = order[:maxOffCutWays], false
	}
	var sorted [][]int
	for _, i := range order {
		sorted = append(sorted, out[i])
	}
	return sorted
}

// full reports whether none of the items that were passed over fits either.
func (c *cutter) full(rest, taken []int, room int) bool {
	for _, i := range rest {
		if c.items[i]+c.Kerf <= room && !slices.Contains(taken, i) {
			return false
		}
	}
	return true
}
