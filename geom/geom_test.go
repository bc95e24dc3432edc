package geom

import (
	"math"
	"testing"
)

func TestParseLength(t *testing.T) {
	for _, tc := range []struct {
		in   string
		want Length
	}{
		{"12mm", 12}, {"1/2in", 12.7}, {"1 1/2in", 38.1}, {"5ft 6in", 1676.4}, {"5ft6in", 1676.4},
		{"0.5 m", 500}, {"1.2cm", 12}, {"12 MM", 12}, {"0mm", 0},
	} {
		got, err := ParseLength(tc.in)
		if err != nil || got != tc.want {
			t.Errorf("ParseLength(%q) = %v, %v; want %v", tc.in, got, err, tc.want)
		}
	}
	for _, in := range []string{"", " ", "12", "12 px", "mm", "-3mm", "1/0in", "1/2/3in", "1e9mm", "NaNmm", "12mm 3", "0.5/2in", "..mm", "2000km", "1000000.5m", "½in"} {
		if got, err := ParseLength(in); err == nil {
			t.Errorf("ParseLength(%q) = %v, want an error", in, got)
		}
	}
}

func FuzzParseLength(f *testing.F) {
	f.Add("5ft 6 1/2in")
	f.Add("12mm")
	f.Fuzz(func(t *testing.T, s string) { // what is read is written so that it reads the same
		l, err := ParseLength(s)
		if err != nil {
			return
		}
		if !(l >= 0 && l <= maxLength) {
			t.Fatalf("%q gave %v, outside 0..1 km", s, float64(l))
		}
		again, err := ParseLength(l.String())
		if err != nil || math.Abs(float64(again-l)) > 0.0005+1e-9 {
			t.Fatalf("%q → %v → %v, %v", s, l, again, err)
		}
	})
}

func TestSegmentsMeetTheirLaws(t *testing.T) {
	segs := []Segment{
		Line{Point{1, 2}, Point{4, 6}},
		Arc{Point{0, 0}, 50, 0.3, 2},
		Arc{Point{5, -3}, 20, 2, -3.5},
		Arc{Point{5, -3}, 20, 2, 2 * math.Pi},
	}
	for _, s := range segs {
		n := s.Length()
		near := func(what string, a, b Point) {
			t.Helper()
			if a.Dist(b) > 1e-9 {
				t.Errorf("%+v: %s: %v, %v", s, what, a, b)
			}
		}
		near("start", s.PointAt(0), s.Start())
		near("end", s.PointAt(n), s.End())
		near("reverse", s.Reversed().PointAt(n/3), s.PointAt(n-n/3))
		near("cut", s.Cut(n/4, n/2).PointAt(n/8), s.PointAt(n/4+n/8))
		if c := s.Cut(n/4, n/2).Length() + s.Cut(n/2, n).Length(); math.Abs(c-0.75*n) > 1e-9 {
			t.Errorf("%+v: cut lengths sum to %v of %v", s, c, 0.75*n)
		}
		p := s.PointAt(n * 0.4)
		if got := s.Nearest(p); math.Abs(got-0.4*n) > 1e-7 {
			t.Errorf("%+v: nearest of own point at %v, want %v", s, got, 0.4*n)
		}
		h := 1e-6
		num := s.PointAt(n/2 + h).Sub(s.PointAt(n/2 - h)).Unit()
		if d := s.DirAt(n / 2); math.Abs(d.Cross(num)) > 1e-6 || d.Dot(num) < 0 {
			t.Errorf("%+v: direction %v, by difference %v", s, d, num)
		}
		m := SimilarityMap{Mirror: true, Scale: 2, Turn: 0.7, Move: Vec{3, 4}}
		near("map", s.Map(m).PointAt(2*n/3), m.Apply(s.PointAt(n/3)))
		r := Raised(s, -7)
		q := r.PointAt(n / 3)
		near("raised", q.Plan(), s.PointAt(n/3))
		if math.Abs(r.Length()-n) > 1e-9 || math.Abs(q.Z+7) > 1e-9 {
			t.Errorf("%+v: raised to %v with length %v", s, q, r.Length())
		}
	}
	if got := (Arc{Radius: 50, Sweep: 90 * Degree}).Length(); math.Abs(got-78.53981633974483) > 1e-12 { // 50·π/2, by hand
		t.Errorf("quarter turn of radius 50: %v", got)
	}
}

func TestArcThrough3KeepsTangentAndEnd(t *testing.T) {
	p, d, q := Point3{1, 2, 3}, Vec3{1, 0.2, -0.3}.Unit(), Point3{5, 9, -4}
	s := ArcThrough3(p, d, q)
	if s.Start().Dist(p) > 1e-9 || s.End().Dist(q) > 1e-9 || s.DirAt(0).Dot(d) < 1-1e-12 {
		t.Errorf("arc from %v to %v leaves along %v", s.Start(), s.End(), s.DirAt(0))
	}
	rev := s.Reversed()
	if rev.Start().Dist(q) > 1e-9 || rev.End().Dist(p) > 1e-9 {
		t.Errorf("reversed runs from %v to %v", rev.Start(), rev.End())
	}
}

func TestPathBoundsHoldTheWholeCircle(t *testing.T) {
	p := Path{Segments: []Segment{Arc{Point{10, 20}, 5, 0.1, 2 * math.Pi}}, Closed: true}
	b := p.Bounds()
	if math.Abs(b.Min.X-5) > 1e-9 || math.Abs(b.Max.Y-25) > 1e-9 || math.Abs(b.Width()-10) > 1e-9 {
		t.Errorf("bounds %v", b)
	}
}
