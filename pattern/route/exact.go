package route

// exact lays all runs of a letter after the labels of the letter before, in
// the best order for every exit, as far as an order asked for leaves it open:
// dynamic programming over subsets (Held and Karp, 1962).
func (c *chainer) exact(before []*label, letter []int, claims []claim, rest float64) []*label {
	x := &subsets{chainer: c, letter: letter, claims: claims, rest: rest, net: c.p.netOf(c.runs, letter)}
	n := len(letter)
	x.table = make([][]*label, (1<<n)*2*n)
	for k, r := range letter {
		for side := range 2 {
			if !x.may(0, k, side) {
				continue
			}
			cell := x.at(1<<k, k, 1-side)
			for _, l := range before {
				for _, m := range c.entering(l, step{r, side}, true) {
					x.put(cell, m, 1<<k, 2*k+1-side)
				}
			}
		}
	}
	for set := 1; set < 1<<n; set++ {
		for k := range 2 * n {
			for _, l := range *x.at(set, k/2, k%2) {
				x.spread(set, l)
			}
		}
	}
	var out []*label
	for k := range 2 * n {
		out = append(out, *x.at(1<<n-1, k/2, k%2)...)
	}
	return c.prune(out)
}

// subsets is the table of one letter: the labels by set of runs laid and exit
// end.
type subsets struct {
	*chainer
	letter []int
	claims []claim
	net    *net
	rest   float64 // least cost of the letters after it
	table  [][]*label
}

func (x *subsets) at(set, k, side int) *[]*label {
	n := len(x.letter)
	return &x.table[set*2*n+2*k+side]
}

// may reports whether run k may be laid after a set, entered at a side.
func (x *subsets) may(set, k, side int) bool {
	if set&(1<<k) != 0 {
		return false
	}
	if x.claims == nil {
		return true
	}
	c := x.claims[k]
	return c.after&^uint64(set) == 0 && (c.side < 0 || c.side == side)
}

// put keeps a label that has laid a set and left by an end, unless it cannot
// come under the cost of a chain that is known, or its glass cannot fit into
// the units it may still begin.
func (x *subsets) put(cell *[]*label, l *label, set, end int) {
	if !x.counting && l.cost+x.net.togo[set][end]+x.rest > x.upper {
		return
	}
	if x.net.glass != nil && x.most > 0 {
		// A unit of one run may be longer than allowed: its glass counts as it is.
		room := max(0, x.cap-l.length) + float64(x.most-l.units)*max(x.cap, x.longest+2*x.p.legLength())
		if x.net.glass[set][end] > room+1e-6 {
			return
		}
	}
	*cell = x.keep(*cell, l)
}

// spread lays every run that is not in the set after the label.
func (x *subsets) spread(set int, l *label) {
	for k, r := range x.letter {
		for side := range 2 {
			if !x.may(set, k, side) {
				continue
			}
			cell := x.at(set|1<<k, k, 1-side)
			for _, m := range x.after(l, step{r, side}) {
				x.put(cell, m, set|1<<k, 2*k+1-side)
			}
		}
	}
}
