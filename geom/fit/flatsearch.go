package fit

import (
	"math"
	"slices"
)

// search brings a flat spline into the band and takes away what is not needed:
// at least least pieces stay.
func (s *flatFit) search(f flat, least int) (flatTrial, bool) {
	t, ok := s.hold(f)
	if !ok {
		return t, false
	}
	for len(t.f.bits) > max(least, 1) && s.mergeOne(&t) {
	}
	s.dropShort(&t)
	s.straighten(&t)
	s.unhook(&t)
	return t, true
}

// hold adds pieces until the band holds.
func (s *flatFit) hold(f flat) (flatTrial, bool) {
	t := flatTrial{f: f, dist: make([]float64, len(s.ms))}
	if !s.resolve(&t) {
		return t, false
	}
	best, bestAt := math.Inf(1), 0
	for added := 0; ; added++ {
		dev, at := t.worst()
		if dev <= s.tol {
			return t, true
		}
		if dev < 0.9*best {
			best, bestAt = dev, added
		}
		if added > 4+len(f.bits) || added > bestAt+2 || !s.add(&t, at) {
			return t, false
		}
	}
}

// resolve solves all of t.
func (s *flatFit) resolve(t *flatTrial) bool {
	p := &pane{b: len(t.f.bits), hi: len(s.ms), dist: t.dist, f: t.f}
	return s.solve(p, s.b)
}

// add tries the ways to give the spline one more freedom near a sample and
// keeps the best.
func (s *flatFit) add(t *flatTrial, sample int) bool {
	var best *pane
	m := len(t.f.bits)
	where := s.ms[sample].s
	mid := 0
	for mid < m-1 && t.f.at[mid+1].t <= where {
		mid++
	}
	for i := max(mid-1, 0); i <= min(mid+1, m-1); i++ {
		from, to := t.f.at[i].t, t.f.at[i+1].t
		cut := func(share float64) float64 { return from + share*(to-from) }
		arc, line := bit{}, bit{line: true}
		if t.f.bits[i].line {
			best = s.better(best, s.change(t, i, 1, []bit{arc}))
			best = s.better(best, s.change(t, i, 1, []bit{arc, line}, cut(0.4)))
			best = s.better(best, s.change(t, i, 1, []bit{line, arc}, cut(0.6)))
			continue
		}
		share := 0.5
		if i == mid {
			share = min(max((where-from)/(to-from), 0.25), 0.75)
		}
		best = s.better(best, s.change(t, i, 1, []bit{arc, arc}, cut(share)))
		best = s.better(best, s.change(t, i, 1, []bit{line, arc}, cut(share)))
		best = s.better(best, s.change(t, i, 1, []bit{arc, line}, cut(share)))
	}
	if best == nil {
		return false
	}
	t.accept(best)
	return true
}

// mergeOne makes one piece of the two neighbours that differ least, if some
// two can be.
func (s *flatFit) mergeOne(t *flatTrial) bool {
	var list []merge
	for i := range len(t.f.bits) - 1 {
		a, b := t.f.at[i+1].t-t.f.at[i].t, t.f.at[i+2].t-t.f.at[i+1].t
		if cost := math.Abs(t.f.bits[i].k-t.f.bits[i+1].k) * a * b / 16; cost <= worthTrying*s.tol {
			list = append(list, merge{i, cost})
		}
	}
	slices.SortStableFunc(list, byCost)
	for _, c := range list {
		if p := s.merged(t, c.i); p != nil && p.dev <= s.tol {
			t.accept(p)
			return true
		}
	}
	return false
}

// merged solves pieces i and i+1 as one: an arc, a line if both were, and with
// a line on either side of a small bend one line for all three.
func (s *flatFit) merged(t *flatTrial, i int) *pane {
	a, b := t.f.bits[i], t.f.bits[i+1]
	if a.line && b.line {
		return s.change(t, i, 2, []bit{{line: true}})
	}
	best := s.change(t, i, 2, []bit{{}})
	if i+2 < len(t.f.bits) && a.line && t.f.bits[i+2].line {
		best = s.better(best, s.change(t, i, 3, []bit{{line: true}}))
	}
	return best
}

// dropShort takes out pieces shorter than half the tolerance where the band
// allows, however few pieces there are: such an arc is no bend.
func (s *flatFit) dropShort(t *flatTrial) {
	for i := 0; i < len(t.f.bits) && len(t.f.bits) > 1; i++ {
		if t.f.at[i+1].t-t.f.at[i].t >= s.tol/2 {
			continue
		}
		var best *pane
		for _, k := range [2]int{i - 1, i} {
			if k < 0 || k+1 >= len(t.f.bits) {
				continue
			}
			best = s.better(best, s.merged(t, k))
			best = s.better(best, s.change(t, i, 1, nil))
		}
		if best != nil && best.dev <= s.tol {
			t.accept(best)
			i = -1
		}
	}
}

// straighten makes a line of every arc whose bow is so small that the line
// holds the band at hardly more error.
func (s *flatFit) straighten(t *flatTrial) {
	total := s.ms[len(s.ms)-1].s
	for i := 0; i < len(t.f.bits); i++ {
		l := t.f.at[i+1].t - t.f.at[i].t
		k := math.Abs(t.f.bits[i].k)
		if t.f.bits[i].line || k*l*l/8 > s.tol || k*l > sharp {
			continue
		}
		p := s.change(t, i, 1, []bit{{line: true}})
		if p == nil || p.dev > s.tol {
			continue
		}
		if p.sum <= weighted(s.w[p.lo:p.hi], t.dist[p.lo:p.hi])+arcCost/errorCost*s.tol*s.tol*total {
			t.accept(p)
		}
	}
}

// shortEnd is the length, in tolerances, under which an arc at an end is short.
const shortEnd = 40

// unhook makes a line of a short arc at an open end, longer if need be, where
// the band holds: too few samples lie on it to tell its curvature, and an end
// should not hook.
func (s *flatFit) unhook(t *flatTrial) {
	if s.b.ring {
		return
	}
	for _, last := range [2]bool{false, true} {
		m := len(t.f.bits)
		i, first := 0, 0
		if last {
			i, first = m-1, m-2
		}
		l := t.f.at[i+1].t - t.f.at[i].t
		if m < 2 || t.f.bits[i].line || l > shortEnd*s.tol || math.Abs(t.f.bits[i].k)*l < sharp/8 {
			continue
		}
		room := 0.8 * (t.f.at[first+2].t - t.f.at[first].t)
		for _, times := range [...]float64{16, 8, 4, 3, 2, 1.5, 1} { // the longest that holds turns least
			n := min(times*l, room)
			with, cut := []bit{{line: true}, t.f.bits[1]}, t.f.at[0].t+n
			if last {
				with, cut = []bit{t.f.bits[first], {line: true}}, t.f.at[m].t-n
			}
			if p := s.change(t, first, 2, with, cut); p != nil && p.dev <= s.tol {
				t.accept(p)
				break
			}
		}
	}
}
