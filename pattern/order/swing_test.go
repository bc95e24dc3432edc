package order

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tubewright/geom"
)

// Three sides of a rectangle closing on themselves: a tube with joints at 90
// degrees, sides a, b, c, and a last arm that ends beside the first. When the last
// joint swings, the arm's tip comes as near to the first side as the sides say:
// by hand, a gap of b − arm between centrelines.
func TestArmThatHitsAndArmThatClearsByAMillimetre(t *testing.T) {
	const d = 10.0
	for _, tc := range []struct {
		arm  float64 // length of the last arm, across the bay of 100 mm
		want Reason
	}{
		{100 - d + 1, Swing},    // the tip ends 9 mm from the first side: 1 mm too near
		{100 - d - 1, Possible}, // 11 mm: clears by 1 mm
	} {
		m := chain([]float64{200, 100, 60, tc.arm}, []float64{90, 90, 90}, d)
		var done set
		if got := m.ask(done.with(0).with(1), 2, false).reason; got != tc.want {
			t.Errorf("arm of %g mm: %v, want %v", tc.arm, got, tc.want)
		}
	}
}

// On the way, not at the end: the start of the tube, at the origin, faces the last
// joint at (-100, 100), which is hypot(100, 100) away: by hand 141.42. The arm
// swings by 170 degrees past it, and ends clear of everything.
func TestArmThatHitsOnTheWay(t *testing.T) {
	const d = 10.0
	reach := math.Hypot(100, 100)
	for _, tc := range []struct {
		arm  float64
		want Reason
	}{
		{reach - d - 1, Possible},
		{reach - d + 1, Swing},
	} {
		m := chain([]float64{60, 100, 160, tc.arm}, []float64{90, 90, 170}, d)
		var done set
		if got := m.ask(done.with(0).with(1), 2, false).reason; got != tc.want {
			t.Errorf("arm of %.2f mm: %v, want %v", tc.arm, got, tc.want)
		}
	}
}

// The distance of segments agrees with the least over many points of both.
func TestSegmentDistance(t *testing.T) {
	c := rapid.Float64Range(-50, 50)
	rapid.Check(t, func(rt *rapid.T) {
		pt := func(n string) geom.Point3 {
			return geom.Point3{X: c.Draw(rt, n+"x"), Y: c.Draw(rt, n+"y"), Z: c.Draw(rt, n+"z")}
		}
		a, b, e, f := pt("a"), pt("b"), pt("c"), pt("d")
		got, least := segmentDistance(a, b, e, f), math.Inf(1)
		const n = 60
		for i := range n + 1 {
			for j := range n + 1 {
				least = min(least, a.Lerp(b, float64(i)/n).Dist(e.Lerp(f, float64(j)/n)))
			}
		}
		step := (a.Dist(b) + e.Dist(f)) / n
		if got > least+1e-9 || got < least-step {
			rt.Errorf("%.6f, by points %.6f", got, least)
		}
	})
}

// Swinging either side is the same motion of one against the other, where nothing
// rolls, and leads to the same place where it does.
func TestSwingsAreInverse(t *testing.T) {
	m := chain([]float64{50, 80, 60}, []float64{70, -110}, 10)
	rolling := formed{parts: []arc{{length: 30, axis: geom.Vec3{Y: 0.6, Z: 0.8}, angle: 1.8}, {length: 12, axis: geom.Vec3{Y: -1}, angle: 0.7}}}
	rolling.finish(geom.Vec3{Y: 0.6*1.8 - 0.7, Z: 0.8 * 1.8})
	for i, b := range []*formed{&m.heats[0], &m.heats[1], &rolling} {
		for _, s := range []float64{0, 0.2, 0.37, 0.8, 1} {
			if i == 2 && s > 0 && s < 1 {
				continue
			}
			f := way{b: b, swings: SideB}.pose(s).then(way{b: b, swings: SideA}.pose(s))
			for _, off := range []float64{f.o.Dist(geom.Point3{}), f.x.Sub(geom.Vec3{X: 1}).Norm(), f.y.Sub(geom.Vec3{Y: 1}).Norm()} {
				if off > 1e-9 {
					t.Errorf("heat %d at %.2f: there and back is %g off", i, s, off)
				}
			}
		}
	}
}

// A curve of more than half a turn is swung the way the glass goes, not the
// short way round.
func TestSwingOfMoreThanHalfATurn(t *testing.T) {
	for _, degrees := range []float64{10, 90, 180, 200, 286, 350} {
		h := formed{parts: []arc{{length: 150, axis: geom.Vec3{Z: 1}, angle: geom.Angle(degrees) * geom.Degree}}}
		h.finish(geom.Vec3{Z: degrees * math.Pi / 180})
		got := h.turn.angle * h.turn.axis.Z * 180 / math.Pi
		if math.Abs(got-degrees) > 1e-6 || math.Abs(h.turn.roll) > 1e-6 {
			t.Errorf("%g degrees: swung by %g, rolled by %g", degrees, got, h.turn.roll)
		}
	}
}
