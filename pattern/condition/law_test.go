package condition

import (
	"math"
	"math/rand/v2"
	"testing"

	"tubewright/geom"
)

// scrawl returns a random stroke of the kind lettering has: lines and arcs, some
// joined smoothly, some at corners, some arcs too tight for a 12 mm tube.
func scrawl(seed uint64) geom.Path {
	rng := rand.New(rand.NewPCG(seed, 3))
	var p geom.Path
	at, dir := geom.Point{}, geom.UnitAt(geom.Angle(6*rng.Float64()))
	for range 2 + rng.IntN(6) {
		if rng.IntN(3) == 0 {
			dir = dir.Turned(geom.Angle((rng.Float64() - 0.5) * 5)) // a corner
		}
		n := 15 + 80*rng.Float64()
		if rng.IntN(2) == 0 {
			end := at.Add(dir.Mul(n))
			p.Segments = append(p.Segments, geom.Line{A: at, B: end})
			at = end
			continue
		}
		r := 6 + 60*rng.Float64()
		sweep := math.Copysign(min(n/r, 3), rng.Float64()-0.5)
		side := dir.Left().Mul(math.Copysign(r, sweep))
		a := geom.Arc{Centre: at.Add(side), Radius: r, From: side.Neg().Heading(), Sweep: geom.Angle(sweep)}
		p.Segments = append(p.Segments, a)
		at, dir = a.End(), a.DirAt(a.Length())
	}
	return p
}

// coarse returns a random polyline of short chords, as single-line faces have.
func coarse(seed uint64) geom.Path {
	rng := rand.New(rand.NewPCG(seed, 5))
	v := []float64{0, 0}
	h := 6 * rng.Float64()
	x, y := 0.0, 0.0
	for range 3 + rng.IntN(15) {
		h += (rng.Float64() - 0.5) * 1.5
		if rng.IntN(8) == 0 {
			h += 2.5
		}
		n := 7 + 30*rng.Float64()*rng.Float64()
		x, y = x+n*math.Cos(h), y+n*math.Sin(h)
		v = append(v, x, y)
	}
	return polyline(v...)
}

func TestAnyStrokeComesOutBendable(t *testing.T) {
	for seed := range uint64(60) {
		for _, lim := range []Limits{{Diameter: 8}, {Diameter: 12}, {Diameter: 15, Smooth: true}} {
			p := scrawl(seed)
			if lim.Smooth {
				p = coarse(seed)
			}
			check(t, p, lim, Stroke(p, lim))
			if seed%3 == 0 {
				q := polyline(p.End().X, p.End().Y, p.Start().X, p.Start().Y)
				p.Segments = append(p.Segments, q.Segments...)
				p.Closed = true
				r := Stroke(p, lim)
				check(t, p, lim, r)
				if !r.Path.Closed && !has(r, StrokeShort) {
					t.Errorf("a closed stroke came out open")
				}
			}
			if t.Failed() {
				t.Fatalf("seed %d, %+v", seed, lim)
			}
		}
	}
}

// near fails unless two paths run through the same places to within tol.
func near(t *testing.T, name string, got, want geom.Path, tol float64) {
	t.Helper()
	if d, at := apart(got, want, 1); d > tol {
		t.Errorf("%s: paths %v apart at %v", name, d, at)
	}
}

func mapProblems(list []Problem, m geom.SimilarityMap) []Problem {
	var out []Problem
	for _, p := range list {
		p.At = m.Apply(p.At)
		p.Want, p.Got = p.Want*m.Scale, p.Got*m.Scale
		out = append(out, p)
	}
	return out
}

func TestMirrorScaleReverseTurn(t *testing.T) {
	reversed := 0
	for seed := range uint64(60) {
		lim := Limits{Diameter: d12}
		p := scrawl(seed)
		base := Stroke(p, lim)
		for name, m := range map[string]geom.SimilarityMap{
			"mirror": {Mirror: true, Scale: 1},
			"move":   {Scale: 1, Move: geom.Vec{X: 217, Y: -93}},
			"scale":  {Scale: 2.6},
		} {
			l := lim
			l.Diameter *= m.Scale
			r := Stroke(p.Map(m), l)
			near(t, name, r.Path, base.Path.Map(m), 5e-3*m.Scale) // searches end within a few micrometres
			want := mapProblems(base.Problems, m)
			if len(r.Problems) != len(want) {
				t.Errorf("seed %d %s: problems %v, want %v", seed, name, r.Problems, want)
				continue
			}
			for i, q := range r.Problems {
				if q.Kind != want[i].Kind || q.At.Dist(want[i].At) > 0.01*m.Scale || math.Abs(q.Got-want[i].Got) > 0.01*m.Scale {
					t.Errorf("seed %d %s: problem %v, want %v", seed, name, q, want[i])
				}
			}
		}
		// Curves are opened from one end of the stroke, so drawn backwards they
		// come out alike, not the same; everything else must be the same.
		if base.Deviation < 2 || !has(base, CornerNoRoom) && !has(base, CurveTight) && !has(base, CornerTight) {
			near(t, "reverse", Stroke(p.Reversed(), lim).Path, base.Path, 2*openTol*d12)
			reversed++
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if reversed < 15 {
		t.Errorf("only %d strokes tried backwards", reversed)
	}
	// Turned: corners all blunt, so no apex.
	p := polyline(0, 0, 60, 0, 90, 70, 10, 120)
	m := geom.SimilarityMap{Scale: 1, Turn: 2.1}
	near(t, "turn", Stroke(p.Map(m), Limits{Diameter: d12}).Path, Stroke(p, Limits{Diameter: d12}).Path.Map(m), 1e-9)
}

func TestCoarseCircleBecomesRound(t *testing.T) {
	var v []float64
	for i := range 13 { // 12 chords of 20.7 mm: turns of 30 degrees
		a := float64(i) * math.Pi / 6
		v = append(v, 40*math.Cos(a), 40*math.Sin(a))
	}
	r := Stroke(polyline(v...), Limits{Diameter: d12, Smooth: true})
	if !r.Path.Closed || len(r.Path.Segments) > 2 {
		t.Fatalf("%d segments, closed %v; want a circle", len(r.Path.Segments), r.Path.Closed)
	}
	for _, q := range r.Path.Samples(1) {
		if d := math.Abs(math.Hypot(q.X, q.Y) - 40); d > 0.3 {
			t.Fatalf("%v is %v off the circle through the vertices", q, d)
		}
	}
}

func TestStemsStayStraightInCoarseFaces(t *testing.T) {
	// A U: two stems and chords of a half circle of radius 30.
	v := []float64{-30, 120}
	for i := range 7 {
		a := math.Pi + float64(i)*math.Pi/6
		v = append(v, 30*math.Cos(a), 30*math.Sin(a))
	}
	v = append(v, 30, 120)
	r := Stroke(polyline(v...), Limits{Diameter: d12, Smooth: true})
	first, ok := r.Path.Segments[0].(geom.Line)
	if !ok || math.Abs(first.B.X+30) > 0.5 || first.Length() < 100 {
		t.Errorf("the stem became %v", r.Path.Segments[0])
	}
	if len(r.Path.Segments) > 5 {
		t.Errorf("%d segments", len(r.Path.Segments))
	}
}

func FuzzStroke(f *testing.F) {
	f.Add(uint64(1), true, 12.0)
	f.Add(uint64(77), false, 8.0)
	f.Fuzz(func(t *testing.T, seed uint64, smooth bool, d float64) {
		if !(d >= 4 && d <= 40) {
			t.Skip()
		}
		lim := Limits{Diameter: d, Smooth: smooth}
		p := scrawl(seed)
		if smooth {
			p = coarse(seed)
		}
		check(t, p, lim, Stroke(p, lim))
	})
}

func BenchmarkStroke(b *testing.B) {
	lim := Limits{Diameter: d12, Smooth: true}
	p := coarse(4)
	for b.Loop() {
		Stroke(p, lim)
	}
}
