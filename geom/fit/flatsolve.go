package fit

import (
	"math"
	"slices"
	"sort"
)

// flatFit searches the structure of a flat spline, as refiner does that of an
// exact one, at a hundredth of the cost.
type flatFit struct {
	ms  []mark
	w   []float64 // weight of each sample
	tol float64
	b   bound
	st  stepper
	old flat // work space
}

// flatTrial is a solved flat spline and how far each sample is off it.
type flatTrial struct {
	f    flat
	dist []float64
}

// pane is a stretch of pieces [a, b) being solved anew, with the samples
// [lo, hi) on it.
type pane struct {
	a, b, lo, hi int
	f            flat
	dist         []float64
	dev          float64 // largest distance
	sum          float64 // weighted squares
}

// Rounds of solving.
const (
	flatRounds  = 4
	flatLawson  = 4
	flatSettled = 0.02 // share of the sum of squares a round must still gain
)

// open returns the pane of pieces [a, b) of t with others in their place.
func (s *flatFit) open(t *flatTrial, a, b int, bits []bit, inner []float64) *pane {
	p := &pane{a: a, b: b, hi: len(s.ms)}
	if a > 0 {
		from := t.f.at[a].t
		p.lo = sort.Search(len(s.ms), func(i int) bool { return s.ms[i].s >= from })
	}
	if b < len(t.f.bits) {
		to := t.f.at[b].t
		p.hi = sort.Search(len(s.ms), func(i int) bool { return s.ms[i].s >= to })
	}
	p.f.bits = bits
	p.f.at = make([]knot, len(bits)+1)
	p.f.at[0], p.f.at[len(bits)] = t.f.at[a], t.f.at[b]
	for i, v := range inner {
		p.f.at[i+1].t = v
	}
	p.f.lay()
	p.dist = make([]float64, p.hi-p.lo)
	return p
}

// boundOf says what the pane must meet.
func (s *flatFit) boundOf(t *flatTrial, p *pane) bound {
	whole := p.a == 0 && p.b == len(t.f.bits)
	b := s.b
	if whole {
		return b
	}
	b.ring = false
	if p.a > 0 || s.b.ring {
		b.start, b.fixStart = t.f.at[p.a], true
	}
	if p.b < len(t.f.bits) || s.b.ring {
		b.end, b.fixEnd = t.f.at[p.b], true
	}
	return b
}

// solve fits the pane. Where the least-squares fit leaves the band by little,
// the worst samples get more weight (Lawson 1961).
func (s *flatFit) solve(p *pane, b bound) bool {
	ms, w := s.ms[p.lo:p.hi], s.w[p.lo:p.hi]
	if !s.settle(&p.f, ms, w, b, flatRounds) {
		return false
	}
	p.dev = p.f.distances(ms, p.dist)
	p.sum = weighted(w, p.dist)
	if p.dev <= s.tol || p.dev > 1.7*s.tol {
		return true
	}
	w = slices.Clone(w)
	f := flat{bits: slices.Clone(p.f.bits), at: slices.Clone(p.f.at)}
	dist := slices.Clone(p.dist)
	for range flatLawson {
		for i, d := range dist {
			w[i] *= 0.3 + float64(d/s.tol*d/s.tol)
		}
		if !s.settle(&f, ms, w, b, 2) {
			break
		}
		dev := f.distances(ms, dist)
		if dev >= p.dev {
			continue
		}
		copy(p.f.bits, f.bits)
		copy(p.f.at, f.at)
		copy(p.dist, dist)
		p.dev = dev
		if dev <= s.tol {
			break
		}
	}
	p.sum = weighted(s.w[p.lo:p.hi], p.dist)
	return true
}

func weighted(w, dist []float64) float64 {
	var sum float64
	for i, d := range dist {
		sum += float64(w[i] * d * d)
	}
	return sum
}

// settle moves f to the least-squares fit of its structure: first with the
// joints where they are, which is a linear problem, then joints and all
// (Gauss-Newton), each round ending in a linear solution.
func (s *flatFit) settle(f *flat, ms []mark, w []float64, b bound, rounds int) bool {
	n := len(f.bits)
	s.st.size(n)
	f.gather(ms, w, s.st.links)
	if !f.step(&s.st, b, still) {
		return false
	}
	sum := f.gather(ms, w, s.st.links)
	damp := dampFirst
	for r := 0; r < rounds && n > 1; r++ {
		s.old.bits = append(s.old.bits[:0], f.bits...)
		s.old.at = append(s.old.at[:0], f.at...)
		next := math.Inf(1)
		if f.step(&s.st, b, damp) {
			f.gather(ms, w, s.st.links)
			if f.step(&s.st, b, still) {
				next = f.gather(ms, w, s.st.links)
			}
		}
		if !(next < sum) {
			copy(f.bits, s.old.bits)
			copy(f.at, s.old.at)
			f.gather(ms, w, s.st.links)
			damp *= 8
			continue
		}
		done := sum-next < flatSettled*next
		sum = next
		damp *= 0.1
		if done {
			break
		}
	}
	e := f.misses(b)
	return math.Abs(e.endA) <= 1e-3*s.tol && (math.Abs(e.endB)*(f.at[n].t-f.at[0].t) <= 1e-2*s.tol || !b.fixEnd && !b.ring)
}

// accept puts the solved pane into t.
func (t *flatTrial) accept(p *pane) {
	t.f.bits = slices.Concat(t.f.bits[:p.a], p.f.bits, t.f.bits[p.b:])
	at := slices.Concat(t.f.at[:p.a], p.f.at, t.f.at[p.b+1:])
	t.f.at = at
	copy(t.dist[p.lo:p.hi], p.dist)
}

// worst returns the largest distance and the sample that has it.
func (t *flatTrial) worst() (float64, int) {
	n := 0
	for i, d := range t.dist {
		if d > t.dist[n] {
			n = i
		}
	}
	return t.dist[n], n
}

// change solves the pane around pieces [i, i+n) exchanged for others, whose
// inner joints are at cuts. It returns nil where that cannot be solved or puts
// two lines side by side.
func (s *flatFit) change(t *flatTrial, i, n int, with []bit, cuts ...float64) *pane {
	m := len(t.f.bits)
	a, b := max(0, i-reach), min(m, i+n+reach)
	if m <= 2*reach+n {
		a, b = 0, m
	}
	bits := slices.Concat(t.f.bits[a:i], with, t.f.bits[i+n:b])
	for k := range bits {
		before := k > 0 && bits[k-1].line || k == 0 && a > 0 && t.f.bits[a-1].line
		if bits[k].line && before {
			return nil
		}
	}
	if b < m && bits[len(bits)-1].line && t.f.bits[b].line || s.b.ring && len(bits) > 1 && a == 0 && b == m && bits[0].line && bits[len(bits)-1].line {
		return nil
	}
	inner := make([]float64, 0, len(bits))
	for k := a + 1; k <= i; k++ {
		inner = append(inner, t.f.at[k].t)
	}
	if len(with) == 0 { // what is taken out leaves one joint of two
		if i == a || i+n == b {
			return nil
		}
		inner = inner[:len(inner)-1]
	}
	inner = append(inner, cuts...)
	for k := i + n; k < b; k++ {
		inner = append(inner, t.f.at[k].t)
	}
	p := s.open(t, a, b, bits, inner)
	if !s.solve(p, s.boundOf(t, p)) {
		return nil
	}
	return p
}

// better returns the pane within the band with the least error, or else the
// one nearest to it.
func (s *flatFit) better(a, b *pane) *pane {
	if a == nil {
		return b
	}
	if b == nil {
		return a
	}
	if a.dev <= s.tol && b.dev <= s.tol {
		if b.sum < a.sum {
			return b
		}
		return a
	}
	if b.dev < a.dev {
		return b
	}
	return a
}
