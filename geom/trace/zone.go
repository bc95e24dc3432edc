package trace

import (
	"math"
	"slices"

	"tubewright/geom"
)

// solveZones decides for every zone how its arms go on.
func (t *tracer) solveZones() {
	for i := range t.links {
		t.links[i].trim()
	}
	for i := 0; i < len(t.zones); i++ { // zones may be added
		t.solve(i)
	}
	for i := range t.zones {
		for j := range t.zones[i].arms {
			a := &t.zones[i].arms[j]
			t.links[a.link].join[a.end] = a.done
		}
	}
	for _, a := range t.spare {
		t.links[a.link].join[a.end] = a.done
	}
}

// narrow gives every centre in a zone the half-width that the walls leave it.
func (z *zone) narrow() {
	for i := range z.arms {
		a := &z.arms[i]
		j := a.done
		if j == nil || j.half != nil || j.to == nil && j.end != EndJunction {
			continue
		}
		end := a.r
		if j.to != nil {
			end = j.to.r
		}
		j.half = make([]float64, len(j.fill))
		for k, p := range j.fill {
			r := a.r + (end-a.r)*float64(k+1)/float64(len(j.fill)+1)
			j.half[k] = max(min(r, clearance(z.runs, p)), leastClear*r)
		}
		if j.twin != nil {
			j.twin.half = slices.Clone(j.half)
			slices.Reverse(j.twin.half)
		}
	}
}

// solve decides one zone: as the walls say, then with dead ends of the axis as
// arms of their own if ink was left out, and if that fails too, as the raw
// axis has it.
func (t *tracer) solve(i int) {
	if len(t.zones[i].arms) == 0 {
		return
	}
	if t.raw {
		t.revert(i)
		return
	}
	solved := t.repair(i) && t.sound(&t.zones[i], nil)
	if t.solvePieces(i, solved) || solved || t.addTails(i) && t.repair(i) && t.sound(&t.zones[i], nil) {
		t.zones[i].narrow()
		return
	}
	t.revert(i)
}

// repair solves a zone from its walls. It reports false if they do not join
// the arms up.
func (t *tracer) repair(i int) bool {
	z := &t.zones[i]
	for j := range z.arms {
		t.setUp(&z.arms[j])
	}
	runs, ok := t.boundaries(z)
	if !ok {
		return false
	}
	if t.findStubs(z, i, runs) {
		for j := range z.arms {
			if z.arms[j].stub {
				t.setUp(&z.arms[j])
			}
		}
		if runs, ok = t.boundaries(z); !ok {
			return false
		}
	}
	z.runs = runs
	for j := range z.arms {
		t.extend(&z.arms[j], runs, 8*z.size)
	}
	switch len(z.arms) {
	case 1:
		t.endOf(&z.arms[0], runs[0])
	case 2:
		t.joinPair(&z.arms[0], &z.arms[1], runs)
	default:
		t.joinMany(z, runs)
	}
	return true
}

// joinPair takes one arm through to the other: along the outer wall where
// that is whole, else by going on straight to a corner, else by a curve.
func (t *tracer) joinPair(a, b *arm, runs []boundary) {
	fill, corner := t.through(a, b, runs)
	if corner >= 0 {
		fill, corner = blunted(a, b, fill, corner, runs)
	}
	a.done = connect(a, b, fill, corner)
	b.done = a.done.twin
}

func connect(a, b *arm, fill []geom.Point, corner int) *join {
	j := &join{fill: fill, to: b, corner: corner}
	back := make([]geom.Point, len(fill))
	for i, p := range fill {
		back[len(fill)-1-i] = p
	}
	k := &join{fill: back, to: a, corner: -1}
	if corner >= 0 {
		k.corner = len(fill) - 1 - corner
	}
	j.twin, k.twin = k, j
	return j
}

// alongWall follows a whole wall from a to b, half a width inside, and finds
// the corner where the wall swings about one.
func alongWall(a, b *arm, r *boundary, back bool) ([]geom.Point, int) {
	pts := r.pts
	if back {
		pts = reversedWalls(pts)
	}
	total := r.length
	fill := offsets(pts, func(s float64) float64 {
		if total == 0 {
			return a.r
		}
		return a.r + (b.r-a.r)*s/total
	})
	corner, fill := cornerOf(fill, pts, a.r)
	from, to := 0, len(fill) // the walls may begin a little behind the last centres
	for from < to && from != corner && fill[from].Sub(a.p).Dot(a.d) <= 0 && fill[from].Dist(a.p) < 2*a.r {
		from++
	}
	for to > from && to-1 != corner && fill[to-1].Sub(b.p).Dot(b.d) <= 0 && fill[to-1].Dist(b.p) < 2*b.r {
		to--
	}
	if corner >= 0 {
		corner -= from
	}
	return fill[from:to], corner
}

// cornerOf finds the corner that centres half a width inside a wall go round:
// where they cross themselves, if they go past it and back, or else, and at the
// tip of a pen that turned back, where they stand still.
func cornerOf(fill []geom.Point, pts []wallPoint, r float64) (int, []geom.Point) {
	i, j, x, ok := selfCrossing(fill, loopMost*r)
	if !ok {
		return pivot(fill, pts, r)
	}
	loop := fill[i+1 : j+1]
	turn := float64(fill[i+1].Sub(fill[i]).TurnTo(fill[j+1].Sub(fill[j])).Abs())
	past := func(p geom.Point) bool { return p.Dist(x) > loopLeast*r }
	if turn < cornerTurn || turn > cuspTurn && wayOf(x, loop) > cuspLeast*r || !slices.ContainsFunc(loop, past) {
		return pivot(fill, pts, r)
	}
	return i + 1, slices.Concat(fill[:i+1], []geom.Point{x}, fill[j+1:])
}

// cuspTurn is the turn from which a pen may have turned back in a tip.
const cuspTurn = 120 * math.Pi / 180

// loopLeast is how far, in half-widths, centres that are more than the jitter of a
// coarse wall go past a corner.
const loopLeast = 0.07

// pivotReach is how near, in half-widths, centres lie that stand still.
const pivotReach = 0.12

// pivot finds where the centres stand still while the wall turns: a corner
// whose outside is rounded about it. It merges those centres into one.
func pivot(fill []geom.Point, pts []wallPoint, r float64) (int, []geom.Point) {
	from, to, turn := pivotSpan(fill, pts, r)
	if turn < cornerTurn {
		return -1, fill
	}
	var x, y float64
	for _, p := range fill[from : to+1] {
		x, y = x+p.X, y+p.Y
	}
	n := float64(to - from + 1)
	out := append([]geom.Point(nil), fill[:from]...)
	out = append(out, geom.Point{X: x / n, Y: y / n})
	return from, append(out, fill[to+1:]...)
}

// pivotSpan returns the centres, all in about one place, over which the wall
// turns most, and by how much.
func pivotSpan(fill []geom.Point, pts []wallPoint, r float64) (from, to int, most float64) {
	for i := range fill {
		turn := 0.0
		for j := i; j < len(fill) && fill[j].Dist(fill[i]) < pivotReach*r; j++ {
			turn += math.Abs(pts[j].turn)
			if turn > most+1e-9 {
				most, from, to = turn, i, j
			}
		}
	}
	return from, to, most
}
