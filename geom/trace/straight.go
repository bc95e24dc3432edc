package trace

import (
	"math"
	"slices"

	"tubewright/geom"
)

// The last centres before an end come from one wall alone, and where that wall
// is rounded off (a fillet in the crotch of a T, a terminal that is no true
// half circle) they follow its rounding: the stroke would end in a hook that
// no pen makes. A stroke that comes straight to its end goes on straight.
const (
	hookZone  = 2.5  // half-widths before an end in which centres may hook
	hookBody  = 6.0  // half-widths of stroke behind them that tell how it comes
	leastBody = 2.0  // half-widths of it that must be there
	bodyLevel = 0.02 // half-widths by which the body may leave its line
	hookLevel = 0.03 // half-widths off it from which a centre hooks, if that is less than a quarter of the tolerance
	hookAtEnd = 0.75 // half-widths that a free end may hook; more is meant
	hookRound = 0.4  // the same where the end is a half circle as wide as the stroke
	leastTee  = 0.4  // sine of the angle at which a stroke must come to another: what runs along it may bend into it
	roundSure = 0.05 // half-widths by which the middle of such a half circle may be off
	hookAtTee = 1.5  // half-widths that an end on another stroke may hook
)

// unhook redraws the end k (0 or 1) of a draft that hooks. The host is the
// path it ends on, or nil at a free end.
func (t *tracer) unhook(d *draft, k int, host *geom.Path) {
	if k == 1 {
		d.reverse()
		defer d.reverse()
	}
	j := d.ends[0]
	if j == nil || j.end == EndBall || d.closed || len(d.pts) < 4 {
		return
	}
	tp, hook, ok := d.body(t.opt.Tol / 4)
	if !ok || hook == 0 {
		return
	}
	r := d.radius[hook]
	limit := hookAtEnd * r
	switch {
	case host != nil:
		limit = hookAtTee * r
	case j.end == EndRound && math.Abs(t.reg.Distance(d.pts[0])-r) < roundSure*r:
		limit = hookRound * r
	}
	if math.Abs(tp.off(d.pts[0])) > limit {
		return
	}
	way, ok := t.straightEnd(tp, d.pts[0], r, j, host)
	if !ok {
		return
	}
	d.endAs(tp, hook, way)
}

// body returns how the start of a draft is come to from behind its first
// hookZone half-widths: the tip that goes on to the start, and the index of
// the first centre, seen from there, that leaves it by level mm or hookLevel. 0
// means none does.
func (d *draft) body(level float64) (tp tip, hook int, ok bool) {
	from, way := 0, 0.0
	first := slices.Min(slices.Concat([]int{len(d.pts)}, d.corners, d.vias))
	for from+1 < first && way < hookZone*d.radius[from] {
		from++
		way += d.pts[from].Dist(d.pts[from-1])
	}
	to, length := from, 0.0
	r := d.radius[min(from, len(d.radius)-1)]
	for to+1 < first && length < hookBody*r {
		to++
		length += d.pts[to].Dist(d.pts[to-1])
	}
	if rest := wayOf(d.pts[to], d.pts[to:]); to+1 >= first && d.ends[1] != nil && rest < hookZone*r { // the other end may hook as well
		for to > from && rest < hookZone*r {
			step := d.pts[to].Dist(d.pts[to-1])
			to--
			length, rest = length-step, rest+step
		}
	}
	if length < leastBody*r {
		return tip{}, 0, false
	}
	if tp, ok = straightTip(d.pts[from:to+1], bodyLevel*r); !ok {
		return tip{}, 0, false
	}
	for i := from - 1; i >= 0; i-- {
		if math.Abs(tp.off(d.pts[i])) > min(level, hookLevel*r) {
			return tp, i + 1, true
		}
	}
	return tp, 0, true
}

// straightTip returns the line from the last of the points to the first, as a
// tip there, if no point is further than level from it. Two points tell nothing.
func straightTip(pts []geom.Point, level float64) (tip, bool) {
	if len(pts) < 3 {
		return tip{}, false
	}
	line := tip{p: pts[0], d: pts[0].Sub(pts[len(pts)-1]).Unit()}
	for _, p := range pts {
		if math.Abs(line.off(p)) > level {
			return tip{}, false
		}
	}
	return line, true
}

// off returns how far q lies left of a straight tip's line.
func (t tip) off(q geom.Point) float64 { return t.d.Cross(q.Sub(t.p)) }

// straightEnd returns how far along the tip the stroke ends.
func (t *tracer) straightEnd(tp tip, old geom.Point, r float64, j *join, host *geom.Path) (float64, bool) {
	reach := 2 * hookZone * r
	switch {
	case host != nil:
		p, _, _, ok := firstCrossing([]geom.Point{tp.p, tp.at(reach)}, host.Samples(r/20))
		at, _ := host.Nearest(p)
		return p.Dist(tp.p), ok && p.Dist(old) < 2.5*r && math.Abs(host.DirAt(at).Cross(tp.d)) > leastTee
	case j.end == EndJunction:
		return 0, false
	case j.end == EndRound:
		way := old.Sub(tp.p).Dot(tp.d)
		return way, way > 0
	}
	hit, ok := t.castAlong(tp, reach)
	return hit.s, ok
}

// endAs lets a draft begin on the tip's line, way ahead of the tip,
// in place of the centres before hook.
func (d *draft) endAs(tp tip, hook int, way float64) {
	from := 0.0
	for i := range d.pts {
		if d.pts[i] == tp.p {
			break
		}
		if i >= hook {
			from += d.pts[i].Dist(d.pts[i+1])
		}
	}
	if way <= from { // it ends before the hook begins
		for hook+1 < len(d.pts) && way <= from {
			from -= d.pts[hook].Dist(d.pts[hook+1])
			hook++
		}
		from = max(from, 0)
	}
	n := int(math.Ceil((way - from) / (0.3 * d.radius[hook])))
	var out draft
	for i := n; i > 0; i-- {
		s := from + (way-from)*float64(i)/float64(n)
		out.add(tp.at(s), d.radius[hook], false)
	}
	for i := range d.corners {
		d.corners[i] += n - hook
	}
	for i := range d.vias {
		d.vias[i] += n - hook
	}
	d.pts = append(out.pts, d.pts[hook:]...)
	d.radius = append(out.radius, d.radius[hook:]...)
	d.trusted = append(out.trusted, d.trusted[hook:]...)
}

// reverse turns a draft round.
func (d *draft) reverse() {
	slices.Reverse(d.pts)
	slices.Reverse(d.radius)
	slices.Reverse(d.trusted)
	for _, list := range [2][]int{d.corners, d.vias} {
		slices.Reverse(list)
		for i := range list {
			list[i] = len(d.pts) - 1 - list[i]
		}
	}
	d.ends[0], d.ends[1] = d.ends[1], d.ends[0]
}
