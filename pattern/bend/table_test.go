package bend_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

func TestTablesOfAnotherProgram(t *testing.T) {
	b, err := os.ReadFile("testdata/lra.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			Name      string
			XYZ       [][3]float64
			Radius    []float64
			L, R, A   []float64
			Developed float64
		}
	}
	if err := json.Unmarshal(b, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) != 7 {
		t.Fatalf("%d cases, want 7", len(file.Cases))
	}
	for _, c := range file.Cases {
		var vs []tube.Vertex
		for i, p := range c.XYZ {
			w := tube.Vertex{P: geom.Point3{X: p[0], Y: p[1], Z: p[2]}}
			if i > 0 && i+1 < len(c.XYZ) {
				w.R = c.Radius[i-1]
			}
			vs = append(vs, w)
		}
		tb := makeTube(t, vs...)
		tab := bend.Tabulate(tb)
		if len(tab.Rows) != len(c.A) {
			t.Fatalf("%s: %d rows, want %d", c.Name, len(tab.Rows), len(c.A))
		}
		for i, r := range tab.Rows {
			turn := math.Abs((r.Rotation - geom.Angle(c.R[i])*geom.Degree).Normalised().Degrees())
			if math.Abs(r.StraightBefore-c.L[i]) > 1e-6 || turn > 1e-6 || math.Abs(r.Angle.Degrees()-c.A[i]) > 1e-6 {
				t.Errorf("%s row %d: feed %.6f, rotation %.6f, angle %.6f; want %.6f, %.6f, %.6f", c.Name, i+1,
					r.StraightBefore, r.Rotation.Degrees(), r.Angle.Degrees(), c.L[i], c.R[i], c.A[i])
			}
		}
		starts := tab.Starts()
		if got := starts[len(starts)-1]; math.Abs(got-c.Developed) > 1e-6 || math.Abs(tab.StraightAfter-c.L[len(c.L)-1]) > 1e-6 {
			t.Errorf("%s: developed length %.6f, want %.6f", c.Name, got, c.Developed)
		}
	}
}

// walkText rebuilds a unit from the text of its table file, by its own means: it
// rolls a triad along chords, one small turn after the other, and knows nothing
// of the program's arcs. It returns the place at the end of every row.
func walkText(t testing.TB, lines [][]string) [][3]float64 {
	num := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	p, d, n := [3]float64{}, [3]float64{1, 0, 0}, [3]float64{0, 0, 1}
	cross := func(a, b [3]float64) [3]float64 {
		return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
	}
	mix := func(a [3]float64, k float64, b [3]float64, l float64) [3]float64 {
		return [3]float64{a[0]*k + b[0]*l, a[1]*k + b[1]*l, a[2]*k + b[2]*l}
	}
	var out [][3]float64
	for _, l := range lines {
		feed, rot, ang, r := num(l[5]), num(l[6])*math.Pi/180, num(l[7])*math.Pi/180, num(l[8])
		p = mix(p, 1, d, feed)
		n = mix(n, math.Cos(rot), cross(d, n), math.Sin(rot))
		const parts = 2000
		for range parts {
			a := ang / parts
			left := cross(n, d)
			chord := 2 * r * math.Sin(a/2)
			p = mix(p, 1, mix(d, math.Cos(a/2), left, math.Sin(a/2)), chord)
			d = mix(d, math.Cos(a), left, math.Sin(a))
		}
		out = append(out, p)
	}
	return out
}

func TestTheTableFileAloneRebuildsTheUnit(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := rapid.Float64Range(-400, 400)
		vs := make([]tube.Vertex, rapid.IntRange(4, 8).Draw(rt, "vertices"))
		for i := range vs {
			vs[i] = vertex(c.Draw(rt, "x"), c.Draw(rt, "y"), c.Draw(rt, "z"), 12)
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
		if len(tab.Rows) < 2 {
			rt.Skip("too few bends")
		}
		heats := bend.Heats(tb, &tab, glass.Default(12))
		var buf bytes.Buffer
		if err := bend.WriteTable(&buf, []bend.Listed{{Unit: "U1", Table: tab, Heats: heats}}); err != nil {
			rt.Fatal(err)
		}
		lines, err := csv.NewReader(&buf).ReadAll()
		if err != nil {
			rt.Fatal(err)
		}
		lines = lines[1:]
		got := walkText(t, lines)
		var want []geom.Point3 // ends of arcs, and of the tube
		for _, p := range tb {
			if _, ok := p.Seg.(geom.Arc3); ok {
				want = append(want, p.Seg.End())
			}
		}
		want = append(want, tb.End())
		if len(got) != len(want) {
			rt.Fatalf("%d rows, %d arcs and an end", len(got), len(want))
		}
		for i := range want {
			for j := range i {
				g := math.Sqrt(math.Pow(got[i][0]-got[j][0], 2) + math.Pow(got[i][1]-got[j][1], 2) + math.Pow(got[i][2]-got[j][2], 2))
				if w := want[i].Dist(want[j]); math.Abs(g-w) > 0.01 {
					rt.Errorf("places %d and %d are %.4f mm apart, rebuilt %.4f", i, j, w, g)
				}
			}
		}
		// Running totals: what is behind a bend, the bend and what is before it
		// are the whole unit.
		whole := tb.Length()
		for i, r := range tab.Rows {
			from, _ := strconv.ParseFloat(lines[i][9], 64)
			to, _ := strconv.ParseFloat(lines[i][10], 64)
			if math.Abs(from+to+r.ArcLength()-whole) > 1e-3 {
				rt.Errorf("row %d: %.4f from A and %.4f to B of %.4f", i+1, from, to, whole)
			}
		}
	})
}

// Trade notes 2.2, 2.3 and rows O13 and O14 of their section 5 (S13, P and D): a
// right angle takes 2 D of heated glass, a double-back 2.5 D; the outer wall
// thins to R/(R + D/2).
func TestHeatedLengthsAndWalls(t *testing.T) {
	const d = 12.0
	rules := glass.Default(d)
	corner := makeTube(t, vertex(0, 0, 0, 0), vertex(200, 0, 0, 15.3), vertex(200, 200, 0, 0))
	back := makeTube(t, vertex(0, 0, 0, 0), vertex(200, 0, 0, 9.55), vertex(200, 0, -19.1, 9.55), vertex(0, 0, -19.1, 0))
	for _, tc := range []struct {
		name         string
		tb           tube.Tube
		heated, wall float64 // of D; rounded in the source
		fire         string
	}{
		{"O13", corner, 24.0, 0.72, bend.Crossfire},
		{"O14", back, 30.0, 0.61, bend.Crossfire}, // table 2.3: 0.60 at 0.75 D, 0.62 at 0.80 D
	} {
		tab := bend.Tabulate(tc.tb)
		h := bend.Heats(tc.tb, &tab, rules)
		if len(h) != 1 {
			t.Fatalf("%s: %d heats", tc.name, len(h))
		}
		if got := h[0].To - h[0].From; math.Abs(got-tc.heated) > 0.05 {
			t.Errorf("%s: %.2f mm heated, want %.1f", tc.name, got, tc.heated)
		}
		if math.Abs(h[0].Wall-tc.wall) > 0.01 || h[0].Fire != tc.fire {
			t.Errorf("%s: wall %.3f by %s, want %.2f by %s", tc.name, h[0].Wall, h[0].Fire, tc.wall, tc.fire)
		}
	}
	for _, row := range [][2]float64{{0.75, 0.60}, {0.80, 0.62}, {1.0, 0.67}, {1.27, 0.72}, {1.5, 0.75}, {2, 0.80}, {3, 0.86}, {5, 0.91}} { // table 2.3
		tb := makeTube(t, vertex(0, 0, 0, 0), vertex(300, 0, 0, row[0]*d), vertex(300, 300, 0, 0))
		tab := bend.Tabulate(tb)
		h := bend.Heats(tb, &tab, rules)[0]
		if math.Abs(h.Wall-row[1]) > 0.006 || h.Tight != (row[0] < 1.25) {
			t.Errorf("R = %g D: wall %.3f tight %v, want %.2f", row[0], h.Wall, h.Tight, row[1])
		}
		if ribbon := h.Fire == bend.Ribbon; ribbon != (row[0] >= 3) {
			t.Errorf("R = %g D: fire %s", row[0], h.Fire)
		}
	}
}

func TestStrainWhereHeatedZonesComeNear(t *testing.T) {
	const d = 12.0
	rules := glass.Default(d)
	for _, tc := range []struct {
		straight float64 // between the two corners
		want     int
	}{{11.9, 1}, {12.1, 0}} { // 1 D, trade notes 2.2 (D)
		tangent := 1.27 * d
		tb := makeTube(t, vertex(0, 0, 0, 0), vertex(200, 0, 0, tangent), vertex(200, 2*tangent+tc.straight, 0, tangent), vertex(400, 2*tangent+tc.straight, 0, 0))
		tab := bend.Tabulate(tb)
		heats := bend.Heats(tb, &tab, rules)
		// The zone of such a corner is 2 D, its arc π/2·1.27 D: 0.03 mm longer on each side.
		if got := bend.Strains(heats, rules); len(heats) != 2 || len(got) != tc.want {
			t.Errorf("%g mm between: %d heats, %d strain zones, want %d", tc.straight, len(heats), len(got), tc.want)
		}
	}
}

func TestRenumber(t *testing.T) {
	tb := makeTube(t, vertex(0, 0, -75, 0), vertex(0, 0, 0, 12), vertex(120, 0, 0, 15), vertex(120, 150, 0, 12), vertex(120, 150, -24, 12), vertex(120, 0, -24, 12), vertex(120, 0, -99, 0))
	tab := bend.Tabulate(tb)
	heats := bend.Heats(tb, &tab, glass.Default(12))
	bend.Renumber(tb, &tab, heats, []int{2, 0, 3, 1})
	for i, want := range []int{2, 4, 1, 3} {
		if heats[i].Number != want {
			t.Errorf("heat %d along the tube is number %d, want %d", i, heats[i].Number, want)
		}
	}
	for i, want := range []int{2, 4, 1, 1, 3} {
		if tab.Rows[i].Bend != want {
			t.Errorf("row %d belongs to heat %d, want %d", i+1, tab.Rows[i].Bend, want)
		}
	}
}
