package stick

import (
	"encoding/json"
	"os"
	"slices"
	"testing"
)

type cuttingCase struct {
	Name                   string
	Capacity, FFD, L2, Opt int
	Items                  []int
}

func cases(t *testing.T) []cuttingCase {
	b, err := os.ReadFile("testdata/cutting.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []cuttingCase }
	if err := json.Unmarshal(b, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) != 10 { // the eleventh is TestPublishedTriplets
		t.Fatalf("%d cases in the file, want 10", len(file.Cases))
	}
	return file.Cases
}

// checkPacking tests that every item is cut once and no stick is overfull.
func checkPacking(t testing.TB, p Packing, items []int, length, kerf int) {
	t.Helper()
	seen := make([]int, len(items))
	for _, s := range p.Sticks {
		sum := -kerf
		for _, i := range s {
			seen[i]++
			sum += items[i] + kerf
		}
		if sum > length {
			t.Errorf("a stick of %d holds %d", length, sum)
		}
	}
	for i, n := range seen {
		if n != 1 {
			t.Errorf("item %d is cut %d times", i, n)
		}
	}
	if p.Bound > len(p.Sticks) || p.Exact != (p.Bound == len(p.Sticks)) {
		t.Errorf("bound %d of %d sticks, exact %v", p.Bound, len(p.Sticks), p.Exact)
	}
}

func TestPackReachesTheProvedOptima(t *testing.T) {
	for _, c := range cases(t) {
		p, err := Pack(c.Items, c.Capacity, 0)
		if err != nil {
			t.Fatal(err)
		}
		checkPacking(t, p, c.Items, c.Capacity, 0)
		if len(p.Sticks) != c.Opt || !p.Exact {
			t.Errorf("%s: %d sticks, bound %d, want %d proved", c.Name, len(p.Sticks), p.Bound, c.Opt)
		}
		order := make([]int, len(c.Items))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return c.Items[b] - c.Items[a] })
		if got := len(firstFit(order, c.Items, c.Capacity, false)); got != c.FFD {
			t.Errorf("%s: first fit takes %d sticks, want %d", c.Name, got, c.FFD)
		}
		if got := lowerBound(order, c.Items, c.Capacity); got != c.L2 {
			t.Errorf("%s: bound %d, want %d", c.Name, got, c.L2)
		}
	}
}

// Falkenauer's triplets, instance t60_00 (A hybrid grouping genetic algorithm for
// bin packing, Journal of Heuristics 2, 1996; in tenths, as the BPPLIB collection
// has it): 20 sticks of 1000, each filled by three items. Written down from memory;
// that the sum is 20000 and 20 sticks are found shows the figures right.
var triplets = []int{
	495, 474, 473, 472, 466, 450, 445, 444, 439, 430, 419, 414, 410, 395, 372, 370, 366, 366, 366, 363,
	361, 357, 355, 351, 350, 350, 347, 320, 315, 307, 303, 299, 298, 298, 292, 288, 287, 283, 275, 275,
	274, 273, 273, 272, 272, 271, 269, 269, 268, 263, 262, 261, 259, 258, 255, 254, 252, 252, 252, 251,
}

func TestPublishedTriplets(t *testing.T) {
	p, err := Pack(triplets, 1000, 0)
	if err != nil {
		t.Fatal(err)
	}
	checkPacking(t, p, triplets, 1000, 0)
	if len(p.Sticks) != 20 || !p.Exact {
		t.Errorf("%d sticks, bound %d, known optimum 20", len(p.Sticks), p.Bound)
	}
}

// A kerf between pieces: the last cut is not counted.
func TestKerfIsLostBetweenPiecesOnly(t *testing.T) {
	for _, tc := range []struct {
		length, kerf, want int
		items              []int
	}{
		{1000, 10, 1, []int{1000}},
		{1000, 10, 1, []int{495, 495}},
		{1000, 10, 2, []int{496, 495}},
		{1000, 10, 1, []int{330, 330, 320}},
	} {
		p, err := Pack(tc.items, tc.length, tc.kerf)
		if err != nil {
			t.Fatal(err)
		}
		checkPacking(t, p, tc.items, tc.length, tc.kerf)
		if len(p.Sticks) != tc.want {
			t.Errorf("%v: %d sticks, want %d", tc.items, len(p.Sticks), tc.want)
		}
	}
	if _, err := Pack([]int{1001}, 1000, 10); err == nil {
		t.Error("a piece longer than its stick is packed")
	}
}

func FuzzPack(f *testing.F) {
	f.Add([]byte{200, 100, 50, 130, 90, 7}, uint8(10))
	f.Fuzz(func(t *testing.T, b []byte, kerf uint8) {
		if len(b) == 0 || len(b) > 60 {
			t.Skip()
		}
		items := make([]int, len(b))
		for i, v := range b {
			items[i] = int(v)*4 + 1
		}
		p, err := Pack(items, 1219, int(kerf))
		if err != nil {
			t.Fatal(err)
		}
		checkPacking(t, p, items, 1219, int(kerf))
	})
}

// A large job: pieces of 200 to 1200 mm in tenths, from a fixed sequence.
func BenchmarkPackAThousandPieces(b *testing.B) {
	items, x := make([]int, 1000), uint32(1)
	for i := range items {
		x = x*1664525 + 1013904223
		items[i] = 2000 + int(x>>8)%10000
	}
	for b.Loop() {
		if _, err := Pack(items, 12190, 100); err != nil {
			b.Fatal(err)
		}
	}
}
