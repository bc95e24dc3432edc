package stick

import (
	"math"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// straight is a unit of one straight run, lit but for hidden stretches, with
// corners at the places given.
func heatAt(number int, from, to float64) bend.Heat {
	return bend.Heat{Number: number, Kind: bend.Corner, Start: from, End: to, From: from, To: to}
}

func run(parts ...struct {
	n    float64
	role tube.Role
}) tube.Tube {
	var out tube.Tube
	x := 0.0
	for _, p := range parts {
		out = append(out, tube.Piece{Seg: geom.Line3{A: geom.Point3{X: x}, B: geom.Point3{X: x + p.n}}, Role: p.role})
		x += p.n
	}
	return out
}

type part = struct {
	n    float64
	role tube.Role
}

func same(s float64) float64 { return s }

// Trade notes, row O8 (S11): 8 ft of glass in 4 ft sticks are 2 sticks, and with
// the electrodes 3 welds.
func TestEightFeetOfGlass(t *testing.T) {
	n := 8 * 304.8
	tb := run(part{n, tube.Lit})
	welds, ok := Welds(Sites(tb, nil, 24, nil), 0, n, 0, 0, n/2, same)
	if !ok || len(welds) != 1 || math.Abs(welds[0]-n/2) > 1e-6 {
		t.Fatalf("welds %v %v, want one in the middle", welds, ok)
	}
	pieces := Section{Span: Span{0, n}, Welds: welds}.Pieces("U1", 0, 1, nil, same)
	if got := len(pieces) - 1 + 2; len(pieces) != 2 || got != 3 {
		t.Errorf("%d sticks and %d welds, want 2 and 3", len(pieces), got)
	}
}

func TestSitesKeepClearOfHeatsLegsAndSupports(t *testing.T) {
	tb := run(part{60, tube.Leg}, part{400, tube.Lit}, part{300, tube.Hidden}, part{60, tube.Leg})
	heats := []bend.Heat{heatAt(1, 50, 74), heatAt(2, 300, 324)}
	sites := Sites(tb, heats, 24, []Span{{600, 620}})
	want := []Site{{Span{98, 276}, false}, {Span{348, 460}, false}, {Span{460, 600}, true}, {Span{620, 760}, true}}
	if len(sites) != len(want) {
		t.Fatalf("sites %+v, want %+v", sites, want)
	}
	for i := range want {
		if sites[i] != want[i] {
			t.Errorf("site %d: %+v, want %+v", i, sites[i], want[i])
		}
	}
}

// Straight glass between the bends of one heat is no place for a weld, be its zone
// elsewhere: the heat is made in one stick.
func TestNoSiteBetweenTheBendsOfOneHeat(t *testing.T) {
	tb := run(part{60, tube.Leg}, part{400, tube.Lit}, part{300, tube.Hidden}, part{60, tube.Leg})
	h := heatAt(1, 50, 74)
	h.Last = 2
	sites := Sites(tb, []bend.Heat{h}, 24, nil)
	if len(sites) != 1 || sites[0] != (Site{Span{460, 760}, true}) {
		t.Errorf("sites %+v, want the last run alone", sites)
	}
}

func TestWeldsPreferHiddenGlass(t *testing.T) {
	// 1500 mm of glass in sticks of 1000: a weld from 500 to 1000 will do, and 560
	// to 640 is hidden.
	tb := run(part{560, tube.Lit}, part{80, tube.Hidden}, part{860, tube.Lit})
	welds, ok := Welds(Sites(tb, nil, 24, nil), 0, 1500, 0, 0, 1000, same)
	if !ok || len(welds) != 1 || welds[0] < 560 || welds[0] > 640 {
		t.Errorf("welds %v, want one on hidden glass", welds)
	}
	if _, ok := Welds(nil, 0, 1500, 0, 0, 1000, same); ok {
		t.Error("a weld without a site")
	}
	// No piece is longer than its stick, tails included.
	welds, ok = Welds(Sites(tb, nil, 24, nil), 0, 1500, 90, 90, 600, same)
	if !ok {
		t.Fatal("three sticks of 600 do not do for 1680 mm")
	}
	cuts := append(append([]float64{-90}, welds...), 1590)
	for i := 1; i < len(cuts); i++ {
		if n := cuts[i] - cuts[i-1]; n > 600+1e-9 {
			t.Errorf("piece %d of %g mm", i, n)
		}
	}
}

func TestMarksOfAStick(t *testing.T) {
	heats := []bend.Heat{heatAt(2, 60, 84), heatAt(1, 200, 240)}
	rules := glass.Default(12)
	rules.Allowance.Corner = 6 // this shop's corners take 6 mm more
	length := Allowed(heats, rules.Allowance)
	p := Section{Span: Span{0, 400}, Head: 90, Tail: 50}.Pieces("U1", 0, 1, heats, length)[0]
	want := []Mark{
		{90, Trim, 0}, {150, HeatsAt, 2}, {165, Middle, 2}, {180, HeatsTo, 2},
		{296, HeatsAt, 1}, {319, Middle, 1}, {342, HeatsTo, 1}, {502, Trim, 0}, {552, End, 0},
	}
	if len(p.Marks) != len(want) {
		t.Fatalf("marks %+v", p.Marks)
	}
	for i, m := range want {
		if g := p.Marks[i]; g.Kind != m.Kind || g.Heat != m.Heat || math.Abs(g.At-m.At) > 1e-9 {
			t.Errorf("mark %d: %+v, want %+v", i, g, m)
		}
	}
	if math.Abs(p.Length-552) > 1e-9 {
		t.Errorf("cut %.2f mm, want 552: 400 of glass, 140 to hold, 12 for two corners", p.Length)
	}
}

// A unit told from B has the same marks counted from the other end.
func TestMarksFromTheOtherEnd(t *testing.T) {
	const n = 700.0
	heats := []bend.Heat{heatAt(1, 60, 84), heatAt(2, 200, 240), heatAt(3, 600, 630)}
	var back []bend.Heat
	for i := len(heats) - 1; i >= 0; i-- {
		back = append(back, heatAt(heats[i].Number, n-heats[i].To, n-heats[i].From))
	}
	a := Section{Span: Span{0, n}, Head: 90, Tail: 40}.Pieces("U", 0, 1, heats, same)[0]
	b := Section{Span: Span{0, n}, Head: 40, Tail: 90}.Pieces("U", 0, 1, back, same)[0]
	turned := map[string]string{HeatsAt: HeatsTo, HeatsTo: HeatsAt, Trim: Trim, Middle: Middle}
	for _, m := range a.Marks {
		if m.Kind == End {
			continue
		}
		found := false
		for _, o := range b.Marks {
			found = found || o.Kind == turned[m.Kind] && o.Heat == m.Heat && math.Abs(o.At-(b.Length-m.At)) < 1e-9
		}
		if !found {
			t.Errorf("mark %+v has no partner from the other end", m)
		}
	}
}
