package condition

import (
	"math"
	"testing"

	"tubewright/geom"
)

// The stem of a traced D: a bow of 0.1 mm over 220 mm between two round
// corners, or between one and an end.
func TestSlightBowBetweenBendsIsStraight(t *testing.T) {
	const turn, long = 0.18 * math.Pi / 180, 220.0
	first := geom.Arc{Centre: geom.Point{Y: 10}, Radius: 10, From: math.Pi, Sweep: math.Pi / 2}
	bow := geom.Arc{Centre: geom.Point{Y: long / turn}, Radius: long / turn, From: -math.Pi / 2, Sweep: turn}
	for _, side := range []float64{1, -1} { // the second corner turns on, or back
		d := bow.DirAt(bow.Length())
		centre := bow.End().Add(d.Left().Mul(side * 12))
		last := geom.Arc{Centre: centre, Radius: 12, From: bow.End().Sub(centre).Heading(), Sweep: geom.Angle(side * 1.5)}
		whole := geom.Path{Segments: []geom.Segment{first, bow, last}}
		ended := geom.Path{Segments: []geom.Segment{geom.Line{A: geom.Point{X: -10, Y: 60}, B: geom.Point{X: -10, Y: 10}}, first, bow}}
		for _, p := range []geom.Path{whole, whole.Reversed(), ended, ended.Reversed()} {
			lim := Limits{Diameter: 10}
			r := Stroke(p, lim)
			check(t, p, lim, r)
			for _, g := range r.Path.Segments {
				if a, ok := g.(geom.Arc); ok && a.Radius > 20 {
					t.Errorf("side %v: an arc of radius %.0f mm is left in the stem", side, a.Radius)
				}
			}
			if r.Deviation > 0.12 {
				t.Errorf("side %v: %.3f mm off the drawing", side, r.Deviation)
			}
			if j := largestTurn(r.Path); j > 1e-7 {
				t.Errorf("side %v: a joint turns by %v", side, j)
			}
		}
	}
}

// A leg of a traced A, bowed by 0.1 mm, between a corner and an end.
func TestSlightBowFromACornerIsStraight(t *testing.T) {
	const turn, long = 0.19 * math.Pi / 180, 250.0
	bow := geom.Arc{Centre: geom.Point{Y: long / turn}, Radius: long / turn, From: -math.Pi / 2, Sweep: turn}
	p := geom.Path{Segments: []geom.Segment{bow, geom.Line{A: bow.End(), B: geom.Point{X: 20, Y: 100}}}}
	for _, g := range Stroke(p, Limits{Diameter: 10}).Path.Segments {
		if a, ok := g.(geom.Arc); ok && a.Radius > 100 {
			t.Errorf("an arc of radius %.0f mm is left in the leg", a.Radius)
		}
	}
}

// largestTurn returns the largest turn at an inner joint, in radians.
func largestTurn(p geom.Path) float64 {
	var most float64
	for i := 1; i < len(p.Segments); i++ {
		most = max(most, turnAt(p.Segments[i-1], p.Segments[i]))
	}
	return most
}
