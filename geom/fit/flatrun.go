package fit

import (
	"math"
	"slices"

	"tubewright/geom"
)

// smooth fits the polyline with its corners a little rounded: structure and
// joints in the flat model, then the exact solution near by. It reports false
// where the polyline is not for the flat model, or the exact curve leaves the
// band.
func (f *fitter) smooth() (path geom.Path, dev float64, ok bool) {
	tol := f.opt.Tol
	pts := softened(f.pts, tol, f.opt.Closed)
	sm := sampled(pts, tol, maxSmooth)
	ms, ok := flatten(sm)
	if !ok {
		return geom.Path{}, 0, false
	}
	if f.opt.Closed {
		list := (&cutter{ms, tol}).cut()
		if list == nil {
			return geom.Path{}, 0, false
		}
		sm = sampled(rotated(pts, sm[middle(list)].p), tol, maxSmooth)
		if ms, ok = flatten(sm); !ok {
			return geom.Path{}, 0, false
		}
	}
	s, ok := f.flatFit(sm, ms)
	if !ok {
		return geom.Path{}, 0, false
	}
	// The flat model is a little off, so a smaller band is tried as well.
	for _, share := range smaller {
		kmax := 1 / (share * share * share * tol)
		if f.opt.MinRadius > 0 {
			kmax = 1 / f.opt.MinRadius
		}
		s.tol = share * tol
		t, ok := s.structure()
		if !ok || t.tighterThan(kmax) {
			continue
		}
		if p, ok := f.exact(sm, s, t, kmax); ok {
			if dev := apart(f.pts, p, follow(f.pts, p)); dev <= tol {
				return p, dev, true
			}
		}
	}
	return geom.Path{}, 0, false
}

// smaller are the bands tried, as shares of the tolerance.
var smaller = [...]float64{1, 1, 0.95, 0.85, 0.6, 0.35}

// maxSmooth is the number of samples kept of a smooth polyline, at most.
const maxSmooth = 20_000

// flatFit returns the search of the structure of these samples.
func (f *fitter) flatFit(sm []sample, ms []mark) (*flatFit, bool) {
	b, ok := f.bounds(sm, ms)
	s := &flatFit{ms: ms, b: b, tol: f.opt.Tol, w: make([]float64, len(ms))}
	for i, m := range ms {
		s.w[i] = m.w
	}
	return s, ok
}

// bounds returns what the flat spline must meet at its ends.
func (f *fitter) bounds(sm []sample, ms []mark) (bound, bool) {
	n := len(sm) - 1
	d0, d1 := sm[1].p.Sub(sm[0].p), sm[n].p.Sub(sm[n-1].p)
	h0 := float64(d0.Heading())
	h1 := (ms[n].y - ms[n-1].y) / (ms[n].s - ms[n-1].s)
	b := bound{start: knot{h: h0}, end: knot{y: ms[n].y, h: h1}}
	if f.opt.Closed {
		turn := float64(d1.TurnTo(d0))
		b.ring = true
		b.end.h = h0 + 2*math.Pi*math.Round((h1+turn-h0)/(2*math.Pi))
		return b, math.Abs(turn) <= turnLimit
	}
	if d := f.opt.StartDir; d != (geom.Vec{}) {
		b.fixStart = true
		b.start.h += float64(d0.TurnTo(d))
	}
	if d := f.opt.EndDir; d != (geom.Vec{}) {
		b.fixEnd = true
		b.end.h += float64(d1.TurnTo(d))
	}
	return b, true
}

// structure finds the pieces. Where those that fit alone cannot be joined
// within the band, a narrower one gives pieces that can; search takes back
// what is too many.
func (s *flatFit) structure() (flatTrial, bool) {
	least := 0
	for _, share := range finer {
		c := cutter{s.ms, share * s.tol}
		nodes := c.cut()
		if nodes == nil {
			return flatTrial{}, false
		}
		if share == 1 {
			least = len(nodes) - 1
		}
		if t, ok := s.search(joined(nodes, s.ms, s.tol), least); ok {
			return t, true
		}
	}
	return flatTrial{}, false
}

// joined makes a flat spline of pieces, with an arc where two lines meet or
// the slope breaks. Values and slopes are left to the solver.
func joined(nodes []node, ms []mark, tol float64) flat {
	f := flat{at: []knot{{}}}
	for i := 1; i < len(nodes); i++ {
		n := &nodes[i]
		f.bits = append(f.bits, bit{line: n.line, k: 2 * n.fit.c})
		at := ms[n.at].s
		if i+1 == len(nodes) {
			f.at = append(f.at, knot{t: at})
			break
		}
		m := &nodes[i+1]
		before := at - n.base.s
		gap := m.fit.b - n.fit.b - float64(2*n.fit.c*before)
		if n.line && m.line || math.Abs(gap) > sharp {
			room := 0.4 * min(before, ms[m.at].s-at)
			half := min(2.8*tol/max(math.Abs(gap), 1e-9), room)
			f.at = append(f.at, knot{t: at - half}, knot{t: at + half})
			f.bits = append(f.bits, bit{k: gap / (2 * half)})
			continue
		}
		f.at = append(f.at, knot{t: at})
	}
	return f
}

func (t *flatTrial) tighterThan(kmax float64) bool {
	return slices.ContainsFunc(t.f.bits, func(b bit) bool { return math.Abs(b.k) > kmax })
}

// exact turns a flat spline into a real one and solves that.
func (f *fitter) exact(sm []sample, s *flatFit, t flatTrial, kmax float64) (geom.Path, bool) {
	c := t.f.real(s.ms, sm)
	c.ring = f.opt.Closed
	c.lay()
	x := &exactFit{sm: sm, w: slices.Clone(s.w), c: c, dist: make([]float64, len(sm))}
	for _, q := range t.f.at {
		x.t = append(x.t, q.t)
	}
	x.target = f.target(c, kmax)
	if !x.hold(f.opt.Tol) {
		s.learn(x.dist, f.opt.Tol)
		return geom.Path{}, false
	}
	pr := &problem{target: x.target, scale: c.length()}
	if !pr.meet(x.c) {
		return geom.Path{}, false
	}
	if f.opt.Closed {
		f.seamless(sm, x)
	}
	for _, g := range x.c.spans {
		if math.Abs(g.k) > kmax {
			return geom.Path{}, false
		}
	}
	return x.c.path(f.opt.Closed), true
}

// middle returns the sample in the middle of the piece with most of them: a
// closed curve starts there.
func middle(list []node) int {
	best, at := 0, 0
	for i := 1; i < len(list); i++ {
		if n := list[i].at - list[i-1].at; n > best {
			best, at = n, (list[i].at+list[i-1].at)/2
		}
	}
	return at
}

// seamless makes one piece again of the two that meet where a closed curve was
// started, if that keeps the band.
func (f *fitter) seamless(sm []sample, x *exactFit) {
	m := len(x.c.spans)
	if m < 3 {
		return
	}
	r := &refiner{sm: sm, target: x.target, tol: f.opt.Tol, work: workFor(len(f.pts))}
	t, ok := r.begin(x.c.clone(), 2)
	if !ok {
		return
	}
	t = t.startedAt(m / 2)
	if t, ok = r.mergeAt(t, m-1-m/2); ok {
		x.c = r.polish(t, exactRounds)
	}
}

// learn makes the flat model stricter where the exact curve left the band.
func (s *flatFit) learn(exact []float64, tol float64) {
	for i, d := range exact {
		if d > tol {
			s.ms[i].strict *= min(d/tol, 1.5)
		}
	}
}

// hold solves. Where the least-squares fit leaves the band, the flat fit, which
// holds it or nearly, is taken as it is, and then the worst samples get more
// weight (Lawson 1961).
func (x *exactFit) hold(tol float64) bool {
	if !x.solve(exactRounds) {
		return false
	}
	worst := slices.Max(x.dist)
	if worst <= tol {
		return true
	}
	best := worst
	kept := x.c.clone()
	if x.firstWorst < worst {
		best, kept = x.firstWorst, x.first.clone()
	}
	for r := 0; r < lawson && best > tol && worst < 1.4*tol; r++ {
		for i, d := range x.dist {
			x.w[i] *= 0.3 + float64(d/tol*d/tol)
		}
		if !x.solve(fewRounds) {
			break
		}
		if worst = slices.Max(x.dist); worst < best {
			best, kept = worst, x.c.clone()
		}
	}
	x.c = kept
	return best <= tol
}

// real returns the spline that the flat one stands for: to first order in the
// distance e from the polyline, its length is shorter by k·e on the inner side
// and by the zigzag of the polyline.
func (f *flat) real(ms []mark, sm []sample) *spline {
	q := f.at[0]
	left := geom.UnitAt(geom.Angle(q.h)).Left()
	c := &spline{start: newPose(sm[0].p.Add(left.Mul(q.y)), q.h)}
	i := 1
	for j, b := range f.bits {
		q, to := f.at[j], f.at[j+1].t
		l := 0.0
		for a := q.t; a < to && i < len(ms); {
			e := min(ms[i].s, to)
			u := (a+e)/2 - q.t
			h := (ms[i].y - ms[i-1].y) / (ms[i].s - ms[i-1].s)
			off := q.y + float64(u*(q.h+float64(b.k*u)/2)) - ms[i-1].y - float64(h*((a+e)/2-ms[i-1].s))
			l += float64((e - a) * (math.Cos(q.h+float64(b.k*u)-h) - float64(b.k*off)))
			if a = e; e == ms[i].s {
				i++
			}
		}
		flatL := to - q.t
		l = min(max(l, flatL/2), 2*flatL)
		c.spans = append(c.spans, span{line: b.line, l: l, k: b.k * flatL / l})
	}
	return c
}
