package fit

import "math"

// The step of a flat fit is a linear-quadratic control problem: the state is
// the change of value and slope at a joint, the controls are the changes of a
// piece's curvature and of where it ends. It is solved exactly by the Riccati
// recursion (Bellman 1957), from the last piece back to the first: time in
// proportion to the pieces, whatever the number of samples. What must be met at
// the end, exactly, is carried along as two Lagrange multipliers.

// Columns of the quadratic form of one piece.
const (
	cA, cB = 0, 1 // change of value and slope at its start
	cLA    = 2    // the multipliers of value and slope at the end
	cLB    = 3
	cK, cT = 4, 5 // change of curvature, and of where the piece ends
	nState = 4
	nForm  = 6
)

// form is ½·zᵀHz + gᵀz.
type form struct {
	h [nForm][nForm]float64
	g [nForm]float64
}

// gain says how the controls follow from the state.
type gain struct {
	k, t [nState + 1]float64 // the last is the constant
}

// link is what the recursion knows of a piece.
type link struct {
	line  bool
	l     float64
	kink  float64    // change of slope where it ends for a move of that joint
	after [3]float64 // the value after it, for a change of value, slope and curvature before it
	slope [3]float64 // the slope after it, likewise
	sums
}

// sums are the normal equations of a piece's samples in value, slope and
// curvature at its start.
type sums struct {
	aa, ab, ak, bb, bk, kk float64
	a, b, k                float64 // with the residual
	w                      float64 // weight of the samples
}

// add counts a sample of weight w, off by r, that value, slope and curvature
// at the start move by a, b and k.
func (m *sums) add(w, r, a, b, k float64) {
	wa, wb, wk := float64(w*a), float64(w*b), float64(w*k)
	m.w += w
	m.aa += float64(wa * a)
	m.ab += float64(wa * b)
	m.ak += float64(wa * k)
	m.bb += float64(wb * b)
	m.bk += float64(wb * k)
	m.kk += float64(wk * k)
	m.a += float64(wa * r)
	m.b += float64(wb * r)
	m.k += float64(wk * r)
}

// ends is what is missed at the two ends: by how much value and slope are too
// large there, and whether the slope matters. On a ring the end counts, against
// the start.
type ends struct {
	startA, startB   float64
	endA, endB       float64
	fixStart, fixEnd bool
	ring             bool
}

// move is the change of one piece: curvature, and where it ends.
type move struct{ k, t float64 }

// stepper holds the work space of the recursion.
type stepper struct {
	links []link
	gains []gain
	moves []move
}

// size makes room for n pieces.
func (st *stepper) size(n int) {
	if cap(st.links) < n {
		st.links, st.gains, st.moves = make([]link, n, 2*n), make([]gain, n, 2*n), make([]move, n, 2*n)
	}
	st.links, st.gains, st.moves = st.links[:n], st.gains[:n], st.moves[:n]
}

// holdBend is the weight on a change of curvature, as a share of that of all
// samples: a piece without samples stays as it is.
const holdBend = 1e-9

// step works out the moves of all links, and the change of value and slope at
// the start. damp holds the joints back, in shares of what their neighbours'
// samples say (Levenberg); still holds them where they are.
func (st *stepper) step(e ends, damp float64) (a, b float64, ok bool) {
	var weight float64
	for i := range st.links {
		weight += st.links[i].w
	}
	v := e.form()
	for j := len(st.links) - 1; j >= 0; j-- {
		if !st.back(j, &v, weight, damp) {
			return 0, 0, false
		}
	}
	x, ok := e.startState(&v)
	if !ok {
		return 0, 0, false
	}
	st.forward(x)
	return x[cA], x[cB], true
}

// form says what must be met at the end.
func (e ends) form() form {
	var v form
	v.h[cA][cLA], v.h[cLA][cA], v.g[cLA] = 1, 1, e.endA
	if e.fixEnd || e.ring {
		v.h[cB][cLB], v.h[cLB][cB], v.g[cLB] = 1, 1, e.endB
	}
	return v
}

// back turns the cost after link j into the cost before it.
func (st *stepper) back(j int, v *form, weight, damp float64) bool {
	m := &st.links[j]
	kink := m.kink
	if j == len(st.links)-1 || damp == still {
		kink = 0
	} else {
		damp *= float64(kink * kink * (m.bb + st.links[j+1].bb))
	}
	rowA := [nForm]float64{cA: m.after[0], cB: m.after[1], cK: m.after[2]}
	rowB := [nForm]float64{cA: m.slope[0], cB: m.slope[1], cK: m.slope[2], cT: kink}
	var z form
	for p := range nForm {
		va := float64(v.h[cA][cA]*rowA[p]) + float64(v.h[cA][cB]*rowB[p])
		vb := float64(v.h[cA][cB]*rowA[p]) + float64(v.h[cB][cB]*rowB[p])
		for q := range p + 1 {
			z.h[q][p] = float64(va*rowA[q]) + float64(vb*rowB[q])
		}
		z.g[p] = float64(rowA[p]*v.g[cA]) + float64(rowB[p]*v.g[cB])
	}
	z.carry(v, &rowA, &rowB)
	z.h[cA][cA] += m.aa
	z.h[cA][cB] += m.ab
	z.h[cA][cK] += m.ak
	z.h[cB][cB] += m.bb
	z.h[cB][cK] += m.bk
	z.h[cK][cK] += m.kk
	z.g[cA] += m.sums.a
	z.g[cB] += m.sums.b
	z.g[cK] += m.sums.k
	g, ok := z.controls(m.line, kink, damp, float64(holdBend*weight*m.l*m.l*m.l*m.l))
	st.gains[j] = g
	z.without(g, v)
	return ok
}

// carry adds the part of the multipliers.
func (z *form) carry(v *form, rowA, rowB *[nForm]float64) {
	for _, c := range [2]int{cLA, cLB} {
		for p := range nForm {
			cross := float64(rowA[p]*v.h[cA][c]) + float64(rowB[p]*v.h[cB][c])
			z.h[min(p, c)][max(p, c)] += cross
		}
		z.g[c] += v.g[c]
	}
	z.h[cLA][cLA] += v.h[cLA][cLA]
	z.h[cLA][cLB] += v.h[cLA][cLB]
	z.h[cLB][cLB] += v.h[cLB][cLB]
}

// still is the damping that holds every joint.
const still = -1

// dampFirst is the damping of a first step; a good step takes nine tenths of it
// away, a bad one makes it eight times as much.
const dampFirst = 0.05

// controls minimises over curvature and joint.
func (z *form) controls(line bool, kink, damp, bend float64) (gain, bool) {
	var out gain
	kk, kt, tt := z.h[cK][cK]+bend, z.h[cK][cT], z.h[cT][cT]
	tt += damp
	useT := kink != 0 && tt > 0
	col := func(c, p int) float64 {
		if p == nState {
			return z.g[c]
		}
		return z.h[p][c]
	}
	for p := range nState + 1 {
		k, t := -col(cK, p), -col(cT, p)
		switch {
		case line && useT:
			out.t[p] = t / tt
		case line:
		case !useT:
			if !(kk > 0) {
				return out, false
			}
			out.k[p] = k / kk
		default:
			det := float64(kk*tt) - float64(kt*kt)
			if !(det > 0) {
				return out, false
			}
			out.k[p] = (float64(tt*k) - float64(kt*t)) / det
			out.t[p] = (float64(kk*t) - float64(kt*k)) / det
		}
	}
	return out, true
}

// without puts the controls in: v becomes the form of the state alone.
func (z *form) without(g gain, v *form) {
	for p := range nState {
		for q := p; q < nState; q++ {
			// With u = -Huu⁻¹·Hux·x, the form of x loses Hxu·Huu⁻¹·Hux.
			v.h[p][q] = z.h[p][q] + float64(z.h[p][cK]*g.k[q]) + float64(z.h[p][cT]*g.t[q])
			v.h[q][p] = v.h[p][q]
		}
		v.g[p] = z.g[p] + float64(z.h[p][cK]*g.k[nState]) + float64(z.h[p][cT]*g.t[nState])
	}
}

// startState returns the best change of value and slope at the start, and the
// multipliers.
func (e ends) startState(v *form) (x [nState]float64, ok bool) {
	h, g := [nState][nState]float64{}, [nState]float64{}
	for p := range nState {
		copy(h[p][:], v.h[p][:nState])
		g[p] = -v.g[p]
	}
	if e.ring { // the end is held against the start
		h[cA][cLA], h[cLA][cA] = h[cA][cLA]-1, h[cLA][cA]-1
		h[cB][cLB], h[cLB][cB] = h[cB][cLB]-1, h[cLB][cB]-1
		return solve4(h, g)
	}
	fix := func(p int, value float64) {
		for q := range nState {
			h[p][q] = 0
		}
		h[p][p], g[p] = 1, value
	}
	fix(cA, -e.startA)
	if e.fixStart {
		fix(cB, -e.startB)
	}
	if !e.fixEnd {
		fix(cLB, 0)
	}
	return solve4(h, g)
}

// solve4 solves h·x = g by elimination, largest pivot first.
func solve4(h [nState][nState]float64, g [nState]float64) ([nState]float64, bool) {
	for c := range nState {
		p := c
		for r := c + 1; r < nState; r++ {
			if math.Abs(h[r][c]) > math.Abs(h[p][c]) {
				p = r
			}
		}
		if h[p][c] == 0 || math.IsNaN(h[p][c]) {
			return g, false
		}
		h[c], h[p], g[c], g[p] = h[p], h[c], g[p], g[c]
		for r := c + 1; r < nState; r++ {
			k := h[r][c] / h[c][c]
			for q := c; q < nState; q++ {
				h[r][q] -= float64(k * h[c][q])
			}
			g[r] -= float64(k * g[c])
		}
	}
	for c := nState - 1; c >= 0; c-- {
		for q := c + 1; q < nState; q++ {
			g[c] -= float64(h[c][q] * g[q])
		}
		g[c] /= h[c][c]
		if math.IsNaN(g[c] - g[c]) {
			return g, false
		}
	}
	return g, true
}

// forward fills the moves.
func (st *stepper) forward(x [nState]float64) {
	for j := range st.links {
		g, m := &st.gains[j], &st.links[j]
		k, t := g.k[nState], g.t[nState]
		for p, v := range x {
			k += float64(g.k[p] * v)
			t += float64(g.t[p] * v)
		}
		st.moves[j] = move{k, t}
		a := float64(m.after[0]*x[cA]) + float64(m.after[1]*x[cB]) + float64(m.after[2]*k)
		b := float64(m.slope[0]*x[cA]) + float64(m.slope[1]*x[cB]) + float64(m.slope[2]*k) + float64(m.kink*t)
		x[cA], x[cB] = a, b
	}
	st.moves[len(st.moves)-1].t = 0
}

// share returns how much of the moves can be made with no piece getting
// shorter than a quarter.
func (st *stepper) share() float64 {
	out, before := 1.0, 0.0
	for j := range st.links {
		t := st.moves[j].t
		if d := t - before; d < -0.75*st.links[j].l {
			out = min(out, -0.75*st.links[j].l/d)
		}
		before = t
	}
	return out
}
