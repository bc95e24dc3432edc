package plan_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/order"
	"tubewright/pattern/plan"
	"tubewright/pattern/stick"
	"tubewright/pattern/tube"
)

const d = 12.0

func v(x, y, z, r float64) tube.Vertex {
	return tube.Vertex{P: geom.Point3{X: x, Y: y, Z: z}, R: r}
}

func unit(t testing.TB, vs ...tube.Vertex) plan.Unit {
	t.Helper()
	segs, err := tube.Fillet(vs)
	if err != nil {
		t.Fatal(err)
	}
	var tb tube.Tube
	for _, s := range segs {
		tb = append(tb, tube.Piece{Seg: s})
	}
	tb[0].Role, tb[len(tb)-1].Role = tube.Leg, tube.Leg
	tab := bend.Tabulate(tb)
	return plan.Unit{ID: "U1", Tube: tb, Table: &tab, Heats: bend.Heats(tb, &tab, glass.Default(d))}
}

const rc = 1.27 * d

func letterL(t testing.TB, x float64) plan.Unit {
	return unit(t, v(x, 138, -60-rc, 0), v(x, 138, 0, rc), v(x, 0, 0, rc), v(x+80, 0, 0, rc), v(x+80, 0, -60-rc, 0))
}

// spiral is a square spiral in the face, wound so that neither arm can be swung
// past the other when the tube is bent whole: its inner leg stands in the bay.
func spiral(t testing.TB, ends float64) plan.Unit {
	return unit(t,
		v(0, 0, -60-rc, 0), v(0, 0, 0, rc), v(ends, 0, 0, rc), v(ends, ends, 0, rc), v(40, ends, 0, rc), v(40, 60, 0, rc),
		v(ends-50, 60, 0, rc), v(ends-50, ends-50, 0, rc), v(ends-50, ends-50, -60-rc, 0))
}

func TestEveryHeatHasANumberAMarkAndAStep(t *testing.T) {
	for name, u := range map[string]plan.Unit{"L": letterL(t, 0), "spiral": spiral(t, 260)} {
		p, found := plan.Make(u, glass.Default(d))
		if w, _ := finding.Worst(found); w > finding.Note {
			t.Errorf("%s: %v", name, found)
		}
		var numbers, told []int
		for _, h := range u.Heats {
			numbers = append(numbers, h.Number)
		}
		for _, x := range p.Tell(u.Heats, bend.Strains(u.Heats, glass.Default(d)), plan.English()) {
			told = append(told, x.Heat.Number)
			if strings.Contains(x.Bend+x.How+x.Why+strings.Join(x.Watch, ""), "%!") || x.How == "" || x.Why == "" {
				t.Errorf("%s: words %+v", name, x)
			}
		}
		slices.Sort(numbers)
		for i := range u.Heats {
			if numbers[i] != i+1 || told[i] != i+1 {
				t.Fatalf("%s: numbers %v, told in the order %v", name, numbers, told)
			}
		}
		marks := map[int]int{}
		for _, piece := range p.Pieces {
			for _, m := range piece.Marks {
				if m.Kind == stick.Middle {
					marks[m.Heat]++
				}
			}
		}
		for i := range u.Heats {
			if marks[i+1] != 1 {
				t.Errorf("%s: heat %d has %d middles on the sticks", name, i+1, marks[i+1])
			}
		}
	}
}

// At every step there is the held length of glass on both sides of the fire.
func TestColdGlassOnBothSides(t *testing.T) {
	rules := glass.Default(d)
	for _, stock := range []float64{1219, 500} {
		rules.Stick = stock
		u := spiral(t, 260)
		p, _ := plan.Make(u, rules)
		for _, s := range p.Sections {
			for _, step := range s.Order.Steps {
				h := u.Heats[s.First+step.Heat]
				if h.From-step.Glass[0] < rules.Hold-1e-6 || step.Glass[1]-h.To < rules.Hold-1e-6 {
					t.Errorf("sticks of %g: heat %d from %.1f to %.1f with glass from %.1f to %.1f", stock, h.Number, h.From, h.To, step.Glass[0], step.Glass[1])
				}
			}
		}
		for _, piece := range p.Pieces {
			if piece.Length > stock+1e-6 {
				t.Errorf("a piece of %.1f mm from sticks of %g", piece.Length, stock)
			}
		}
	}
}

// Every stick that is not there at first is welded on in some step, once.
func TestSticksAreJoinedOnce(t *testing.T) {
	rules := glass.Default(d)
	rules.Stick = 500
	u := spiral(t, 260)
	p, _ := plan.Make(u, rules)
	for i, s := range p.Sections {
		joined := map[int]int{}
		for _, step := range s.Order.Steps {
			for _, j := range step.Joins {
				joined[j]++
			}
		}
		if len(s.Welds) == 0 {
			t.Errorf("section %d has one stick: the test looks at nothing", i)
		}
		for j := range s.Welds {
			if joined[j] != 1 {
				t.Errorf("section %d: weld %d is made %d times", i, j, joined[j])
			}
		}
	}
	for _, s := range p.Sections {
		for _, w := range s.Welds {
			for _, h := range u.Heats {
				if w > h.From-rules.WeldClear+1e-9 && w < h.To+rules.WeldClear-1e-9 {
					t.Errorf("a weld at %.1f mm, heat %d from %.1f to %.1f", w, h.Number, h.From, h.To)
				}
			}
		}
	}
}

// caught is a square spiral whose inner end lies flat in the bay. Held by 250 mm
// the glass would have to reach through the wall of the bay, 220 mm from the last
// corner: no order can be, by hand. Made in parts, the end is bent outside the bay.
func caught(t testing.TB) (plan.Unit, glass.Rules) {
	u := unit(t, v(-300, 0, 0, 0), v(260, 0, 0, rc), v(260, 260, 0, rc), v(40, 260, 0, rc), v(40, 60, 0, rc), v(180, 60, 0, 0))
	rules := glass.Default(d)
	rules.Hold = 250
	return u, rules
}

func TestSpliceWhereNoOrderExists(t *testing.T) {
	u, rules := caught(t)
	heats := u.Heats
	tail := rules.Hold - (u.Tube.Length() - heats[len(heats)-1].To)
	whole := order.Problem{Tube: u.Tube, Heats: heats, Rules: rules, To: u.Tube.Length(), Tail: tail}
	_, block := order.Find(whole)
	if block == nil || !block.Proved {
		t.Fatalf("in one piece: %+v, want the proof that nothing can be last", block)
	}
	for _, stop := range block.Stops {
		if stop.Reason != order.Swing || stop.Other < 0 {
			t.Errorf("heat %d is stopped by heat %d, reason %d: want a pair that collides", stop.Heat, stop.Other, stop.Reason)
		}
	}
	p, found := plan.Make(u, rules)
	if len(p.Sections) != 2 || p.Sections[0].Block != nil || p.Sections[1].Block != nil {
		t.Fatalf("made in %d parts: %v", len(p.Sections), found)
	}
	if p.Sections[1].From != p.Sections[0].To || p.Sections[1].First != p.Sections[0].Last {
		t.Error("the parts do not meet")
	}
	i := slices.IndexFunc(found, func(f finding.Finding) bool { return f.Code == "splice" })
	if i < 0 || found[i].Severity != finding.Note {
		t.Errorf("findings %v", found)
	}
	cut := p.Sections[0].To
	for _, h := range u.Heats {
		if cut > h.From-rules.WeldClear && cut < h.To+rules.WeldClear {
			t.Errorf("the splice at %.1f mm is in the way of the heat from %.1f to %.1f", cut, h.From, h.To)
		}
	}
}

// Where there is no place for a splice either, the finding names the pair.
func TestFindingWhereNothingHelps(t *testing.T) {
	u, rules := caught(t)
	u.Avoid = []stick.Span{{From: 0, To: u.Tube.Length()}}
	p, found := plan.Make(u, rules)
	i := slices.IndexFunc(found, func(f finding.Finding) bool { return f.Code == "boxed-in" })
	if i < 0 {
		t.Fatalf("%d parts, no finding", len(p.Sections))
	}
	if f := found[i]; f.Severity != finding.Warning || !strings.Contains(f.What, "whichever of heats") || f.Remedy == "" {
		t.Errorf("finding %+v", f)
	}
	for k, h := range u.Heats {
		if h.Number != k+1 {
			t.Errorf("heat %d along the tube has number %d", k+1, h.Number)
		}
	}
}

func TestSamePlanEveryTime(t *testing.T) {
	text := func() string {
		u := spiral(t, 260)
		p, found := plan.Make(u, glass.Default(d))
		return fmt.Sprint(u.Heats, *u.Table, p.Pieces, found, p.Tell(u.Heats, nil, plan.English()))
	}
	if first, second := text(), text(); first != second {
		t.Error("two runs differ")
	}
}

// The job's pieces are as long together as its glass, its tails and its allowances.
func TestPiecesAddUp(t *testing.T) {
	rules := glass.Default(d)
	rules.Allowance = glass.Allowance{Corner: 3, DropBack: -2}
	u := spiral(t, 260)
	want := u.Tube.Length()
	for _, h := range u.Heats {
		switch h.Kind {
		case bend.Corner:
			want += 3
		case bend.DropBack:
			want -= 2
		}
	}
	p, _ := plan.Make(u, rules)
	got := 0.0
	for _, s := range p.Sections {
		want += s.Head + s.Tail
	}
	for _, piece := range p.Pieces {
		got += piece.Length
	}
	if math.Abs(got-want) > 1e-6 {
		t.Errorf("pieces of %.3f mm together, want %.3f", got, want)
	}
}

// Signs of ten, twenty and forty letters, each its own unit: what an ordinary sign
// costs to plan, and that the cost grows with the units.
func BenchmarkSign(b *testing.B) {
	for _, letters := range []int{10, 20, 40} {
		b.Run(fmt.Sprintf("%d letters", letters), func(b *testing.B) {
			for b.Loop() {
				for k := range letters / 2 {
					plan.Make(letterL(b, float64(k)*200), glass.Default(d))
					plan.Make(spiral(b, 260), glass.Default(d))
				}
			}
		})
	}
}

// One unit of many heats: letters on a line, which joins them behind.
func BenchmarkLongUnit(b *testing.B) {
	for _, letters := range []int{2, 4, 8} {
		vs := []tube.Vertex{v(0, 0, -60-rc, 0)}
		for k := range letters {
			x := 160 * float64(k)
			vs = append(vs, v(x, 0, 0, rc), v(x, 140, 0, rc), v(x+50, 40, 0, rc), v(x+100, 140, 0, rc), v(x+100, 0, 0, rc))
		}
		vs = append(vs, v(160*float64(letters), 0, 0, rc), v(160*float64(letters), 0, -60-rc, 0))
		u := unit(b, vs...)
		b.Run(fmt.Sprintf("%d heats", len(u.Heats)), func(b *testing.B) {
			for b.Loop() {
				again := unit(b, vs...)
				plan.Make(again, glass.Default(d))
			}
		})
	}
}

// The plan does not depend on the hand of a letter, on where it stands or how it is
// turned: the same heats in the same order, the same marks on the same sticks. Told
// from the other end, it takes as much glass, in as many pieces and parts.
func TestPlansOfMirroredTurnedAndReversedUnits(t *testing.T) {
	spine := []tube.Vertex{v(0, 0, -60-rc, 0), v(0, 0, 0, rc), v(260, 0, 0, rc), v(260, 260, 0, rc), v(40, 260, 0, rc), v(40, 60, 0, rc),
		v(210, 60, 0, rc), v(210, 210, 0, rc), v(210, 210, -60-rc, 0)}
	rules := glass.Default(d)
	rules.Stick = 700
	made := func(to func(geom.Point3) geom.Point3) (plan.Unit, plan.Plan) {
		vs := slices.Clone(spine)
		for i := range vs {
			vs[i].P = to(vs[i].P)
		}
		u := unit(t, vs...)
		p, _ := plan.Make(u, rules)
		return u, p
	}
	first, want := made(func(p geom.Point3) geom.Point3 { return p })
	for name, to := range map[string]func(geom.Point3) geom.Point3{
		"mirrored": func(p geom.Point3) geom.Point3 { p.X = -p.X; return p },
		"turned":   func(p geom.Point3) geom.Point3 { return geom.Point3{X: 500 - p.Y, Y: p.X - 40, Z: p.Z} },
	} {
		u, p := made(to)
		for i := range u.Heats {
			if u.Heats[i].Number != first.Heats[i].Number {
				t.Errorf("%s: heat %d along the tube is made as number %d, not %d", name, i+1, u.Heats[i].Number, first.Heats[i].Number)
			}
		}
		if len(p.Pieces) != len(want.Pieces) || len(p.Sections) != len(want.Sections) {
			t.Fatalf("%s: %d pieces in %d parts, not %d in %d", name, len(p.Pieces), len(p.Sections), len(want.Pieces), len(want.Sections))
		}
		for i, k := range p.Pieces {
			if math.Abs(k.Length-want.Pieces[i].Length) > 1e-6 || len(k.Marks) != len(want.Pieces[i].Marks) {
				t.Errorf("%s: stick %d of %.3f mm with %d marks, not %.3f with %d", name, k.Number, k.Length, len(k.Marks), want.Pieces[i].Length, len(want.Pieces[i].Marks))
				continue
			}
			for j, m := range k.Marks {
				if w := want.Pieces[i].Marks[j]; math.Abs(m.At-w.At) > 1e-6 || m.Kind != w.Kind || m.Heat != w.Heat {
					t.Errorf("%s: stick %d has %+v, not %+v", name, k.Number, m, w)
				}
			}
		}
	}
	slices.Reverse(spine)
	_, back := made(func(p geom.Point3) geom.Point3 { return p })
	sum := func(p plan.Plan) (mm float64) {
		for _, k := range p.Pieces {
			mm += k.Length
		}
		return mm
	}
	if math.Abs(sum(back)-sum(want)) > 1e-6 || len(back.Pieces) != len(want.Pieces) || len(back.Sections) != len(want.Sections) {
		t.Errorf("from the other end: %.3f mm in %d pieces and %d parts, not %.3f in %d and %d",
			sum(back), len(back.Pieces), len(back.Sections), sum(want), len(want.Pieces), len(want.Sections))
	}
}
