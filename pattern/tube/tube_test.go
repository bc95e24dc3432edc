package tube

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"tubewright/geom"
)

func v(x, y, z, r float64) Vertex { return Vertex{geom.Point3{X: x, Y: y, Z: z}, r} }

func length(segs []geom.Segment3) float64 {
	var n float64
	for _, s := range segs {
		n += s.Length()
	}
	return n
}

func checkTangent(t interface{ Errorf(string, ...any) }, segs []geom.Segment3) {
	for i := 1; i < len(segs); i++ {
		a, b := segs[i-1], segs[i]
		gap, turn := a.End().Dist(b.Start()), a.DirAt(a.Length()).AngleTo(b.DirAt(0)).Degrees()
		if gap > 1e-7 || turn > 2e-4 {
			t.Errorf("piece %d: gap %.3g mm, corner %.3g degrees", i, gap, turn)
		}
	}
}

func TestFilletByHand(t *testing.T) {
	// A right angle of radius 15.24 takes a tangent length of 15.24 and an arc
	// of 23.94 mm, the 2 D of heated glass of a 12 mm tube.
	segs, err := Fillet([]Vertex{v(0, 0, 0, 0), v(100, 0, 0, 15.24), v(100, 100, 0, 0)})
	if err != nil {
		t.Fatal(err)
	}
	checkTangent(t, segs)
	if len(segs) != 3 || math.Abs(segs[0].Length()-84.76) > 1e-9 || math.Abs(segs[1].Length()-23.94) > 0.005 {
		t.Errorf("pieces %+v", segs)
	}
	var tight *TightError
	if _, err := Fillet([]Vertex{v(0, 0, 0, 0), v(10, 0, 0, 15.24), v(10, 100, 0, 0)}); !errors.As(err, &tight) || math.Abs(tight.Lag-5.24) > 1e-9 {
		t.Errorf("an edge 5.24 mm too short: %v", err)
	}
}

func TestDoubleBackHasNoLineBetweenItsTurns(t *testing.T) {
	segs, err := Fillet([]Vertex{v(0, 0, 0, 0), v(100, 0, 0, 9.6), v(100, 0, -19.2, 9.6), v(0, 0, -19.2, 0)})
	if err != nil {
		t.Fatal(err)
	}
	if len(segs) != 4 || math.Abs(length(segs)-(2*90.4+math.Pi*9.6)) > 1e-9 {
		t.Errorf("%d pieces of %.4f mm", len(segs), length(segs))
	}
	checkTangent(t, segs)
}

func TestBiarcOfParallelEndsIsTheRamp(t *testing.T) {
	// Depth 19.2 with arcs of radius 15.24 takes a run of 28.3 and two arcs of
	// 18.2 mm (1.51 D): the worked ramp of the geometry notes, U 0.8 D.
	run := 28.3173
	segs := Biarc(geom.Point3{}, geom.Vec3{X: 1}, geom.Point3{X: run, Z: -19.2}, geom.Vec3{X: 1})
	if len(segs) != 2 {
		t.Fatalf("%d pieces", len(segs))
	}
	for _, s := range segs {
		a, ok := s.(geom.Arc3)
		if !ok || math.Abs(a.Radius()-15.24) > 0.01 || math.Abs(a.Length()-18.2) > 0.05 {
			t.Errorf("ramp piece %+v, want radius 15.24 and 18.2 mm", s)
		}
	}
	checkTangent(t, segs)
}

func TestBiarcMeetsBothEnds(t *testing.T) {
	c := rapid.Float64Range(-1, 1)
	rapid.Check(t, func(rt *rapid.T) {
		p1 := geom.Point3{X: 20 + 10*c.Draw(rt, "x"), Y: 10 * c.Draw(rt, "y"), Z: 10 * c.Draw(rt, "z")}
		d0 := geom.Vec3{X: 1, Y: c.Draw(rt, "a"), Z: c.Draw(rt, "b")}.Unit()
		d1 := geom.Vec3{X: 1, Y: c.Draw(rt, "c"), Z: c.Draw(rt, "d")}.Unit()
		segs := Biarc(geom.Point3{}, d0, p1, d1)
		checkTangent(rt, segs)
		last := segs[len(segs)-1]
		if segs[0].Start().Dist(geom.Point3{}) > 1e-8 || last.End().Dist(p1) > 1e-8 ||
			segs[0].DirAt(0).AngleTo(d0) > 1e-6 || last.DirAt(last.Length()).AngleTo(d1) > 1e-6 {
			rt.Errorf("the biarc leaves its ends: %v", segs)
		}
	})
}

func TestLiftOnStraightGlass(t *testing.T) {
	p := geom.Path{Segments: []geom.Segment{geom.Line{A: geom.Point{}, B: geom.Point{X: 200}}}}
	d := Dip{At: 100, Depth: 18, Run: 36, Flat: 12} // 1.5 D over 3 D each side, flat 1 D, D 12
	segs := Lift(p, []Dip{d})
	checkTangent(t, segs)
	// Radius 22.5 and a turn of 53.13 degrees, by hand: h(1 + (run/h)^2)/4.
	want := 200 - 2*36 + 4*22.5*53.13010235415598*math.Pi/180
	if len(segs) != 7 || math.Abs(length(segs)-want) > 1e-6 {
		t.Errorf("%d pieces of %.6f mm, want 7 of %.6f", len(segs), length(segs), want)
	}
	if z, slope := d.Height(0); z != -18 || slope != 0 {
		t.Errorf("bottom of the dip at %g, slope %g", z, slope)
	}
	if z, _ := d.Height(6 + 18); math.Abs(z+9) > 1e-9 {
		t.Errorf("half way up the ramp at %g, want -9", z)
	}
}

func TestLiftOnACurveStaysOverThePlan(t *testing.T) {
	p := geom.Path{Segments: []geom.Segment{geom.Arc{Centre: geom.Point{}, Radius: 60, Sweep: 4}}}
	d := Dip{At: 120, Depth: 18, Run: 36, Flat: 6}
	segs := Lift(p, []Dip{d})
	checkTangent(t, segs)
	deepest := 0.0
	for _, s := range SampleSegments(0, 0, segs) {
		if off := math.Abs(s.P.Plan().Dist(geom.Point{}) - 60); off > 0.6 {
			t.Errorf("%.2f mm off the plan at %v", off, s.P)
		}
		deepest = min(deepest, s.P.Z)
	}
	if math.Abs(deepest+18) > 0.05 {
		t.Errorf("deepest point at %g, want -18", deepest)
	}
}

// Everything within reach is visited and nothing else, as a plain loop over
// all samples finds it.
func TestWorldFindsWhatAPlainLoopFinds(t *testing.T) {
	c := rapid.Float64Range(-100, 100)
	rapid.Check(t, func(rt *rapid.T) {
		w := NewWorld(18)
		samples := make([]Sample, rapid.IntRange(0, 200).Draw(rt, "n"))
		for i := range samples {
			samples[i] = Sample{geom.Point3{X: c.Draw(rt, "x"), Y: c.Draw(rt, "y"), Z: c.Draw(rt, "z")}, i, 0}
		}
		w.AddSamples(samples)
		q := geom.Point3{X: c.Draw(rt, "qx"), Y: c.Draw(rt, "qy"), Z: c.Draw(rt, "qz")}
		got, want := 0, 0
		w.Visit(q, func(Sample, float64) { got++ })
		for _, s := range samples {
			if s.P.Dist(q) <= 18 {
				want++
			}
		}
		if got != want {
			rt.Fatalf("%d found, %d there", got, want)
		}
	})
}

func TestReversedTubeIsTheSameGlass(t *testing.T) {
	segs, err := Fillet([]Vertex{v(0, 0, -70, 0), v(0, 0, 0, 12), v(90, 0, 0, 15), v(90, 90, 0, 0)})
	if err != nil {
		t.Fatal(err)
	}
	tb := make(Tube, len(segs))
	for i, s := range segs {
		tb[i] = Piece{Seg: s, Role: Role(i % 3)}
	}
	r := tb.Reversed()
	if math.Abs(r.Length()-tb.Length()) > 1e-9 || r.Start().Dist(tb.End()) > 1e-9 || r.EndDir().AngleTo(tb.StartDir().Neg()) > 1e-9 {
		t.Errorf("reversed tube: %.3f mm from %v", r.Length(), r.Start())
	}
	for _, role := range []Role{Lit, Hidden, Leg} {
		if math.Abs(r.LengthOf(role)-tb.LengthOf(role)) > 1e-9 {
			t.Errorf("%v glass changed", role)
		}
	}
}
