package trace

import (
	"math"
	"slices"

	"tubewright/geom"
)

// A corner between two straights is where their lines meet. What the walls tell
// of the last centres before it bends them by a hair, and a fit that must pass
// through the corner would bend with them.
const (
	cornerMoves = 0.3 // half-widths that a corner may be moved
	leastCorner = 0.2 // sine of the least turn: at less, two lines do not tell where they meet
)

// sharpen moves the corners between straights to where these meet, and drops
// the centres near them that lie off the straights by more than level mm.
func (d *draft) sharpen(level float64) {
	breaks := slices.Sorted(slices.Values(slices.Concat([]int{0, len(d.pts) - 1}, d.corners, d.vias)))
	breaks = slices.Compact(breaks)
	drop := make([]bool, len(d.pts))
	var before tip
	var from int // where the run that before stands for begins
	for i := 1; i < len(breaks); i++ {
		a, b := breaks[i-1], breaks[i]
		line, ok := d.straightRun(a, b, level)
		if ok && before != (tip{}) && slices.Contains(d.corners, a) {
			if p, meet := before.meets(line); meet && p.Dist(d.pts[a]) < cornerMoves*d.radius[a] {
				if n := d.dropOff(drop, from, a, before, level) + d.dropOff(drop, b, a, line, level); n > 0 {
					d.pts[a] = p
				}
			}
		}
		before, from = line, a
	}
	d.without(drop)
}

// straightRun returns the line that the centres a to b lie on, but for those
// within hookZone of either end, as a tip at the first of them.
func (d *draft) straightRun(a, b int, level float64) (tip, bool) {
	from, to := a, b
	for way := 0.0; from < b && way < hookZone*d.radius[a]; from++ {
		way += d.pts[from+1].Dist(d.pts[from])
	}
	for way := 0.0; to > a && way < hookZone*d.radius[b]; to-- {
		way += d.pts[to].Dist(d.pts[to-1])
	}
	if to <= from || d.pts[to].Dist(d.pts[from]) < leastBody*d.radius[from] {
		return tip{}, false
	}
	return straightTip(d.pts[from:to+1], level)
}

// meets returns where two straight tips' lines cross, if they turn enough.
func (t tip) meets(o tip) (geom.Point, bool) {
	den := t.d.Cross(o.d)
	if math.Abs(den) < leastCorner {
		return geom.Point{}, false
	}
	return t.p.Add(t.d.Mul(o.p.Sub(t.p).Cross(o.d) / den)), true
}

// dropOff marks the centres within twice hookZone of corner c, on its side toward
// index end, that lie off the line, and returns how many.
func (d *draft) dropOff(drop []bool, end, c int, line tip, level float64) int {
	n, step := 0, 1
	if end < c {
		step = -1
	}
	for i := c + step; i != end && d.pts[i].Dist(d.pts[c]) < 2*hookZone*d.radius[c]; i += step {
		if math.Abs(line.off(d.pts[i])) > level {
			drop[i] = true
			n++
		}
	}
	return n
}

// without takes the marked centres out of a draft; none of them is a corner or
// a via.
func (d *draft) without(drop []bool) {
	var out draft
	at := make([]int, len(d.pts))
	for i, p := range d.pts {
		at[i] = len(out.pts)
		if !drop[i] {
			out.add(p, d.radius[i], d.trusted[i])
		}
	}
	for _, list := range [2][]int{d.corners, d.vias} {
		for i := range list {
			list[i] = at[list[i]]
		}
	}
	d.pts, d.radius, d.trusted = out.pts, out.radius, out.trusted
}
