package fit

import (
	"math"
	"slices"
)

// parabola is the least-squares fit of a stretch of marks, about its first:
// y = a + b·u + c·u².
type parabola struct {
	a, b, c float64
	rss     float64 // weighted squares left
}

// tally holds the sums of a stretch of marks about its first, with the slope
// there taken out to keep the digits.
type tally struct {
	at                 mark
	slope              float64
	s0, s1, s2, s3, s4 float64
	t0, t1, t2, q      float64
}

func (m *tally) add(p mark) {
	u := p.s - m.at.s
	v := p.y - m.at.y - float64(m.slope*u)
	wu, wv := float64(p.w*u), float64(p.w*v)
	uu := u * u
	m.s0 += p.w
	m.s1 += wu
	m.s2 += float64(wu * u)
	m.s3 += float64(wu * uu)
	m.s4 += float64(wu * uu * u)
	m.t0 += wv
	m.t1 += float64(wv * u)
	m.t2 += float64(wv * uu)
	m.q += float64(wv * v)
}

// fits returns the best line and the best parabola.
func (m *tally) fits() (line, arc parabola) {
	if !(m.s0 > 0) {
		return parabola{b: m.slope}, parabola{b: m.slope}
	}
	mean, meanQ, meanV := m.s1/m.s0, m.s2/m.s0, m.t0/m.s0
	uu := m.s2 - float64(m.s1*mean)
	uq := m.s3 - float64(m.s1*meanQ)
	qq := m.s4 - float64(m.s2*meanQ)
	uv := m.t1 - float64(m.s1*meanV)
	qv := m.t2 - float64(m.s2*meanV)
	if !(uu > 0) {
		return parabola{a: meanV, b: m.slope}, parabola{a: meanV, b: m.slope}
	}
	g, b := uq/uu, uv/uu
	rss := m.q - float64(m.t0*meanV) - float64(b*uv)
	line = parabola{a: meanV - float64(b*mean), b: b + m.slope, rss: max(rss, 0)}
	rest := qq - float64(g*uq)
	if !(rest > 1e-9*qq) {
		return line, line
	}
	v := qv - float64(g*uv)
	c := v / rest
	b -= float64(c * g)
	arc = parabola{a: meanV - float64(b*mean) - float64(c*meanQ), b: b + m.slope, c: c, rss: max(rss-float64(c*v), 0)}
	return line, arc
}

// near reports whether all marks of a stretch that starts at from are within
// tol of the parabola.
func near(ms []mark, from mark, f parabola, tol float64) bool {
	for _, p := range ms {
		u := p.s - from.s
		if p.strict*math.Abs(p.y-from.y-f.a-float64(u*(f.b+float64(f.c*u)))) > tol {
			return false
		}
	}
	return true
}

// cutter finds the structure of a flat spline by dynamic programming.
type cutter struct {
	ms  []mark
	tol float64
}

func (c *cutter) tally(i, next int) tally {
	p, q := c.ms[i], c.ms[next]
	m := tally{at: p, slope: (q.y - p.y) / (q.s - p.s)}
	m.add(p)
	return m
}

// fullTurn is the most an arc may turn, in radians: an arc that goes all the
// way round is no piece.
const fullTurn = 1.98 * math.Pi

// farthest returns the farthest mark that one piece from i reaches, going by
// dir (1 or -1).
func (c *cutter) farthest(i, dir int) int {
	end := len(c.ms) - 1
	if dir < 0 {
		end = 0
	}
	m := c.tally(i, i+dir)
	span := func(j int) []mark {
		if dir < 0 {
			return c.ms[j : i+1]
		}
		return c.ms[i : j+1]
	}
	holds := func(j int, m *tally) bool {
		line, arc := m.fits()
		u := math.Abs(c.ms[j].s - c.ms[i].s)
		return math.Abs(2*arc.c)*u < fullTurn && near(span(j), m.at, arc, c.tol) || near(span(j), m.at, line, c.tol)
	}
	// Going by doubling steps, every step is tested in full; what lies between
	// the last that holds and the first that fails is searched by halving.
	good, saved, reached := i+dir, m, i // saved holds the marks from i to reached
	step := 2
	j := i
	bad := end + dir
	for j != end {
		for range step {
			if j == end {
				break
			}
			j += dir
			m.add(c.ms[j])
		}
		if !holds(j, &m) {
			bad = j
			break
		}
		good, saved, reached = j, m, j
		step += step / 2
	}
	for (bad-good)*dir > 1 {
		mid := (good + bad) / 2
		m = saved
		for k := reached; k != mid; {
			k += dir
			m.add(c.ms[k])
		}
		if holds(mid, &m) {
			good, saved, reached = mid, m, mid
		} else {
			bad = mid
		}
	}
	return good
}

// greedy returns the marks at which pieces part when each reaches as far as it
// can, in rising order; the number of pieces is the least there is.
func (c *cutter) greedy(dir int) []int {
	i, end := 0, len(c.ms)-1
	if dir < 0 {
		i, end = end, 0
	}
	out := []int{i}
	for i != end {
		i = c.farthest(i, dir)
		out = append(out, i)
	}
	if dir < 0 {
		slices.Reverse(out)
	}
	return out
}

// ways is how many places are tried for each joint.
const ways = 7

// node is a place where two pieces may part.
type node struct {
	at   int
	cost float64
	from int // node of the layer before
	line bool
	fit  parabola
	base mark
}

// cut returns the fewest pieces that each hold the band on their own, least
// error among equals. A joint lies between the places where the greediest
// pieces from either end put it, so only a few places for each are tried.
func (c *cutter) cut() []node {
	first, last := c.greedy(1), c.greedy(-1)
	n := len(first)
	if len(last) < n { // what fits is not quite the same both ways
		first = last
		n = len(last)
	}
	layers := make([][]node, n)
	for i, hi := range first {
		lo := hi
		if len(last) == n {
			lo = min(last[i], hi)
			hi = max(last[i], hi)
		}
		layers[i] = nodesBetween(lo, hi)
	}
	layers[0][0].cost = 0
	for i := 0; i+1 < n; i++ {
		for a := range layers[i] {
			c.extend(layers[i], a, layers[i+1])
		}
	}
	if math.IsInf(layers[n-1][0].cost, 1) {
		return nil
	}
	out := make([]node, n)
	for i, k := n-1, 0; i >= 0; i-- {
		out[i] = layers[i][k]
		k = out[i].from
	}
	return out
}

func nodesBetween(lo, hi int) []node {
	k := min(ways, hi-lo+1)
	out := make([]node, k)
	for i := range out {
		out[i] = node{at: hi, cost: math.Inf(1)}
		if k > 1 {
			out[i].at = lo + i*(hi-lo)/(k-1)
		}
	}
	return out
}

// extend tries pieces from node a of one layer to all of the next.
func (c *cutter) extend(layer []node, a int, next []node) {
	from := layer[a]
	if math.IsInf(from.cost, 1) {
		return
	}
	m := tally{}
	j := from.at
	length := c.ms[len(c.ms)-1].s - c.ms[0].s
	for b := range next {
		to := &next[b]
		if to.at <= from.at {
			continue
		}
		if j == from.at {
			m = c.tally(j, j+1)
		}
		for j < to.at {
			j++
			m.add(c.ms[j])
		}
		line, arc := m.fits()
		span := c.ms[from.at : j+1]
		lineOK := j == from.at+1 || near(span, m.at, line, c.tol)
		arcOK := math.Abs(2*arc.c)*(c.ms[j].s-c.ms[from.at].s) < fullTurn && near(span, m.at, arc, c.tol)
		share := errorCost / (c.tol * c.tol * length)
		isLine := lineOK && (!arcOK || float64(share*(line.rss-arc.rss)) < arcCost)
		if !isLine && !arcOK {
			continue
		}
		fit, cost := arc, from.cost+float64(share*arc.rss)+arcCost
		if isLine {
			fit, cost = line, from.cost+float64(share*line.rss)
		}
		if cost < to.cost {
			to.cost, to.from, to.line, to.fit, to.base = cost, a, isLine, fit, m.at
		}
	}
}
