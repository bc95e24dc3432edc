package load

import (
	"math"
	"math/rand"
	"testing"

	"tubewright/geom"
)

// Every way to share up to 12 weights is tried; none is better.
func TestBalanceIsLeastByBruteForce(t *testing.T) {
	rnd := rand.New(rand.NewSource(8))
	for range 300 {
		w := make([]int64, 1+rnd.Intn(12))
		total := int64(0)
		for i := range w {
			w[i] = 1 + rnd.Int63n(3000)
			total += w[i]
		}
		least := total
		for set := range 1 << len(w) {
			sum := int64(0)
			for i, x := range w {
				if set&(1<<i) != 0 {
					sum += x
				}
			}
			least = min(least, max(total-2*sum, 2*sum-total))
		}
		second, diff, exact := Balance(w)
		lead := total
		for i, x := range w {
			if second[i] {
				lead -= 2 * x
			}
		}
		if !exact || diff != least || max(lead, -lead) != diff {
			t.Fatalf("%v: sides differ by %d (told %d), least is %d", w, lead, diff, least)
		}
		if _, d := Neighbours(w); d < least || d > total {
			t.Fatalf("%v: neighbours differ by %d, least is %d", w, d, least)
		}
	}
}

func TestBalanceTooLongToProve(t *testing.T) {
	w := make([]int64, 1000)
	for i := range w {
		w[i] = 1e6 + int64(i)*997
	}
	second, diff, exact := Balance(w)
	lead := int64(0)
	for i, x := range w {
		if second[i] {
			lead -= x
		} else {
			lead += x
		}
	}
	if exact || max(lead, -lead) != diff || diff > 1e6 {
		t.Errorf("exact %v, told %d, is %d", exact, diff, lead)
	}
}

func TestSplitIsFewestAndEvenByBruteForce(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	for range 200 {
		n := 1 + rnd.Intn(9)
		w := make([]int64, n)
		for i := range w {
			w[i] = 1 + rnd.Int63n(60)
		}
		const most = 100
		fits := func(i, j int) bool {
			sum := int64(0)
			for _, x := range w[i:j] {
				sum += x
			}
			return sum <= most
		}
		fewest, even := n+1, int64(math.MaxInt64)
		for set := range 1 << (n - 1) { // a bit is a cut after that unit
			runs, start, heaviest, ok := 1, 0, int64(0), true
			for i := 0; i < n; i++ {
				if i == n-1 || set&(1<<i) != 0 {
					sum := int64(0)
					for _, x := range w[start : i+1] {
						sum += x
					}
					ok = ok && fits(start, i+1)
					heaviest = max(heaviest, sum)
					start = i + 1
					if i < n-1 {
						runs++
					}
				}
			}
			if ok && (runs < fewest || runs == fewest && heaviest < even) {
				fewest, even = runs, heaviest
			}
		}
		got := Split(w, fits)
		heaviest := int64(0)
		next := 0
		for _, r := range got {
			if r[0] != next {
				t.Fatalf("runs %v leave a gap", got)
			}
			next = r[1]
			sum := int64(0)
			for _, x := range w[r[0]:r[1]] {
				sum += x
			}
			heaviest = max(heaviest, sum)
		}
		if next != n || len(got) != fewest || heaviest != even {
			t.Fatalf("%v: %v with %d at most; %d runs of %d are possible", w, got, heaviest, fewest, even)
		}
	}
}

func TestOrderIsShortestByBruteForce(t *testing.T) {
	rnd := rand.New(rand.NewSource(10))
	for range 40 {
		n := 1 + rnd.Intn(5)
		at := func() geom.Point3 { return geom.Point3{X: rnd.Float64() * 1000, Y: rnd.Float64() * 300} }
		ends := make([][2]geom.Point3, n)
		units := make([]int, n)
		for i := range ends {
			ends[i], units[i] = [2]geom.Point3{at(), at()}, i
		}
		from, to := at(), at()
		least := math.Inf(1)
		var try func(left []int, here geom.Point3, so float64)
		try = func(left []int, here geom.Point3, so float64) {
			if len(left) == 0 {
				least = min(least, so+here.Dist(to))
			}
			for i, u := range left {
				rest := append(append([]int{}, left[:i]...), left[i+1:]...)
				try(rest, ends[u][1], so+here.Dist(ends[u][0]))
				try(rest, ends[u][0], so+here.Dist(ends[u][1]))
			}
		}
		try(units, from, 0)
		stops, wire, exact := Order(units, ends, from, to)
		if walked := walk(stops, ends, from, to); !exact || math.Abs(wire-least) > 1e-9 || math.Abs(walked-wire) > 1e-9 {
			t.Fatalf("wire %g, walked %g, least %g", wire, walked, least)
		}
	}
}

func walk(stops []Stop, ends [][2]geom.Point3, from, to geom.Point3) float64 {
	sum, here := 0.0, from
	for _, s := range stops {
		in, out := ends[s.Unit][0], ends[s.Unit][1]
		if s.Reversed {
			in, out = out, in
		}
		sum += here.Dist(in)
		here = out
	}
	return sum + here.Dist(to)
}

func TestLongOrderIsTheShortestOfItsDirections(t *testing.T) {
	rnd := rand.New(rand.NewSource(11))
	ends := make([][2]geom.Point3, 12)
	units := make([]int, 12)
	for i := range ends {
		x := float64(i) * 100
		ends[i] = [2]geom.Point3{{X: x + rnd.Float64()*90, Y: rnd.Float64() * 200}, {X: x + rnd.Float64()*90, Y: rnd.Float64() * 200}}
		units[i] = i
	}
	stops, wire, exact := Order(units, ends, geom.Point3{}, geom.Point3{X: 1200})
	least := math.Inf(1)
	for set := range 1 << 12 {
		try := make([]Stop, 12)
		for i := range try {
			try[i] = Stop{i, set&(1<<i) != 0}
		}
		least = min(least, walk(try, ends, geom.Point3{}, geom.Point3{X: 1200}))
	}
	if exact || math.Abs(walk(stops, ends, geom.Point3{}, geom.Point3{X: 1200})-wire) > 1e-9 || math.Abs(wire-least) > 1e-9 {
		t.Errorf("exact %v, wire %g, least %g", exact, wire, least)
	}
}
