package route

import (
	"math"
	"math/rand/v2"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
)

// mesh is a few upright strokes under a few level ones, each drawn a little
// askew, so that they cross in at most twelve places, some near the ends.
func mesh(draw *rand.Rand) []Stroke {
	up, across := 1+draw.IntN(3), 1+draw.IntN(4)
	var ss []Stroke
	const apart = 75
	end := func() float64 { return 30 + 40*draw.Float64() }
	tilt := func() float64 { return 16*draw.Float64() - 8 }
	for i := range up {
		x := apart * float64(i)
		ss = append(ss, stroke(0, x+tilt(), -end(), x+tilt(), apart*float64(across-1)+end()))
	}
	for j := range across {
		y := apart * float64(j)
		ss = append(ss, stroke(0, -end(), y+tilt(), apart*float64(up-1)+end(), y+tilt()))
	}
	return named(ss...)
}

// bestOverUnder tries every choice of the strand that dips at each crossing, as
// long as it can still beat a number of dips, and returns the most there can be.
func bestOverUnder(p *planner, found []crossing, dips, beat int) int {
	if dips+len(found) <= beat {
		return beat
	}
	if len(found) == 0 {
		return dips
	}
	c := found[0]
	for _, o := range []crossing{c, {c.b, c.a, c.sb, c.sa}} {
		if d, rank := p.fitDip(o.a, o.sa, o.b, o.sb); rank >= 0 {
			was := p.dipsOf([]crossing{c})
			p.addDip(o.a, d)
			beat = bestOverUnder(p, found[1:], dips+1, beat)
			p.restore(was)
		}
	}
	return bestOverUnder(p, found[1:], dips, beat)
}

// Over and under up to twelve crossings: as many strands dip as in the best of all
// choices.
func TestOverUnderAgainstBruteForce(t *testing.T) {
	draw := rand.New(rand.NewPCG(12, 26))
	rules := glass.Default(12)
	tight, largest := 0, 0
	for n := range 40 {
		ss := mesh(draw)
		p := newPlanner(ss, rules)
		p.openLanes()
		found := p.findCrossings()
		dips := len(found) - len(p.overUnder(found))
		q := newPlanner(ss, rules)
		q.openLanes()
		if most := bestOverUnder(q, found, 0, dips); most > dips {
			t.Errorf("mesh %d: %d of %d crossings have a dip, %d can", n, dips, len(found), most)
		}
		placed := 0
		for _, l := range p.lanes {
			placed += len(l.dips)
		}
		if placed != dips {
			t.Errorf("mesh %d: %d dips on the strands, %d told", n, placed, dips)
		}
		if dips < len(found) {
			tight++
		}
		largest = max(largest, len(found))
	}
	if largest < 12 || tight == 0 {
		t.Errorf("at most %d crossings, %d meshes without room", largest, tight)
	}
}

// Where two strands cross, the nearest glass of the two is as far apart as the
// clearance asks, whatever the angle.
func TestCrossingsKeepTheirClearance(t *testing.T) {
	for deg := 20.0; deg <= 90; deg += 5 {
		a := deg * math.Pi / 180
		v := geom.Vec{X: math.Cos(a), Y: math.Sin(a)}.Mul(200)
		r := Plan(named(stroke(0, -200, 0, 200, 0), stroke(0, -v.X, -v.Y, v.X, v.Y)), glass.Default(12), Options{})
		if worst(r.Findings) > finding.Warning {
			t.Errorf("%.0f degrees: %s", deg, r.Findings[0].Message())
		}
	}
}
