package trace

import (
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/fit"
)

// fitAll fits every draft, those first that others end on.
func (t *tracer) fitAll() error {
	state := make([]int, len(t.drafts)) // 1 being fitted, 2 done
	var do func(i int) error
	do = func(i int) error {
		state[i] = 1
		d := &t.drafts[i]
		for k, j := range d.ends {
			if j == nil || j.onto == nil {
				t.unhook(d, k, nil)
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
				t.unhook(d, k, &h.path)
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
	d.sharpen(t.opt.Tol / 4)
	breaks := append(slices.Clone(d.corners), d.vias...)
	slices.Sort(breaks)
	from := 0
	var dir geom.Vec
	for _, to := range append(breaks, len(d.pts)-1) {
		if to <= from && !closed {
			continue
		}
		if onePlace(d.pts[from:to+1], t.opt.Tol/1000) { // nothing to draw, as where a very heavy stroke meets itself
			from = to
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
	if len(d.path.Segments) == 0 {
		return nil // left out
	}
	d.path.Closed = d.closed
	d.fitted = true
	return nil
}

// onePlace reports whether all points lie within near of the first.
func onePlace(pts []geom.Point, near float64) bool {
	return !slices.ContainsFunc(pts, func(p geom.Point) bool { return p.Dist(pts[0]) > near })
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
// written with seven decimals meets a point to within about 2e-7 mm; ending
// that little beyond, the path crosses itself instead of missing itself.
func (d *draft) past(end int, p geom.Point) geom.Point {
	const hair = 5e-7 // mm
	from := d.pts[1]
	if end > 0 {
		from = d.pts[end-1]
	}
	return p.Add(p.Sub(from).Unit().Mul(hair))
}
