package fit

import (
	"cmp"
	"math"
	"slices"
)

// simplify takes pieces away while the band holds and more than least are
// left, cheapest first.
func (r *refiner) simplify(t trial, least int) trial {
	for len(t.c.spans) > max(least, 1) {
		next, ok := r.mergeOne(t)
		if !ok {
			break
		}
		t = next
	}
	return r.straighten(r.dropShort(t))
}

// dropShort takes out spans shorter than half the tolerance where the band
// allows, however few pieces there are: such an arc is no bend.
func (r *refiner) dropShort(t trial) trial {
	for i := 0; i < len(t.c.spans) && len(t.c.spans) > 1; i++ {
		if t.c.spans[i].l >= r.tol/2 {
			continue
		}
		u, at := t.rotatedFor(i)
		var best *window
		for _, k := range [2]int{at - 1, at} {
			if k < 0 || k+1 >= len(u.c.spans) {
				continue
			}
			for _, w := range append(r.merged(u, k), r.change(u, at, 1, nil)) {
				best = r.better(best, w)
			}
		}
		if best != nil && best.dev <= r.tol {
			t, i = u.accept(best), -1
		}
	}
	return t
}

// merge is a pair of neighbours, span i and the next, that may become one.
type merge struct {
	i    int
	cost float64 // estimate of the error it makes, mm
}

func byCost(a, b merge) int { return cmp.Compare(a.cost, b.cost) }

// worthTrying is how many tolerances a merge may be estimated to cost: the
// estimate knows nothing of how neighbours can make room.
const worthTrying = 4

// mergeOne makes one arc of the two neighbours that differ least, if some two
// can be.
func (r *refiner) mergeOne(t trial) (trial, bool) {
	var list []merge
	m := len(t.c.spans)
	for i := range m {
		if i == m-1 && !t.c.ring {
			break
		}
		a, b := t.c.spans[i], t.c.spans[(i+1)%m]
		if cost := math.Abs(a.k-b.k) * a.l * b.l / 16; cost <= worthTrying*r.tol {
			list = append(list, merge{i, cost})
		}
	}
	slices.SortStableFunc(list, byCost)
	for _, c := range list {
		u, i := t.rotatedFor(c.i)
		if i+1 == len(u.c.spans) {
			continue // a short ring: the same pair comes up when it starts elsewhere
		}
		if next, ok := r.mergeAt(u, i); ok {
			return next, true
		}
	}
	return trial{}, false
}

// merged solves spans i and i+1 as one: an arc, a line if both were, and with
// a line on either side of a small bend one line for all three.
func (r *refiner) merged(t trial, i int) []*window {
	a, b := t.c.spans[i], t.c.spans[i+1]
	l := a.l + b.l
	if a.line && b.line {
		return []*window{r.change(t, i, 2, []span{{line: true, l: l}})}
	}
	out := []*window{r.change(t, i, 2, []span{{l: l, k: (float64(a.k*a.l) + float64(b.k*b.l)) / l}})}
	if i+2 < len(t.c.spans) && a.line && t.c.spans[i+2].line {
		out = append(out, r.change(t, i, 3, []span{{line: true, l: l + t.c.spans[i+2].l}}))
	}
	return out
}

// straighten makes a line of every arc whose bow is so small that the line
// holds the band at hardly more error.
func (r *refiner) straighten(t trial) trial {
	total := r.sm[len(r.sm)-1].s
	for i := 0; i < len(t.c.spans); i++ {
		s := t.c.spans[i]
		if s.line || math.Abs(s.k)*s.l*s.l/8 > r.tol || math.Abs(s.k)*s.l > sharp {
			continue
		}
		u, at := t.rotatedFor(i)
		w := r.change(u, at, 1, []span{{line: true, l: s.l}})
		if w == nil || w.dev > r.tol {
			continue
		}
		var before float64
		for _, n := range w.index {
			before += float64(r.sm[n].w * t.dist[n] * t.dist[n])
		}
		if w.sum <= before+arcCost/errorCost*r.tol*r.tol*total {
			t = u.accept(w)
		}
	}
	return t
}

// polish solves the found structure to the last digit, if that keeps the band.
func (r *refiner) polish(t trial, rounds int) *spline {
	w := r.open(t, 0, len(t.c.spans), t.c.spans)
	w.pr.feet = slices.Clone(t.feet)
	w.pr.loose = 0
	if w.solve(r.tol, rounds) && w.dev <= r.tol {
		return w.c
	}
	return t.c
}
