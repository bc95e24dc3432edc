package order

import (
	"math/bits"
	"math/rand/v2"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// knot is a run with corners, a double-back and drops that crosses itself: some of
// its heats stop others, and some sets of them lead nowhere.
func knot(t testing.TB) Problem {
	t.Helper()
	v := func(x, y, z, r float64) tube.Vertex { return tube.Vertex{P: geom.Point3{X: x, Y: y, Z: z}, R: r} }
	segs, err := tube.Fillet([]tube.Vertex{v(0, 0, -75, 0), v(0, 0, 0, 15), v(120, 30, 0, 12), v(120, 30, -24, 12), v(0, 20, -24, 12),
		v(-30, 90, 0, 15), v(70, 150, 0, 15), v(90, 70, -18, 15), v(30, -60, -18, 15), v(-60, -90, 0, 15), v(-150, -20, 0, 0)})
	if err != nil {
		t.Fatal(err)
	}
	var tb tube.Tube
	for _, s := range segs {
		tb = append(tb, tube.Piece{Seg: s})
	}
	tab := bend.Tabulate(tb)
	return Problem{Tube: tb, Heats: bend.Heats(tb, &tab, glass.Default(12)), Rules: glass.Default(12), To: tb.Length(), Head: 100, Tail: 100}
}

// What is remembered of a refusal holds: a search that has seen thousands of states
// answers every question as one that has seen none.
func TestRefusalsHold(t *testing.T) {
	p := knot(t)
	old := newModel(p)
	n := len(old.heats)
	draw := rand.New(rand.NewPCG(1, 2))
	refused, seen := 0, 0
	for range 120 {
		var done set
		done[0] = draw.Uint64() & (1<<n - 1)
		h := draw.IntN(n)
		done = done.without(h)
		awkward := draw.IntN(2) == 0
		if _, ok := old.refused(done, h); ok {
			seen++
		}
		got, want := old.ask(done, h, awkward).stops(awkward), newModel(p).ask(done, h, awkward).stops(awkward)
		if (got == Possible) != (want == Possible) {
			t.Fatalf("heat %d with %b made: %d remembered, %d looked at afresh", h, done[0], got, want)
		}
		if want != Possible {
			refused++
		}
	}
	if refused < 12 || refused > 108 || seen < 5 {
		t.Errorf("%d of 120 questions refused, %d from memory: too few to tell", refused, seen)
	}
}

// Taking apart from the end finds an order wherever going over all sets does.
func TestPeelingAgreesWithAllSets(t *testing.T) {
	whole := knot(t)
	n := len(whole.Heats)
	yes, no := 0, 0
	for i := range n {
		for j := i + 2; j <= min(n, i+7); j++ {
			p := whole
			p.Heats, p.Offset = whole.Heats[i:j], 0
			p.Bends = nil
			if i > 0 {
				p.From, p.Head = (whole.Heats[i-1].End+whole.Heats[i].Start)/2, 150
			}
			if j < n {
				p.To, p.Tail = (whole.Heats[j-1].End+whole.Heats[j].Start)/2, 150
			}
			m := newModel(p)
			want := m.reachesAll()
			q := newModel(p).peel(true, anySwing)
			if got := len(q.moves) > 0; got != want && !q.cut || got && !want {
				t.Errorf("heats %d to %d: found %v, there is one: %v", i, j, got, want)
			}
			if want {
				yes++
			} else {
				no++
			}
		}
	}
	if yes == 0 || no == 0 {
		t.Errorf("%d pieces with an order, %d without: nothing told apart", yes, no)
	}
}

// reachesAll goes over all sets of heats.
func (m *model) reachesAll() bool {
	n := len(m.heats)
	can := make([]bool, 1<<n)
	can[0] = true
	for b := range can {
		for rest := b; can[b] && rest < len(can)-1; {
			h := bits.TrailingZeros(^uint(rest))
			rest |= 1 << h
			var done set
			done[0] = uint64(b)
			if m.ask(done, h, true).stops(true) == Possible {
				can[b|1<<h] = true
			}
		}
	}
	return can[1<<n-1]
}

// A block names only heats that cannot come last, and at least one.
func TestBlockNamesWhatCannotComeLast(t *testing.T) {
	p := knot(t)
	p.Rules.Hold, p.Head, p.Tail = 300, 300, 300 // arms too long for the bays
	_, block := Find(p)
	if block == nil {
		t.Fatal("the knot with long arms has an order: the test looks at nothing")
	}
	if len(block.Stops) == 0 {
		t.Fatal("nothing is named")
	}
	m := newModel(p)
	var core set
	for _, s := range block.Stops {
		core = core.with(s.Heat)
	}
	for _, s := range block.Stops {
		if m.ask(core.without(s.Heat), s.Heat, true).stops(true) == Possible {
			t.Errorf("heat %d can come last", s.Heat)
		}
	}
}

// A search without a budget ends at once, and says that it proved nothing.
func TestBudgetEndsTheSearch(t *testing.T) {
	p := knot(t)
	p.Budget = &Budget{}
	_, block := Find(p)
	if block == nil || block.Proved {
		t.Errorf("without a budget: %+v", block)
	}
	p.Heats, p.To, p.Tail = p.Heats[:2], (p.Heats[1].End+p.Heats[2].Start)/2, 150
	whole := NewBudget(len(p.Heats))
	p.Budget = NewBudget(len(p.Heats))
	if _, block := Find(p); block != nil {
		t.Fatalf("with one: %+v", block)
	}
	if p.Budget.left >= whole.left || p.Budget.left < 0 {
		t.Errorf("of %d, %d are left", whole.left, p.Budget.left)
	}
}

func TestSetWithin(t *testing.T) {
	var all set
	for i := range MaxHeats {
		all = all.with(i)
	}
	for _, c := range [][2]int{{0, 0}, {0, 63}, {3, 64}, {63, 128}, {70, 190}, {255, 255}, {0, 255}} {
		got := all.within(c[0], c[1])
		for i := range MaxHeats {
			if got.has(i) != (i >= c[0] && i <= c[1]) {
				t.Errorf("from %d to %d: %d is %v", c[0], c[1], i, got.has(i))
			}
		}
	}
}
