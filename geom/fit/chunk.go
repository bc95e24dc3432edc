package fit

import (
	"slices"

	"tubewright/geom"
)

// Curves of more than maxPieces pieces are solved in parts of about
// chunkPieces: the cost of one iteration grows with the square of the number.
const (
	maxPieces   = 16
	chunkPieces = 10
)

// part is a stretch of a long curve. Where an end is fixed, the pose there is
// held exactly, so that parts solved apart fit together.
type part struct {
	list          []piece
	start, end    pose
	fixed, fixEnd bool
}

// long fits a curve of many pieces part by part, then makes one piece again of
// each that was cut.
func (f *fitter) long(sm []sample, list []piece, tol, kmax float64) (trial, bool) {
	r := &refiner{sm: sm, tol: tol, work: workFor(len(f.pts)), bounded: f.opt.MinRadius > 0}
	all := trial{c: &spline{ring: f.opt.Closed}}
	var seams []int
	for _, p := range f.parted(sm, list) {
		t, ok := p.solve(*r, kmax)
		if !ok {
			return trial{}, false
		}
		if len(all.c.spans) == 0 {
			all.c.start = t.c.start
		} else {
			seams = append(seams, len(all.c.spans)-1)
			t.feet, t.dist = t.feet[1:], t.dist[1:] // the sample at the cut is in both
		}
		for _, q := range t.feet {
			all.feet = append(all.feet, foot{q.i + len(all.c.spans), q.t})
		}
		all.dist = append(all.dist, t.dist...)
		all.c.spans = append(all.c.spans, t.c.spans...)
	}
	all.c.lay()
	r.target = f.target(all.c, kmax)
	slices.Reverse(seams) // from the end, so that earlier places stay put
	for _, i := range seams {
		if next, ok := r.mergeAt(all, i); ok {
			all = next
		}
	}
	// Parts meet to rounding; what little has added up is taken out at the end.
	m := len(all.c.spans)
	w := r.open(all, m-2*reach, m, all.c.spans[m-2*reach:])
	w.pr.loose = 0
	if !w.solve(tol, finalRounds) || w.dev > tol {
		return trial{}, false
	}
	return all.accept(w), true
}

// parted cuts the list in the middle of long pieces, where place and heading
// are surest.
func (f *fitter) parted(sm []sample, list []piece) []part {
	var out []part
	cur := part{}
	if f.opt.Closed { // the seam holds still
		cur.start, cur.fixed = list[0].poseAt(sm, list[0].from), true
	} else if d := f.opt.StartDir; d != (geom.Vec{}) {
		cur.start, cur.fixed = newPose(sm[0].p, float64(d.Heading())), true
	}
	first := cur
	for i, p := range list {
		left := len(list) - i
		if len(cur.list) >= chunkPieces-2 && left > chunkPieces/2 && (longest(list, i) || len(cur.list) > chunkPieces+2) {
			mid := (p.from + p.to) / 2
			if mid > p.from && mid < p.to {
				a, b := p, p
				a.to, b.from = mid, mid
				cur.list = append(cur.list, a)
				cur.end, cur.fixEnd = p.poseAt(sm, mid), true
				out = append(out, cur)
				cur = part{list: []piece{b}, start: cur.end, fixed: true}
				continue
			}
		}
		cur.list = append(cur.list, p)
	}
	if f.opt.Closed {
		cur.end, cur.fixEnd = first.start, true
	} else if d := f.opt.EndDir; d != (geom.Vec{}) {
		cur.end, cur.fixEnd = newPose(sm[len(sm)-1].p, float64(d.Heading())), true
	}
	return append(out, cur)
}

// longest reports whether piece i has more samples than its two neighbours on
// either side.
func longest(list []piece, i int) bool {
	n := list[i].to - list[i].from
	for k := max(0, i-2); k <= min(len(list)-1, i+2); k++ {
		if list[k].to-list[k].from > n {
			return false
		}
	}
	return true
}

// poseAt returns the place on the fitted piece nearest to sample i, and the
// heading there.
func (p piece) poseAt(sm []sample, i int) pose {
	d := p.heading(sm, i)
	left := d.Left()
	off := p.fit.offset(sm[i].p)
	if left.Dot(p.fit.b.Add(sm[i].p.Sub(p.fit.o).Mul(2*p.fit.a))) < 0 {
		off = -off
	}
	return newPose(sm[i].p.Add(left.Mul(-off)), float64(d.Heading()))
}

// solve fits the part; r is for the whole curve.
func (p part) solve(r refiner, kmax float64) (trial, bool) {
	from, to := p.list[0].from, p.list[len(p.list)-1].to
	sm := r.sm
	r.sm = sm[from : to+1]
	return r.search(sm, p.list, func(list []piece) *spline {
		c := initial(sm, list, r.tol, kmax)
		if p.fixed {
			c.start = newPose(p.start.p, c.start.h+float64(c.start.d.TurnTo(p.start.d)))
		}
		c.lay()
		r.target = target{kmax: kmax, fixStart: p.fixed, fixEnd: p.fixEnd}
		r.target.end.p = sm[to].p
		if p.fixEnd {
			h := c.at[len(c.spans)]
			r.target.end = newPose(p.end.p, h.h+float64(h.d.TurnTo(p.end.d)))
		}
		return c
	})
}

// mergeAt tries to make one piece of spans i and i+1.
func (r *refiner) mergeAt(t trial, i int) (trial, bool) {
	var best *window
	for _, way := range r.merged(t, i) {
		best = r.better(best, way)
	}
	if best == nil || best.dev > r.tol {
		return trial{}, false
	}
	return t.accept(best), true
}
