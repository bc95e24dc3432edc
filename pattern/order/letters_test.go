package order_test

import (
	"math"
	"slices"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/order"
	"tubewright/pattern/tube"
)

const d = 12.0

func v(x, y, z, r float64) tube.Vertex {
	return tube.Vertex{P: geom.Point3{X: x, Y: y, Z: z}, R: r}
}

func fillet(t testing.TB, vs ...tube.Vertex) tube.Tube {
	t.Helper()
	segs, err := tube.Fillet(vs)
	if err != nil {
		t.Fatal(err)
	}
	var out tube.Tube
	for _, s := range segs {
		out = append(out, tube.Piece{Seg: s})
	}
	return out
}

// problem is a whole unit with the tails that its held length asks for.
func problem(tb tube.Tube, rules glass.Rules) order.Problem {
	tab := bend.Tabulate(tb)
	heats := bend.Heats(tb, &tab, rules)
	n := tb.Length()
	p := order.Problem{Tube: tb, Heats: heats, Rules: rules, To: n}
	p.Head = max(0, rules.Hold-heats[0].From)
	p.Tail = max(0, rules.Hold-(n-heats[len(heats)-1].To))
	return p
}

// letterA is the run of trade notes 2.4 and 2.5 at a centreline height of 138 for
// a tube of 12 mm: left foot up to the bar, into the bar, double-back short of
// the right leg, back behind the bar, a tilted turn down to the leg line, up to
// the apex, down to the right foot. Its vertices are those of the geometry notes
// 5b, 7 and 9.
func letterA(t testing.TB) tube.Tube {
	const rc, u, yv, bar = 1.27 * d, 1.0 * d, 173.1, 45.0
	x := 55 * bar / yv
	e := geom.Vec{X: 55, Y: yv}.Unit()
	run := 2 * u / math.Tan(42*math.Pi/180)
	tip := 110 - x - 18
	return fillet(t,
		v(0, 0, -60-rc, 0), v(0, 0, 0, rc), v(x, bar, 0, rc), v(tip, bar, 0, u), v(tip, bar, -2*u, u),
		v(x, bar, -2*u, rc), v(x+e.X*run, bar+e.Y*run, 0, rc), v(55, yv, 0, rc), v(110, 0, 0, rc), v(110, 0, -60-rc, 0))
}

// Heats of letterA along the tube.
const (
	leftFoot = iota
	intoBar
	tipOfBar
	dropToLeg
	apex
	rightFoot
)

func steps(t testing.TB, p order.Problem) (order.Plan, []int) {
	t.Helper()
	plan, block := order.Find(p)
	if block != nil {
		t.Fatalf("no order: %+v", *block)
	}
	var seq []int
	for _, s := range plan.Steps {
		seq = append(seq, s.Heat)
	}
	return plan, seq
}

// Trade notes 2.4 (P, S10b): the inside of an A is formed first, into the crossbar,
// double-back over the top, drop back to the bench; then the legs. Nothing in the
// search knows of insides: it must come out by itself, from whichever end the
// tube is told.
func TestInsideOfTheAFirst(t *testing.T) {
	for _, reversed := range []bool{false, true} {
		tb := letterA(t)
		n := rightFoot
		heat := func(i int) int { return i }
		if reversed {
			tb = tb.Reversed()
			heat = func(i int) int { return n - i }
		}
		p := problem(tb, glass.Default(d))
		if len(p.Heats) != n+1 || p.Heats[heat(tipOfBar)].Kind != bend.DoubleBack {
			t.Fatalf("%d heats: the letter is not the one described", len(p.Heats))
		}
		plan, seq := steps(t, p)
		at := func(i int) int { return slices.Index(seq, heat(i)) }
		inside := []int{intoBar, tipOfBar, dropToLeg}
		for _, in := range inside {
			for _, leg := range []int{apex, rightFoot} {
				if at(in) > at(leg) {
					t.Errorf("reversed %v: order %v makes heat %d after heat %d", reversed, seq, heat(in), heat(leg))
				}
			}
		}
		if at(intoBar) > at(tipOfBar) || at(tipOfBar) > at(dropToLeg) {
			t.Errorf("reversed %v: the three moves of the inside come in the order %v", reversed, seq)
		}
		// And for a reason: with drop and apex formed, the double-back is stopped.
		for _, s := range plan.Steps {
			if s.Heat == heat(tipOfBar) && (!slices.Contains(s.Before, heat(dropToLeg)) || !slices.Contains(s.Before, heat(apex))) {
				t.Errorf("reversed %v: the double-back waits for nothing: %v", reversed, s.Before)
			}
		}
	}
}

func mirrored(tb tube.Tube) tube.Tube {
	at := func(p geom.Point3) geom.Point3 { p.X = -p.X; return p }
	dir := func(w geom.Vec3) geom.Vec3 { w.X = -w.X; return w }
	return mapped(tb, at, dir, -1)
}

func turned(tb tube.Tube, a geom.Angle) tube.Tube {
	axis := geom.Vec3{Z: 1}
	dir := func(w geom.Vec3) geom.Vec3 { return w.Turned(axis, a) }
	at := func(p geom.Point3) geom.Point3 { return geom.Point3{X: 700, Y: -40}.Add(dir(p.Sub(geom.Point3{}))) }
	return mapped(tb, at, dir, 1)
}

// mapped moves a tube; hand is −1 for a mirror image, whose arcs turn about the
// image of their axis the other way.
func mapped(tb tube.Tube, at func(geom.Point3) geom.Point3, dir func(geom.Vec3) geom.Vec3, hand float64) tube.Tube {
	out := make(tube.Tube, len(tb))
	for i, p := range tb {
		switch s := p.Seg.(type) {
		case geom.Line3:
			p.Seg = geom.Line3{A: at(s.A), B: at(s.B)}
		case geom.Arc3:
			p.Seg = geom.Arc3{Centre: at(s.Centre), Axis: dir(s.Axis).Mul(hand), From: dir(s.From), Angle: s.Angle}
		}
		out[i] = p
	}
	return out
}

// letterE is the hand-built E of the geometry notes at double-backs of 1 D.
func letterE(t testing.TB) tube.Tube {
	const rc, u, w, high, mid = 1.27 * d, 1.0 * d, 80.0, 138.0, 71.76
	run := 2 * u / math.Tan(52*math.Pi/180)
	return fillet(t,
		v(w, high, -60-rc, 0), v(w, high, 0, rc), v(0, high, 0, rc), v(0, mid, 0, rc), v(66, mid, 0, u), v(66, mid, -2*u, u),
		v(0, mid, -2*u, rc), v(0, mid-run, 0, rc), v(0, 0, 0, rc), v(w, 0, 0, rc), v(w, 0, -60-rc, 0))
}

// The plan of a letter does not depend on where it stands, on its hand, or on the
// end it is told from.
func TestPlansOfMovedMirroredAndReversedLetters(t *testing.T) {
	for name, make := range map[string]func(testing.TB) tube.Tube{"A": letterA, "E": letterE} {
		tb := make(t)
		rules := glass.Default(d)
		want, seq := steps(t, problem(tb, rules))
		for how, other := range map[string]tube.Tube{"turned": turned(tb, 1.1), "mirrored": mirrored(tb)} {
			got, s := steps(t, problem(other, rules))
			if !slices.Equal(s, seq) || math.Abs(got.LargestTravel()-want.LargestTravel()) > 1e-6 {
				t.Errorf("%s %s: order %v with a largest swing of %.3f mm, %v with %.3f before", name, how, s, got.LargestTravel(), seq, want.LargestTravel())
			}
		}
		got, _ := steps(t, problem(tb.Reversed(), rules))
		if math.Abs(got.LargestTravel()-want.LargestTravel()) > 1e-6 {
			t.Errorf("%s told from the other end: largest swing %.3f mm, %.3f before", name, got.LargestTravel(), want.LargestTravel())
		}
	}
}

// bowed is a U of which one leg is bent by half a degree in its middle: no heat, but
// glass that goes with a corner.
func bowed(t testing.TB) tube.Tube {
	s, c := math.Sin(0.5*math.Pi/180), math.Cos(0.5*math.Pi/180)
	return fillet(t, v(-80, 300, 0, 0), v(-80, 0, 0, 15), v(120, 0, 0, 15), v(120, 200, 0, 9000), v(120-200*s, 200+200*c, 0, 15), v(300, 400, 0, 0))
}

// Every heat is made once, and the simulation run again over the steps as they
// stand finds each possible: the last picture of a plan is the finished unit.
func TestLastPictureIsTheFinishedUnit(t *testing.T) {
	for name, make := range map[string]func(testing.TB) tube.Tube{"A": letterA, "E": letterE, "a slight bend": bowed} {
		tb := make(t)
		p := problem(tb, glass.Default(d))
		plan, seq := steps(t, p)
		sorted := slices.Sorted(slices.Values(seq))
		for i, h := range sorted {
			if h != i {
				t.Fatalf("%s: order %v", name, seq)
			}
		}
		_, after := p.Pictures(plan, len(plan.Steps)-1)
		for _, s := range after {
			for _, q := range s.Points {
				if off := distance(tb, q, p.Head+p.Tail); off > 1e-6 {
					t.Errorf("%s: a point of the last picture is %.4f mm off the tube", name, off)
				}
			}
		}
	}
}

// distance returns how far a bench point is from the tube, whose ends are
// lengthened by tail.
func distance(tb tube.Tube, q geom.Point3, tail float64) float64 {
	front := geom.Point3{X: -q.X, Y: q.Y, Z: -q.Z}
	best := math.Inf(1)
	segs := []geom.Segment3{
		geom.Line3{A: tb.Start().Add(tb.StartDir().Mul(-tail)), B: tb.Start()},
		geom.Line3{A: tb.End(), B: tb.End().Add(tb.EndDir().Mul(tail))},
	}
	for _, p := range tb {
		segs = append(segs, p.Seg)
	}
	for _, s := range segs {
		switch s := s.(type) {
		case geom.Line3:
			n := s.Length()
			k := max(0, min(n, front.Sub(s.A).Dot(s.DirAt(0))))
			best = min(best, s.PointAt(k).Dist(front))
		case geom.Arc3:
			w := front.Sub(s.Centre)
			flat := w.Sub(s.Axis.Mul(w.Dot(s.Axis)))
			best = min(best, math.Hypot(w.Dot(s.Axis), flat.Norm()-s.Radius()))
		}
	}
	return best
}

func BenchmarkFindA(b *testing.B) {
	p := problem(letterA(b), glass.Default(d))
	for b.Loop() {
		if _, block := order.Find(p); block != nil {
			b.Fatal("no order")
		}
	}
}

// A bay of 60 mm: with both its corners bent, the middle of one side is 60 mm from
// the other, by hand; with none bent, only the tube itself is there.
func TestOtherGlassAroundAPlace(t *testing.T) {
	tb := fillet(t, v(0, 0, 0, 0), v(300, 0, 0, 15), v(300, 60, 0, 15), v(-200, 60, 0, 15), v(-200, 300, 0, 0))
	p := problem(tb, glass.Default(d))
	plan := order.Plan{Steps: []order.Step{{Heat: 0}, {Heat: 1}, {Heat: 2}}}
	for _, tc := range []struct {
		step          int
		at, own, want float64
	}{
		{0, 150, 300, 300}, // nothing bent: the glass itself, own mm away along the tube
		{0, 10, 50, 50},
		{0, tb.Length() - 10, 50, 50},
		{2, 150, 100, 60},
	} {
		if got := p.Around(plan, tc.step, tc.at, tc.own); math.Abs(got-tc.want) > 0.2 {
			t.Errorf("before step %d, at %.0f: %.2f mm, want %.2f", tc.step, tc.at, got, tc.want)
		}
	}
}
