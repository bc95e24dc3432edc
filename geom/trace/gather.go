package trace

import (
	"math"

	"tubewright/geom"
)

// The outside of a corner may be cut off flat or rounded by less than the pen
// would leave. What the walls tell there is a few short turns one after the
// other: the pen made one, where the strokes it joins meet.
const (
	gatherMost  = 0.45               // half-widths within which the turns lie
	gatherTurn  = 45 * math.Pi / 180 // their least sum
	gatherShare = 0.9                // of the sum from which one corner alone makes it
	gatherLeg   = 1.0                // half-widths of straight on either side
	gatherBow   = 0.05               // half-widths that these may leave their lines
	gatherFar   = 1.2                // half-widths from the turns to where the lines meet
)

// gather makes one corner of turns that the walls alone tell, if it lies well in
// the ink.
func (d *draft) gather(clear func(geom.Point) float64) {
	for i := 1; i+1 < len(d.pts); i++ {
		j, ok := d.turnsFrom(i)
		if !ok {
			continue
		}
		before, okB := d.leg(i, -1)
		after, okA := d.leg(j, 1)
		if !okA || !okB {
			continue
		}
		r := d.radius[i]
		x, ok := before.meets(after)
		ahead := x.Sub(before.p).Dot(before.d) >= 0 && x.Sub(after.p).Dot(after.d) >= 0
		if ok && ahead && max(x.Dist(d.pts[i]), x.Dist(d.pts[j])) < gatherFar*r && clear(x) >= leastClear*r {
			d.cutLoop(i, j, x, true)
		}
	}
}

// turnsFrom returns the last of the turns that begin at centre i, if there are
// several and they amount to a corner.
func (d *draft) turnsFrom(i int) (int, bool) {
	sum, most, at, way := 0.0, 0.0, i, 0.0
	for j := i; j+1 < len(d.pts) && !d.trusted[j]; j++ {
		if way += d.pts[j].Dist(d.pts[max(j-1, i)]); way > gatherMost*d.radius[i] {
			break
		}
		sum += float64(d.pts[j].Sub(d.pts[j-1]).TurnTo(d.pts[j+1].Sub(d.pts[j])))
		if math.Abs(sum) > most+1e-9 {
			most, at = math.Abs(sum), j
		}
	}
	for _, c := range d.corners {
		if c >= i && c <= at && math.Abs(float64(d.pts[c].Sub(d.pts[c-1]).TurnTo(d.pts[c+1].Sub(d.pts[c])))) > gatherShare*most {
			return i, false
		}
	}
	return at, most >= gatherTurn
}

// leg returns the straight that leads to centre i, from the side of step, as a
// tip that goes on there.
func (d *draft) leg(i, step int) (tip, bool) {
	var pts []geom.Point
	way := 0.0
	for k := i; k >= 0 && k < len(d.pts) && way < gatherLeg*d.radius[i]; k += step {
		if k != i {
			way += d.pts[k].Dist(d.pts[k-step])
		}
		pts = append(pts, d.pts[k])
	}
	if way < gatherLeg*d.radius[i]/2 {
		return tip{}, false
	}
	return straightTip(pts, gatherBow*d.radius[i])
}
