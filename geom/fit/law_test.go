package fit

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"tubewright/geom"
)

// exact returns points on the path every step mm, noise free.
func (c chain) exact(step float64) []geom.Point { return c.path().Samples(step) }

func TestExactChainsAreRecovered(t *testing.T) {
	for _, c := range chains(t) {
		t.Run(c.Name, func(t *testing.T) {
			want := c.path()
			r, err := Curve(c.exact(1), Options{Tol: 0.1, Closed: c.closed()})
			if err != nil {
				t.Fatal(err)
			}
			checkG1(t, r.Path, 0)
			if len(r.Path.Segments) != len(want.Segments) {
				t.Fatalf("%d pieces, want %d", len(r.Path.Segments), len(want.Segments))
			}
			if d := math.Abs(r.Path.Length() - want.Length()); d > 1e-6 {
				t.Errorf("length off by %v", d)
			}
			if c.closed() {
				return // starts elsewhere
			}
			for i, g := range r.Path.Segments {
				w := want.Segments[i]
				if math.Abs(g.Length()-w.Length()) > 1e-5 || math.Abs(g.Curvature()-w.Curvature()) > 1e-8 {
					t.Errorf("piece %d: length %v curvature %v, want %v %v", i, g.Length(), g.Curvature(), w.Length(), w.Curvature())
				}
			}
		})
	}
}

// same fails unless both paths run through the same places to within tol.
func same(t *testing.T, name string, got, want geom.Path, tol float64) {
	t.Helper()
	if len(got.Segments) != len(want.Segments) {
		t.Errorf("%s: %d pieces, want %d", name, len(got.Segments), len(want.Segments))
	}
	n := want.Length()
	for i := range 101 {
		p := want.PointAt(n * float64(i) / 100)
		q := got.PointAt(got.Length() * float64(i) / 100)
		if got.Closed {
			_, d := got.Nearest(p)
			if d > tol {
				t.Fatalf("%s: %v off at %v", name, d, p)
			}
			continue
		}
		if d := p.Dist(q); d > tol {
			t.Fatalf("%s: %v off at %v", name, d, p)
		}
	}
}

func TestMirrorTurnScaleReverse(t *testing.T) {
	for _, c := range chains(t) {
		pts := c.noisy()
		opt := Options{Tol: 0.15, Closed: c.closed()}
		base, err := Curve(pts, opt)
		if err != nil {
			t.Fatal(err)
		}
		for name, m := range map[string]geom.SimilarityMap{
			"mirror": {Mirror: true, Scale: 1},
			"turn":   {Scale: 1, Turn: 1.234, Move: geom.Vec{X: 300, Y: -70}},
			"scale":  {Scale: 3.7},
		} {
			moved := make([]geom.Point, len(pts))
			for i, p := range pts {
				moved[i] = m.Apply(p)
			}
			o := opt
			o.Tol *= m.Scale
			r, err := Curve(moved, o)
			if err != nil {
				t.Fatal(err)
			}
			same(t, c.Name+" "+name, r.Path, base.Path.Map(m), 1e-6*m.Scale)
			if math.Abs(r.Deviation-base.Deviation*m.Scale) > 1e-6*m.Scale {
				t.Errorf("%s %s: deviation %v, want %v", c.Name, name, r.Deviation, base.Deviation*m.Scale)
			}
		}
		back := make([]geom.Point, len(pts))
		for i, p := range pts {
			back[len(pts)-1-i] = p
		}
		r, err := Curve(back, opt)
		if err != nil {
			t.Fatal(err)
		}
		// The search may part pieces at other samples; the least-squares curve is one.
		same(t, c.Name+" reverse", r.Path.Reversed(), base.Path, 1e-5)
	}
}

func circle(r, degrees, step float64) []geom.Point {
	n := int(math.Ceil(r * degrees * math.Pi / 180 / step))
	var out []geom.Point
	for i := range n + 1 {
		out = append(out, geom.Point{}.Add(geom.UnitAt(geom.Angle(degrees*float64(i)/float64(n))*geom.Degree).Mul(r)))
	}
	return out
}

func TestLinesAndCircles(t *testing.T) {
	var line []geom.Point
	for i := range 50 {
		line = append(line, geom.Point{X: 3 * float64(i), Y: 4 * float64(i)})
	}
	for _, tc := range []struct {
		name   string
		pts    []geom.Point
		closed bool
		most   int
		length float64
	}{
		{"two points", line[:2], false, 1, 5},
		{"straight", line, false, 1, 245},
		{"quarter", circle(40, 90, 1), false, 1, 20 * math.Pi},
		{"190 degrees", circle(40, 190, 1), false, 1, 40 * math.Pi * 190 / 180},
		{"350 degrees", circle(40, 350, 1), false, 2, 40 * math.Pi * 350 / 180},
		{"full circle", circle(40, 359, 1), true, 1, 80 * math.Pi},
		{"coarse circle", circle(40, 345, 10.5), true, 1, 80 * math.Pi},
		{"tiny", circle(1e-3, 180, 1e-4), false, 1, 1e-3 * math.Pi},
	} {
		t.Run(tc.name, func(t *testing.T) {
			tol := 0.05
			if tc.name == "tiny" {
				tol = 1e-5
			}
			if tc.name == "coarse circle" {
				tol = 0.5 // sagitta of a 10.5 mm chord: 0.34 mm
			}
			r, err := Curve(tc.pts, Options{Tol: tol, Closed: tc.closed})
			if err != nil {
				t.Fatal(err)
			}
			checkG1(t, r.Path, 0)
			if len(r.Path.Segments) > tc.most {
				t.Errorf("%d pieces, want %d", len(r.Path.Segments), tc.most)
			}
			if math.Abs(r.Path.Length()/tc.length-1) > 1e-6 && tc.name != "coarse circle" {
				t.Errorf("length %v, want %v", r.Path.Length(), tc.length)
			}
			if r.Deviation > tol {
				t.Errorf("deviation %v", r.Deviation)
			}
		})
	}
}

// wander returns points 1 mm apart on a curve whose curvature drifts, as that of
// script does: seeded, so the same each run.
func wander(seed uint64, n int) []geom.Point {
	rng := rand.New(rand.NewPCG(seed, 1))
	var out []geom.Point
	p, h := geom.Point{}, 0.0
	k, goal := 0.0, 0.0
	for i := range n {
		if i%40 == 0 {
			goal = rng.Float64()*0.1 - 0.05
		}
		k += 0.08 * (goal - k) // nothing here is an arc
		h += k
		out = append(out, p)
		p = p.Add(geom.UnitAt(geom.Angle(h)))
	}
	return out
}

func TestDriftingCurvatureStaysInBand(t *testing.T) {
	for seed := uint64(1); seed <= 30; seed++ {
		for _, tol := range []float64{0.02, 0.1, 0.5} {
			pts := wander(seed, 300)
			r, err := Curve(pts, Options{Tol: tol})
			if err != nil {
				t.Fatal(err)
			}
			checkG1(t, r.Path, 0)
			if r.Deviation > tol {
				t.Errorf("seed %d tol %v: deviation %v", seed, tol, r.Deviation)
			}
			if r.Path.Start() != pts[0] && r.Path.Start().Dist(pts[0]) > 1e-9 || r.Path.End().Dist(pts[len(pts)-1]) > 1e-9 {
				t.Errorf("seed %d: ends moved", seed)
			}
			if len(r.Path.Segments) > 60 {
				t.Errorf("seed %d tol %v: %d pieces", seed, tol, len(r.Path.Segments))
			}
		}
	}
}

func TestDirectionsAtEnds(t *testing.T) {
	pts := circle(60, 80, 1)
	for _, tilt := range []float64{0, 0.05, -0.3, 1.2, 3} {
		o := Options{Tol: 0.1}
		o.StartDir = geom.UnitAt(geom.Angle(math.Pi/2 + tilt))
		o.EndDir = geom.UnitAt(geom.Angle(math.Pi/2+80*math.Pi/180) - geom.Angle(tilt)/2)
		r, err := Curve(pts, o)
		if err != nil {
			t.Fatal(err)
		}
		checkG1(t, r.Path, 0)
		if a := r.Path.StartDir().TurnTo(o.StartDir).Abs(); a > 1e-6 {
			t.Errorf("tilt %v: start direction off by %v", tilt, a)
		}
		if a := r.Path.EndDir().TurnTo(o.EndDir).Abs(); a > 1e-6 {
			t.Errorf("tilt %v: end direction off by %v", tilt, a)
		}
		if r.Deviation > o.Tol {
			t.Errorf("tilt %v: deviation %v", tilt, r.Deviation)
		}
	}
}

func TestMinRadiusRoundsACorner(t *testing.T) {
	pts := []geom.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 80}}
	for _, r := range []float64{2, 10, 25} {
		got, err := Curve(pts, Options{Tol: 0.1, MinRadius: r})
		if err != nil {
			t.Fatal(err)
		}
		checkG1(t, got.Path, r)
		// A fillet of radius r leaves the corner by r(√2 - 1). Free to swing the
		// legs as well, a fit does at least as well as that but for the step of
		// the widening band.
		fillet := r * (math.Sqrt2 - 1)
		if got.Deviation > fillet*growth || got.Deviation < 0.2*fillet {
			t.Errorf("radius %v: deviation %v, a plain fillet has %v", r, got.Deviation, fillet)
		}
	}
}

func TestRefused(t *testing.T) {
	nan := math.NaN()
	for _, tc := range []struct {
		name string
		pts  []geom.Point
		opt  Options
		want error
	}{
		{"none", nil, Options{}, errTooFew},
		{"one", []geom.Point{{X: 1}}, Options{}, errTooFew},
		{"one twice", []geom.Point{{X: 1}, {X: 1}}, Options{}, errTooFew},
		{"NaN", []geom.Point{{}, {X: nan}}, Options{}, errNotFinite},
		{"infinite", []geom.Point{{}, {X: math.Inf(1)}}, Options{}, errNotFinite},
		{"far", []geom.Point{{}, {X: 1e10}}, Options{}, errTooFar},
		{"negative tolerance", []geom.Point{{}, {X: 1}}, Options{Tol: -1}, errOption},
		{"NaN radius", []geom.Point{{}, {X: 1}}, Options{MinRadius: nan}, errOption},
		{"NaN direction", []geom.Point{{}, {X: 1}}, Options{StartDir: geom.Vec{X: nan}}, errNotFinite},
	} {
		if _, err := Curve(tc.pts, tc.opt); !errors.Is(err, tc.want) {
			t.Errorf("%s: %v, want %v", tc.name, err, tc.want)
		}
	}
}

func TestRepeatedPointsAreDropped(t *testing.T) {
	pts := circle(30, 120, 2)
	var twice []geom.Point
	for _, p := range pts {
		twice = append(twice, p, p)
	}
	a, err := Curve(pts, Options{Tol: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	b, err := Curve(twice, Options{Tol: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	same(t, "repeats", b.Path, a.Path, 0)
}
