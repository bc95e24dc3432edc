package trace

import (
	"math"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/geom/region"
)

// pen draws strokes with a round or flat pen, without any code of the tracer:
// every straight bit becomes a polygon of its own, and the region package
// unites them.
type pen struct {
	half float64
	flat bool
}

const penSides = 96

// outline returns the ink of polylines drawn with the pen.
func (p pen) outline(strokes [][]geom.Point) geom.Outline {
	var o geom.Outline
	for _, s := range strokes {
		for i := 1; i < len(s); i++ {
			o = append(o, contourOf(p.bar(s[i-1], s[i], p.flat && i == 1, p.flat && i == len(s)-1)))
		}
	}
	return o
}

// bar is a straight bit of pen with a half-circle at each end that is not cut.
func (p pen) bar(a, b geom.Point, cutA, cutB bool) []geom.Point {
	return p.coarseBar(a, b, cutA, cutB, penSides)
}

// coarseBar is bar with a polygon of the given number of sides for a round.
func (p pen) coarseBar(a, b geom.Point, cutA, cutB bool, sides int) []geom.Point {
	var out []geom.Point
	d := b.Sub(a).Unit()
	half := func(c geom.Point, from geom.Vec, cut bool) {
		n := sides / 2
		for i := range n + 1 {
			if cut && i > 0 && i < n {
				continue
			}
			out = append(out, c.Add(from.Turned(geom.Angle(math.Pi*float64(i)/float64(n))).Mul(p.half)))
		}
	}
	half(b, d.Left().Neg(), cutB)
	half(a, d.Left(), cutA)
	return out
}

func contourOf(l []geom.Point) geom.Contour {
	c := geom.Contour{Start: l[0]}
	for _, p := range l[1:] {
		c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: p})
	}
	return c
}

func pts(xy ...float64) []geom.Point {
	var out []geom.Point
	for i := 0; i < len(xy); i += 2 {
		out = append(out, geom.Point{X: xy[i], Y: xy[i+1]})
	}
	return out
}

// turn appends an arc about (cx, cy) from angle a to b, degrees.
func turn(l []geom.Point, cx, cy, r, a, b float64) []geom.Point {
	n := max(8, int(math.Abs(b-a)/3))
	for i := range n + 1 {
		u := geom.UnitAt(geom.Angle(a+(b-a)*float64(i)/float64(n)) * geom.Degree)
		l = append(l, geom.Point{X: cx + r*u.X, Y: cy + r*u.Y})
	}
	return l
}

// skeleton is a letter of known strokes; cap height 100.
type skeleton struct {
	name      string
	strokes   [][]geom.Point
	traced    int // strokes the tracer should draw
	junctions int // -1: more than one answer is right
	ends      int // free ends
}

// letters are the kinds of junction there are, drawn for this test.
func letters() []skeleton {
	return []skeleton{
		{"straight", [][]geom.Point{pts(0, 0, 0, 100)}, 1, 0, 2},
		{"L", [][]geom.Point{pts(0, 100, 0, 0, 60, 0)}, 1, 0, 2},
		{"V of 30°", [][]geom.Point{pts(-26.795, 100, 0, 0, 26.795, 100)}, 1, 0, 2},
		{"V of 60°", [][]geom.Point{pts(-57.735, 100, 0, 0, 57.735, 100)}, 1, 0, 2},
		{"N", [][]geom.Point{pts(0, 0, 0, 100, 60, 0, 60, 100)}, 1, 0, 2},
		{"T", [][]geom.Point{pts(-40, 100, 40, 100), pts(0, 100, 0, 0)}, 2, 1, 3},
		{"T of 60°", [][]geom.Point{pts(-40, 100, 60, 100), pts(0, 100, 57.735, 0)}, 2, 1, 3},
		{"T of 45°", [][]geom.Point{pts(-40, 100, 60, 100), pts(0, 100, 100, 0)}, 2, 1, 3},
		{"X", [][]geom.Point{pts(0, 0, 70, 100), pts(70, 0, 0, 100)}, 2, 1, 4},
		{"X of 45°", [][]geom.Point{pts(0, 0, 41.42, 100), pts(41.42, 0, 0, 100)}, 2, 1, 4},
		{"X of 30°", [][]geom.Point{pts(0, 0, 26.8, 100), pts(26.8, 0, 0, 100)}, 2, 1, 4},
		{"plus", [][]geom.Point{pts(0, 50, 100, 50), pts(50, 0, 50, 100)}, 2, 1, 4},
		{"K", [][]geom.Point{pts(0, 0, 0, 100), pts(60, 100, 0, 35), pts(60, 0, 20, 56.667)}, 3, 2, 4},
		{"A", [][]geom.Point{pts(0, 0, 35, 100, 70, 0), pts(10.5, 30, 59.5, 30)}, 2, 2, 2},
		{"H", [][]geom.Point{pts(0, 0, 0, 100), pts(60, 0, 60, 100), pts(0, 50, 60, 50)}, 3, 2, 4},
		{"E", [][]geom.Point{pts(50, 100, 0, 100, 0, 0, 50, 0), pts(0, 50, 40, 50)}, 2, 1, 3},
		{"Y", [][]geom.Point{pts(0, 100, 35, 50, 35, 0), pts(70, 100, 35, 50)}, -1, 1, 3},
		{"O", [][]geom.Point{turn(nil, 0, 0, 45, 0, 360)}, 1, 0, 0},
		{"C", [][]geom.Point{turn(nil, 0, 0, 45, 45, 315)}, 1, 0, 2},
		{"S", [][]geom.Point{append(turn(nil, 0, 72, 25, 20, 270), turn(nil, 0, 22, 25, 90, -160)...)}, 1, 0, 2},
		{"D", [][]geom.Point{append(turn(pts(0, 0, 0, 100), 20, 50, 50, 90, -90), geom.Point{})}, 1, 0, 0},
		{"b", [][]geom.Point{pts(0, 0, 0, 100), turn(nil, 30, 30, 30, 180, -180)}, -1, -1, 2},
		{"n", [][]geom.Point{pts(0, 0, 0, 70), append(turn(pts(0, 30), 25, 40, 25, 180, 0), geom.Point{X: 50})}, 2, 1, 3},
		{"u", [][]geom.Point{turn(pts(0, 70), 25, 25, 25, 180, 360), pts(50, 70, 50, 0)}, 2, 1, 3},
		{"two strokes apart", [][]geom.Point{pts(0, 0, 0, 60), pts(30, 0, 30, 100)}, 2, 0, 4},
	}
}

// hausdorff returns the largest distance from a point of a, taken every step,
// to the polylines b.
func hausdorff(a, b [][]geom.Point, step float64) float64 {
	worst := 0.0
	for _, l := range a {
		for _, p := range densify(l, step) {
			d := math.Inf(1)
			for _, m := range b {
				_, near := nearestOn(m, p)
				d = min(d, near)
			}
			worst = max(worst, d)
		}
	}
	return worst
}

func drawn(r Result) [][]geom.Point {
	var out [][]geom.Point
	for _, s := range r.Strokes {
		out = append(out, s.Path.Samples(0.5))
	}
	return out
}

func freeEnds(r Result) int {
	n := 0
	for _, s := range r.Strokes {
		for _, e := range s.Ends {
			if e.Kind != EndNone && e.Kind != EndJunction {
				n++
			}
		}
	}
	return n
}

func mustTrace(t testing.TB, o geom.Outline, h float64) Result {
	t.Helper()
	r, err := Outline(o, Options{CapHeight: h})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The strokes of a pen are found again: every junction kind, three pens and
// both kinds of end. The bound on the distance is the fitting tolerance plus
// what the pen's polygon cuts off.
func TestStrokesOfAPenAreFoundAgain(t *testing.T) {
	for _, half := range []float64{3, 5, 7} {
		for _, flat := range []bool{false, true} {
			for _, l := range letters() {
				if flat && (l.name == "C" || l.name == "S") {
					continue // the builder cuts straight ends only
				}
				r := mustTrace(t, pen{half, flat}.outline(l.strokes), 100)
				got := drawn(r)
				limit := 0.1 + 0.01*half
				if l.name == "b" || l.name == "n" || l.name == "u" { // strokes that run together part gradually
					limit = 0.05 * half
				}
				there, back := hausdorff(l.strokes, got, 0.5), hausdorff(got, l.strokes, 0.5)
				if there > limit || back > limit {
					t.Errorf("%s, half-width %v, flat %v: strokes missed by %.3f, strayed by %.3f; limit %v", l.name, half, flat, there, back, limit)
				}
				if l.traced >= 0 && len(r.Strokes) != l.traced || l.junctions >= 0 && len(r.Junctions) != l.junctions || freeEnds(r) != l.ends {
					t.Errorf("%s, half-width %v, flat %v: %d strokes, %d junctions, %d free ends; want %d, %d, %d", l.name, half, flat,
						len(r.Strokes), len(r.Junctions), freeEnds(r), l.traced, l.junctions, l.ends)
				}
				if r.Coverage < 0.97 || r.Spill > 0.03 || r.Reverted > 0 {
					t.Errorf("%s, half-width %v, flat %v: coverage %.3f, spill %.3f, %d junctions reverted", l.name, half, flat, r.Coverage, r.Spill, r.Reverted)
				}
			}
		}
	}
}

func TestEndsAreOfTheirKind(t *testing.T) {
	l := [][]geom.Point{pts(0, 0, 0, 100)}
	for _, tc := range []struct {
		name string
		o    geom.Outline
		kind EndKind
		top  float64 // height of the upper end, by hand
	}{
		{"round", pen{5, false}.outline(l), EndRound, 100},
		{"flat", pen{5, true}.outline(l), EndFlat, 100},
		{"slanted", geom.Outline{contourOf(pts(-5, 0, 5, 0, 5, 105, -5, 95))}, EndSlanted, 100},
		{"ball", append(pen{4, false}.outline(l), pen{9, false}.outline([][]geom.Point{pts(0, 100, 0, 100.01)})...), EndBall, 100},
	} {
		r := mustTrace(t, tc.o, 100)
		if len(r.Strokes) != 1 {
			t.Errorf("%s: %d strokes", tc.name, len(r.Strokes))
			continue
		}
		s := r.Strokes[0]
		k, p := s.Ends[1], s.Path.End()
		if s.Path.Start().Y > p.Y {
			k, p = s.Ends[0], s.Path.Start()
		}
		if k.Kind != tc.kind || math.Abs(p.Y-tc.top) > 0.1 || math.Abs(p.X) > 0.1 {
			t.Errorf("%s: a %v end at %v, want a %v end at (0, %v)", tc.name, k.Kind, p, tc.kind, tc.top)
		}
	}
}

func TestADotIsADot(t *testing.T) {
	for _, o := range []geom.Outline{
		pen{5, false}.outline([][]geom.Point{pts(0, 0, 0, 0.01)}),
		{contourOf(pts(0, 0, 10, 0, 10, 10, 0, 10))},
	} {
		r := mustTrace(t, o, 100)
		if len(r.Strokes) != 1 || !r.Strokes[0].Dot {
			t.Errorf("%d strokes, want one dot: %+v", len(r.Strokes), r.Strokes)
		}
	}
}

// Strokes that meet share a point to the last digit, a stroke that ends on
// itself to a millionth of a mm.
func TestJunctionsLieOnTheirStrokes(t *testing.T) {
	for _, l := range letters() {
		r := mustTrace(t, pen{5, false}.outline(l.strokes), 100)
		for i, s := range r.Strokes {
			for k, e := range s.Ends {
				if e.Kind != EndJunction {
					continue
				}
				p := s.Path.Start()
				if k == 1 {
					p = s.Path.End()
				}
				at := false
				for _, j := range r.Junctions {
					at = at || j.At.Dist(p) < 0.5
				}
				near := math.Inf(1)
				for m, o := range r.Strokes {
					if m != i {
						_, d := o.Path.Nearest(p)
						near = min(near, d)
					} else {
						for q, g := range o.Path.Segments[1:] {
							if d := g.Start().Dist(p); q > 0 || len(o.Path.Segments) > 2 {
								near = min(near, d)
							}
						}
					}
				}
				if !at || near > 1e-6 {
					t.Errorf("%s: stroke %d ends at %v: %v from any stroke, at a listed junction: %v", l.name, i, p, near, at)
				}
			}
		}
	}
}

// A mirrored, turned or scaled outline gives the mirrored, turned or scaled
// strokes.
func TestTraceFollowsTheOutline(t *testing.T) {
	for _, l := range letters() {
		o := pen{5, false}.outline(l.strokes)
		ref := mustTrace(t, o, 100)
		for _, m := range []geom.SimilarityMap{{Scale: 1, Turn: 0.7, Move: geom.Vec{X: 300, Y: -20}}, {Scale: 4}, {Mirror: true, Scale: 1}} {
			moved := make(geom.Outline, len(o))
			for i, c := range o {
				moved[i] = contourOf(mapped(c, m))
			}
			got := mustTrace(t, moved, 100*m.Scale)
			if len(got.Strokes) != len(ref.Strokes) || len(got.Junctions) != len(ref.Junctions) {
				t.Errorf("%s, %+v: %d strokes and %d junctions, want %d and %d", l.name, m, len(got.Strokes), len(got.Junctions), len(ref.Strokes), len(ref.Junctions))
				continue
			}
			var want [][]geom.Point
			for _, s := range ref.Strokes {
				want = append(want, s.Path.Map(m).Samples(0.5*m.Scale))
			}
			if d := max(hausdorff(want, drawn(got), m.Scale), hausdorff(drawn(got), want, m.Scale)); d > 0.12*m.Scale {
				t.Errorf("%s, %+v: off by %v", l.name, m, d)
			}
		}
	}
}

func mapped(c geom.Contour, m geom.SimilarityMap) []geom.Point {
	out := []geom.Point{m.Apply(c.Start)}
	for _, k := range c.Curves {
		out = append(out, m.Apply(k.To))
	}
	return out
}

func TestSameInputGivesTheSameStrokes(t *testing.T) {
	for _, l := range letters()[:12] {
		o := pen{5, false}.outline(l.strokes)
		a, b := mustTrace(t, o, 100), mustTrace(t, o, 100)
		for i := range a.Strokes {
			for j, g := range a.Strokes[i].Path.Segments {
				if g != b.Strokes[i].Path.Segments[j] {
					t.Errorf("%s: stroke %d differs between two runs", l.name, i)
				}
			}
		}
	}
}

func TestBadInputIsAnError(t *testing.T) {
	o := pen{5, false}.outline([][]geom.Point{pts(0, 0, 0, 100)})
	if _, err := Outline(o, Options{}); err == nil {
		t.Error("no cap height: no error")
	}
	if _, err := Outline(geom.Outline{contourOf([]geom.Point{{X: math.NaN()}, {X: 1}, {Y: 1}})}, Options{CapHeight: 100}); err == nil {
		t.Error("a coordinate that is not a number: no error")
	}
	r, err := Outline(nil, Options{CapHeight: 100})
	if err != nil || len(r.Strokes) != 0 {
		t.Errorf("an empty outline: %v, %d strokes; want none of either", err, len(r.Strokes))
	}
}

// Whatever outline is given, the strokes found stay in the ink. The outlines are
// small, up to six corners or five bars with coarse ends, so that many are tried.
func FuzzStrokesStayInTheInk(f *testing.F) {
	f.Add([]byte("\x00\x00\x00\x64\x3c\x00\x3c\x64"), uint8(5))
	f.Add([]byte{10, 10, 90, 10, 50, 90, 10, 60, 90, 60}, uint8(4))
	f.Fuzz(func(t *testing.T, b []byte, w uint8) {
		var l []geom.Point
		for i := 0; i+1 < min(len(b), 12); i += 2 {
			l = append(l, geom.Point{X: float64(b[i] % 101), Y: float64(b[i+1] % 101)})
		}
		half := 1 + float64(w%12)
		var o geom.Outline
		for i := 1; i < len(l); i++ {
			o = append(o, contourOf(pen{half: half}.coarseBar(l[i-1], l[i], w%2 == 0 && i == 1, w%2 == 0 && i == len(l)-1, 12)))
		}
		if len(l) > 2 && w%3 == 0 {
			o = geom.Outline{contourOf(l)}
		}
		r, err := Outline(o, Options{CapHeight: 100})
		if err != nil {
			if !strings.HasPrefix(err.Error(), "trace: medial axis: ") {
				t.Fatal(err)
			}
			t.Skip() // a tangle that medial.New may refuse
		}
		reg, err := region.FromOutline(o, flattenShare*100)
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range r.Strokes {
			for _, p := range s.Path.Samples(1) {
				if d := reg.Distance(p); d < -0.2 {
					t.Errorf("stroke %d leaves the ink by %v at %v", i, -d, p)
					return
				}
			}
		}
	})
}

func BenchmarkOutline(b *testing.B) {
	for _, l := range letters() {
		if l.name != "A" && l.name != "S" && l.name != "b" {
			continue
		}
		o := pen{5, false}.outline(l.strokes)
		b.Run(l.name, func(b *testing.B) {
			for b.Loop() {
				mustTrace(b, o, 100)
			}
		})
	}
}
