package pattern

import (
	"math"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// A double-back at 1.59 D, the depth stack of the trade (trade 2.6, D): front
// centres at 22.7, 26.9, 31.1 and 37.4 mm for tubes of 8, 10, 12 and 15 mm.
func TestDepthStack(t *testing.T) {
	for d, want := range map[float64]float64{8: 22.7, 10: 26.9, 12: 31.1, 15: 37.4} {
		z := -1.59 * d
		tb := tube.Tube{
			{Seg: geom.Line3{A: geom.Point3{Z: -60}, B: geom.Point3{}}, Role: tube.Leg},
			{Seg: geom.Line3{A: geom.Point3{}, B: geom.Point3{X: 100}}, Role: tube.Lit, Stroke: "s1"},
			{Seg: geom.Arc3{Centre: geom.Point3{X: 100, Z: z / 2}, Axis: geom.Vec3{Y: 1}, From: geom.Vec3{Z: -z / 2}, Angle: math.Pi}, Role: tube.Hidden},
			{Seg: geom.Line3{A: geom.Point3{X: 100, Z: z}, B: geom.Point3{Z: z}}, Role: tube.Hidden},
		}
		got := DepthOf(tb)
		if got.Planes != 1 || math.Abs(got.SupportHeight(d)-want) > 0.055 {
			t.Errorf("D %g: %d planes, support height %.2f, want 1 and %g", d, got.Planes, got.SupportHeight(d), want)
		}
		if flat := DepthOf(tb[:2]); flat.Planes != 0 || flat.SupportHeight(d) != 6+d/2 {
			t.Errorf("D %g without a double: %+v", d, flat)
		}
	}
}

func TestOneEndOfEachUnitIsTubulatedWhereThereIsRoom(t *testing.T) {
	at := func(x, y float64) Electrode { return Electrode{At: geom.Point3{X: x, Y: y, Z: -72}} }
	units := []Unit{
		{Electrodes: [2]Electrode{at(0, 0), at(100, 0)}},
		{Electrodes: [2]Electrode{at(130, 0), at(400, 0)}},
	}
	tubulate(units)
	for i, u := range units {
		n := 0
		for _, e := range u.Electrodes {
			if e.Tubulation != "" {
				n++
				var dir geom.Vec
				for _, s := range sides(geom.Vec{}) {
					if s.name == e.Tubulation {
						dir = s.dir
					}
				}
				if r := room([]geom.Point3{at(0, 0).At, at(100, 0).At, at(130, 0).At, at(400, 0).At}, e.At, dir); r < freeRoom {
					t.Errorf("unit %d: %.0f mm of room %s of %v", i+1, r, e.Tubulation, e.At)
				}
			}
		}
		if n != 1 {
			t.Errorf("unit %d: %d ends tubulated", i+1, n)
		}
	}
	// The first end points outward; the next one has its neighbour on that side.
	if a, b := units[0].Electrodes[0].Tubulation, units[1].Electrodes[0].Tubulation; a != Left || b != Down {
		t.Errorf("sides %q and %q, want left and down", a, b)
	}
}
