package network

import (
	"math/bits"
	"slices"
)

// pair is two nodes to be linked, by their numbers in a cluster.
type pair struct{ a, b int }

// leftOver is what a set of odd nodes comes to: pairs to link, and pairs to
// leave as the two ends of trails, the first of which costs nothing.
type leftOver struct {
	links []pair
	ends  []pair
	cost  cost // of links, and of units for ends beyond the first pair
}

// fewest is the number of odd nodes up to which pairs are chosen by tables over
// subsets; above it blossoms are quicker. Both are exact.
const fewest = 8

// pairOff pairs off the nodes of odd, an even number, at the least cost: each
// pair is linked at c(a, b) or costs a unit, and unless trails are closed one
// pair is left for free.
func pairOff(odd []int, c func(a, b int) cost, unit cost, closed bool) leftOver {
	n := len(odd)
	if n == 0 {
		return leftOver{}
	}
	t := table{n: n, v: make([]cost, n*n)}
	for i := range n {
		for j := range i {
			v := c(odd[i], odd[j])
			if !closed {
				v = min(v, unit)
			}
			t.v[i*n+j], t.v[j*n+i] = min(v, never), min(v, never)
		}
	}
	var partner []int // -1 at the two left
	switch {
	case n <= fewest:
		partner = t.bySubsets(closed)
	default:
		partner = t.byBlossoms(closed)
	}
	if partner == nil {
		return leftOver{cost: never}
	}
	var out leftOver
	var free []int
	for i, j := range partner {
		switch {
		case j < 0:
			free = append(free, odd[i])
		case j > i:
			p := pair{odd[i], odd[j]}
			v := c(p.a, p.b)
			if closed || v <= unit {
				out.links = append(out.links, p)
			} else {
				out.ends = append(out.ends, p)
			}
			out.cost += t.v[i*n+j]
		}
	}
	if len(free) > 0 {
		out.ends = slices.Insert(out.ends, 0, pair{free[0], free[1]})
	}
	return out
}

// table is the cost of pairing i with j; never is not at all.
type table struct {
	n int
	v []cost
}

// bySubsets returns everyone's partner: the least cost of pairing off a set is
// that of its first member with each other one, and of the rest.
func (t table) bySubsets(closed bool) []int {
	n := t.n
	best := make([]cost, 1<<n)
	with := make([]uint8, 1<<n)
	for set := 1; set < 1<<n; set++ {
		if bits.OnesCount(uint(set))%2 == 1 {
			continue
		}
		i := bits.TrailingZeros(uint(set))
		best[set] = never
		for j := i + 1; j < n; j++ {
			if set>>j&1 == 0 {
				continue
			}
			if v := t.v[i*n+j] + best[set&^(1<<i|1<<j)]; v < best[set] {
				best[set], with[set] = v, uint8(j)
			}
		}
	}
	set := 1<<n - 1
	if !closed {
		whole := set
		for i := range n {
			for j := i + 1; j < n; j++ {
				if rest := whole &^ (1<<i | 1<<j); set == whole || best[rest] < best[set] {
					set = rest
				}
			}
		}
	}
	if best[set] >= never {
		return nil
	}
	partner := make([]int, n)
	for i := range partner {
		partner[i] = -1
	}
	for set > 0 {
		i := bits.TrailingZeros(uint(set))
		j := int(with[set])
		partner[i], partner[j] = j, i
		set &^= 1<<i | 1<<j
	}
	return partner
}

// byBlossoms does the same by matching. Two more members, whom anyone may have
// at no cost but not each other, leave two over.
func (t table) byBlossoms(closed bool) []int {
	n := t.n
	all := n
	if !closed {
		all += 2
	}
	var dearest cost
	for _, v := range t.v {
		if v < never {
			dearest = max(dearest, v)
		}
	}
	// One pair more outweighs whatever the others cost.
	worth := 1 + (dearest+1)*cost(all/2+1)
	m := newMatcher(all)
	for i := range all {
		for j := range i {
			switch {
			case i < n:
				if v := t.v[i*n+j]; v < never {
					m.weigh(i, j, worth-v)
				}
			case j < n:
				m.weigh(i, j, worth)
			}
		}
	}
	partner := m.match()
	if slices.Contains(partner, -1) {
		return nil
	}
	for i := range partner[:n] {
		if partner[i] >= n {
			partner[i] = -1
		}
	}
	return partner[:n]
}
