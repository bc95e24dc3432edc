package trace

import (
	"math"
	"slices"

	"tubewright/geom"
)

// misfit is how far, on average, the walls of a zone are from where a pen
// drawn along the plan's lines would leave them, in half-widths.
func misfit(lines [][]geom.Point, z *zone, runs []boundary) float64 {
	sum, n := 0.0, 0.0
	for i := range runs {
		r := &runs[i]
		ra, rb := z.arms[r.from].r, z.arms[r.to].r
		for k, w := range r.pts {
			weight := 0.0
			if k > 0 {
				weight += w.travel - r.pts[k-1].travel
			}
			if k+1 < len(r.pts) {
				weight += r.pts[k+1].travel - w.travel
			}
			half := ra
			if r.length > 0 {
				half += (rb - ra) * w.travel / r.length
			}
			d := math.Inf(1)
			for _, l := range lines {
				_, dist := nearestOn(l, w.at)
				d = min(d, dist)
			}
			sum += weight * min(math.Abs(d-half)/half, 1)
			n += weight
		}
	}
	if n == 0 {
		return 0
	}
	return sum / n
}

// stemsBroken counts the straight walls, whole from one arm to the next, whose
// arms a plan does not join: a stem is drawn in one go whatever joins it.
func (z *zone) stemsBroken(p *plan, runs []boundary) int {
	n := 0
	for i := range runs {
		r := &runs[i]
		if !r.clean || !r.straight(0.02*z.arms[r.from].r) || r.length < z.arms[r.from].r {
			continue
		}
		if !slices.ContainsFunc(p.pairs, func(q [2]int) bool {
			return q == [2]int{r.from, r.to} || q == [2]int{r.to, r.from}
		}) {
			n++
		}
	}
	return n
}

// straight reports whether the wall stays within near of its chord.
func (r *boundary) straight(near float64) bool {
	a, d := r.pts[0].at, r.pts[len(r.pts)-1].at.Sub(r.pts[0].at).Unit()
	for _, w := range r.pts {
		if math.Abs(w.at.Sub(a).Cross(d)) > near {
			return false
		}
	}
	return true
}

// pieces returns how many separate drawings the lines of a plan form.
func (p *plan) pieces(z *zone) int {
	n := len(p.lines)
	if p.free {
		return 1
	}
	group := make([]int, n)
	for i := range group {
		group[i] = i
	}
	joinGroups := func(i, j int) {
		a, b := group[i], group[j]
		for k := range group {
			if group[k] == a {
				group[k] = b
			}
		}
	}
	for i := range p.lines {
		for j := range i {
			if _, _, _, ok := firstCrossing(p.lines[i], p.lines[j]); ok || p.onto(i) == p.host(j) || p.onto(j) == p.host(i) || p.hang(i, j, z) || merged(p.lines[i], p.lines[j], z.arms[0].r) {
				joinGroups(i, j)
			}
		}
	}
	seen := 0
	for i := range group {
		if !slices.Contains(group[:i], group[i]) {
			seen++
		}
	}
	return seen
}

// host returns the join that line i was drawn for: pairs first, then the arms
// of order.
func (p *plan) host(i int) *join {
	if i < len(p.pairs) {
		return p.joins[p.pairs[i][0]]
	}
	return p.joins[p.order[i-len(p.pairs)]]
}

// merged reports whether two lines run closer than mergedNear half-widths:
// their ink is one, though they do not meet.
func merged(a, b []geom.Point, r float64) bool {
	for _, p := range a {
		if _, d := nearestOn(b, p); d < mergedNear*r {
			return true
		}
	}
	return false
}

const mergedNear = 1.2

// armsOf lists the arms that line i is drawn for.
func (p *plan) armsOf(i int) []int {
	if i < len(p.pairs) {
		return p.pairs[i][:]
	}
	return p.order[i-len(p.pairs) : i-len(p.pairs)+1]
}

// hang reports whether lines i and j hang together outside the zone.
func (p *plan) hang(i, j int, z *zone) bool {
	for _, a := range p.armsOf(i) {
		for _, b := range p.armsOf(j) {
			x, y := &z.arms[a], &z.arms[b]
			if x.link == y.link || x.group != 0 && x.group == y.group {
				return true
			}
		}
	}
	return false
}

func (p *plan) onto(i int) *join { return p.host(i).onto }
