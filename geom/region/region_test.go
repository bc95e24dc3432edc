package region

import (
	"math"
	"math/rand"
	"testing"

	"tubewright/geom"
)

func box(x0, y0, x1, y1 float64) []geom.Point {
	return []geom.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func reversed(l []geom.Point) []geom.Point {
	out := make([]geom.Point, len(l))
	for i, p := range l {
		out[len(l)-1-i] = p
	}
	return out
}

func outlineOf(loops ...[]geom.Point) geom.Outline {
	var o geom.Outline
	for _, l := range loops {
		c := geom.Contour{Start: l[0]}
		for _, p := range l[1:] {
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: p})
		}
		o = append(o, c)
	}
	return o
}

func TestInkIsWhereTheWindingNumberIsNotZero(t *testing.T) {
	for _, tc := range []struct {
		name         string
		loops        [][]geom.Point
		area         float64 // by hand
		outer, holes int
	}{
		{"square", [][]geom.Point{box(0, 0, 10, 10)}, 100, 1, 0},
		{"square drawn clockwise", [][]geom.Point{reversed(box(0, 0, 10, 10))}, 100, 1, 0},
		{"ring", [][]geom.Point{box(0, 0, 10, 10), reversed(box(2, 2, 8, 8))}, 64, 1, 1},
		{"ring, both reversed", [][]geom.Point{reversed(box(0, 0, 10, 10)), box(2, 2, 8, 8)}, 64, 1, 1},
		{"inner loop of the same direction is no hole", [][]geom.Point{box(0, 0, 10, 10), box(2, 2, 8, 8)}, 100, 1, 0},
		{"island in a counter", [][]geom.Point{box(0, 0, 10, 10), reversed(box(2, 2, 8, 8)), box(4, 4, 6, 6)}, 68, 2, 1},
		{"cross of two bars", [][]geom.Point{box(0, 4, 10, 6), box(4, 0, 6, 10)}, 36, 1, 0},
		{"cross of bars of opposite direction", [][]geom.Point{box(0, 4, 10, 6), reversed(box(4, 0, 6, 10))}, 32, 4, 0},
		{"the same square twice", [][]geom.Point{box(0, 0, 10, 10), box(0, 0, 10, 10)}, 100, 1, 0},
		{"squares side by side", [][]geom.Point{box(0, 0, 10, 10), box(10, 0, 20, 10)}, 200, 1, 0},
		{"frame of four bars", [][]geom.Point{box(0, 0, 10, 2), box(0, 8, 10, 10), box(0, 0, 2, 10), box(8, 0, 10, 10)}, 64, 1, 1},
		{"repeated and collinear points", [][]geom.Point{{{X: 0}, {X: 0}, {X: 5}, {X: 10}, {X: 10, Y: 10}, {X: 10, Y: 10}, {Y: 10}, {Y: 3}}}, 100, 1, 0},
		{"spike without width", [][]geom.Point{{{X: 0}, {X: 5}, {X: 5, Y: -7}, {X: 5}, {X: 10}, {X: 10, Y: 10}, {Y: 10}}}, 100, 1, 0},
		{"crumb beside a square", [][]geom.Point{box(0, 0, 10, 10), box(20, 20, 20.001, 20.001)}, 100, 1, 0},
		{"nothing", nil, 0, 0, 0},
		{"a line", [][]geom.Point{{{X: 0}, {X: 10}, {X: 5}}}, 0, 0, 0},
	} {
		r, err := FromLoops(tc.loops, 0.01)
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		outer, holes := r.Pieces()
		// separating parts that touch in a point costs a little area
		if math.Abs(r.Area()-tc.area) > 0.02 || outer != tc.outer || holes != tc.holes {
			t.Errorf("%s: area %v, %d pieces, %d holes; want %v, %d, %d", tc.name, r.Area(), outer, holes, tc.area, tc.outer, tc.holes)
		}
		checkSimple(t, r)
	}
}

// checkSimple fails unless loops are disjoint and have the ink on the left.
func checkSimple(t *testing.T, r Region) {
	t.Helper()
	if crossing(r.Loops, 0) {
		t.Errorf("loops cross or touch: %v", r.Loops)
	}
	for i, l := range r.Loops {
		for j := range l {
			a, b := l[j], l[(j+1)%len(l)]
			d := b.Sub(a)
			h := min(1e-5, d.Norm()/4)
			if m := a.Lerp(b, 0.5).Add(d.Unit().Left().Mul(h)); d.Norm() > 1e-3 && !r.Contains(m) {
				t.Errorf("loop %d, edge %d: no ink on the left at %v", i, j, m)
			}
		}
	}
}

func TestBadLoopsAreErrors(t *testing.T) {
	for _, tc := range []struct {
		name  string
		loops [][]geom.Point
		tol   float64
	}{
		{"not a number", [][]geom.Point{{{X: math.NaN()}, {X: 1}, {Y: 1}}}, 0.01},
		{"infinite", [][]geom.Point{{{X: math.Inf(1)}, {X: 1}, {Y: 1}}}, 0.01},
		{"no tolerance", [][]geom.Point{box(0, 0, 1, 1)}, 0},
		{"too many points", [][]geom.Point{make([]geom.Point, MaxPoints+1)}, 0.01},
	} {
		if _, err := FromLoops(tc.loops, tc.tol); err == nil {
			t.Errorf("%s: no error", tc.name)
		}
	}
}

func TestFlattenHoldsItsTolerance(t *testing.T) {
	from := geom.Point{}
	for _, k := range []geom.Curve{
		{Kind: geom.QuadTo, C1: geom.Point{X: 50, Y: 100}, To: geom.Point{X: 100}},
		{Kind: geom.CubicTo, C1: geom.Point{X: 120, Y: 90}, C2: geom.Point{X: -20, Y: 90}, To: geom.Point{X: 100}},
		{Kind: geom.CubicTo, C1: geom.Point{Y: 55}, C2: geom.Point{X: 45, Y: 100}, To: geom.Point{X: 100, Y: 100}},
	} {
		o := geom.Outline{{Start: from, Curves: []geom.Curve{k}}}
		for _, tol := range []float64{1, 0.1, 0.01} {
			loop := Flatten(o, tol)[0]
			worst := 0.0
			for i := range 2001 {
				p := k.At(from, float64(i)/2000)
				d := math.Inf(1)
				for j := 1; j < len(loop); j++ {
					d = min(d, segmentDistance(loop[j-1], loop[j], p))
				}
				worst = max(worst, d)
			}
			if worst > tol {
				t.Errorf("%+v at %v: off by %v with %d points", k, tol, worst, len(loop))
			}
		}
	}
}

func TestConnectedFollowsTouchingInk(t *testing.T) {
	o := []geom.Outline{
		outlineOf(box(0, 0, 10, 10)),
		outlineOf(box(30, 0, 40, 10)),
		outlineOf(box(9, 4, 20, 6)),                                 // overlaps the first
		outlineOf(box(20, 0, 25, 10)),                               // touches the third
		outlineOf(box(60, 0, 90, 30), reversed(box(65, 5, 85, 25))), // a ring
		outlineOf(box(70, 10, 80, 20)),                              // in its counter: apart
		outlineOf(box(61, 1, 63, 3)),                                // in its ink
	}
	got := Connected(o, 0.01)
	want := [][]int{{0, 2, 3}, {1}, {4, 6}, {5}}
	if len(got) != len(want) {
		t.Fatalf("groups %v, want %v", got, want)
	}
	for i := range want {
		if len(got[i]) != len(want[i]) {
			t.Fatalf("groups %v, want %v", got, want)
		}
		for j := range want[i] {
			if got[i][j] != want[i][j] {
				t.Fatalf("groups %v, want %v", got, want)
			}
		}
	}
	r, err := Union([]geom.Outline{o[0], o[2]}, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	if want := 100.0 + 22 - 2; math.Abs(r.Area()-want) > 1e-4 {
		t.Errorf("area of the union %v, want %v", r.Area(), want)
	}
}

func TestDistanceIsSigned(t *testing.T) {
	r, err := FromLoops([][]geom.Point{box(0, 0, 10, 10), reversed(box(4, 4, 6, 6))}, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		p    geom.Point
		want float64
	}{{geom.Point{X: 2, Y: 5}, 2}, {geom.Point{X: 5, Y: 5}, -1}, {geom.Point{X: -3, Y: 5}, -3}, {geom.Point{X: 13, Y: 14}, -5}, {geom.Point{X: 3, Y: 3}, math.Sqrt2}} {
		if got := r.Distance(tc.p); math.Abs(got-tc.want) > 1e-9 {
			t.Errorf("distance at %v: %v, want %v", tc.p, got, tc.want)
		}
	}
}

// The ink does not depend on the order of loops, on where each starts, or on
// a point added to an edge.
func FuzzSameInkHoweverItIsDrawn(f *testing.F) {
	f.Add(int64(1), uint8(3), uint8(5))
	f.Add(int64(7), uint8(1), uint8(9))
	f.Fuzz(func(t *testing.T, seed int64, loops, points uint8) {
		rng := rand.New(rand.NewSource(seed))
		var a, b [][]geom.Point
		for range int(loops%4) + 1 {
			var l []geom.Point
			for range int(points%12) + 3 {
				l = append(l, geom.Point{X: math.Round(rng.Float64() * 100), Y: math.Round(rng.Float64() * 100)})
			}
			a = append(a, l)
			k := rng.Intn(len(l))
			m := append(append([]geom.Point(nil), l[k:]...), l[:k]...)
			m = append(m, m[len(m)-1].Lerp(m[0], 0.5))
			b = append([][]geom.Point{m}, b...)
		}
		ra, errA := FromLoops(a, 0.01)
		rb, errB := FromLoops(b, 0.01)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		if d := math.Abs(ra.Area() - rb.Area()); d > 0.5 {
			t.Errorf("%v: areas %v and %v", a, ra.Area(), rb.Area())
		}
		hit, n := 0, 4000
		for range n {
			p := geom.Point{X: rng.Float64() * 100, Y: rng.Float64() * 100}
			if ra.Contains(p) != (winding2(a, p) != 0) {
				hit++
			}
		}
		if hit > n/100 {
			t.Errorf("%v: %d of %d points on the wrong side", a, hit, n)
		}
	})
}

// winding2 counts the winding number of loops that may cross, by a ray.
func winding2(loops [][]geom.Point, p geom.Point) int {
	w := 0
	for _, l := range loops {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			if (a.Y > p.Y) == (b.Y > p.Y) || a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) <= p.X {
				continue
			}
			if b.Y > a.Y {
				w++
			} else {
				w--
			}
		}
	}
	return w
}
