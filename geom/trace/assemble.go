package trace

import (
	"cmp"
	"slices"

	"tubewright/geom"
)

// draft is a stroke as a chain of centres, before lines and arcs are fitted.
type draft struct {
	pts     []geom.Point
	radius  []float64
	trusted []bool // the centre is of the exact axis
	corners []int  // indices where the direction breaks
	vias    []int  // indices that the path must pass through exactly
	closed  bool
	ends    [2]*join
	path    geom.Path
	fitted  bool
}

// assemble chains links through their joins into drafts.
func (t *tracer) assemble() {
	used := make([]bool, len(t.links))
	for i := range t.links {
		if used[i] || t.links[i].gone {
			continue
		}
		l, end, ring := t.firstOf(i)
		d := t.chain(l, end, ring, used)
		d.unloop()
		d.gather(t.reg.Distance)
		d.tidy()
		t.drafts = append(t.drafts, d)
	}
}

// firstOf goes back from link i until its stroke begins; it returns the first
// link and the end it is entered by.
func (t *tracer) firstOf(i int) (l, end int, ring bool) {
	l, end = i, 0
	for range 2*len(t.links) + 2 {
		j := t.links[l].join[end]
		if j == nil && t.links[l].zone[0] < 0 {
			return l, 0, true
		}
		if j == nil || j.to == nil {
			return l, end, false
		}
		l, end = j.to.link, 1-j.to.end
		if l == i && end == 0 {
			return i, 0, true
		}
	}
	return i, 0, true
}

// chain collects the centres of one stroke.
func (t *tracer) chain(l, end int, ring bool, used []bool) draft {
	d := draft{closed: ring}
	id := len(t.drafts)
	if j := t.links[l].join[end]; !ring && j != nil {
		j.owner = id
		d.ends[0] = j
		r := t.sampleFromEnd(l, end, 0).Radius
		for k := len(j.fill) - 1; k >= 0; k-- {
			d.add(j.fill[k], j.width(k, r), false)
		}
	}
	for !used[l] {
		used[l] = true
		n := len(t.links[l].s)
		for k := range n {
			s := t.sampleFromEnd(l, end, k)
			d.add(s.At, s.Radius, true)
		}
		out := 1 - end
		j := t.links[l].join[out]
		if j == nil {
			break
		}
		j.owner = id
		if j.twin != nil {
			j.twin.owner = id
		}
		r := t.sampleFromEnd(l, out, 0).Radius
		if j.to != nil {
			r = (r + t.sampleFromEnd(j.to.link, j.to.end, 0).Radius) / 2
		}
		for k, p := range j.fill {
			if k == j.corner {
				d.corners = append(d.corners, len(d.pts))
			}
			d.add(p, j.width(k, r), false)
		}
		if j.to == nil {
			d.ends[1] = j
			break
		}
		l, end = j.to.link, j.to.end
	}
	return d
}

// onePlaceShare is how near, in half-widths, two centres are of one place.
const onePlaceShare = 0.02

// tidy drops centres at which the draft turns back on itself other than in a
// corner, or steps aside: two views of one place a hair apart. Of two in one
// place it keeps the one of the exact axis.
func (d *draft) tidy() {
	corner := map[int]bool{}
	for _, c := range d.corners {
		corner[c] = true
	}
	out := *d
	out.pts, out.radius, out.trusted, out.corners = nil, nil, nil, nil
	for i, p := range d.pts {
		for n := len(out.pts); n > 1 && i > 0 && !corner[i] && !slices.Contains(out.corners, n-1); n = len(out.pts) {
			u, v := out.pts[n-1].Sub(out.pts[n-2]), p.Sub(out.pts[n-1])
			if u.Dot(v) >= -0.5*u.Norm()*v.Norm() || min(u.Norm(), v.Norm()) > 0.6*d.radius[i] {
				break
			}
			out.pts, out.radius, out.trusted = out.pts[:n-1], out.radius[:n-1], out.trusted[:n-1]
		}
		if n := len(out.pts) - 1; n > 0 && i < len(d.pts)-1 && !corner[i] && !slices.Contains(out.corners, n) && p.Dist(out.pts[n]) < onePlaceShare*d.radius[i] {
			if d.trusted[i] && !out.trusted[n] {
				out.pts[n], out.radius[n], out.trusted[n] = p, d.radius[i], true
			}
			continue
		}
		if corner[i] {
			out.corners = append(out.corners, len(out.pts))
		}
		out.add(p, d.radius[i], d.trusted[i])
	}
	*d = out
}

// width is the half-width at fill k, or r if it was not worked out.
func (j *join) width(k int, r float64) float64 {
	if j.swell > 0 && k == len(j.fill)-1 {
		return j.swell
	}
	if k < len(j.half) && !(j.to == nil && k == len(j.fill)-1) {
		return j.half[k]
	}
	return r
}

func (d *draft) add(p geom.Point, r float64, trusted bool) {
	d.pts = append(d.pts, p)
	d.radius = append(d.radius, r)
	d.trusted = append(d.trusted, trusted)
}

// startAtCorner makes a closed draft begin and end at its first corner.
func (d *draft) startAtCorner() {
	c := d.corners[0]
	d.pts = append(append(slices.Clone(d.pts[c:]), d.pts[:c]...), d.pts[c])
	d.radius = append(append(slices.Clone(d.radius[c:]), d.radius[:c]...), d.radius[c])
	d.trusted = append(append(slices.Clone(d.trusted[c:]), d.trusted[:c]...), d.trusted[c])
	d.corners = d.corners[1:]
	for i := range d.corners {
		d.corners[i] -= c
	}
}

// result turns the drafts into strokes.
func (t *tracer) result() (Result, error) {
	if err := t.fitAll(); err != nil {
		return Result{}, err
	}
	for i := range t.drafts {
		d := &t.drafts[i]
		if len(d.path.Segments) == 0 {
			continue
		}
		t.res.Strokes = append(t.res.Strokes, d.stroke())
		t.res.Deviation = max(t.res.Deviation, d.deviation())
	}
	t.findJunctions()
	t.sweep()
	return t.res, nil
}

// deviation returns the largest distance of a trusted centre from the path.
// Centres and path run the same way, so the segment that was nearest, or the
// next, mostly shows that a centre is not the farthest.
func (d *draft) deviation() float64 {
	worst, i := 0.0, 0
	for k, p := range d.pts {
		if !d.trusted[k] {
			continue
		}
		for ; i+1 < len(d.path.Segments) && offSegment(d.path.Segments[i], p) > worst; i++ {
		}
		if offSegment(d.path.Segments[i], p) <= worst {
			continue
		}
		_, dist := d.path.Nearest(p)
		worst = max(worst, dist)
		i = 0
	}
	return worst
}

func offSegment(g geom.Segment, p geom.Point) float64 { return g.PointAt(g.Nearest(p)).Dist(p) }

func (d *draft) stroke() Stroke {
	s := Stroke{Path: d.path}
	length := d.path.Length()
	way, first := 0.0, 0.0
	if d.closed && len(d.pts) > 0 { // a closed path may start anywhere
		first, _ = d.path.Nearest(d.pts[0])
	}
	for i, p := range d.pts {
		if i > 0 {
			way += p.Dist(d.pts[i-1])
		}
		at := first + way
		if d.closed && at > length {
			at -= length
		}
		s.Widths = append(s.Widths, Width{at, d.radius[i]})
	}
	slices.SortStableFunc(s.Widths, func(a, b Width) int { return cmp.Compare(a.At, b.At) })
	n := len(d.pts) - 1
	for k, j := range d.ends {
		at := 0
		if k == 1 {
			at = n
		}
		if j != nil {
			s.Ends[k] = End{j.end, d.radius[at]}
		} else if !d.closed {
			s.Ends[k] = End{EndFlat, d.radius[at]}
		}
	}
	return s
}

// findJunctions lists the places where strokes end on or cross each other.
func (t *tracer) findJunctions() {
	near := 0.1 * t.w
	add := func(p geom.Point, degree int, kind string) {
		for i := range t.res.Junctions {
			q := &t.res.Junctions[i]
			if q.At.Dist(p) <= near {
				q.Degree = max(q.Degree, degree)
				if degree == 3 && kind == "t" && q.Kind == "t" {
					q.Degree, q.Kind = 4, "x"
				}
				return
			}
		}
		t.res.Junctions = append(t.res.Junctions, Junction{p, degree, kind})
	}
	for i := range t.zones {
		var through []*join
		free := 0
		var at geom.Point
		for k := range t.zones[i].arms {
			j := t.zones[i].arms[k].done
			switch {
			case j == nil:
			case j.end == EndJunction && j.onto != nil && j.point != nil:
				add(*j.point, 3, "t")
			case j.end == EndJunction && j.point != nil:
				free++
				at = *j.point
			case j.to != nil && j.twin != nil && j.owner >= 0:
				first := true
				for _, o := range through {
					first = first && o != j.twin
				}
				if first {
					through = append(through, j)
				}
			}
		}
		if free >= 3 {
			add(at, free, "y")
		}
		for a := range through {
			for b := range a {
				if p, _, _, ok := firstCrossing(through[a].fill, through[b].fill); ok {
					add(p, 4, "x")
				}
			}
		}
	}
}
