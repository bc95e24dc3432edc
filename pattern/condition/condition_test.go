package condition

import (
	"math"
	"testing"

	"tubewright/geom"
)

const d12 = 12.0 // a 12 mm tube; CornerRadius 15.24, MinRadius 9

func polyline(v ...float64) geom.Path {
	var p geom.Path
	for i := 2; i+1 < len(v); i += 2 {
		p.Segments = append(p.Segments, geom.Line{A: geom.Point{X: v[i-2], Y: v[i-1]}, B: geom.Point{X: v[i], Y: v[i+1]}})
	}
	return p
}

func ring(v ...float64) geom.Path {
	p := polyline(append(v, v[0], v[1])...)
	p.Closed = true
	return p
}

// check fails unless r keeps what Stroke promises for a stroke that can be bent.
func check(t testing.TB, p geom.Path, lim Limits, r Result) {
	t.Helper()
	least := lim.withDefaults().MinRadius
	if !fits(r.Path, least) {
		t.Errorf("path has a corner, a gap or a radius under %v: %v", least, r.Path)
		return
	}
	if !p.Closed && (r.Path.Start().Dist(p.Start()) > 1e-6 || r.Path.End().Dist(p.End()) > 1e-6) && !r.Path.Closed {
		t.Errorf("ends moved: %v %v, drawn %v %v", r.Path.Start(), r.Path.End(), p.Start(), p.End())
	}
	if !lim.Smooth {
		if d, _ := apart(p, r.Path, 0.37); d > r.Deviation+0.5 {
			t.Errorf("deviation %v, reported %v", d, r.Deviation)
		}
	}
}

func has(r Result, k Kind) bool {
	for _, p := range r.Problems {
		if p.Kind == k {
			return true
		}
	}
	return false
}

func TestRightAngle(t *testing.T) {
	p := polyline(0, 0, 100, 0, 100, 100)
	r := Stroke(p, Limits{Diameter: d12})
	check(t, p, Limits{Diameter: d12}, r)
	const R = 1.27 * d12
	if want := 200 - 2*R + R*math.Pi/2; math.Abs(r.Path.Length()-want) > 1e-9 {
		t.Errorf("length %v, want %v: two tangents of R taken, a quarter circle given", r.Path.Length(), want)
	}
	if want := R * (math.Sqrt2 - 1); math.Abs(r.Deviation-want) > 1e-6 {
		t.Errorf("deviation %v, want R(√2-1) = %v", r.Deviation, want)
	}
	if len(r.Problems) > 0 {
		t.Errorf("problems %v", r.Problems)
	}
	if len(r.Path.Segments) != 3 {
		t.Errorf("%d segments, want line, arc, line", len(r.Path.Segments))
	}
}

func TestCornerBetweenCurves(t *testing.T) {
	// Two arcs of radius 60 that meet at 90 degrees, both bending left.
	a := geom.Arc{Centre: geom.Point{X: 0, Y: 60}, Radius: 60, From: -2.4, Sweep: 2.4 - math.Pi/2}
	b := geom.Arc{Centre: geom.Point{X: -60, Y: 0}, Radius: 60, From: 0, Sweep: 0.8}
	p := geom.Path{Segments: []geom.Segment{a, b}}
	r := Stroke(p, Limits{Diameter: d12})
	check(t, p, Limits{Diameter: d12}, r)
	arc, ok := r.Path.Segments[1].(geom.Arc)
	if !ok || math.Abs(arc.Radius-1.27*d12) > 1e-9 {
		t.Fatalf("middle piece %v, want an arc of 1.27 D", r.Path.Segments[1])
	}
	// Tangent circles: inside a circle of 60, the centre is 60 - R from its centre.
	for _, c := range []geom.Arc{a, b} {
		if got := arc.Centre.Dist(c.Centre); math.Abs(got-(60-arc.Radius)) > 1e-6 {
			t.Errorf("centre %v from that of the leg, want %v", got, 60-arc.Radius)
		}
	}
}

func TestRadiusGivesWay(t *testing.T) {
	lim := Limits{Diameter: d12}
	for _, tc := range []struct {
		gap    float64 // between two right angles turning the same way: a U needs 2R
		radius float64
	}{
		{40, 15.24}, {30.48, 15.24}, {24, 12}, {19, 9.5},
	} {
		p := polyline(0, 0, 80, 0, 80, tc.gap, 0, tc.gap)
		r := Stroke(p, lim)
		check(t, p, lim, r)
		for _, g := range r.Path.Segments {
			if a, ok := g.(geom.Arc); ok && math.Abs(a.Radius-tc.radius) > 0.02*tc.radius {
				t.Errorf("gap %v: radius %v, want %v", tc.gap, a.Radius, tc.radius)
			}
		}
		if has(r, CornerTight) != (tc.radius < 15.2) {
			t.Errorf("gap %v: problems %v", tc.gap, r.Problems)
		}
	}
	// A gap of 10 has no room for two bends of 9: reported, and still bendable.
	p := polyline(0, 0, 80, 0, 80, 10, 0, 10)
	r := Stroke(p, lim)
	check(t, p, lim, r)
	if !has(r, CornerNoRoom) {
		t.Errorf("gap 10: problems %v, want no room", r.Problems)
	}
	for _, q := range r.Problems {
		if q.Kind == CornerNoRoom && (q.Want <= q.Got || q.Got > 10+1e-9) {
			t.Errorf("gap 10: needs %v, has %v", q.Want, q.Got)
		}
	}
}

// The worked A of the recipe for pointed apexes: half width 55, centreline
// height 138, R 15.24: vertex carried to 173.1, half angle 17.63 degrees.
func TestApexKeepsItsHeight(t *testing.T) {
	p := polyline(-55, 0, 0, 138, 55, 0)
	r := Stroke(p, Limits{Diameter: d12})
	check(t, p, Limits{Diameter: d12}, r)
	if top := r.Path.Bounds().Max.Y; math.Abs(top-138) > 1e-6 {
		t.Errorf("tip at %v, want 138", top)
	}
	leg := r.Path.StartDir()
	half := math.Atan2(leg.X, leg.Y) * 180 / math.Pi
	if math.Abs(half-17.63) > 0.01 {
		t.Errorf("half angle %v, want 17.63", half)
	}
	if vertex := 55 / math.Tan(half*math.Pi/180); math.Abs(vertex-173.1) > 0.1 {
		t.Errorf("vertex at %v, want 173.1", vertex)
	}
	if tangent := math.Hypot(55, 173.1) - r.Path.Segments[0].Length(); math.Abs(tangent-48) > 0.5 {
		t.Errorf("tangent length %v, want 48", tangent)
	}
}

func TestApexesOfMWNZ(t *testing.T) {
	for name, p := range map[string]geom.Path{
		"M": polyline(0, 0, 20, 140, 60, 0, 100, 140, 120, 0),
		"W": polyline(0, 140, 30, 0, 60, 140, 90, 0, 120, 140),
		"N": polyline(0, 0, 0, 140, 90, 0, 90, 140),
		"V": polyline(-50, 140, 0, 0, 50, 140),
		"Z": polyline(0, 140, 100, 140, 0, 0, 100, 0),
	} {
		r := Stroke(p, Limits{Diameter: d12})
		check(t, p, Limits{Diameter: d12}, r)
		a, b := p.Bounds(), r.Path.Bounds()
		for _, e := range [4]float64{a.Min.X - b.Min.X, a.Max.X - b.Max.X, a.Min.Y - b.Min.Y, a.Max.Y - b.Max.Y} {
			// N's upright lets its tip drift sideways; height counts.
			if math.Abs(e) > 1e-6 && name != "N" {
				t.Errorf("%s: outside size %v, drawn %v", name, b, a)
				break
			}
		}
		if math.Abs(a.Height()-b.Height()) > 1e-6 {
			t.Errorf("%s: height %v, drawn %v", name, b.Height(), a.Height())
		}
	}
}

func TestApexWithoutRoomIsNotCarried(t *testing.T) {
	p := polyline(-12, 0, 0, 30, 12, 0) // legs of 32 mm, a bend of 9 would take 40
	r := Stroke(p, Limits{Diameter: d12})
	check(t, p, Limits{Diameter: d12}, r)
	if top := r.Path.Bounds().Max.Y; top > 30+1e-6 {
		t.Errorf("tip at %v, over the drawn 30", top)
	}
	if len(r.Problems) == 0 {
		t.Error("no problem reported")
	}
}

func TestTightCurveIsOpened(t *testing.T) {
	// Straight, a quarter turn of radius 4, straight.
	p := geom.Path{Segments: []geom.Segment{
		geom.Line{A: geom.Point{}, B: geom.Point{X: 150}},
		geom.Arc{Centre: geom.Point{X: 150, Y: 4}, Radius: 4, From: -math.Pi / 2, Sweep: math.Pi / 2},
		geom.Line{A: geom.Point{X: 154, Y: 4}, B: geom.Point{X: 154, Y: 120}},
	}}
	r := Stroke(p, Limits{Diameter: d12})
	check(t, p, Limits{Diameter: d12}, r)
	// A plain arc of 9 would leave it by (9-4)(√2-1) = 2.07.
	if r.Deviation > 2.08 {
		t.Errorf("deviation %v, a plain arc has 2.07", r.Deviation)
	}
	if q := r.Path.PointAt(70); q.Dist(geom.Point{X: 70}) > 1e-9 {
		t.Errorf("the far straight moved: %v", q)
	}
}

func TestNarrowArchIsWidened(t *testing.T) {
	// An arch of radius 5 between straight legs, as in a narrow n.
	p := geom.Path{Segments: []geom.Segment{
		geom.Line{A: geom.Point{}, B: geom.Point{Y: 100}},
		geom.Arc{Centre: geom.Point{X: 5, Y: 100}, Radius: 5, From: math.Pi, Sweep: -math.Pi},
		geom.Line{A: geom.Point{X: 10, Y: 100}, B: geom.Point{X: 10}},
	}}
	r := Stroke(p, Limits{Diameter: d12})
	check(t, p, Limits{Diameter: d12}, r)
	if r.Deviation > 6 {
		t.Errorf("deviation %v", r.Deviation)
	}
	if !has(r, CurveTight) {
		t.Errorf("problems %v, want a tight curve", r.Problems)
	}
}

func TestWhatFitsIsLeftAlone(t *testing.T) {
	circle := geom.Path{Closed: true, Segments: []geom.Segment{geom.Arc{Radius: 40, Sweep: 2 * math.Pi}}}
	arc := geom.Path{Segments: []geom.Segment{geom.Arc{Radius: 400, From: 1, Sweep: -0.9}}}
	line := polyline(0, 0, 30, 40)
	for _, p := range []geom.Path{circle, arc, line} {
		r := Stroke(p, Limits{Diameter: d12})
		if len(r.Path.Segments) != 1 || r.Path.Segments[0] != p.Segments[0] || r.Path.Closed != p.Closed || r.Deviation > 1e-9 {
			t.Errorf("%v became %v", p, r.Path)
		}
	}
	// What has been conditioned needs nothing more.
	p := polyline(0, 0, 60, 0, 60, 90, 130, 120, 0, 140)
	once := Stroke(p, Limits{Diameter: d12})
	twice := Stroke(once.Path, Limits{Diameter: d12})
	if len(twice.Path.Segments) != len(once.Path.Segments) || twice.Deviation > 1e-6 || len(twice.Problems) > 0 {
		t.Errorf("second run changed the stroke by %v: %v", twice.Deviation, twice.Problems)
	}
}

func TestClosedStaysClosed(t *testing.T) {
	for _, p := range []geom.Path{
		ring(0, 0, 100, 0, 100, 60, 0, 60),
		ring(0, 0, 90, 0, 45, 80),
		ring(0, 0, 10, 0, 10, 10, 0, 10), // smaller than a bend
		ring(0, 0, 100, 0, 100, 12, 0, 12),
	} {
		r := Stroke(p, Limits{Diameter: d12})
		if !r.Path.Closed {
			t.Errorf("%v: not closed", p)
		}
		check(t, p, Limits{Diameter: d12}, r)
	}
}

func TestShortStrokes(t *testing.T) {
	lim := Limits{Diameter: d12}
	p := polyline(0, 0, 8, 0, 0, 3)
	r := Stroke(p, lim)
	check(t, p, lim, r)
	if len(r.Path.Segments) != 1 || !has(r, StrokeShort) {
		t.Errorf("%v %v, want a straight piece and a problem", r.Path, r.Problems)
	}
	for _, p := range []geom.Path{{}, polyline(1, 1, 1, 1), polyline(0, 0, math.NaN(), 1), polyline(0, 0, math.Inf(1), 1)} {
		if r := Stroke(p, lim); len(r.Path.Segments) != 0 {
			t.Errorf("%v gave %v", p, r.Path)
		}
	}
}
