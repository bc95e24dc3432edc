package fit

import (
	"math"
	"slices"

	"tubewright/geom"
)

// exactFit moves a spline to the least-squares fit of its structure with the
// true distances, by the same recursion as the flat model. A change of value
// and slope at a joint is then a move across the curve and a turn; sliding
// along it changes nothing, and is taken out of the piece's length.
type exactFit struct {
	sm []sample
	w  []float64
	c  *spline
	t  []float64 // where the joints lie along the polyline
	target
	st         stepper
	dist       []float64
	first      *spline // before joints were moved, and its largest distance
	firstWorst float64
	old        spline // work space
	oldT       []float64
}

const (
	exactRounds = 20
	settledAt   = 1e-10 // of the length: a smaller move ends the iteration
	gainsLittle = 1e-8  // share of the sum of squares; with a small move, this ends it as well
	mayRise     = 1e-3  // share the sum may rise by: a step meets the ends at the cost of the fit
	fewRounds   = 6     // while weights change
)

// seen is a sample as seen from the start of a piece.
type seen struct {
	off     float64 // of the curve from the sample, left positive
	a, b, k float64 // how start value, slope and curvature move the curve there
}

// see looks at q from the pose where a piece of curvature k starts. With x, y
// the place of q and A = y - k(x²+y²)/2, q lies 2A/(1+√(1-2kA)) left of the
// circle; no digits are lost where k is small.
func see(from pose, k float64, q geom.Point) seen {
	v := q.Sub(from.p)
	x, y := v.Dot(from.d), v.Dot(from.d.Left())
	a := y - float64(k*(float64(x*x)+float64(y*y)))/2
	root := math.Sqrt(max(0, 1-2*k*a)) // the distance from the centre, in radii
	left := 2 * a / (1 + root)
	if root == 0 {
		return seen{off: -left, a: 1}
	}
	cos, s := (1-float64(k*y))/root, x/root // s = sin(ku)/k
	c := 0.0                                // (1-cos(ku))/k²
	if cos > 0 {
		c = s * s / (1 + cos)
	} else {
		c = (1 - cos) / (k * k)
	}
	return seen{off: -left, a: cos, b: s, k: c}
}

// gather fills one link for each piece, and returns the weighted sum of
// squares.
func (x *exactFit) gather() float64 {
	var total float64
	i := 0
	last := len(x.c.spans) - 1
	for j, g := range x.c.spans {
		m := link{line: g.line, l: g.l}
		for ; i < len(x.sm) && (j == last || !x.beyond(j, i)); i++ {
			q := see(x.c.at[j], g.k, x.sm[i].p)
			x.dist[i] = math.Abs(q.off)
			if w := x.w[i]; w > 0 {
				total += float64(w * q.off * q.off)
				m.add(w, q.off, q.a, q.b, q.k)
			}
		}
		sin, cos := math.Sincos(float64(g.k * g.l))
		s, c := g.l, g.l*g.l/2
		if math.Abs(g.k*g.l) > 1e-5 {
			s, c = sin/g.k, float64(2*math.Pow(math.Sin(g.k*g.l/2)/g.k, 2))
		}
		m.after = [3]float64{cos, s, c}
		m.slope = [3]float64{-g.k * sin, cos, s}
		if j < last {
			m.kink = g.k - x.c.spans[j+1].k
		}
		x.st.links[j] = m
	}
	return total
}

// beyond reports whether sample i lies past the end of piece j. Near the joint
// its place decides, and tells where along the polyline the joint lies; farther
// off, where the curve may come round, the way along the polyline.
func (x *exactFit) beyond(j, i int) bool {
	g, h := x.c.spans[j], x.c.spans[j+1]
	off := x.sm[i].s - x.t[j+1]
	if reach := min(max(g.l, h.l)/4, 1/(math.Abs(g.k)+1e-12), 1/(math.Abs(h.k)+1e-12)); math.Abs(off) > reach {
		return off > 0
	}
	end := x.c.at[j+1]
	past := x.sm[i].p.Sub(end.p).Dot(end.d)
	if past > 0 {
		x.t[j+1] = x.sm[i].s - past
	}
	return past > 0
}

// misses returns by how much the ends miss the target, across and in heading,
// and how much too far the end lies ahead.
func (x *exactFit) misses() (e ends, ahead float64) {
	end := x.c.at[len(x.c.spans)]
	e = ends{fixStart: x.fixStart, fixEnd: x.fixEnd, ring: x.closed}
	goal, h := x.end.p, x.end.h
	if x.closed {
		goal, h = x.c.start.p, x.c.start.h+x.turns
	}
	v := end.p.Sub(goal)
	e.endA, e.endB = v.Dot(end.d.Left()), end.h-h
	return e, v.Dot(end.d)
}

// step moves the spline. It returns how far the joints moved.
func (x *exactFit) step(damp float64) (float64, bool) {
	e, _ := x.misses()
	a, b, ok := x.st.step(e, damp)
	if !ok {
		return 0, false
	}
	share := x.st.share()
	a, b = share*a, share*b
	c := x.c
	moved := math.Abs(a)
	c.start = newPose(c.start.p.Add(c.start.d.Left().Mul(a)), c.start.h+b)
	before := 0.0
	for j := range c.spans {
		g, m := &c.spans[j], &x.st.links[j]
		k, t := share*x.st.moves[j].k, share*x.st.moves[j].t
		// The end of the piece damps ahead by what start and curvature push it.
		turn := float64(g.k * g.l)
		ahead := float64(a * math.Sin(turn))
		if math.Abs(turn) > 1e-4 {
			ahead += float64(b*(1-math.Cos(turn)))/g.k + float64(k*(g.l-m.after[1]))/g.k
		} else {
			ahead += float64(b*turn*g.l)/2 + float64(k*turn*g.l*g.l)/6
		}
		na := float64(m.after[0]*a) + float64(m.after[1]*b) + float64(m.after[2]*k)
		nb := float64(m.slope[0]*a) + float64(m.slope[1]*b) + float64(m.slope[2]*k) + float64(m.kink*t)
		g.l += t - before - ahead
		g.k += k
		before = t
		x.t[j+1] += t
		moved = max(moved, math.Abs(na), math.Abs(t))
		a, b = na, nb
	}
	c.lay()
	_, ahead := x.misses()
	c.spans[len(c.spans)-1].l -= ahead
	c.lay()
	for _, g := range c.spans {
		if !(g.l > 0) || math.IsInf(g.l, 0) || math.IsNaN(g.k) {
			return 0, false
		}
	}
	return moved, true
}

// solve iterates until a round gains next to nothing and reports whether a
// solution was found. The ends are met to first order in each step.
func (x *exactFit) solve(rounds int) bool {
	n := len(x.c.spans)
	x.st.size(n)
	length := x.t[n] - x.t[0]
	x.gather()
	if _, ok := x.step(still); !ok {
		return false
	}
	sum := x.gather()
	if x.first == nil {
		x.first, x.firstWorst = x.c.clone(), slices.Max(x.dist)
	}
	damp := dampFirst
	for r := 0; r < rounds && damp < 1e4; r++ {
		x.old.start, x.old.spans, x.old.at = x.c.start, append(x.old.spans[:0], x.c.spans...), append(x.old.at[:0], x.c.at...)
		x.oldT = append(x.oldT[:0], x.t...)
		next := math.Inf(1)
		moved, ok := x.step(damp)
		if ok {
			next = x.gather()
		}
		if !(next <= sum*(1+mayRise)+1e-22*length*length*length) {
			x.c.start = x.old.start
			copy(x.c.spans, x.old.spans)
			copy(x.c.at, x.old.at)
			copy(x.t, x.oldT)
			x.gather()
			damp *= 8
			continue
		}
		done := moved <= settledAt*length || math.Abs(sum-next) < gainsLittle*next && moved < 1e-7*length
		sum = next
		damp *= 0.1
		if done {
			break
		}
	}
	return true
}
