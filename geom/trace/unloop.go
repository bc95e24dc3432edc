package trace

import (
	"math"
	"slices"

	"tubewright/geom"
)

const (
	loopMost   = 4.0                // half-widths round a loop past a corner; (2 + π/2) for a square one that is not rounded
	cuspLeast  = 2.0                // half-widths round a loop in a draft that may be meant: a pen that turns back in a tip
	cornerTurn = 25 * math.Pi / 180 // a turn about one place from which it is a corner
)

// unloop cuts off where a draft crosses itself within a pen's width. Where the
// outside of a corner is rounded more tightly than half a width, the centres
// that its wall tells run past the corner, back, and on: the true corner is
// where they cross.
func (d *draft) unloop() {
	for from := 0; ; {
		i, j, x, ok := selfCrossing(d.pts[from:], cuspLeast*d.radius[from])
		if !ok {
			return
		}
		i, j = i+from, j+from
		turn := d.pts[i+1].Sub(d.pts[i]).TurnTo(d.pts[j+1].Sub(d.pts[j])).Abs()
		d.cutLoop(i+1, j, x, float64(turn) >= cornerTurn)
		from = i + 1
	}
}

// selfCrossing returns the first edge i of a line, counted by its first point,
// that a later edge j crosses with a loop of no more than most mm between, the
// last such edge, and where.
func selfCrossing(pts []geom.Point, most float64) (i, j int, x geom.Point, ok bool) {
	for i := range pts {
		way := 0.0
		for k := i + 2; k+1 < len(pts); k++ {
			if way += pts[k].Dist(pts[k-1]); way > most {
				break
			}
			if q, _, _, crosses := firstCrossing(pts[i:i+2], pts[k:k+2]); crosses {
				j, x, ok = k, q, true
			}
		}
		if ok {
			return i, j, x, true
		}
	}
	return 0, 0, geom.Point{}, false
}

// cutLoop puts one centre in the place of the centres from to to.
func (d *draft) cutLoop(from, to int, x geom.Point, corner bool) {
	var corners []int
	for _, c := range d.corners {
		if c < from {
			corners = append(corners, c)
		} else if c > to {
			corners = append(corners, c-(to-from))
		}
	}
	if corner {
		corners = append(corners, from)
		slices.Sort(corners)
	}
	d.corners = corners
	d.pts[from], d.trusted[from] = x, false
	d.pts = slices.Delete(d.pts, from+1, to+1)
	d.radius = slices.Delete(d.radius, from+1, to+1)
	d.trusted = slices.Delete(d.trusted, from+1, to+1)
}
