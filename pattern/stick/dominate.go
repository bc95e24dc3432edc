package stick

import "slices"

func sortFillings(fs []filling) {
	slices.SortStableFunc(fs, func(a, b filling) int {
		if a.slack != b.slack {
			return a.slack - b.slack
		}
		if len(a.sizes) != len(b.sizes) { // fewer, longer items first
			return len(a.sizes) - len(b.sizes)
		}
		return slices.Compare(a.sizes, b.sizes)
	})
}

// undominated drops a filling where another holds one item as long as all of
// its items together: swapping them can only help (Martello and Toth's dominance,
// for the case that is cheap to see).
func undominated(fs []filling, size []int) []filling {
	var out []filling
	for _, f := range fs {
		sum := 0
		for _, s := range f.sizes {
			sum += size[s]
		}
		dominated := false
		for _, g := range out {
			if len(g.sizes) == 1 && len(f.sizes) >= 1 && size[g.sizes[0]] >= sum {
				dominated = true
				break
			}
		}
		if !dominated {
			out = append(out, f)
		}
	}
	return out
}
