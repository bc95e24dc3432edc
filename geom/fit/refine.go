package fit

import (
	"math"
	"slices"
)

// refiner searches the structure around a first guess: adds pieces until the
// band holds, then takes away what is not needed. All work is done in windows
// of a few spans, so that cost grows with the length of the curve and not with
// its square.
type refiner struct {
	sm     []sample
	target target
	tol    float64
	work   *int
	// bounded says that a least radius, not the number of pieces, may be what
	// keeps the curve out of the band. A wider band is tried next, so little is
	// spent on this one.
	bounded bool
}

// trial is a solved spline: where each sample stands on it and how far away.
type trial struct {
	c    *spline
	feet []foot
	dist []float64
}

const (
	trialRounds = 10 // Gauss-Newton steps while structures are compared
	finalRounds = 40 // and for the result
	lawson      = 5  // rounds of reweighting toward the least largest distance
	reach       = 3  // spans on either side of a change that may move with it
)

// window is a stretch of spans [a, b) being solved, with the samples on it.
type window struct {
	a, b  int
	index []int // samples
	pr    *problem
	c     *spline
	dist  []float64
	dev   float64 // largest distance
	sum   float64 // weighted squares
}

// open prepares the solution of spans [a, b) of t with others in their place.
// Outside the window nothing moves.
func (r *refiner) open(t trial, a, b int, with []span) *window {
	w := &window{a: a, b: b}
	tg := r.target
	if a > 0 {
		tg.fixStart = true
	}
	m := len(t.c.spans)
	if b-a < m {
		tg.closed = false
	}
	if b < m || r.target.closed && b-a < m {
		tg.end, tg.fixEnd = t.c.at[b], true
	}
	if r.target.closed && b-a < m {
		tg.fixStart = true
	}
	w.c = &spline{start: t.c.at[a], spans: slices.Clone(with), ring: tg.closed}
	w.pr = &problem{target: tg, loose: 1e-3 * r.tol, work: r.work}
	base := make([]float64, m+1)
	for i, s := range t.c.spans {
		base[i+1] = base[i] + s.l
	}
	w.c.lay()
	scale := w.c.length() / (base[b] - base[a])
	for n, f := range t.feet {
		if f.i < a || f.i >= b {
			continue
		}
		w.index = append(w.index, n)
		w.pr.sm = append(w.pr.sm, r.sm[n])
		w.pr.w = append(w.pr.w, r.sm[n].w)
		w.pr.feet = append(w.pr.feet, w.c.footAt((base[f.i]+f.t-base[a])*scale))
	}
	w.pr.scale = base[b] - base[a]
	return w
}

// footAt returns the foot at distance s.
func (c *spline) footAt(s float64) foot {
	i := 0
	for i < len(c.spans)-1 && s > c.spans[i].l {
		s -= c.spans[i].l
		i++
	}
	return foot{i, min(max(s, 0), c.spans[i].l)}
}

// solve fits the window. Where the least-squares fit leaves the band by
// little, the worst samples get more weight (Lawson 1961), as some other fit
// of the same structure may hold it.
func (w *window) solve(tol float64, rounds int) bool {
	if !w.pr.solve(w.c, rounds) {
		return false
	}
	w.measure()
	if w.dev <= tol || w.dev > 1.7*tol {
		return true
	}
	feet, c := slices.Clone(w.pr.feet), w.c
	for range lawson {
		for i, d := range w.pr.distances(w.c) {
			w.pr.w[i] *= 0.3 + float64(d/tol*d/tol)
		}
		next := w.c.clone()
		if !w.pr.solve(next, rounds/2) {
			break
		}
		before := *w
		w.c = next
		w.measure()
		if w.dev >= before.dev {
			w.c, w.dist, w.dev, w.sum = before.c, before.dist, before.dev, before.sum
			continue
		}
		feet, c = slices.Clone(w.pr.feet), w.c
		if w.dev <= tol {
			break
		}
	}
	w.c = c
	copy(w.pr.feet, feet)
	return true
}

// measure takes the distances of the samples, and an estimate of how far the
// curve strays between them: it may not run much farther than the polyline.
func (w *window) measure() {
	w.dist = w.pr.distances(w.c)
	w.dev, w.sum = 0, 0
	at := make([]float64, len(w.c.spans))
	for i := 1; i < len(at); i++ {
		at[i] = at[i-1] + w.c.spans[i-1].l
	}
	before := 0.0
	for i, d := range w.dist {
		w.sum += float64(w.pr.sm[i].w * d * d)
		w.dev = max(w.dev, d)
		f := w.pr.feet[i]
		s := at[f.i] + f.t
		if i > 0 {
			stray := (s - before - slack*(w.pr.sm[i].s-w.pr.sm[i-1].s)) / 4
			w.dist[i] = max(d, stray)
			w.dev = max(w.dev, stray)
		}
		before = s
	}
}

// accept returns t with the solved window put in.
func (t trial) accept(w *window) trial {
	out := trial{feet: slices.Clone(t.feet), dist: slices.Clone(t.dist)}
	out.c = &spline{start: t.c.start, ring: t.c.ring}
	out.c.spans = append(out.c.spans, t.c.spans[:w.a]...)
	out.c.spans = append(out.c.spans, w.c.spans...)
	out.c.spans = append(out.c.spans, t.c.spans[w.b:]...)
	if w.a == 0 {
		out.c.start = w.c.start
	}
	out.c.lay()
	shift := len(w.c.spans) - (w.b - w.a)
	for n := range out.feet {
		if out.feet[n].i >= w.b {
			out.feet[n].i += shift
		}
	}
	for k, n := range w.index {
		f := w.pr.feet[k]
		out.feet[n] = foot{f.i + w.a, f.t}
		out.dist[n] = w.dist[k]
	}
	return out
}

// worst returns the largest distance and the foot of the sample that has it.
func (t trial) worst() (float64, foot) {
	n := 0
	for i, d := range t.dist {
		if d > t.dist[n] {
			n = i
		}
	}
	return t.dist[n], t.feet[n]
}

// begin solves a first guess as a whole.
func (r *refiner) begin(c *spline, rounds int) (trial, bool) {
	c.lay()
	t := trial{c: c, feet: make([]foot, len(r.sm)), dist: make([]float64, len(r.sm))}
	scale := c.length() / (r.sm[len(r.sm)-1].s - r.sm[0].s)
	for n, q := range r.sm {
		t.feet[n] = c.footAt((q.s - r.sm[0].s) * scale)
	}
	return r.resolve(t, rounds)
}

// resolve solves all of t again.
func (r *refiner) resolve(t trial, rounds int) (trial, bool) {
	w := r.open(t, 0, len(t.c.spans), t.c.spans)
	w.pr.feet = slices.Clone(t.feet)
	if !w.solve(r.tol, rounds) {
		return trial{}, false
	}
	return t.accept(w), true
}

// finer are the bands, as shares of the tolerance, from which a structure is
// taken in turn until one can be made to hold: pieces that fit well alone are
// easier to join, and simplify takes back what is too many.
var finer = [...]float64{1, 0.5, 0.25}

// search lays a spline along the pieces, brings it into the band and takes
// away what is not needed. Spline and target come from lay. list may be cut
// anew within its samples of sm.
func (r *refiner) search(sm []sample, list []piece, lay func([]piece) *spline) (trial, bool) {
	from, to := list[0].from, list[len(list)-1].to
	least := len(list)
	shares := finer[:]
	if r.bounded {
		shares = finer[:2]
	}
	for _, share := range shares {
		if share < 1 {
			list = nil
			for limit := maxStations; list == nil; limit *= 2 {
				list = structure(sm[from:to+1], share*r.tol, limit)
			}
			for i := range list {
				list[i].from += from
				list[i].to += from
			}
		}
		if t, ok := r.hold(lay(list)); ok {
			return r.simplify(t, least), true
		}
	}
	return trial{}, false
}

// hold adds pieces to a first guess until the band holds.
func (r *refiner) hold(c *spline) (trial, bool) {
	t, ok := r.begin(c, trialRounds+10)
	if !ok {
		return trial{}, false
	}
	best, bestAt := math.Inf(1), 0
	for added := 0; ; added++ {
		dev, at := t.worst()
		if dev <= r.tol {
			return t, true
		}
		if dev < 0.9*best {
			best, bestAt = dev, added
		}
		if added > 4+len(c.spans)/2 || added > bestAt+2 {
			return trial{}, false
		}
		if r.bounded && (added > 1 || dev > growth*r.tol) {
			return trial{}, false
		}
		next, ok := r.add(t, at)
		if !ok {
			return trial{}, false
		}
		t = next
		if settled, ok := r.resolve(t, trialRounds); ok {
			before, _ := t.worst()
			if after, _ := settled.worst(); after <= max(before, r.tol) {
				t = settled
			}
		}
	}
}

// add tries the ways to give the curve one more freedom near the place at and
// keeps the best.
func (r *refiner) add(t trial, at foot) (trial, bool) {
	var best *window
	t, at.i = t.rotatedFor(at.i)
	for i := max(at.i-1, 0); i <= min(at.i+1, len(t.c.spans)-1); i++ {
		s := t.c.spans[i]
		var ways [][]span
		if s.line {
			ways = [][]span{{{l: s.l}}, parts(s, 0.4, false, true), parts(s, 0.6, true, false)}
		} else {
			share := 0.5
			if i == at.i {
				share = min(max(at.t/s.l, 0.25), 0.75)
			}
			ways = [][]span{parts(s, share, false, false), parts(s, share, true, false), parts(s, share, false, true)}
		}
		for _, with := range ways {
			best = r.better(best, r.change(t, i, 1, with))
		}
	}
	if best == nil {
		return trial{}, false
	}
	return t.accept(best), true
}

// parts cuts a span in two at the given share of its length; either may be
// made a line, and the other then takes the whole turn.
func parts(s span, at float64, firstLine, secondLine bool) []span {
	a, b := span{line: firstLine, l: s.l * at, k: s.k}, span{line: secondLine, l: s.l * (1 - at), k: s.k}
	if firstLine {
		a.k, b.k = 0, s.k/(1-at)
	}
	if secondLine {
		a.k, b.k = s.k/at, 0
	}
	return []span{a, b}
}

// change solves the window around spans [i, i+n) exchanged for others. It
// returns nil where that cannot be solved or puts two lines side by side.
func (r *refiner) change(t trial, i, n int, with []span) *window {
	a, b := max(0, i-reach), min(len(t.c.spans), i+n+reach)
	if len(t.c.spans) <= 2*reach+n {
		a, b = 0, len(t.c.spans)
	}
	spans := slices.Concat(t.c.spans[a:i], with, t.c.spans[i+n:b])
	all := slices.Concat(t.c.spans[max(a-1, 0):a], spans, t.c.spans[b:min(b+1, len(t.c.spans))])
	for k := 1; k < len(all); k++ {
		if all[k].line && all[k-1].line {
			return nil
		}
	}
	w := r.open(t, a, b, spans)
	if !w.solve(r.tol, trialRounds) {
		return nil
	}
	return w
}

// better returns the window within the band with the least error, or else the
// one nearest to it.
func (r *refiner) better(a, b *window) *window {
	if a == nil {
		return b
	}
	if b == nil {
		return a
	}
	if a.dev <= r.tol && b.dev <= r.tol {
		if b.sum/b.pr.scale < a.sum/a.pr.scale {
			return b
		}
		return a
	}
	if b.dev < a.dev {
		return b
	}
	return a
}

// rotatedFor returns t, and span i of it, with a closed spline started
// elsewhere so that the window about i does not cross the start.
func (t trial) rotatedFor(i int) (trial, int) {
	m := len(t.c.spans)
	if !t.c.ring || m <= 2*reach+3 || i >= reach+1 && i < m-reach-2 {
		return t, i
	}
	return t.startedAt((i + m/2) % m), (i + m - (i+m/2)%m) % m
}

// startedAt returns the closed spline started at span first.
func (t trial) startedAt(first int) trial {
	m := len(t.c.spans)
	out := trial{feet: slices.Clone(t.feet), dist: t.dist}
	out.c = &spline{start: t.c.at[first], ring: true}
	out.c.spans = slices.Concat(t.c.spans[first:], t.c.spans[:first])
	out.c.lay()
	for n := range out.feet {
		out.feet[n].i = (out.feet[n].i + m - first) % m
	}
	return out
}
