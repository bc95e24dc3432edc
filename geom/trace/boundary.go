package trace

import (
	"math"

	"tubewright/geom"
)

// boundary is the wall between an arm and the next around the zone, walked
// with the ink on the left: from the right wall of arm from to the left wall
// of arm to.
type boundary struct {
	from, to int
	pts      []wallPoint
	clean    bool    // neither dents nor sharp corners
	dents    int     // separate dents
	convex   float64 // turn away from the ink, radians
	length   float64
}

// boundaries walks the walls of a zone. It reports false if the walls do not
// join the arms up, each to one other.
func (t *tracer) boundaries(z *zone) ([]boundary, bool) {
	out := make([]boundary, len(z.arms))
	reached := make([]bool, len(z.arms))
	for i := range z.arms {
		a := &z.arms[i]
		best, to := math.Inf(1), -1
		c := t.loops[a.right.Loop]
		for j := range z.arms {
			b := &z.arms[j]
			if b.left.Loop != a.right.Loop {
				continue
			}
			if d := c.ahead(a.right.Along, b.left.Along, true); d < best && (j != i || len(z.arms) == 1) {
				best, to = d, j
			}
		}
		if to < 0 || reached[to] {
			return nil, false
		}
		reached[to] = true
		r := boundary{from: i, to: to, length: best, clean: true}
		inDent := false
		c.walk(a.right.Along, best, true, max(0.25*a.r, 0.12*t.w, t.opt.CapHeight/500), func(w wallPoint) bool {
			r.pts = append(r.pts, w)
			if w.dent && !inDent {
				r.dents++
			}
			if w.corner {
				inDent = w.dent
			}
			r.convex += max(w.turn, 0)
			if w.dent || w.turn > sharpTurn {
				r.clean = false
			}
			return true
		})
		if best == 0 { // the hidden side of a piece of wall
			r.clean = false
		}
		out[i] = r
		a.runRight = i
		z.arms[to].runLeft = i
	}
	return out, true
}

// offsets turns wall points into centres, r from the wall; it stops at the
// first dent or sharp corner.
func offsets(pts []wallPoint, radius func(travel float64) float64) []geom.Point {
	var out []geom.Point
	for _, w := range pts {
		if w.dent || w.turn > sharpTurn {
			break
		}
		// Points of the outline lie on the curve it stands for, so the offset is
		// not stretched at its vertices.
		out = append(out, w.at.Add(w.n.Mul(radius(w.travel))))
	}
	return out
}

func reversedWalls(pts []wallPoint) []wallPoint {
	out := make([]wallPoint, len(pts))
	total := pts[len(pts)-1].travel
	for i, w := range pts {
		w.travel = total - w.travel
		out[len(pts)-1-i] = w
	}
	return out
}
