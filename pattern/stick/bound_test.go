package stick

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// l2 is the bound of Martello and Toth (Knapsack Problems, Wiley 1990, chapter 8) as it
// is defined: the greatest of L(a) over all thresholds a up to half the capacity.
func l2(items []int, capacity int) int {
	best := 0
	for a := 0; 2*a <= capacity; a++ {
		large, half, room, small := 0, 0, 0, 0
		for _, w := range items {
			switch {
			case w > capacity-a:
				large++
			case 2*w > capacity:
				half++
				room += capacity - w
			case w >= a:
				small += w
			}
		}
		l := large + half
		if small > room {
			l += (small - room + capacity - 1) / capacity
		}
		best = max(best, l)
	}
	return best
}

func drawn(draw *rand.Rand) (items []int, length, kerf int) {
	length, kerf = 40+draw.IntN(80), draw.IntN(5)
	least := 1 + draw.IntN(length/3)
	for range 2 + draw.IntN(8) {
		items = append(items, least+draw.IntN(length-least))
	}
	return items, length, kerf
}

// The bound is the published one, thresholds between the lengths of items included.
func TestLowerBoundIsL2(t *testing.T) {
	draw := rand.New(rand.NewPCG(2, 9))
	above := 0
	for range 2000 {
		items, length, _ := drawn(draw)
		order := make([]int, len(items))
		sum := 0
		for i := range order {
			order[i] = i
			sum += items[i]
		}
		want := l2(items, length)
		if got := lowerBound(order, items, length); got != want {
			t.Fatalf("%v from %d: bound %d, L2 is %d", items, length, got, want)
		}
		if want > (sum+length-1)/length {
			above++
		}
	}
	if above < 200 {
		t.Errorf("L2 is above the glass in all in %d cases: too few to tell", above)
	}
}

// Small jobs are cut from as few sticks as any way of cutting takes, and it is said;
// a search that is not let finish says no more than it knows.
func TestPackIsTheLeastOfAllWays(t *testing.T) {
	draw := rand.New(rand.NewPCG(6, 1))
	worse := 0
	for range 600 {
		items, length, kerf := drawn(draw)
		want := leastSticks(Stock{Length: length, Kerf: kerf}, items)
		p, err := Pack(items, length, kerf)
		if err != nil {
			t.Fatal(err)
		}
		checkPacking(t, p, items, length, kerf)
		if len(p.Sticks) != want || !p.Exact || p.Bound != want {
			t.Errorf("%v from %d, kerf %d: %d sticks, bound %d, exact %v; the least is %d", items, length, kerf, len(p.Sticks), p.Bound, p.Exact, want)
		}
		sizes, order := slices.Clone(items), make([]int, len(items))
		for i := range sizes {
			sizes[i] += kerf
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return sizes[b] - sizes[a] })
		for n := max(1, want-1); n <= want; n++ {
			if got := newCompletion(order, sizes, length+kerf, n).fill(); got != (n == want) {
				t.Errorf("%v from %d, kerf %d: the search packs them into %d sticks: %v", items, length, kerf, n, got)
			}
		}
		if l2(sizes, length+kerf) < want {
			worse++
		}
	}
	if worse < 3 {
		t.Errorf("the bound alone is too low in %d cases: the search proves nothing", worse)
	}
}

// By hand: what is certainly bought beside the off-cuts.
func TestBoundBesideOffCuts(t *testing.T) {
	for _, tc := range []struct {
		stock Stock
		items []int
		want  int
	}{
		{Stock{Length: 1000}, []int{300, 300, 300, 300, 300, 300, 300}, 3},                  // 2100 of glass; three go into a stick
		{Stock{Length: 1000, Kerf: 10}, []int{500, 500}, 2},                                 // 510 + 510 of 1010
		{Stock{Length: 1000, OffCuts: []int{400}}, []int{600, 600}, 2},                      // none fits the off-cut
		{Stock{Length: 1000, OffCuts: []int{700}}, []int{600, 600}, 1},                      // 1200 less 700
		{Stock{Length: 1000, OffCuts: []int{700, 700}}, []int{600, 600}, 0},                 //
		{Stock{Length: 1000, Kerf: 10, OffCuts: []int{299, 299, 299}}, []int{300, 300}, 1},  // by the glass in all none; no off-cut holds one
		{Stock{Length: 1000, OffCuts: []int{600}}, []int{500, 500, 500, 500, 500, 500}, 3},  // 3000 less 600
		{Stock{Length: 1000, OffCuts: []int{600}}, []int{700, 700, 700, 200, 200, 200}, 3},  // three are longer than the off-cut
		{Stock{Length: 1000, OffCuts: []int{5000}}, []int{1200, 300}, 0},                    //
		{Stock{Length: 1000, Kerf: 10, OffCuts: []int{990}}, []int{990, 1000, 495, 495}, 2}, // 3020 less 1000, of 1010
	} {
		if got := tc.stock.bound(tc.items); got != tc.want {
			t.Errorf("%v from %+v: bound %d, by hand %d", tc.items, tc.stock, got, tc.want)
		}
	}
}

// A cutting that leaves ways out does not say that it is exact, unless it needs no more
// than certainly is needed.
func TestCuttingThatLeavesWaysOutSaysSo(t *testing.T) {
	draw := rand.New(rand.NewPCG(4, 4))
	open := 0
	for range 40 {
		s := Stock{Length: 1000, Kerf: 3}
		for range 7 {
			s.OffCuts = append(s.OffCuts, 150+draw.IntN(500))
		}
		var items []int
		for range 22 {
			items = append(items, 90+draw.IntN(420))
		}
		c, err := s.Cut(items)
		if err != nil {
			t.Fatal(err)
		}
		checkCutting(t, s, items, c)
		if least := s.bound(items); !c.Exact {
			open++
			if c.Bound != least || len(c.Sticks) <= least {
				t.Errorf("%d sticks, bound %d, certainly needed %d", len(c.Sticks), c.Bound, least)
			}
		}
	}
	if open == 0 {
		t.Error("every cutting is exact: the test looks at nothing")
	}
}
