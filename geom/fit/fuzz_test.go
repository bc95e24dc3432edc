package fit

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"testing"

	"tubewright/geom"
)

// checkLaws fails unless r keeps what Curve promises for any input.
func checkLaws(t testing.TB, pts []geom.Point, o Options, r Result) {
	t.Helper()
	checkG1(t, r.Path, o.MinRadius)
	tol := o.Tol
	if tol == 0 {
		tol = DefaultTol
	}
	if o.MinRadius == 0 && !(r.Deviation <= tol*(1+1e-9)) {
		t.Errorf("deviation %v over %v", r.Deviation, tol)
	}
	// The reported deviation is an upper bound of what a plain search finds.
	worst := 0.0
	for _, p := range pts {
		_, d := r.Path.Nearest(p)
		worst = max(worst, d)
	}
	if worst > r.Deviation*(1+1e-9)+1e-9 {
		t.Errorf("a point is %v from the path, reported %v", worst, r.Deviation)
	}
	if o.Closed {
		return
	}
	scale := 1 + math.Abs(pts[0].X) + math.Abs(pts[0].Y)
	if d := r.Path.Start().Dist(pts[0]); d > 1e-9*scale {
		t.Errorf("start moved by %v", d)
	}
	if d := r.Path.End().Dist(pts[len(pts)-1]); d > 1e-9*scale {
		t.Errorf("end moved by %v", d)
	}
	if o.StartDir != (geom.Vec{}) && r.Path.StartDir().TurnTo(o.StartDir).Abs() > 1e-4 {
		t.Errorf("start direction %v, want %v", r.Path.StartDir(), o.StartDir)
	}
	if o.EndDir != (geom.Vec{}) && r.Path.EndDir().TurnTo(o.EndDir).Abs() > 1e-4 {
		t.Errorf("end direction %v, want %v", r.Path.EndDir(), o.EndDir)
	}
}

func FuzzCurve(f *testing.F) {
	f.Add([]byte("\x00\x00\x00\x00\xff\x10\x20\x30"), byte(0), uint16(10))
	f.Add([]byte("abcdefghijklmnopqrstuvwxyz0123"), byte(1), uint16(50))
	f.Add([]byte("\x01\x02\x01\x02\x80\x80\x80\x80\x01\x02\x01\x02"), byte(2), uint16(300))
	f.Add([]byte("zyxwvutsrqponmlkjihgfedcba9876"), byte(7), uint16(5))
	f.Add([]byte("the quick brown tube bends over"), byte(12), uint16(20))
	f.Fuzz(func(t *testing.T, raw []byte, mode byte, fine uint16) {
		if len(raw) > 400 {
			t.Skip()
		}
		var pts []geom.Point // 16-bit coordinates, up to 655 mm
		for ; len(raw) >= 4; raw = raw[4:] {
			pts = append(pts, geom.Point{
				X: float64(binary.LittleEndian.Uint16(raw)) / 100,
				Y: float64(binary.LittleEndian.Uint16(raw[2:])) / 100,
			})
		}
		o := Options{Tol: 0.01 + float64(fine)/1000, Closed: mode&1 != 0}
		if mode&2 != 0 {
			o.MinRadius = 5
		}
		if mode&4 != 0 && !o.Closed {
			o.StartDir = geom.Vec{X: 1, Y: 2}
		}
		if mode&8 != 0 && !o.Closed {
			o.EndDir = geom.Vec{X: -1, Y: 0.5}
		}
		r, err := Curve(pts, o)
		if err != nil {
			if distinct(pts) {
				t.Fatalf("refused: %v", err)
			}
			return
		}
		checkLaws(t, pts, o, r)
	})
}

func distinct(pts []geom.Point) bool {
	for _, p := range pts {
		if p != pts[0] {
			return true
		}
	}
	return false
}

// TestRandomPoints is the fuzz law on seeded inputs of the kinds lettering has
// and some it has not.
func TestRandomPoints(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for n := range 200 {
		var pts []geom.Point
		p, h := geom.Point{}, 0.0
		wild := rng.Float64() * rng.Float64() * 3
		for range 2 + rng.IntN(40) {
			pts = append(pts, p)
			h += (rng.Float64() - 0.5) * 2 * wild
			p = p.Add(geom.UnitAt(geom.Angle(h)).Mul(math.Exp(rng.NormFloat64())))
		}
		o := Options{Tol: 0.02 + 0.3*rng.Float64(), Closed: n%3 == 0}
		if n%2 == 0 {
			o.MinRadius = 0.2 + 3*rng.Float64()
		}
		if n%5 == 0 && !o.Closed {
			o.StartDir = geom.UnitAt(geom.Angle(6 * rng.Float64()))
		}
		if n%7 == 0 && !o.Closed {
			o.EndDir = geom.UnitAt(geom.Angle(6 * rng.Float64()))
		}
		r, err := Curve(pts, o)
		if err != nil {
			t.Fatal(err)
		}
		checkLaws(t, pts, o, r)
		if t.Failed() {
			t.Fatalf("case %d: %d points, %+v", n, len(pts), o)
		}
	}
}
