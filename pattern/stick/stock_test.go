package stick

import (
	"math/rand/v2"
	"testing"
)

// leastSticks goes over every way to put items into off-cuts and sticks.
func leastSticks(s Stock, items []int) int {
	best := len(items) + 1
	room := make([]int, 0, len(s.OffCuts)+len(items))
	for _, c := range s.OffCuts {
		room = append(room, c+s.Kerf)
	}
	var put func(k int)
	put = func(k int) {
		n := len(room) - len(s.OffCuts)
		if n >= best {
			return
		}
		if k == len(items) {
			best = n
			return
		}
		size := items[k] + s.Kerf
		for i := range room {
			if room[i] >= size {
				room[i] -= size
				put(k + 1)
				room[i] += size
			}
		}
		if items[k] <= s.Length {
			room = append(room, s.Length+s.Kerf-size)
			put(k + 1)
			room = room[:len(room)-1]
		}
	}
	put(0)
	return best
}

func checkCutting(t testing.TB, s Stock, items []int, c Cutting) {
	t.Helper()
	seen := make([]int, len(items))
	look := func(list []int, length int) {
		sum := -s.Kerf
		for _, i := range list {
			seen[i]++
			sum += items[i] + s.Kerf
		}
		if sum > length {
			t.Errorf("glass of %d holds %d", length, sum)
		}
	}
	for k, list := range c.OffCuts {
		look(list, s.OffCuts[k])
	}
	for _, list := range c.Sticks {
		look(list, s.Length)
	}
	for i, n := range seen {
		if n != 1 {
			t.Errorf("item %d is cut %d times", i, n)
		}
	}
	if c.Bound > len(c.Sticks) || c.Exact != (c.Bound == len(c.Sticks)) {
		t.Errorf("bound %d of %d sticks, exact %v", c.Bound, len(c.Sticks), c.Exact)
	}
}

// On small jobs the cutting is the least of all, and says so.
func TestOffCutsAreUsedAsWellAsCanBe(t *testing.T) {
	draw := rand.New(rand.NewPCG(5, 8))
	saved := 0
	for range 300 {
		s := Stock{Length: 1000, Kerf: 10}
		for range draw.IntN(4) {
			s.OffCuts = append(s.OffCuts, 200+draw.IntN(600))
		}
		items := make([]int, 1+draw.IntN(7))
		for i := range items {
			items[i] = 100 + draw.IntN(700)
		}
		c, err := s.Cut(items)
		if err != nil {
			t.Fatal(err)
		}
		checkCutting(t, s, items, c)
		want := leastSticks(s, items)
		if len(c.Sticks) != want || !c.Exact {
			t.Errorf("%v from %v: %d new sticks, exact %v, want %d", items, s.OffCuts, len(c.Sticks), c.Exact, want)
		}
		if without, err := Pack(items, s.Length, s.Kerf); err == nil && len(without.Sticks) > want {
			saved++
		}
	}
	if saved < 30 {
		t.Errorf("off-cuts saved a stick in %d cases: too few to tell", saved)
	}
}

func TestWithoutOffCutsAllIsBought(t *testing.T) {
	items := []int{700, 300, 600, 400, 500}
	c, err := Stock{Length: 1000}.Cut(items)
	if err != nil {
		t.Fatal(err)
	}
	checkCutting(t, Stock{Length: 1000}, items, c)
	if p, _ := Pack(items, 1000, 0); len(p.Sticks) != len(c.Sticks) {
		t.Errorf("%d sticks, packed %d", len(c.Sticks), len(p.Sticks))
	}
}

func TestCutSaysWhatDoesNotFit(t *testing.T) {
	if _, err := (Stock{Length: 1000, OffCuts: []int{400}}).Cut([]int{1100}); err == nil {
		t.Error("a piece longer than all glass is cut")
	}
	if _, err := (Stock{Length: 1000, OffCuts: []int{1500}}).Cut([]int{1100, 1200}); err == nil {
		t.Error("two pieces longer than a stick are cut from one long off-cut")
	}
	if c, err := (Stock{Length: 1000, OffCuts: []int{1500}}).Cut([]int{1100, 300}); err != nil || len(c.Sticks) != 0 {
		t.Errorf("%+v, %v", c, err)
	}
}
