package route

import (
	"math"
	"math/rand/v2"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// crooked is glass of a few straight pieces, sampled.
func crooked(draw *rand.Rand) []tube.Sample {
	at := geom.Point3{X: 60 * draw.Float64(), Y: 60 * draw.Float64(), Z: 60 * draw.Float64()}
	var segs []geom.Segment3
	for range 1 + draw.IntN(4) {
		to := at.Add(geom.Vec3{X: 40 * (draw.Float64() - 0.5), Y: 40 * (draw.Float64() - 0.5), Z: 40 * (draw.Float64() - 0.5)})
		segs = append(segs, geom.Line3{A: at, B: to})
		at = to
	}
	return tube.SampleSegments(0, 0, segs)
}

// Passing over samples misses nothing: every pair looked at says the same, most
// where the two only just come near.
func TestSamplesPassedOverAreFar(t *testing.T) {
	draw := rand.New(rand.NewPCG(20261127, 1))
	near := 0
	for n := range 20000 {
		a, b := crooked(draw), crooked(draw)
		nearest := math.Inf(1)
		for _, s := range a {
			for _, o := range b {
				nearest = min(nearest, s.P.Dist(o.P))
			}
		}
		need := nearest + 0.2*(draw.Float64()-0.5)
		want := nearest < need
		if got := samplesNear(a, b, need); got != want {
			t.Fatalf("pair %d: %v, every pair of samples says %v", n, got, want)
		}
		if want {
			near++
		}
	}
	if near < 9000 || near > 11000 {
		t.Errorf("%d of 20000 are near", near)
	}
}
