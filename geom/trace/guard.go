package trace

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/medial"
)

const (
	leastClear  = 0.3 // of a half-width: a path nearer to a wall than this has left its stroke
	leftOut     = 0.7 // of its radius: a raw centre further than this from every path is left out
	mitreTip    = 0.5 // half-widths: narrower ends lie in a corner of the outline
	mitreLength = 3.5 // half-widths that the tip of a mitre may reach
	leftLength  = 0.5 // half-widths of raw axis that may be left out
)

// sound reports whether a solved zone passes its tests: no path leaves the
// ink, and the ink of every part of its axis is drawn.
// Lines are what else is drawn in it.
func (t *tracer) sound(z *zone, lines [][]geom.Point) bool {
	for i := range z.arms {
		a := &z.arms[i]
		if t.links[a.link].gone {
			continue
		}
		if a.done == nil {
			return false
		}
		if a.done.end == EndJunction && turnsBack(a) {
			return false
		}
		lines = append(lines, lineOf(a, a.done))
		free := a.done.to == nil && a.done.end != EndJunction // a free end may lie on the outline, a corner near it
		for _, p := range densify(append([]geom.Point{a.p}, a.done.fill...), 0.3*max(a.r, 0.3*t.w))[1:] {
			least := leastClear * a.r
			if free && p.Dist(a.done.fill[len(a.done.fill)-1]) < 1.2*a.r || a.done.corner >= 0 && p.Dist(a.done.fill[a.done.corner]) < 1.2*a.r {
				least = -0.02 * a.r
			}
			if clearance(z.runs, p) < least {
				return false
			}
		}
	}
	most := leftLength * t.w
	if len(z.arms) == 1 { // the axis may run on into a lopsided end
		most = 0.6 * t.w
	}
	for _, r := range z.raw {
		if len(z.arms) <= 2 && r.leaf && t.isMitre(r.samples) {
			continue
		}
		if leftOutLength(r.samples, lines, t.w) > most {
			return false
		}
	}
	return true
}

// turnsBack reports whether an arm goes past what it ends on and has to come
// back to it.
func turnsBack(a *arm) bool {
	f := a.done.fill
	n := len(f)
	if n < 2 {
		return false
	}
	before := a.p
	if n > 2 {
		before = f[n-3]
	}
	u, v := f[n-2].Sub(before), f[n-1].Sub(f[n-2])
	return v.Norm() > 0.6*a.r && u.Dot(v) < -0.5*u.Norm()*v.Norm()
}

// isMitre reports whether a dead end of the axis leads into a sharp corner of
// the outline: the tip of a mitre or of a slanted cut, and no stroke.
func (t *tracer) isMitre(s []medial.Sample) bool {
	tip := min(s[0].Radius, s[len(s)-1].Radius)
	return tip < mitreTip*t.w && pathLength(s) < mitreLength*t.w
}

// leftOutLength returns the length of the longest stretch of raw axis that no
// line passes near.
func leftOutLength(s []medial.Sample, lines [][]geom.Point, w float64) float64 {
	longest, way := 0.0, 0.0
	for i := 1; i < len(s); i++ {
		near := s[i].Radius < 0.4*w
		for _, l := range lines {
			if near {
				break
			}
			_, d := nearestOn(l, s[i].At)
			near = d <= leftOut*s[i].Radius
		}
		if near {
			way = 0
			continue
		}
		way += s[i].At.Dist(s[i-1].At)
		longest = max(longest, way)
	}
	return longest
}

// clearance returns how far p is inside the walls of a zone: negative outside.
func clearance(runs []boundary, p geom.Point) float64 {
	best, far, sign := math.Inf(1), math.Inf(1), 1.0 // far: the square of best
	for i := range runs {
		pts := runs[i].pts
		for k := 1; k < len(pts); k++ {
			u := pts[k].at.Sub(pts[k-1].at)
			n := u.Dot(u)
			if n == 0 {
				continue
			}
			s := clamp(p.Sub(pts[k-1].at).Dot(u)/n, 0, 1)
			q := pts[k-1].at.Add(u.Mul(s))
			if v := p.Sub(q); v.Dot(v) > far {
				continue
			}
			d := p.Dist(q)
			if d < best-1e-12 {
				best, far = d, d*d
				sign = 1
				if s > 0 && s < 1 && u.Cross(p.Sub(q)) < 0 || (s == 0 || s == 1) && outside(pts, k, s, p) {
					sign = -1
				}
			}
		}
	}
	return sign * best
}

// outside tells on which side of a point of the wall p lies, from the middle
// normal there.
func outside(pts []wallPoint, k int, s float64, p geom.Point) bool {
	w := pts[k]
	if s == 0 {
		w = pts[k-1]
	}
	return p.Sub(w.at).Dot(w.n) < 0
}

// addTails makes arms of the dead ends of the axis that were left out. It
// reports whether there are any.
func (t *tracer) addTails(i int) bool {
	var lines [][]geom.Point
	for k := range t.zones[i].arms {
		if a := &t.zones[i].arms[k]; a.done != nil {
			lines = append(lines, lineOf(a, a.done))
		}
	}
	found := false
	for _, tl := range t.zones[i].tips {
		s := outward(tl.samples, &t.zones[i])
		if leftOutLength(s, lines, t.w) <= leftLength*t.w {
			continue
		}
		last := s[len(s)-1]
		from := len(s) - 2
		for from > 0 && s[from-1].Radius < 1.2*last.Radius && s[from].At.Dist(last.At) < 4*last.Radius && !t.onDent(s[from-1]) {
			from--
		}
		if from < 0 {
			continue
		}
		outer := len(t.zones)
		l := link{s: s[from:], zone: [2]int{i, outer}}
		t.links = append(t.links, l)
		n := len(t.links) - 1
		t.zones[i].arms = append(t.zones[i].arms, arm{link: n, end: 0})
		t.zones = append(t.zones, zone{arms: []arm{{link: n, end: 1}}, size: last.Radius})
		found = true
	}
	return found
}

func (t *tracer) onDent(s medial.Sample) bool {
	near := 1e-6 * t.w
	return t.loops[s.Left.Loop].isDent(s.Left.Along, near) || t.loops[s.Right.Loop].isDent(s.Right.Along, near)
}

// outward turns a tail so that it runs from the zone's inside to its tip.
func outward(s []medial.Sample, z *zone) []medial.Sample {
	first, last := s[0].At, s[len(s)-1].At
	df, dl := math.Inf(1), math.Inf(1)
	for _, r := range z.raw {
		if &r.samples[0] == &s[0] {
			continue
		}
		for _, x := range [2]geom.Point{r.samples[0].At, r.samples[len(r.samples)-1].At} {
			df, dl = min(df, x.Dist(first)), min(dl, x.Dist(last))
		}
	}
	if dl < df {
		return reversedSamples(s)
	}
	return s
}

// revert replaces a zone by the raw axis in it: every stretch becomes a link,
// every node a meeting.
func (t *tracer) revert(i int) {
	z := &t.zones[i]
	t.res.Reverted++
	alias := map[int]int{} // both maps are looked up by vertex, never ranged over
	same := func(v int) int {
		for {
			w, ok := alias[v]
			if !ok {
				return v
			}
			v = w
		}
	}
	for _, r := range z.raw {
		if a, b := same(r.ends[0]), same(r.ends[1]); pathLength(r.samples) == 0 && a != b {
			alias[a] = b
		}
	}
	at := map[int][]*arm{}
	var order []int
	put := func(v int, a *arm) {
		v = same(v)
		if len(at[v]) == 0 {
			order = append(order, v)
		}
		at[v] = append(at[v], a)
	}
	for k := range z.arms {
		a := &z.arms[k]
		t.links[a.link].gone = false
		t.setUp(a)
		a.ext = t.links[a.link].cut[a.end]
		a.done = &join{end: EndRound, corner: -1, fill: a.ext}
		if l := &t.links[a.link]; !a.stub && l.vertex != [2]int{} {
			put(l.vertex[a.end], a)
		}
	}
	for _, r := range z.raw {
		if pathLength(r.samples) == 0 {
			continue
		}
		t.links = append(t.links, link{s: r.samples, zone: [2]int{-2, -2}, vertex: r.ends})
		n := len(t.links) - 1
		for e := range 2 {
			a := &arm{link: n, end: e}
			t.setUp(a)
			a.done = &join{end: EndRound, corner: -1}
			t.spare = append(t.spare, a)
			put(r.ends[e], a)
		}
	}
	for _, v := range order {
		meetRaw(at[v])
	}
	t.res.Notes = append(t.res.Notes, Note{Kind: Raw, At: z.arms[0].p, Explanation: "no repair of this junction kept to the ink and its topology"})
}

// meetRaw joins the arms at one vertex of the raw axis: the straightest pair
// goes through, the others end on it.
func meetRaw(arms []*arm) {
	if len(arms) < 2 {
		return
	}
	bi, bj, best := 0, 1, math.Inf(1)
	for i := range arms {
		for j := range i {
			if c := float64(arms[i].d.TurnTo(arms[j].d.Neg()).Abs()); c < best {
				bi, bj, best = i, j, c
			}
		}
	}
	fill := slices.Clone(arms[bi].ext)
	var node []geom.Point
	if len(arms) > 2 {
		node = []geom.Point{endOfExt(arms[bi].p, arms[bi].ext).Lerp(endOfExt(arms[bj].p, arms[bj].ext), 0.5)}
	}
	fill = append(fill, node...)
	for k := len(arms[bj].ext) - 1; k >= 0; k-- {
		fill = append(fill, arms[bj].ext[k])
	}
	j := connect(arms[bi], arms[bj], fill, -1)
	arms[bi].done, arms[bj].done = j, j.twin
	for k, a := range arms {
		if k != bi && k != bj {
			a.done = &join{fill: append(slices.Clone(a.ext), node...), end: EndJunction, corner: -1, onto: j}
		}
	}
}

func reversedSamples(s []medial.Sample) []medial.Sample {
	out := make([]medial.Sample, len(s))
	for i, x := range s {
		out[len(s)-1-i] = x.Reversed()
	}
	return out
}
