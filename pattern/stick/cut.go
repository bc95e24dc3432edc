package stick

import (
	"fmt"
	"slices"
)

// Packing says which items are cut from which stick.
type Packing struct {
	Sticks [][]int // indexes of items
	Bound  int     // no packing has fewer sticks
	Exact  bool    // len(Sticks) == Bound: proved least
}

// maxWork bounds the steps of the search for one number of sticks, and
// maxFillingWork those of listing the ways to fill one stick.
const (
	maxWork        = 3_000_000
	maxFillingWork = 20_000
)

// Pack cuts items from as few sticks of equal length as it can find: whole
// numbers, in any unit. Between two items kerf is lost; an item that uses up
// its stick needs no cut. It returns an error for an item longer than the stick.
//
// First fit and best fit, both decreasing, and filling one stick after the other
// as full as possible give a packing; the bound L2 of
// Martello and Toth (Knapsack Problems, Wiley 1990, chapter 8) tells what is
// certainly needed; between the two, one number of sticks after the other is
// tried by filling one stick at a time around its longest item (bin
// completion), with the waste that this number leaves as the limit and what is
// known to be hopeless remembered. The search is bounded, so for large jobs Exact
// may be false; Bound then tells the gap.
func Pack(items []int, length, kerf int) (Packing, error) {
	capacity := length + kerf
	sizes := make([]int, len(items))
	for i, v := range items {
		if v <= 0 || v > length {
			return Packing{}, fmt.Errorf("a piece of %d does not fit a stick of %d", v, length)
		}
		sizes[i] = v + kerf
	}
	order := make([]int, len(items))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return sizes[b] - sizes[a] })
	best := firstFit(order, sizes, capacity, false)
	if other := firstFit(order, sizes, capacity, true); len(other) < len(best) {
		best = other
	}
	greedy := newCompletion(order, sizes, capacity, len(items))
	greedy.greedy()
	if other := greedy.packing(order, sizes); len(other) < len(best) {
		best = other
	}
	bound := lowerBound(order, sizes, capacity)
	for bound < len(best) {
		c := newCompletion(order, sizes, capacity, bound)
		if c.fill() {
			best = c.packing(order, sizes)
			break
		}
		if c.used {
			break
		}
		bound++
	}
	return Packing{best, bound, len(best) == bound}, nil
}

// firstFit puts items, longest first, into the first stick with room, or into
// the one where least room is left.
func firstFit(order, sizes []int, capacity int, bestFit bool) [][]int {
	var bins [][]int
	var left []int
	for _, i := range order {
		at := -1
		for b, room := range left {
			if room >= sizes[i] && (at < 0 || bestFit && room < left[at]) {
				at = b
				if !bestFit {
					break
				}
			}
		}
		if at < 0 {
			at = len(bins)
			bins, left = append(bins, nil), append(left, capacity)
		}
		bins[at] = append(bins[at], i)
		left[at] -= sizes[i]
	}
	return bins
}

// lowerBound is L2: for a threshold a, items over capacity − a need a stick each,
// those over half need one each, and what of the rest does not fit beside the
// latter needs more.
func lowerBound(order, sizes []int, capacity int) int {
	total := 0
	thresholds := []int{0}
	for _, i := range order {
		total += sizes[i]
		if 2*sizes[i] <= capacity {
			thresholds = append(thresholds, sizes[i])
		}
	}
	best := (total + capacity - 1) / capacity
	for _, a := range thresholds {
		large, half, halfSum, small := 0, 0, 0, 0
		for _, i := range order {
			switch s := sizes[i]; {
			case s > capacity-a:
				large++
			case 2*s > capacity:
				half++
				halfSum += s
			case s >= a:
				small += s
			}
		}
		over := small - (half*capacity - halfSum)
		best = max(best, large+half+max(0, (over+capacity-1)/capacity))
	}
	return best
}
