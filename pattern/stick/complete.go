package stick

// completion tries to pack all items into a given number of sticks.
type completion struct {
	size     []int // distinct sizes, longest first
	count    []int // how many of each are left
	capacity int
	left     int // sticks not yet filled
	waste    int // what may still be wasted
	chosen   [][]int
	hopeless map[string]bool
	work     int  // steps left
	used     bool // the steps ran out, or a list of fillings was cut short: no proof
}

func newCompletion(order, sizes []int, capacity, sticks int) *completion {
	c := &completion{capacity: capacity, left: sticks, waste: sticks * capacity, hopeless: map[string]bool{}, work: maxWork}
	for _, i := range order {
		s := sizes[i]
		c.waste -= s
		if n := len(c.size); n > 0 && c.size[n-1] == s {
			c.count[n-1]++
			continue
		}
		c.size, c.count = append(c.size, s), append(c.count, 1)
	}
	return c
}

// fill packs what is left; false where it cannot, or where the search is used up.
func (c *completion) fill() bool {
	first := 0
	for first < len(c.count) && c.count[first] == 0 {
		first++
	}
	if first == len(c.count) {
		return true
	}
	if c.left == 0 {
		return false
	}
	if c.work <= 0 {
		c.used = true
		return false
	}
	key := c.key()
	if c.hopeless[key] {
		return false
	}
	c.count[first]--
	c.left--
	for _, f := range c.fillings(first) {
		c.take(f.sizes, -1)
		c.waste -= f.slack
		c.chosen = append(c.chosen, append([]int{first}, f.sizes...))
		if c.fill() {
			return true
		}
		c.chosen = c.chosen[:len(c.chosen)-1]
		c.waste += f.slack
		c.take(f.sizes, 1)
	}
	c.count[first]++
	c.left++
	c.hopeless[key] = !c.used
	return false
}

// greedy fills one stick after the other around its longest item as full as it
// finds, without going back.
func (c *completion) greedy() {
	c.waste = c.capacity
	for first := range c.count {
		for c.count[first] > 0 {
			c.count[first]--
			f := filling{}
			if fs := c.fillings(first); len(fs) > 0 {
				f = fs[0]
			}
			c.take(f.sizes, -1)
			c.chosen = append(c.chosen, append([]int{first}, f.sizes...))
		}
	}
}

func (c *completion) take(sizes []int, n int) {
	for _, s := range sizes {
		c.count[s] += n
	}
}

// key tells states apart: the number of sticks left and the waste follow from
// what is left.
func (c *completion) key() string {
	b := make([]byte, 0, 2*len(c.count))
	for _, n := range c.count {
		b = append(b, byte(n), byte(n>>8))
	}
	return string(b)
}

// filling is what goes beside the longest item: indexes of sizes.
type filling struct {
	sizes []int
	slack int
}

// fillings returns the ways to fill a stick beside its longest item, least
// slack first: only those that no further item fits into, and only those whose
// slack may still be wasted.
func (c *completion) fillings(first int) []filling {
	var out []filling
	var cur []int
	used := make([]int, len(c.size))
	steps := maxFillingWork
	var rec func(i, room int)
	rec = func(i, room int) {
		if steps--; steps <= 0 {
			c.used = true
			return
		}
		for ; i < len(c.size); i++ {
			if used[i] < c.count[i] && c.size[i] <= room {
				cur, used[i] = append(cur, i), used[i]+1
				rec(i, room-c.size[i])
				cur, used[i] = cur[:len(cur)-1], used[i]-1
			}
		}
		if room > c.waste {
			return
		}
		for k := range c.size {
			if used[k] < c.count[k] && c.size[k] <= room {
				return // something still fits
			}
		}
		out = append(out, filling{append([]int{}, cur...), room})
	}
	rec(first, c.capacity-c.size[first])
	c.work -= maxFillingWork - steps
	sortFillings(out)
	return undominated(out, c.size)
}

// packing names the items of the sizes chosen.
func (c *completion) packing(order, sizes []int) [][]int {
	bySize := make([][]int, len(c.size))
	k := 0
	for _, i := range order {
		for sizes[i] != c.size[k] {
			k++
		}
		bySize[k] = append(bySize[k], i)
	}
	var out [][]int
	for _, f := range c.chosen {
		var stick []int
		for _, s := range f {
			stick = append(stick, bySize[s][0])
			bySize[s] = bySize[s][1:]
		}
		out = append(out, stick)
	}
	return out
}
