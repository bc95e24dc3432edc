package fit

import (
	"math"

	"tubewright/geom"
)

// sample is a place on the polyline the fit looks at.
type sample struct {
	p geom.Point
	s float64 // distance along the polyline
	w float64 // mm of polyline it stands for; 0 for one only watched
}

// Limits on the work done, chosen so that a letter of 200 points takes about a
// millisecond.
const (
	maxSamples  = 600 // kept per maxStations stations
	maxStations = 110 // places where the DP may part two pieces
)

// sampled returns the vertices, and points between them on edges so long that
// a curve through the vertices alone could leave the edge: where the sagitta
// estimated from the turn at the ends passes a quarter of the tolerance. A
// denser polyline is thinned to about limit samples. Middles of flatter edges
// are watched, but do not pull.
func sampled(pts []geom.Point, tol float64, limit int) []sample {
	turn := func(i int) float64 {
		if i <= 0 || i >= len(pts)-1 {
			return 0
		}
		return math.Abs(float64(pts[i].Sub(pts[i-1]).TurnTo(pts[i+1].Sub(pts[i]))))
	}
	stride := 1
	if len(pts) > limit {
		stride = (len(pts) + limit - 1) / limit
	}
	out := []sample{{p: pts[0]}}
	at := 0.0
	for i := 1; i < len(pts); i++ {
		n := pts[i].Dist(pts[i-1])
		sagitta := float64(n*max(turn(i-1), turn(i))) / 8
		if sagitta > tol/4 && stride == 1 {
			parts := min(12, 4+int(n/(8*tol)))
			for k := 1; k < parts; k++ {
				t := float64(k) / float64(parts)
				out = append(out, sample{p: pts[i-1].Lerp(pts[i], t), s: at + float64(n*t)})
			}
		} else if stride == 1 && sagitta > tol/50 {
			out = append(out, sample{p: pts[i-1].Lerp(pts[i], 0.5), s: at + n/2, w: -1})
		}
		at += n
		// Thinning keeps the ends, every stride-th point, and sharp turns.
		if i == len(pts)-1 || i%stride == 0 || turn(i) > 0.5 {
			out = append(out, sample{p: pts[i], s: at})
		}
	}
	weigh(out)
	return out
}

// weigh gives each sample half the way to its neighbours. The middles of edges
// (marked -1) get none: where vertices lie on a curve, they do not.
func weigh(out []sample) {
	prev := 0
	for i := 1; i < len(out); i++ {
		if out[i].w < 0 {
			out[i].w = 0
			continue
		}
		half := (out[i].s - out[prev].s) / 2
		out[prev].w += half
		out[i].w += half
		prev = i
	}
}

// stations returns indexes of samples, first and last included, spaced evenly
// by a mix of length and turning, so that tight places get their share.
func stations(sm []sample, limit int) []int {
	n := len(sm)
	if n <= limit {
		out := make([]int, n)
		for i := range out {
			out[i] = i
		}
		return out
	}
	// The turn is measured over a few samples: noise turns a lot between two.
	reach := max(1, n/limit)
	cum := make([]float64, n)
	total := 0.0
	for i := 1; i < n; i++ {
		a, b, c := max(0, i-reach), i, min(n-1, i+reach)
		turn := math.Abs(float64(sm[b].p.Sub(sm[a].p).TurnTo(sm[c].p.Sub(sm[b].p))))
		total += turn
		cum[i] = total
	}
	length := sm[n-1].s
	out := []int{0}
	next := 1.0
	for i := 1; i < n-1; i++ {
		v := 0.5 * sm[i].s / length
		if total > 0 {
			v += 0.5 * cum[i] / total
		} else {
			v *= 2
		}
		if v*float64(limit-1) >= next {
			out = append(out, i)
			next = math.Floor(v*float64(limit-1)) + 1
		}
	}
	return append(out, n-1)
}
