package bend_test

import (
	"math"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// bowed is a leg, a run of 400 mm with a bend in its middle by a few degrees, a right
// angle and a run.
func bowed(t *testing.T, turn geom.Angle, radius float64) tube.Tube {
	t.Helper()
	s, c := math.Sin(float64(turn)), math.Cos(float64(turn))
	return makeTube(t, vertex(0, 0, -90, 0), vertex(0, 0, 0, 15), vertex(200, 0, 0, radius),
		vertex(200+200*c, 200*s, 0, 15), vertex(200+200*c-200*s, 200*s+200*c, 0, 0))
}

// kinked is a leg and, 10 mm beyond its corner, a small bend in the face.
func kinked(t *testing.T, turn geom.Angle) tube.Tube {
	t.Helper()
	return makeTube(t, vertex(0, 0, -90, 0), vertex(0, 0, 0, 15), vertex(25, 0, 0, 20),
		vertex(25+200*math.Cos(float64(turn)), 200*math.Sin(float64(turn)), 0, 0))
}

// A bend by less than a degree is no heat, however long, and one by less than three
// none where it stands beside another. Every other is.
func TestNobodyBendsADegree(t *testing.T) {
	rules := glass.Default(12)
	for _, tc := range []struct {
		name  string
		tube  tube.Tube
		heats int
	}{
		{"half a degree, 87 mm long", bowed(t, 0.5*geom.Degree, 10000), 2},
		{"two degrees, 70 mm long", bowed(t, 2*geom.Degree, 2000), 3},
		{"two degrees beside a leg", kinked(t, 2*geom.Degree), 1},
		{"five degrees beside a leg", kinked(t, 5*geom.Degree), 2},
		{"nothing but half a degree", makeTube(t, vertex(0, 0, 0, 0), vertex(200, 0, 0, 10000), vertex(400, 1.7, 0, 0)), 1},
	} {
		for _, tb := range []tube.Tube{tc.tube, tc.tube.Reversed()} {
			tab := bend.Tabulate(tb)
			heats := bend.Heats(tb, &tab, rules)
			if len(heats) != tc.heats {
				t.Errorf("%s: %d heats, want %d: %+v", tc.name, len(heats), tc.heats, heats)
			}
			var turn, sum geom.Angle
			for _, r := range tab.Rows {
				turn += r.Angle
				if r.Bend < 1 || r.Bend > len(heats) {
					t.Errorf("%s: row %+v belongs to no heat", tc.name, r)
				}
			}
			for i, h := range heats {
				sum += h.Angle
				from, to := h.Span(tb)
				if from > h.Start || to < h.End || h.From > h.Start || h.To < h.End {
					t.Errorf("%s: heat %d from %.1f to %.1f mm spans %.1f to %.1f", tc.name, i, h.Start, h.End, from, to)
				}
			}
			if math.Abs(float64(turn-sum)) > 1e-12 {
				t.Errorf("%s: the table turns by %.3f°, the heats by %.3f°", tc.name, turn.Degrees(), sum.Degrees())
			}
		}
	}
}

// The heated zone is that of the corner alone: glass that bends nothing is not heated.
func TestASlightBendIsNotHeated(t *testing.T) {
	tb := bowed(t, 0.5*geom.Degree, 10000)
	tab := bend.Tabulate(tb)
	rules := glass.Default(12)
	heats := bend.Heats(tb, &tab, rules)
	for i, h := range heats {
		if n := h.To - h.From; n > 2*rules.CornerZone {
			t.Errorf("heat %d is heated over %.1f mm", i, n)
		}
		if h.Radius != 15 {
			t.Errorf("heat %d has a radius of %.1f mm", i, h.Radius)
		}
	}
	from, to := heats[0].Span(tb)
	if a, b := heats[1].Span(tb); math.Max(to-from, b-a) < 200 {
		t.Errorf("no heat took the slight bend: %.1f to %.1f, %.1f to %.1f mm", from, to, a, b)
	}
}
