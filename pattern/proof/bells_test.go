package proof

import (
	"math"
	"testing"
)

// A straight tube lights a wall at the distance h by h/(π(h²+r²)) (the inverse-square
// law and the cosine of the wall, summed along the tube; worked out by hand). The
// bells come near it.
func TestBellsStandForAStraightTube(t *testing.T) {
	worst := 0.0
	for r := 0.0; r <= 8; r += 0.05 {
		want, got := 1/(math.Pi*(1+r*r)), 0.0
		for _, b := range bells() {
			got += b.share / (b.sigma * math.Sqrt(2*math.Pi)) * math.Exp(-r*r/(2*b.sigma*b.sigma))
		}
		worst = max(worst, math.Abs(got/want-1))
	}
	if worst > 0.01 {
		t.Errorf("the bells are %.1f %% from the law", 100*worst)
	}
}

// Blurring in a pyramid gives what blurring at full size gives, and keeps the light.
func TestSpreadIsASumOfBlurs(t *testing.T) {
	p := newPlane(400, 300)
	p.v[150*400+200] = 1000
	p.v[140*400+150] = 500
	got := p.spread([]bell{{5, 0.7}, {21, 0.3}})
	want := newPlane(400, 300)
	want.add(p.blurred(5), 0.7)
	want.add(p.blurred(21), 0.3)
	sum, most, off := 0.0, 0.0, 0.0
	for i, v := range want.v {
		sum += float64(got.v[i])
		most = max(most, float64(v))
		off = max(off, math.Abs(float64(got.v[i]-v)))
	}
	if off > 0.02*most || math.Abs(sum-1500) > 15 {
		t.Errorf("off by %.4f of %.4f; %.1f units of light of 1500", off, most, sum)
	}
}
