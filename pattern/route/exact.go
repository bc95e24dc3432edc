package route

// exact lays all runs of a letter after the labels of the letter before, in
// the best order for every exit, as far as an order asked for leaves it open:
// dynamic programming over subsets (Held and Karp, 1962).
func (c *chainer) exact(before []*label, letter []int, claims []claim) []*label {
	x := &subsets{chainer: c, letter: letter, claims: claims}
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
					*cell = c.keep(*cell, m)
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

// spread lays every run that is not in the set after the label.
func (x *subsets) spread(set int, l *label) {
	for k, r := range x.letter {
		for side := range 2 {
			if !x.may(set, k, side) {
				continue
			}
			cell := x.at(set|1<<k, k, 1-side)
			for _, m := range x.after(l, step{r, side}) {
				*cell = x.keep(*cell, m)
			}
		}
	}
}
