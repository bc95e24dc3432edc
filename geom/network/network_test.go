package network

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"tubewright/geom"
)

func pt(x, y float64) geom.Point { return geom.Point{X: x, Y: y} }

func polyline(v ...float64) geom.Path {
	var p geom.Path
	for i := 2; i+1 < len(v); i += 2 {
		p.Segments = append(p.Segments, geom.Line{A: pt(v[i-2], v[i-1]), B: pt(v[i], v[i+1])})
	}
	return p
}

// bow is the half circle to the right from (x, y0) to (x, y1).
func bow(x, y0, y1 float64) geom.Path {
	r := math.Abs(y1-y0) / 2
	a := geom.Arc{Centre: pt(x, (y0+y1)/2), Radius: r, From: -math.Pi / 2, Sweep: math.Pi}
	if y0 > y1 {
		a.From, a.Sweep = math.Pi/2, -math.Pi
	}
	return geom.Path{Segments: []geom.Segment{a}}
}

func circle(x, y, r float64) geom.Path {
	return geom.Path{Closed: true, Segments: []geom.Segment{geom.Arc{Centre: pt(x, y), Radius: r, Sweep: 2 * math.Pi}}}
}

// Odd vertices of plain skeletons: the table of the trade notes, 2.5.
func TestOddVerticesOfLetters(t *testing.T) {
	stem := polyline(0, 0, 0, 100)
	letters := []struct {
		name    string
		odd     int
		loops   int
		strokes []geom.Path
	}{
		{"A", 4, 1, []geom.Path{polyline(0, 0, 40, 100, 80, 0), polyline(16, 40, 64, 40)}},
		{"B", 0, 2, []geom.Path{stem, bow(0, 0, 50), bow(0, 100, 50)}},
		{"D", 0, 1, []geom.Path{stem, bow(0, 0, 100)}},
		{"O", 0, 1, []geom.Path{circle(0, 0, 50)}},
		{"C", 2, 0, []geom.Path{{Segments: []geom.Segment{geom.Arc{Radius: 50, From: 1, Sweep: 4.3}}}}},
		{"I", 2, 0, []geom.Path{stem}},
		{"J", 2, 0, []geom.Path{{Segments: []geom.Segment{geom.Line{A: pt(50, 100), B: pt(50, 25)}, geom.Arc{Centre: pt(25, 25), Radius: 25, Sweep: -math.Pi}}}}},
		{"L", 2, 0, []geom.Path{polyline(0, 100, 0, 0, 50, 0)}},
		{"M", 2, 0, []geom.Path{polyline(0, 0, 0, 100, 40, 30, 80, 100, 80, 0)}},
		{"N", 2, 0, []geom.Path{stem, polyline(0, 100, 60, 0), polyline(60, 0, 60, 100)}},
		{"P", 2, 1, []geom.Path{stem, bow(0, 100, 50)}},
		{"R", 2, 1, []geom.Path{stem, bow(0, 100, 50), polyline(0, 50, 50, 0)}},
		{"Q", 2, 1, []geom.Path{circle(0, 0, 50), polyline(10, -10, 60, -60)}},
		{"S", 2, 0, []geom.Path{{Segments: []geom.Segment{
			geom.Arc{Centre: pt(0, 75), Radius: 25, From: 0, Sweep: 1.5 * math.Pi},
			geom.Arc{Centre: pt(0, 25), Radius: 25, From: math.Pi / 2, Sweep: -1.5 * math.Pi}}}}},
		{"V", 2, 0, []geom.Path{polyline(0, 100, 40, 0, 80, 100)}},
		{"Z", 2, 0, []geom.Path{polyline(0, 100, 60, 100, 0, 0, 60, 0)}},
		{"E", 4, 0, []geom.Path{polyline(60, 100, 0, 100, 0, 0, 60, 0), polyline(0, 50, 45, 50)}},
		{"F", 4, 0, []geom.Path{polyline(60, 100, 0, 100, 0, 0), polyline(0, 50, 45, 50)}},
		{"K, arms meet on the stem", 4, 0, []geom.Path{stem, polyline(50, 100, 0, 50, 50, 0)}},
		{"K, leg from the arm", 6, 0, []geom.Path{stem, polyline(50, 100, 0, 40), polyline(20, 64, 60, 0)}},
		{"T", 4, 0, []geom.Path{polyline(0, 100, 80, 100), polyline(40, 100, 40, 0)}},
		{"X", 4, 0, []geom.Path{polyline(0, 0, 70, 100), polyline(0, 100, 70, 0)}},
		{"Y", 4, 0, []geom.Path{polyline(0, 100, 40, 50, 80, 100), polyline(40, 50, 40, 0)}},
		{"H", 6, 0, []geom.Path{stem, polyline(70, 0, 70, 100), polyline(0, 50, 70, 50)}},
		{"8", 0, 2, []geom.Path{{Closed: true, Segments: []geom.Segment{
			geom.Arc{Centre: pt(0, 25), Radius: 25, From: math.Pi / 2, Sweep: 2 * math.Pi},
			geom.Arc{Centre: pt(0, 75), Radius: 25, From: -math.Pi / 2, Sweep: -2 * math.Pi}}}}},
	}
	for _, l := range letters {
		for _, m := range []geom.SimilarityMap{{Scale: 1}, {Scale: 1.7, Turn: 0.8, Move: geom.Vec{X: 5, Y: 900}}, {Mirror: true, Scale: 1}} {
			var strokes []geom.Path
			for _, s := range l.strokes {
				strokes = append(strokes, s.Map(m))
			}
			g := Build(strokes, 0.5*m.Scale)
			if len(g.Odd()) != l.odd || g.Loops() != l.loops || len(g.Components()) != 1 {
				t.Errorf("%s: %d odd nodes, %d loops, %d parts; want %d, %d, 1 (%v)", l.name, len(g.Odd()), g.Loops(), len(g.Components()), l.odd, l.loops, m)
			}
			if want := max(1, l.odd/2); g.Trails() != want {
				t.Errorf("%s: %d trails, want %d", l.name, g.Trails(), want)
			}
			checkGraph(t, strokes, g)
		}
	}
	// Two letters side by side need the tubes of both.
	g := Build([]geom.Path{letters[0].strokes[0], letters[0].strokes[1], circle(300, 50, 50)}, 0.5)
	if len(g.Components()) != 2 || g.Trails() != 3 {
		t.Errorf("A beside O: %d parts, %d trails; want 2, 3", len(g.Components()), g.Trails())
	}
}

// checkGraph states what holds for every graph: edges cover the strokes but for
// what was contracted, end at their nodes, and degrees add up.
func checkGraph(t testing.TB, strokes []geom.Path, g Graph) {
	t.Helper()
	degrees, length := 0, 0.0
	for _, n := range g.Nodes {
		degrees += n.Degree
	}
	if degrees != 2*len(g.Edges) {
		t.Errorf("degrees add up to %d for %d edges", degrees, len(g.Edges))
	}
	if len(g.Odd())%2 != 0 {
		t.Errorf("%d odd nodes", len(g.Odd()))
	}
	for i, e := range g.Edges {
		if !(e.From < e.To) || e.Stroke < 0 || e.Stroke >= len(strokes) {
			t.Fatalf("edge %d: %+v", i, e)
		}
		length += e.To - e.From
		w := newWay(&strokes[e.Stroke])
		for _, x := range [2]struct {
			s float64
			n int
		}{{e.From, e.A}, {e.To, e.B}} {
			if d := w.point(x.s).Dist(g.Nodes[x.n].At); d > 3 {
				t.Errorf("edge %d ends %v from its node", i, d)
			}
		}
	}
	var drawn float64
	for _, s := range strokes {
		drawn += s.Length()
	}
	if length > drawn+1e-6 || length < drawn-6*float64(len(g.Edges)+len(strokes)) {
		t.Errorf("edges %v long, strokes %v", length, drawn)
	}
}

func TestClosedFormCrossings(t *testing.T) {
	r3 := math.Sqrt(3)
	for _, tc := range []struct {
		name string
		a, b geom.Path
		want []Meeting
	}{
		{"square cross", polyline(-10, 0, 10, 0), polyline(0, -5, 0, 5),
			[]Meeting{{Kind: Cross, At: pt(0, 0), A: 10, B: 5, Angle: math.Pi / 2}}},
		{"cross at 60 degrees", polyline(-10, 0, 10, 0), polyline(-1, -r3, 1, r3),
			[]Meeting{{Kind: Cross, At: pt(0, 0), A: 10, B: 2, Angle: math.Pi / 3}}},
		{"line through a circle", polyline(-10, 3, 10, 3), circle(0, 0, 5),
			[]Meeting{
				{Kind: Cross, At: pt(-4, 3), A: 6, B: 5 * (math.Pi - math.Atan2(3, 4)), Angle: geom.Angle(math.Atan2(4, 3))},
				{Kind: Cross, At: pt(4, 3), A: 14, B: 5 * math.Atan2(3, 4), Angle: geom.Angle(math.Atan2(4, 3))}}},
		{"tangent line", polyline(-10, 5, 10, 5), circle(0, 0, 5),
			[]Meeting{{Kind: Touch, At: pt(0, 5), A: 10, B: 2.5 * math.Pi}}},
		{"two circles, 3-4-5", circle(0, 0, 4), circle(5, 0, 3),
			[]Meeting{
				{Kind: Cross, At: pt(3.2, 2.4), A: 4 * math.Atan2(2.4, 3.2), B: 3 * (math.Pi - math.Atan2(2.4, 1.8)), Angle: math.Pi / 2},
				{Kind: Cross, At: pt(3.2, -2.4), A: 4 * (2*math.Pi - math.Atan2(2.4, 3.2)), B: 3 * (math.Pi + math.Atan2(2.4, 1.8)), Angle: math.Pi / 2}}},
		{"circles that kiss", circle(0, 0, 4), circle(7, 0, 3),
			[]Meeting{{Kind: Touch, At: pt(4, 0), A: 0, B: 3 * math.Pi}}},
		{"one circle inside another", circle(0, 0, 8), circle(5, 0, 3),
			[]Meeting{{Kind: Touch, At: pt(8, 0), A: 0, B: 0}}},
		{"T", polyline(-10, 0, 10, 0), polyline(0, 0, 0, 7),
			[]Meeting{{Kind: Touch, At: pt(0, 0), A: 10, B: 0, Angle: math.Pi / 2}}},
		{"end to end", polyline(0, 0, 10, 0), polyline(10, 0, 10, 7),
			[]Meeting{{Kind: Touch, At: pt(10, 0), A: 10, B: 0, Angle: math.Pi / 2}}},
		{"through a corner", polyline(0, 0, 5, 5, 10, 0), polyline(5, 0, 5, 10),
			[]Meeting{{Kind: Cross, At: pt(5, 5), A: 5 * math.Sqrt2, B: 5, Angle: math.Pi / 4}}},
		{"bounce off a corner", polyline(0, 0, 5, 5, 10, 0), polyline(0, 5, 10, 5),
			[]Meeting{{Kind: Touch, At: pt(5, 5), A: 5 * math.Sqrt2, B: 5, Angle: math.Pi / 4}}},
		{"apart", polyline(0, 0, 10, 0), polyline(0, 1, 10, 1), nil},
		{"shared stretch", polyline(0, 0, 100, 0), polyline(130, 0, 30, 0),
			[]Meeting{{Kind: Overlap, At: pt(30, 0), A: 30, AEnd: 100, B: 100, BEnd: 30}}},
		{"shared arc", geom.Path{Segments: []geom.Segment{geom.Arc{Radius: 50, From: 0, Sweep: 2}}},
			geom.Path{Segments: []geom.Segment{geom.Arc{Radius: 50, From: 1, Sweep: 2}}},
			[]Meeting{{Kind: Overlap, At: pt(50*math.Cos(1), 50*math.Sin(1)), A: 50, AEnd: 100, B: 0, BEnd: 50}}},
	} {
		t.Run(tc.name, func(t *testing.T) { checkMeetings(t, Crossings(tc.a, tc.b), tc.want) })
	}
}

func checkMeetings(t *testing.T, got, want []Meeting) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("got %+v, want %+v", got, want)
	}
	for i, w := range want {
		g := got[i]
		if w.Kind != Overlap {
			w.AEnd, w.BEnd = w.A, w.B
		}
		// Where paths touch, or part after running together, the place is only
		// as sure as the square root of the tolerance.
		tol := 1e-9
		if w.Kind != Cross {
			tol = 1e-2
		}
		if g.Kind != w.Kind || g.At.Dist(w.At) > tol {
			t.Errorf("meeting %d: %+v, want %+v", i, g, w)
		}
		for _, d := range [5]float64{g.A - w.A, g.AEnd - w.AEnd, g.B - w.B, g.BEnd - w.BEnd, float64(g.Angle - w.Angle)} {
			if math.Abs(d) > tol {
				t.Errorf("meeting %d: %+v, want %+v", i, g, w)
				break
			}
		}
	}
}

func TestSelfCrossings(t *testing.T) {
	// A loop: right along y = 0, up, left, down through the first line.
	loop := polyline(0, 0, 100, 0, 100, 50, 40, 50, 40, -30)
	checkMeetings(t, SelfCrossings(loop), []Meeting{{Kind: Cross, At: pt(40, 0), A: 40, B: 260, Angle: math.Pi / 2}})
	// A script loop of one arc and two lines.
	ell := geom.Path{Segments: []geom.Segment{
		geom.Line{A: pt(-100, 0), B: pt(0, 0)},
		geom.Arc{Centre: pt(0, 30), Radius: 30, From: -math.Pi / 2, Sweep: 1.5 * math.Pi},
		geom.Line{A: pt(-30, 30), B: pt(-30, -50)},
	}}
	checkMeetings(t, SelfCrossings(ell), []Meeting{{Kind: Cross, At: pt(-30, 0), A: 70, B: 100 + 45*math.Pi + 30, Angle: math.Pi / 2}})
	for _, p := range []geom.Path{polyline(0, 0, 50, 0, 50, 50, 0, 50), circle(0, 0, 30), {Closed: true, Segments: polyline(0, 0, 50, 0, 50, 50, 0, 0).Segments}} {
		if got := SelfCrossings(p); len(got) != 0 {
			t.Errorf("%v: %+v", p, got)
		}
	}
	// Out and back over the same line is one overlap.
	got := SelfCrossings(polyline(0, 0, 80, 0, 20, 0))
	if len(got) != 1 || got[0].Kind != Overlap || math.Abs(got[0].A-20) > 1e-4 || math.Abs(got[0].AEnd-80) > 1e-4 ||
		math.Abs(got[0].B-140) > 1e-4 || math.Abs(got[0].BEnd-80) > 1e-4 {
		t.Errorf("out and back: %+v", got)
	}
}

func TestNearMissesWithinTolerance(t *testing.T) {
	bar := polyline(0, 0, 100, 0)
	for _, tc := range []struct {
		name  string
		other geom.Path
		nodes int
		odd   int
	}{
		{"T short by 0.3", polyline(50, 0.3, 50, 60), 4, 4},
		{"T over by 0.3", polyline(50, -0.3, 50, 60), 4, 4},
		{"T short by 2", polyline(50, 2, 50, 60), 4, 4},
		{"ends 0.4 apart", polyline(100.4, 0, 100.4, 50), 3, 2},
		{"arc 0.2 off the bar", geom.Path{Segments: []geom.Segment{geom.Arc{Centre: pt(50, 30.2), Radius: 30, From: math.Pi, Sweep: math.Pi}}}, 5, 4},
	} {
		strokes := []geom.Path{bar, tc.other}
		g := Build(strokes, 0.5)
		if len(g.Nodes) != tc.nodes || len(g.Odd()) != tc.odd {
			t.Errorf("%s: %d nodes, %d odd; want %d, %d", tc.name, len(g.Nodes), len(g.Odd()), tc.nodes, tc.odd)
		}
		if joined := len(g.Components()) == 1; joined != (tc.name != "T short by 2") {
			t.Errorf("%s: joined %v", tc.name, joined)
		}
		checkGraph(t, strokes, g)
	}
}

func TestRetracedStrokeIsOneOverlap(t *testing.T) {
	// A stroke up the stem, and an arch that runs down it 0.1 off before it bends away.
	stem := polyline(0, 0, 0, 100)
	arch := geom.Path{Segments: []geom.Segment{
		geom.Line{A: pt(0.1, 20), B: pt(0.1, 60)},
		geom.Arc{Centre: pt(30.1, 60), Radius: 30, From: math.Pi, Sweep: -math.Pi},
	}}
	strokes := []geom.Path{stem, arch}
	g := Build(strokes, 0.5)
	checkGraph(t, strokes, g)
	if len(g.Overlap) != 1 {
		t.Fatalf("%d overlaps: %+v", len(g.Overlap), g.Overlap)
	}
	o := g.Overlap[0]
	if math.Abs(o.A-20) > 1 || o.AEnd < 60 || o.AEnd > 70 || math.Abs(o.B) > 1e-9 {
		t.Errorf("overlap %+v", o)
	}
	over := 0
	for _, e := range g.Edges {
		if e.Over >= 0 {
			over++
			if g.Edges[e.Over].Stroke != 0 || e.Stroke != 1 {
				t.Errorf("edge %+v repeats %+v", e, g.Edges[e.Over])
			}
		}
	}
	if over != 1 {
		t.Errorf("%d edges drawn twice, want 1", over)
	}
}

// TestRandomLaws: crossings are those of a plain sampled search, the same from
// either side and in any place, and a graph keeps its counts when turned or
// when a stroke is drawn backwards.
func TestRandomLaws(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 4))
	for n := range 120 {
		a, b := randomPath(rng), randomPath(rng)
		ab, ba := Crossings(a, b), Crossings(b, a)
		if len(ab) != len(ba) {
			t.Fatalf("case %d: %d meetings one way, %d the other", n, len(ab), len(ba))
		}
		if got, want := count(ab, Cross), sampledCrossings(a, b); got != want {
			t.Errorf("case %d: %d crossings, a sampled search finds %d", n, got, want)
		}
		for _, m := range ab {
			if d := a.PointAt(m.A).Dist(b.PointAt(m.B)); d > 2*exact {
				t.Errorf("case %d: %v apart at %+v", n, d, m)
			}
		}
		if got, want := count(SelfCrossings(a), Cross), sampledSelf(a); got != want {
			t.Errorf("case %d: %d self-crossings, a sampled search finds %d", n, got, want)
		}
		m := geom.SimilarityMap{Scale: 1.3, Turn: 0.7, Mirror: n%2 == 0, Move: geom.Vec{X: 40, Y: -9}}
		g := Build([]geom.Path{a, b}, 0.01)
		h := Build([]geom.Path{a.Map(m), b.Reversed().Map(m)}, 0.013)
		checkGraph(t, []geom.Path{a, b}, g)
		if len(g.Nodes) != len(h.Nodes) || len(g.Edges) != len(h.Edges) || g.Trails() != h.Trails() {
			t.Errorf("case %d: moved and reversed %d nodes %d edges, was %d %d", n, len(h.Nodes), len(h.Edges), len(g.Nodes), len(g.Edges))
		}
	}
}

func count(list []Meeting, k Kind) int {
	n := 0
	for _, m := range list {
		if m.Kind == k {
			n++
		}
	}
	return n
}

func randomPath(rng *rand.Rand) geom.Path {
	var p geom.Path
	at, dir := pt(60*rng.Float64(), 60*rng.Float64()), geom.UnitAt(geom.Angle(6*rng.Float64()))
	for range 1 + rng.IntN(5) {
		dir = dir.Turned(geom.Angle(rng.Float64() - 0.5))
		n := 10 + 50*rng.Float64()
		if rng.IntN(2) == 0 {
			p.Segments = append(p.Segments, geom.Line{A: at, B: at.Add(dir.Mul(n))})
		} else {
			p.Segments = append(p.Segments, geom.ArcThrough(at, dir, at.Add(dir.Turned(geom.Angle(2*rng.Float64()-1)).Mul(n))))
		}
		g := p.Segments[len(p.Segments)-1]
		at, dir = g.End(), g.DirAt(g.Length())
	}
	return p
}

// sampledCrossings counts crossings of chords 0.05 mm long.
func sampledCrossings(a, b geom.Path) int {
	n := 0
	u, v := a.Samples(0.05), b.Samples(0.05)
	for i := 1; i < len(u); i++ {
		for j := 1; j < len(v); j++ {
			if crosses(u[i-1], u[i], v[j-1], v[j]) {
				n++
			}
		}
	}
	return n
}

func sampledSelf(a geom.Path) int {
	n := 0
	u := a.Samples(0.05)
	for i := 1; i < len(u); i++ {
		for j := i + 2; j < len(u); j++ {
			if crosses(u[i-1], u[i], u[j-1], u[j]) {
				n++
			}
		}
	}
	return n
}

func crosses(p, q, r, s geom.Point) bool {
	if p.Dist(r) > 0.2 {
		return false
	}
	d, e := q.Sub(p), s.Sub(r)
	return d.Cross(r.Sub(p)) > 0 != (d.Cross(s.Sub(p)) > 0) && e.Cross(p.Sub(r)) > 0 != (e.Cross(q.Sub(r)) > 0)
}

func FuzzBuild(f *testing.F) {
	f.Add(uint64(1), 3, 0.5)
	f.Add(uint64(9), 6, 0.05)
	f.Fuzz(func(t *testing.T, seed uint64, n int, tol float64) {
		if n < 1 || n > 8 || !(tol >= 0.001 && tol <= 1) {
			t.Skip()
		}
		rng := rand.New(rand.NewPCG(seed, 2))
		var strokes []geom.Path
		for range n {
			strokes = append(strokes, randomPath(rng))
		}
		if seed%2 == 0 {
			strokes = append(strokes, strokes[0].Reversed()) // drawn twice
		}
		checkGraph(t, strokes, Build(strokes, tol))
	})
}

func BenchmarkBuild(b *testing.B) {
	rng := rand.New(rand.NewPCG(5, 5))
	var strokes []geom.Path
	for range 10 {
		strokes = append(strokes, randomPath(rng))
	}
	for b.Loop() {
		Build(strokes, 0.5)
	}
}

// TestClosePairs: the grid finds the pairs that looking at all of them finds.
func TestClosePairs(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	for n := range 400 {
		boxes := make([]geom.Rect, rng.IntN(40))
		spread := []float64{0, 30, 1000, 1e9}[n%4]
		for i := range boxes {
			if boxes[i] = geom.EmptyRect(); rng.IntN(8) > 0 {
				p := pt(spread*rng.Float64(), spread*rng.Float64()*float64(n%3))
				boxes[i] = boxes[i].Including(p).Including(p.Add(geom.Vec{X: 20 * rng.ExpFloat64(), Y: float64(20*rng.IntN(3)) * rng.Float64()}))
			}
		}
		var want []pair
		for i := range boxes {
			for j := i; j < len(boxes); j++ {
				if !boxes[i].IsEmpty() && !boxes[j].IsEmpty() && boxes[i].Grown(0.5).Overlaps(boxes[j]) {
					want = append(want, pair{i, j})
				}
			}
		}
		if got := closePairs(boxes, 0.5); !slices.Equal(got, want) {
			t.Fatalf("case %d: %v, want %v", n, got, want)
		}
	}
}

// AllCrossings is Crossings of every two and SelfCrossings of each.
func TestAllCrossingsAgreesWithPairs(t *testing.T) {
	paths := hersheyLine(t, 62, -20) // letters run into each other
	var want []Pair
	for i := range paths {
		for j := i; j < len(paths); j++ {
			found := SelfCrossings(paths[i])
			if i != j {
				found = Crossings(paths[i], paths[j])
			}
			for _, m := range found {
				want = append(want, Pair{i, j, m})
			}
		}
	}
	if got := AllCrossings(paths); len(want) < 50 || !reflect.DeepEqual(got, want) {
		t.Errorf("%d meetings, pair by pair %d", len(got), len(want))
	}
}
