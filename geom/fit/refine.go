package fit

import (
	"math"

	"tubewright/geom"
)

// refiner searches the structure around a first guess: adds pieces until the
// band holds, then takes away what is not needed.
type refiner struct {
	sm     []sample
	pts    []geom.Point
	target target
	tol    float64
	base   []float64 // weights of the samples
}

// trial is a solved spline and its largest distance from the samples.
type trial struct {
	c     *spline
	dev   float64
	sum   float64
	worst foot
}

const (
	solveRounds = 25
	maxAdded    = 10 // pieces added before giving up
	lawson      = 4  // rounds of reweighting toward the least largest distance
)

// try solves one structure. Where the least-squares fit leaves the band by
// little, the worst samples get more weight (Lawson 1961), as some other fit
// of the same structure may hold it.
func (r *refiner) try(c *spline) (trial, bool) {
	pr := &problem{sm: r.sm, w: append([]float64(nil), r.base...), target: r.target}
	pr.feet = r.feet(c)
	if !pr.solve(c, solveRounds) {
		return trial{}, false
	}
	best := r.measure(pr, c)
	for round := 0; round < lawson && best.dev > r.tol && best.dev < 1.7*r.tol; round++ {
		for i := range pr.w {
			d := pr.distance(c, i) / r.tol
			pr.w[i] *= 0.3 + float64(d*d)
		}
		next := c.clone()
		if !pr.solve(next, solveRounds) {
			break
		}
		c = next
		if t := r.measure(pr, c); t.dev < best.dev {
			best = t
		}
	}
	return best, true
}

// feet places each sample on the spline by its share of the length.
func (r *refiner) feet(c *spline) []foot {
	out := make([]foot, len(r.sm))
	c.lay()
	scale := c.length() / r.sm[len(r.sm)-1].s
	i, base := 0, 0.0
	for n, q := range r.sm {
		s := q.s * scale
		for i < len(c.spans)-1 && s > base+c.spans[i].l {
			base += c.spans[i].l
			i++
		}
		out[n] = foot{i, min(max(s-base, 0), c.spans[i].l)}
	}
	return out
}

func (r *refiner) measure(pr *problem, c *spline) trial {
	t := trial{c: c}
	for i := range pr.sm {
		d := pr.distance(c, i)
		t.sum += float64(r.base[i] * d * d)
		if d > t.dev {
			t.dev, t.worst = d, pr.feet[i]
		}
	}
	if t.dev <= r.tol {
		t.dev = max(t.dev, deviation(r.pts, c.path(r.target.closed), r.target.closed))
	}
	return t
}

// search returns a spline within the band, of few pieces; least is the number
// of pieces known to be needed.
func (r *refiner) search(c *spline, least int) (trial, bool) {
	best, ok := r.try(c.clone())
	for added := 0; (!ok || best.dev > r.tol) && added < maxAdded; added++ {
		next, found := r.bestOf(r.additions(c, best, ok))
		if !found {
			return trial{}, false
		}
		if ok && next.dev >= best.dev && added > 3 {
			return trial{}, false
		}
		best, ok = next, true
		c = best.c
	}
	if !ok || best.dev > r.tol {
		return trial{}, false
	}
	for len(best.c.spans) > least {
		next, found := r.bestOf(merges(best.c))
		if !found || next.dev > r.tol {
			break
		}
		best = next
	}
	return r.straighten(best), true
}

// bestOf solves the candidates and returns the one within the band with the
// least error, or else the one nearest to it.
func (r *refiner) bestOf(list []*spline) (trial, bool) {
	var best trial
	found := false
	for _, c := range list {
		t, ok := r.try(c)
		if !ok {
			continue
		}
		better := t.dev < best.dev
		if found && t.dev <= r.tol && best.dev <= r.tol {
			better = t.sum < best.sum
		}
		if !found || better {
			best, found = t, true
		}
	}
	return best, found
}

// additions returns structures with one more degree of freedom: near the worst
// place where the solved spline leaves the band, anywhere where it could not
// be solved.
func (r *refiner) additions(c *spline, t trial, solved bool) []*spline {
	var out []*spline
	lo, hi := 0, len(c.spans)-1
	if solved {
		lo, hi = max(t.worst.i-1, 0), min(t.worst.i+1, hi)
	}
	if hi-lo > 11 { // unsolvable and long: look at the middle first
		mid := (lo + hi) / 2
		lo, hi = mid-5, mid+5
	}
	for i := lo; i <= hi; i++ {
		if c.spans[i].line {
			bent := c.clone()
			bent.spans[i].line = false
			out = append(out, bent)
			out = append(out, c.replaced(i, 1, parts(c.spans[i], 0.4, false, true)...))
			out = append(out, c.replaced(i, 1, parts(c.spans[i], 0.6, true, false)...))
			continue
		}
		at := 0.5
		if solved && i == t.worst.i {
			at = min(max(t.worst.t/c.spans[i].l, 0.2), 0.8)
		}
		out = append(out, c.replaced(i, 1, parts(c.spans[i], at, false, false)...))
		out = append(out, c.replaced(i, 1, parts(c.spans[i], at, true, false)...))
		out = append(out, c.replaced(i, 1, parts(c.spans[i], at, false, true)...))
	}
	var kept []*spline
	for _, c := range out {
		if c.proper() {
			kept = append(kept, c)
		}
	}
	return kept
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

// replaced returns the spline with n spans from i exchanged for others.
func (c *spline) replaced(i, n int, with ...span) *spline {
	out := &spline{start: c.start, ring: c.ring}
	out.spans = append(out.spans, c.spans[:i]...)
	out.spans = append(out.spans, with...)
	out.spans = append(out.spans, c.spans[i+n:]...)
	out.lay()
	return out
}

// proper reports that no two lines follow each other: they would be one.
func (c *spline) proper() bool {
	for i := 1; i < len(c.spans); i++ {
		if c.spans[i].line && c.spans[i-1].line {
			return false
		}
	}
	return true
}

// merges returns the structures with two neighbours made one arc, or three one
// line.
func merges(c *spline) []*spline {
	var out []*spline
	for i := 0; i+1 < len(c.spans); i++ {
		a, b := c.spans[i], c.spans[i+1]
		l := a.l + b.l
		out = append(out, c.replaced(i, 2, span{l: l, k: (float64(a.k*a.l) + float64(b.k*b.l)) / l}))
		if i+2 < len(c.spans) && a.line && c.spans[i+2].line {
			out = append(out, c.replaced(i, 3, span{line: true, l: l + c.spans[i+2].l}))
		}
	}
	return out
}

// straighten makes a line of every arc whose bow is so small that the line
// holds the band at hardly more error.
func (r *refiner) straighten(t trial) trial {
	for i := 0; i < len(t.c.spans); i++ {
		s := t.c.spans[i]
		if s.line || math.Abs(s.k)*s.l*s.l/8 > r.tol || math.Abs(s.k)*s.l > sharp {
			continue
		}
		c := t.c.replaced(i, 1, span{line: true, l: s.l})
		if !c.proper() {
			continue
		}
		next, ok := r.try(c)
		limit := t.sum + float64(arcCost/errorCost*r.tol*r.tol*r.sm[len(r.sm)-1].s)
		if ok && next.dev <= r.tol && next.sum <= limit {
			t = next
		}
	}
	return t
}
