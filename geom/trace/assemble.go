package trace

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/fit"
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

// tidy drops centres at which the draft turns back on itself other than in a
// corner: two views of one place a hair apart.
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

// fitAll fits every draft, those first that others end on.
func (t *tracer) fitAll() error {
	state := make([]int, len(t.drafts)) // 1 being fitted, 2 done
	var do func(i int) error
	do = func(i int) error {
		state[i] = 1
		d := &t.drafts[i]
		for k, j := range d.ends {
			if j == nil || j.onto == nil {
				continue
			}
			o := j.onto.owner
			if o == i && len(d.pts) > 2 {
				d.endOnSelf(k, 3*t.w)
				end := d.pts[0]
				if k == 1 {
					end = d.pts[len(d.pts)-1]
				}
				j.point = &end
				continue
			}
			if o != i && state[o] == 0 {
				if err := do(o); err != nil {
					return err
				}
			}
			if h := &t.drafts[o]; h.fitted && len(d.pts) > 0 {
				at := len(d.pts) - 1
				if k == 0 {
					at = 0
				}
				s, _ := h.path.Nearest(d.pts[at])
				p := h.path.PointAt(s)
				d.pts[at], j.point = p, &p
			}
		}
		err := t.fitDraft(d)
		state[i] = 2
		return err
	}
	for i := range t.drafts {
		if state[i] == 0 {
			if err := do(i); err != nil {
				return err
			}
		}
	}
	return nil
}

// fitDraft fits lines and arcs between the corners of a draft. At a via the
// path goes on in the direction it has.
func (t *tracer) fitDraft(d *draft) error {
	closed := d.closed && len(d.corners) == 0
	if d.closed && !closed {
		d.startAtCorner()
	}
	breaks := append(slices.Clone(d.corners), d.vias...)
	slices.Sort(breaks)
	from := 0
	var dir geom.Vec
	for _, to := range append(breaks, len(d.pts)-1) {
		if to <= from && !closed {
			continue
		}
		opt := fit.Options{Tol: t.opt.Tol, Closed: closed}
		if slices.Contains(d.vias, from) {
			opt.StartDir = dir
		}
		res, err := fit.Curve(d.pts[from:to+1], opt)
		if err != nil {
			return fmt.Errorf("trace: fitting a stroke near (%g, %g): %w", d.pts[from].X, d.pts[from].Y, err)
		}
		if opt.StartDir != (geom.Vec{}) && len(res.Path.Segments) > (to-from)/4 {
			// The direction of the piece before does not suit these points, and the
			// fit has fallen back to their polyline: a shallow corner is better.
			opt.StartDir = geom.Vec{}
			if free, err := fit.Curve(d.pts[from:to+1], opt); err == nil && len(free.Path.Segments) < len(res.Path.Segments) {
				res = free
			}
		}
		d.path.Segments = append(d.path.Segments, res.Path.Segments...)
		dir = d.path.EndDir()
		from = to
	}
	d.path.Closed = d.closed
	d.fitted = true
	return nil
}

// endOnSelf makes end k of a draft a point of the draft's own path, which
// passes through it exactly.
func (d *draft) endOnSelf(k int, clear float64) {
	end := 0
	if k == 1 {
		end = len(d.pts) - 1
	}
	ways := make([]float64, len(d.pts))
	for i := 1; i < len(d.pts); i++ {
		ways[i] = ways[i-1] + d.pts[i].Dist(d.pts[i-1])
	}
	best, at := math.Inf(1), -1
	var foot geom.Point
	for i := 1; i < len(d.pts); i++ {
		if math.Abs(ways[i]-ways[end]) < clear || math.Abs(ways[i-1]-ways[end]) < clear {
			continue
		}
		q, dist := nearestOn(d.pts[i-1:i+1], d.pts[end])
		if dist < best {
			best, at, foot = dist, i, q
		}
	}
	if at < 0 {
		return
	}
	for _, i := range [2]int{at - 1, at} {
		if d.pts[i].Dist(foot) < 0.02*d.radius[i] {
			d.pts[end] = d.past(end, d.pts[i])
			if i > 0 && i < len(d.pts)-1 && !slices.Contains(d.corners, i) && !slices.Contains(d.vias, i) {
				d.vias = append(d.vias, i)
			}
			return
		}
	}
	d.pts[end] = d.past(end, foot)
	d.pts = slices.Insert(d.pts, at, foot)
	d.radius = slices.Insert(d.radius, at, (d.radius[at-1]+d.radius[at])/2)
	d.trusted = slices.Insert(d.trusted, at, false)
	for _, list := range [2][]int{d.corners, d.vias} {
		for i := range list {
			if list[i] >= at {
				list[i]++
			}
		}
	}
	d.vias = append(d.vias, at)
}

// past returns a point a hair beyond p on the way in to the given end. An arc
// meets a point only to within rounding (about 1e-12 mm); ending that little
// beyond, the path crosses itself instead of missing itself.
func (d *draft) past(end int, p geom.Point) geom.Point {
	const hair = 5e-10 // mm
	from := d.pts[1]
	if end > 0 {
		from = d.pts[end-1]
	}
	return p.Add(p.Sub(from).Unit().Mul(hair))
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
		for k, p := range d.pts {
			if d.trusted[k] {
				_, dist := d.path.Nearest(p)
				t.res.Deviation = max(t.res.Deviation, dist)
			}
		}
	}
	t.findJunctions()
	t.sweep()
	return t.res, nil
}

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
