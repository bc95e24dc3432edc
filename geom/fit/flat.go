package fit

import "math"

// The flat model. Let φ(s) be the heading of the polyline and y(s) = ∫φ ds. A
// spline of heading ψ that stays near the polyline is off it by
//
//	e(s) = Y(s) - y(s),  Y(s) = ∫ψ ds,
//
// to first order in e. An arc of curvature k is then a parabola Y'' = k, a
// tangent-continuous chain of arcs a quadratic spline with free knots, and its
// least-squares fit, whatever the total turn, a problem without a sine in it.

// mark is a sample of the flat model.
type mark struct {
	s, y, w float64
	strict  float64 // what a distance there counts for: more than 1 where the model proved too kind
}

// turnLimit is the turn at one sample, in radians, above which the polyline
// has a corner, which the flat model knows only as rounded.
const turnLimit = 0.6

// flatten returns the flat model of the samples, and false where they turn too
// sharply for it.
func flatten(sm []sample) ([]mark, bool) {
	out := make([]mark, len(sm))
	d := sm[1].p.Sub(sm[0].p)
	h, y := float64(d.Heading()), 0.0
	out[0] = mark{sm[0].s, 0, sm[0].w, 1}
	for i := 1; i < len(sm); i++ {
		e := sm[i].p.Sub(sm[i-1].p)
		if i > 1 {
			turn := float64(d.TurnTo(e))
			if math.Abs(turn) > turnLimit {
				return nil, false
			}
			h += turn
		}
		d = e
		y += float64(h * (sm[i].s - sm[i-1].s))
		out[i] = mark{sm[i].s, y, sm[i].w, 1}
	}
	return out, true
}

// knot is a place between two pieces of a flat spline: where, and the value
// and slope there.
type knot struct {
	t, y, h float64
}

// bit is a piece of a flat spline.
type bit struct {
	line bool
	k    float64
}

// flat is a flat spline: piece j runs from at[j] to at[j+1].
type flat struct {
	bits []bit
	at   []knot
}

// lay recomputes values and slopes from the first on.
func (f *flat) lay() {
	for j, b := range f.bits {
		q := f.at[j]
		l := f.at[j+1].t - q.t
		f.at[j+1].y = q.y + float64(l*(q.h+float64(b.k*l)/2))
		f.at[j+1].h = q.h + float64(b.k*l)
	}
}

// bound is what a flat fit must meet at its ends.
type bound struct {
	start, end       knot // t unused
	fixStart, fixEnd bool // the slopes as well as the values
	ring             bool // values and slopes at the ends differ by those of end and start
}

// gather fills one link for each piece, and returns the weighted sum of
// squares.
func (f *flat) gather(ms []mark, w []float64, out []link) float64 {
	var total float64
	i := 0
	last := len(f.bits) - 1
	for j, b := range f.bits {
		q := f.at[j]
		end := f.at[j+1].t
		var s0, s1, s2, s3, s4, r0, r1, r2 float64 // moments of u = s - t, and with the residual
		for ; i < len(ms) && (j == last || ms[i].s < end); i++ {
			if w[i] == 0 {
				continue
			}
			u := ms[i].s - q.t
			r := q.y - ms[i].y + float64(u*(q.h+float64(b.k*u)/2))
			wr, wu, uu := float64(w[i]*r), float64(w[i]*u), float64(u*u)
			s0 += w[i]
			s1 += wu
			s2 += float64(w[i] * uu)
			s3 += float64(wu * uu)
			s4 += float64(w[i] * uu * uu)
			r0 += wr
			r1 += float64(wr * u)
			r2 += float64(wr * uu)
			total += float64(wr * r)
		}
		l := end - q.t
		m := link{line: b.line, l: l, after: [3]float64{1, l, l * l / 2}, slope: [3]float64{0, 1, l}}
		m.sums = sums{aa: s0, ab: s1, ak: s2 / 2, bb: s2, bk: s3 / 2, kk: s4 / 4, a: r0, b: r1, k: r2 / 2, w: s0}
		if j < last {
			m.kink = b.k - f.bits[j+1].k
		}
		out[j] = m
	}
	return total
}

// misses returns by how much the ends of f miss b.
func (f *flat) misses(b bound) ends {
	p, q := f.at[0], f.at[len(f.bits)]
	e := ends{
		startA: p.y - b.start.y, startB: p.h - b.start.h, endA: q.y - b.end.y, endB: q.h - b.end.h,
		fixStart: b.fixStart, fixEnd: b.fixEnd, ring: b.ring,
	}
	if b.ring {
		e.endA -= e.startA
		e.endB -= e.startB
	}
	return e
}

// step moves f by one step of the recursion.
func (f *flat) step(st *stepper, b bound, damp float64) bool {
	y, h, ok := st.step(f.misses(b), damp)
	if !ok {
		return false
	}
	share := st.share()
	f.at[0].y += float64(share * y)
	f.at[0].h += float64(share * h)
	for j := range f.bits {
		f.bits[j].k += float64(share * st.moves[j].k)
		f.at[j+1].t += float64(share * st.moves[j].t)
	}
	f.lay()
	return f.isFinite()
}

// isFinite reports whether all of f is a number.
func (f *flat) isFinite() bool {
	var sum float64
	for _, q := range f.at {
		sum += q.t + q.y + q.h
	}
	for _, b := range f.bits {
		sum += b.k
	}
	return !math.IsNaN(sum - sum)
}

// distances fills out with how far each sample is off, and returns the largest.
func (f *flat) distances(ms []mark, out []float64) float64 {
	worst := 0.0
	i := 0
	for j, b := range f.bits {
		q := f.at[j]
		end := f.at[j+1].t
		last := j == len(f.bits)-1
		for ; i < len(ms) && (last || ms[i].s < end); i++ {
			u := ms[i].s - q.t
			out[i] = ms[i].strict * math.Abs(q.y-ms[i].y+float64(u*(q.h+float64(b.k*u)/2)))
			worst = max(worst, out[i])
		}
	}
	return worst
}
