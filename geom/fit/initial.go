package fit

import (
	"math"

	"tubewright/geom"
)

// sharp is the turn between two fitted pieces, in radians, from which a corner
// is taken to lie between them and gets an arc of its own.
const sharp = 0.35

// joint is what happens between two pieces: the headings on either side and
// the length and turn of an arc put in between (0 where none is needed).
type joint struct {
	before, after float64
	l             float64
}

// initial lays a spline along the fitted pieces: headings from the fits, an
// arc where two of them meet at a corner. It is tangent-continuous but only
// roughly in place.
func initial(sm []sample, pieces []piece, tol, kmax float64) *spline {
	m := len(pieces)
	first := pieces[0].heading(sm, pieces[0].from)
	c := &spline{start: newPose(sm[pieces[0].from].p, float64(first.Heading()))}
	joints := make([]joint, m+1)
	joints[0] = joint{before: c.start.h, after: c.start.h}
	h := c.start.h
	length := func(p piece) float64 { return sm[p.to].s - sm[p.from].s }
	for i, p := range pieces {
		turn := 0.0
		if !p.line {
			turn = p.turn(sm)
		}
		h += turn
		joints[i+1] = joint{before: h, after: h}
		if i == m-1 {
			break
		}
		q := pieces[i+1]
		from := geom.UnitAt(geom.Angle(h))
		gap := float64(from.TurnTo(q.heading(sm, q.from)))
		j := &joints[i+1]
		j.after = h + gap
		switch {
		case p.line && q.line || math.Abs(gap) > sharp:
			j.l = cornerLength(gap, tol, kmax, min(length(p), length(q)))
		case p.line:
			j.after = h // the arc takes all of the gap
		case q.line:
			j.before = j.after
		default:
			j.before += gap / 2
			j.after = j.before
		}
		h += gap
	}
	for i, p := range pieces {
		n := length(p) - tangentLength(joints[i]) - tangentLength(joints[i+1])
		n = max(n, 0.2*length(p))
		s := span{line: p.line, l: n}
		if !p.line {
			s.k = clampTo((joints[i+1].before-joints[i].after)/n, kmax)
		}
		c.spans = append(c.spans, s)
		if j := joints[i+1]; i < m-1 && j.l > 0 {
			c.spans = append(c.spans, span{l: j.l, k: clampTo((j.after-j.before)/j.l, kmax)})
		}
	}
	c.lay()
	return c
}

func clampTo(v, limit float64) float64 { return min(max(v, -limit), limit) }

// tangentLength returns what the arc in the joint takes from each neighbour.
func tangentLength(j joint) float64 {
	a := math.Abs(j.after - j.before)
	if j.l == 0 || a < 1e-9 {
		return j.l / 2
	}
	return j.l / a * math.Tan(min(a, 2.8)/2)
}

// cornerLength returns the length of an arc that rounds a corner of the given
// turn and stays within 0.7 tol of it, tangents within 0.4 of room.
func cornerLength(turn, tol, kmax, room float64) float64 {
	a := min(max(math.Abs(turn), 1e-6), 2.8)
	r := min(0.7*tol/(1/math.Cos(a/2)-1), 0.4*room/math.Tan(a/2))
	return max(r, 1/kmax) * a
}

// turn returns the signed turn of an arc piece from its first sample to its
// last, by its own curvature.
func (p piece) turn(sm []sample) float64 {
	a, b := sm[p.from].p, sm[p.to].p
	mid := (p.from + p.to) / 2
	left := p.heading(sm, mid).Left()
	g := p.fit.b.Add(sm[mid].p.Sub(p.fit.o).Mul(2 * p.fit.a))
	k := -2 * p.fit.a
	if left.Dot(g) < 0 {
		k = -k
	}
	// The ends' directions give the turn to a multiple of 2π, length says which.
	rough := k * (sm[p.to].s - sm[p.from].s)
	exact := float64(p.fit.dir(a, p.heading(sm, p.from)).TurnTo(p.fit.dir(b, p.heading(sm, p.to))))
	return exact + 2*math.Pi*math.Round((rough-exact)/(2*math.Pi))
}
