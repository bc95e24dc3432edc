package fit

import "math"

// step returns the Gauss-Newton step: it minimises |r + J·d|² (damped) subject
// to C·d = -miss, by Cholesky factors of JᵀJ and the Schur complement of the
// two or three conditions.
func (pr *problem) step(c *spline, p params, damp float64) ([]float64, bool) {
	n := p.n
	pr.h = grow(pr.h, n*n)
	pr.g = grow(pr.g, n)
	clear(pr.h)
	clear(pr.g)
	for i := range pr.c {
		pr.c[i] = grow(pr.c[i], n)
	}
	pr.bend(c)
	pr.gather(c, p)
	for i := 0; i < n; i++ { // mirror, and damp
		for j := 0; j < i; j++ {
			pr.h[j*n+i] = pr.h[i*n+j]
		}
	}
	pr.dampen(c, p, damp)
	m := pr.conditions(c, p)
	return pr.constrained(n, m, pr.miss(c))
}

// dampen adds to the diagonal what keeps the step finite where the samples say
// nothing. Each unknown is weighed by how far it moves the curve.
func (pr *problem) dampen(c *spline, p params, damp float64) {
	n := p.n
	total := pr.scale
	add := func(i int, lever float64) {
		pr.h[i*n+i] += float64(damp*pr.h[i*n+i]) + float64(damp*1e-4*total*lever*lever)
	}
	if p.x >= 0 {
		add(p.x, 1)
		add(p.x+1, 1)
	}
	if p.h >= 0 {
		add(p.h, total)
	}
	for i, s := range c.spans {
		add(p.len[i], 1)
		if p.curve[i] >= 0 {
			add(p.curve[i], s.l*s.l)
		}
	}
}

// constrained solves the normal equations under m conditions.
func (pr *problem) constrained(n, m int, miss [3]float64) ([]float64, bool) {
	if !cholesky(pr.h, n) {
		return nil, false
	}
	d := make([]float64, n)
	for i := range d {
		d[i] = -pr.g[i]
	}
	solveCholesky(pr.h, n, d)
	// y_i = H⁻¹·C_iᵀ; multipliers from C·(d - Σ λ_i y_i) = -miss.
	y := make([][]float64, m)
	s := make([]float64, m*m)
	rhs := make([]float64, m)
	for i := range y {
		y[i] = append([]float64(nil), pr.c[i]...)
		solveCholesky(pr.h, n, y[i])
	}
	for i := range y {
		for j := range y {
			s[i*m+j] = dot(pr.c[i], y[j])
		}
		rhs[i] = dot(pr.c[i], d) + miss[i]
	}
	if !cholesky(s, m) {
		return nil, false
	}
	solveCholesky(s, m, rhs)
	for i := range y {
		for j := range d {
			d[j] -= float64(rhs[i] * y[i][j])
		}
	}
	for _, v := range d {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, false
		}
	}
	return d, true
}

// restore brings the conditions nearly back after a step, which meets them
// only to first order.
func (pr *problem) restore(c *spline) { pr.newton(c, 3, 1e-6) }

// leastShare of the curve is the shortest span a solution may have: a shorter
// one has no direction worth the name.
const leastShare = 1e-6

// meet closes the last gap. It reports whether the conditions are met.
func (pr *problem) meet(c *spline) bool {
	pr.newton(c, 8, 1e-13)
	pr.residuals(c)
	for _, s := range c.spans {
		if !(s.l > leastShare*pr.scale) {
			return false
		}
	}
	m := pr.miss(c)
	return math.Hypot(m[0], m[1]) <= 1e-11*pr.scale && math.Abs(m[2]) < 1e-10
}

// newton solves the conditions alone, with the smallest change of the
// unknowns, to the given share of the scale.
func (pr *problem) newton(c *spline, rounds int, share float64) {
	p := pr.columns(c, make([]bool, len(c.spans)))
	for i := range pr.c {
		pr.c[i] = grow(pr.c[i], p.n)
	}
	for range rounds {
		m := pr.miss(c)
		if math.Hypot(m[0], m[1]) <= share*pr.scale && math.Abs(m[2]) < share {
			return
		}
		n := pr.conditions(c, p)
		step, ok := pr.leastChange(c, p, n, m)
		if !ok {
			return
		}
		next, _ := pr.moved(c, p, step)
		*c = *next
	}
}

// leastChange returns the smallest step that meets n conditions to first
// order, each unknown weighed by how far it moves the curve.
func (pr *problem) leastChange(c *spline, p params, n int, miss [3]float64) ([]float64, bool) {
	inv := make([]float64, p.n) // 1/lever²
	set := func(i int, lever float64) { inv[i] = 1 / (lever * lever) }
	if p.x >= 0 {
		set(p.x, 1)
		set(p.x+1, 1)
	}
	if p.h >= 0 {
		set(p.h, pr.scale)
	}
	for i, s := range c.spans {
		set(p.len[i], 1)
		if p.curve[i] >= 0 {
			set(p.curve[i], s.l*s.l)
		}
	}
	s := make([]float64, n*n)
	rhs := make([]float64, n)
	for i := range n {
		for j := range n {
			for k, v := range inv {
				s[i*n+j] += float64(v * pr.c[i][k] * pr.c[j][k])
			}
		}
		s[i*n+i] *= 1 + 1e-13
		rhs[i] = -miss[i]
	}
	if !cholesky(s, n) {
		return nil, false
	}
	solveCholesky(s, n, rhs)
	step := make([]float64, p.n)
	for k, v := range inv {
		for i := range n {
			step[k] += float64(v * rhs[i] * pr.c[i][k])
		}
	}
	return step, true
}

func grow(b []float64, n int) []float64 {
	if cap(b) < n {
		return make([]float64, n)
	}
	return b[:n]
}

func dot(a, b []float64) float64 {
	var s float64
	for i, v := range a {
		s += float64(v * b[i])
	}
	return s
}

// cholesky replaces the lower half of the n×n matrix a by its factor, and
// reports false where a is not positive definite.
func cholesky(a []float64, n int) bool {
	for i := 0; i < n; i++ {
		for j := 0; j <= i; j++ {
			s := a[i*n+j] - dot(a[i*n:i*n+j], a[j*n:j*n+j])
			if i != j {
				a[i*n+j] = s / a[j*n+j]
				continue
			}
			if !(s > 0) {
				return false
			}
			a[i*n+i] = math.Sqrt(s)
		}
	}
	return true
}

// solveCholesky replaces b by the solution of L·Lᵀ·x = b.
func solveCholesky(l []float64, n int, b []float64) {
	for i := 0; i < n; i++ {
		b[i] = (b[i] - dot(l[i*n:i*n+i], b[:i])) / l[i*n+i]
	}
	for i := n - 1; i >= 0; i-- {
		s := b[i]
		for j := i + 1; j < n; j++ {
			s -= float64(l[j*n+i] * b[j])
		}
		b[i] = s / l[i*n+i]
	}
}
