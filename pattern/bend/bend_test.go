package bend_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

func makeTube(t interface{ Fatal(...any) }, vs ...tube.Vertex) tube.Tube {
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

func vertex(x, y, z, r float64) tube.Vertex {
	return tube.Vertex{P: geom.Point3{X: x, Y: y, Z: z}, R: r}
}

func deg(a geom.Angle) float64 { return a.Degrees() }

func TestDevelopedLengthByHand(t *testing.T) {
	for _, tc := range []struct {
		name string
		tube tube.Tube
		want float64 // by hand: straights plus R·angle
	}{
		{"straight", makeTube(t, vertex(0, 0, 0, 0), vertex(300, 0, 0, 0)), 300},
		{"corner", makeTube(t, vertex(0, 0, 0, 0), vertex(100, 0, 0, 15), vertex(100, 80, 0, 0)), 85 + 65 + 15*math.Pi/2},
		{"double-back", makeTube(t, vertex(0, 0, 0, 0), vertex(100, 0, 0, 12), vertex(100, 0, -24, 12), vertex(0, 0, -24, 0)), 88 + 12*math.Pi + 88},
		{"drop", makeTube(t, vertex(0, 0, 0, 0), vertex(50, 0, 0, 10), vertex(50, 0, -20, 10), vertex(90, 0, -20, 0)), 40 + 10*math.Pi + 30},
	} {
		if got := tc.tube.Length(); math.Abs(got-tc.want) > 1e-9 {
			t.Errorf("%s: developed length %.9f, by hand %.9f", tc.name, got, tc.want)
		}
	}
}

// The published torsion of four points, from the documentation of a library
// for molecular geometry: −71.21515 degrees.
func TestRotationAgreesWithPublishedTorsion(t *testing.T) {
	p := [4]geom.Point3{{X: 24.969, Y: 13.428, Z: 30.692}, {X: 24.044, Y: 12.661, Z: 29.808}, {X: 22.785, Y: 13.482, Z: 29.543}, {X: 21.951, Y: 13.670, Z: 30.431}}
	tab := bend.Tabulate(makeTube(t, tube.Vertex{P: p[0]}, tube.Vertex{P: p[1], R: 0.1}, tube.Vertex{P: p[2], R: 0.1}, tube.Vertex{P: p[3]}))
	if got := deg(tab.Rows[1].Rotation); math.Abs(got-(-71.21515)) > 1e-4 {
		t.Errorf("rotation %.5f, published -71.21515", got)
	}
}

// The thread example of the algorithms notes: L 6.044 / 2.1259 / 2.618,
// A 90 / 90, R 180, developed 13.1441 at radius 0.75.
func TestThreadPoints(t *testing.T) {
	tb := makeTube(t, vertex(38.5202, -14.0264, 0, 0), vertex(45.3142, -14.0264, 0, .75), vertex(45.3142, -17.5214, .9654, .75), vertex(48.6822, -17.5214, .9654, 0))
	tab := bend.Tabulate(tb)
	got := []float64{tab.Rows[0].StraightBefore, tab.Rows[1].StraightBefore, tab.StraightAfter, deg(tab.Rows[0].Angle), deg(tab.Rows[1].Angle), math.Abs(deg(tab.Rows[1].Rotation)), tb.Length()}
	for i, want := range []float64{6.044, 2.1259, 2.618, 90, 90, 180, 13.1441} {
		if math.Abs(got[i]-want) > 1e-3 {
			t.Errorf("figure %d: %.4f, want %.4f", i, got[i], want)
		}
	}
}

func TestWalkRebuildsTheTube(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(rt, "vertices")
		coord := rapid.Float64Range(-500, 500)
		vs := make([]tube.Vertex, n)
		for i := range vs {
			vs[i] = vertex(coord.Draw(rt, "x"), coord.Draw(rt, "y"), coord.Draw(rt, "z"), 2)
		}
		segs, err := tube.Fillet(vs)
		if err != nil {
			rt.Skip("edges too short for the bends")
		}
		var tb tube.Tube
		for _, s := range segs {
			tb = append(tb, tube.Piece{Seg: s})
		}
		tab := bend.Tabulate(tb)
		if len(tab.Rows) == 0 {
			rt.Skip("no bend")
		}
		walked := bend.Walk(tab)
		if len(walked) != len(tb) {
			rt.Fatalf("%d pieces walked, %d in the tube", len(walked), len(tb))
		}
		// Congruent: every pair of joints is as far apart as in the tube, and
		// four joints in a row have the same signed volume.
		for i := range tb {
			for j := range i {
				a, b := tb[i].Seg.End().Dist(tb[j].Seg.End()), walked[i].End().Dist(walked[j].End())
				if math.Abs(a-b) > 1e-6 {
					rt.Fatalf("joints %d and %d are %.9f apart, walked %.9f", j, i, a, b)
				}
			}
			if i >= 3 {
				va := volume(tb[i-3].Seg.End(), tb[i-2].Seg.End(), tb[i-1].Seg.End(), tb[i].Seg.End())
				vb := volume(walked[i-3].End(), walked[i-2].End(), walked[i-1].End(), walked[i].End())
				if math.Abs(va-vb) > 1e-6*(1+math.Abs(va)) {
					rt.Fatalf("the walked tube is of the other hand at joint %d: %g, %g", i, va, vb)
				}
			}
		}
	})
}

func volume(a, b, c, d geom.Point3) float64 { return b.Sub(a).Dot(c.Sub(b).Cross(d.Sub(c))) }

func TestHeatsOfAHandMadeUnit(t *testing.T) {
	rules := glass.Default(12)
	// A leg comes forward, a stroke with one corner, a double-back, a leg.
	tb := makeTube(t, vertex(0, 0, -75, 0), vertex(0, 0, 0, 12), vertex(120, 0, 0, 15), vertex(120, 150, 0, 12), vertex(120, 150, -24, 12), vertex(120, 0, -24, 12), vertex(120, 0, -99, 0))
	tab := bend.Tabulate(tb)
	heats := bend.Heats(tb, &tab, rules)
	var kinds, dirs []string
	at := 0.0
	for i, h := range heats {
		kinds, dirs = append(kinds, h.Kind), append(dirs, h.Direction)
		if h.Number != i+1 || h.Start < at || h.End <= h.Start {
			t.Errorf("heat %+v out of order", h)
		}
		at = h.End
	}
	want := []string{bend.DropBack, bend.Corner, bend.DoubleBack, bend.DropBack}
	if len(kinds) != len(want) {
		t.Fatalf("heats %v, want %v", kinds, want)
	}
	for i := range want {
		if kinds[i] != want[i] {
			t.Errorf("heat %d is a %s, want %s", i+1, kinds[i], want[i])
		}
	}
	if dirs[1] != "right" { // turns left as read, so right on the bench
		t.Errorf("the corner turns %s on the bench", dirs[1])
	}
	if got := deg(heats[2].Angle); math.Abs(got-180) > 1e-9 {
		t.Errorf("the double-back turns %.3f degrees", got)
	}
	for _, r := range tab.Rows {
		if r.Bend == 0 {
			t.Errorf("row %+v belongs to no heat", r)
		}
	}
}

// A curve that is drawn as many small bends with short straights between them is
// one heat: a crossfire cannot heat one without the other. Two right angles with a
// gap between their heated zones stay two.
func TestBendsWhoseZonesOverlapAreOneHeat(t *testing.T) {
	const d = 12.0
	count := func(tb tube.Tube) int {
		tab := bend.Tabulate(tb)
		return len(bend.Heats(tb, &tab, glass.Default(d)))
	}
	vs := []tube.Vertex{vertex(-200, 0, 0, 0), vertex(0, 0, 0, 15)}
	at, way := geom.Point3{}, 0.0
	for range 9 { // a right angle in nine bends of 9 degrees and the first
		way += 9 * math.Pi / 180
		at = at.Add(geom.Vec3{X: math.Cos(way), Y: math.Sin(way)}.Mul(4))
		vs = append(vs, tube.Vertex{P: at, R: 15})
	}
	way += 9 * math.Pi / 180
	end := at.Add(geom.Vec3{X: math.Cos(way), Y: math.Sin(way)}.Mul(200))
	if n := count(makeTube(t, append(vs, tube.Vertex{P: end})...)); n != 1 {
		t.Errorf("ten bends 4 mm apart are %d heats, want 1", n)
	}
	corners := makeTube(t, vertex(-200, 0, 0, 0), vertex(0, 0, 0, 15), vertex(0, 40, 0, 15), vertex(200, 40, 0, 0))
	if n := count(corners); n != 2 {
		t.Errorf("two right angles 10 mm apart are %d heats, want 2", n)
	}
}

// Two quarter turns through the vertical are a double-back where the run leaves
// another way than it came, and a raise or a drop where it goes on.
func TestQuarterTurnsThatGoOnAreARaise(t *testing.T) {
	for _, tc := range []struct {
		to   geom.Point3
		want string
	}{
		{geom.Point3{X: 300, Z: -24}, bend.Raise},
		{geom.Point3{Y: 200, Z: -24}, bend.DoubleBack},
		{geom.Point3{X: -200, Z: -24}, bend.DoubleBack},
	} {
		tb := makeTube(t, vertex(-200, 0, 0, 0), vertex(0, 0, 0, 12), vertex(0, 0, -24, 12), tube.Vertex{P: tc.to})
		tab := bend.Tabulate(tb)
		heats := bend.Heats(tb, &tab, glass.Default(12))
		if len(heats) != 1 || heats[0].Kind != tc.want {
			t.Errorf("to %v: %d heats, the first a %s, want one %s", tc.to, len(heats), heats[0].Kind, tc.want)
		}
	}
}
