package order

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// cheapestOfAll goes over all sets of heats: the fewest awkward heats, and the
// smallest largest swing with so few. False where there is no order.
func (m *model) cheapestOfAll() (cost, bool) {
	n := len(m.heats)
	best := make([]cost, 1<<n)
	for b := range best[1:] {
		best[b+1].max = math.Inf(1)
	}
	for b := range best {
		for h := range n {
			if b>>h&1 == 1 || math.IsInf(best[b].max, 1) {
				continue
			}
			var done set
			done[0] = uint64(b)
			a := m.ask(done, h, true)
			if a.stops(true) != Possible {
				continue
			}
			c, _, _ := best[b].made(a)
			if to := &best[b|1<<h]; math.IsInf(to.max, 1) || c.awkward < to.awkward || c.awkward == to.awkward && c.max < to.max {
				*to = c
			}
		}
	}
	c := best[len(best)-1]
	return c, !math.IsInf(c.max, 1)
}

// samples are all runs of 2 to 7 heats of the knot, and planar chains drawn by lot: each
// is made afresh as often as it is asked for.
func samples(t *testing.T, do func(name string, fresh func() *model)) {
	whole := knot(t)
	n := len(whole.Heats)
	for i := range n {
		for j := i + 2; j <= min(n, i+7); j++ {
			p := whole
			p.Heats = whole.Heats[i:j]
			if i > 0 {
				p.From, p.Head = (whole.Heats[i-1].End+whole.Heats[i].Start)/2, 150
			}
			if j < n {
				p.To, p.Tail = (whole.Heats[j-1].End+whole.Heats[j].Start)/2, 150
			}
			do(fmt.Sprintf("heats %d to %d of the knot", i, j-1), func() *model { return newModel(p) })
		}
	}
	draw := rand.New(rand.NewPCG(3, 11))
	for k := range 60 {
		n := 3 + k%5
		straight, turns := []float64{40 + 100*draw.Float64()}, []float64{}
		for range n {
			straight = append(straight, 40+100*draw.Float64())
			turns = append(turns, float64(1-2*draw.IntN(2))*(30+100*draw.Float64()))
		}
		do(fmt.Sprintf("chain %d", k), func() *model { return chain(straight, turns, 12) })
	}
}

// The order found is the best of all, as going over all sets tells it, and is said to
// be; and nothing is below the floor.
func TestLeastSwingIsTheLeastOfAllSets(t *testing.T) {
	looked, mixed, above := 0, 0, 0
	samples(t, func(name string, fresh func() *model) {
		want, ok := fresh().cheapestOfAll()
		m := fresh()
		any := m.peel(true, anySwing)
		if ok != (len(any.moves) > 0) {
			t.Fatalf("%s: there is an order: %v, found: %v", name, ok, !ok)
		}
		if !ok {
			return
		}
		looked++
		floor := fresh().floor()
		got := m.best(any)
		if c := got.last(); c.awkward != want.awkward || math.Abs(c.max-want.max) > 1e-5 {
			t.Errorf("%s: %d awkward and a swing of %.3f mm, of all sets %d and %.3f", name, c.awkward, c.max, want.awkward, want.max)
		}
		if !got.whole || math.Abs(got.bound-want.max) > 1e-5 {
			t.Errorf("%s: exact %v, bound %.3f mm, the least is %.3f", name, got.whole, got.bound, want.max)
		}
		if floor > want.max+1e-6 {
			t.Errorf("%s: floor %.3f mm above the least, %.3f", name, floor, want.max)
		}
		if wayOf(got.moves, len(m.heats)) == Mixed {
			mixed++
		}
		if floor < want.max-1 {
			above++
		}
	})
	if looked < 50 || mixed < 5 || above < 5 {
		t.Errorf("%d samples, %d mixed orders, %d above the floor: too few to tell", looked, mixed, above)
	}
}

// A search that is cut short gives a bound that no order goes below, from both ends;
// the longer it runs, the higher.
func TestBoundOfASearchCutShort(t *testing.T) {
	cut, raised := 0, 0
	samples(t, func(name string, fresh func() *model) {
		want, ok := fresh().cheapestOfAll()
		if !ok {
			return
		}
		for _, forward := range []bool{false, true} {
			before := 0.0
			for _, effort := range [...]int{0, 1, 3, 6, 10, 20, 40} {
				m := fresh()
				floor := m.floor()
				got := m.raise(true, forward, floor, effort)
				if got.whole {
					break
				}
				if got.bound > want.max+1e-5 || want.awkward == 0 && got.bound < before-1e-9 {
					t.Errorf("%s, effort %d: bound %.3f mm after %.3f, the least is %.3f", name, effort, got.bound, before, want.max)
				}
				before = got.bound
				cut++
				if got.bound > floor+1 {
					raised++
				}
			}
		}
	})
	if cut < 200 || raised < 10 {
		t.Errorf("cut short %d times, %d bounds above the floor: too few to tell", cut, raised)
	}
}

// Of a unit with more heats than can be gone over, the plan says how much less the
// largest swing might be.
func TestBoundOfALongUnit(t *testing.T) {
	draw := rand.New(rand.NewPCG(8, 4))
	straight, turns := []float64{90}, []float64{}
	for k := range 18 {
		straight = append(straight, 50+60*draw.Float64())
		turns = append(turns, float64(1-2*(k/2%2))*(60+40*draw.Float64()))
	}
	m := chain(straight, turns, 12)
	any := m.peel(true, anySwing)
	if len(any.moves) == 0 {
		t.Fatal("the chain has no order: the test looks at nothing")
	}
	f := m.best(any)
	if f.bound > f.last().max+slack || f.bound < m.floor()-slack || f.whole != (f.bound >= f.last().max-slack) {
		t.Errorf("whole %v, bound %.3f mm, found %.3f, floor %.3f", f.whole, f.bound, f.last().max, m.floor())
	}
	if first := any.moves[len(any.moves)-1].cost.max; f.last().max > 0.8*first {
		t.Errorf("the search made little of the first order: from %.3f mm to %.3f", first, f.last().max)
	}
}
