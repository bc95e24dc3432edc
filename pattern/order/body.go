package order

import (
	"tubewright/geom"
)

// group is a rigid run of glass: one formed heat, or a straight.
type group struct {
	pts      []geom.Point3
	at       []float64 // of each point, developed mm from seal A
	centre   geom.Point3
	radius   float64
	heat     int    // the heat that formed it, or a formed one at its end
	between  [2]int // the formed heats at its ends, from the fire outwards; a heat's own index twice; -1 for no outer one
	touching bool   // a straight that ends at the fire
}

func newGroup(pts []geom.Point3, at []float64, heat int) group {
	g := group{pts: pts, at: at, heat: heat, between: [2]int{heat, heat}}
	a, b := pts[0], pts[len(pts)-1]
	g.centre = a.Lerp(b, 0.5)
	for _, p := range pts {
		g.radius = max(g.radius, p.Dist(g.centre))
	}
	return g
}

// ends notes the outer end of a straight, -1 for the end of the glass; the inner one
// is known. The fire itself is not blamed while there is another heat.
func (g *group) ends(fire, outer int) {
	g.between[1] = outer
	if g.heat == fire && outer >= 0 {
		g.heat = outer
	}
}

// restsOn returns the first and last of the heats that decide where a group lies
// while heat h is bent.
func (m *model) restsOn(h int, g *group) [2]int {
	if g.between[1] >= 0 {
		return [2]int{min(h, g.between[0], g.between[1]), max(h, g.between[0], g.between[1])}
	}
	switch { // to the end of the glass, which the sticks decide where there are several
	case len(m.welds) > 0:
		return m.all()
	case g.at[len(g.at)-1] < m.heats[h].start:
		return [2]int{0, h}
	}
	return [2]int{h, len(m.heats) - 1}
}

// sides returns the glass before heat h in the frame of the heat's start, and
// the glass after it in the frame of its end, as far as there is any when the
// heats of done and h itself are being bent.
func (m *model) sides(done set, h int) (before, after []group) {
	lo, hi := m.present(done, h)
	return m.before(done, h, lo), m.after(done, h, hi)
}

func (m *model) before(done set, h int, lo float64) []group {
	var out []group
	f, at := identity(), m.heats[h].start
	run, inner := 0.0, h
	closeRun := func(outer int) {
		if run > 0 {
			g := newGroup([]geom.Point3{f.o, f.along(-run).o}, []float64{at, at - run}, inner)
			g.ends(h, outer)
			g.touching = len(out) == 0
			out = append(out, g)
		}
		f, at, run = f.along(-run), at-run, 0
	}
	for k := h - 1; ; k-- {
		gap := m.straight[k+1]
		if k < 0 || at-run-gap <= lo {
			run = at - lo
			closeRun(-1)
			return out
		}
		run += gap
		if !done.has(k) {
			run += m.heats[k].length
			continue
		}
		closeRun(k)
		b := &m.heats[k]
		f = f.then(b.back)
		at -= b.length
		out = append(out, m.placed(b, k, f, at, true))
		inner = k
	}
}

func (m *model) after(done set, h int, hi float64) []group {
	var out []group
	f, at := identity(), m.heats[h].start+m.heats[h].length
	run, inner := 0.0, h
	closeRun := func(outer int) {
		if run > 0 {
			g := newGroup([]geom.Point3{f.o, f.along(run).o}, []float64{at, at + run}, inner)
			g.ends(h, outer)
			g.touching = len(out) == 0
			out = append(out, g)
		}
		f, at, run = f.along(run), at+run, 0
	}
	for k := h + 1; ; k++ {
		gap := m.straight[k]
		if k == len(m.heats) || at+run+gap >= hi {
			run = hi - at
			closeRun(-1)
			return out
		}
		run += gap
		if !done.has(k) {
			run += m.heats[k].length
			continue
		}
		closeRun(k)
		b := &m.heats[k]
		out = append(out, m.placed(b, k, f, at, false))
		f, at = f.then(b.exit), at+b.length
		inner = k
	}
}

// placed returns a formed heat that starts at frame f.
func (m *model) placed(b *formed, k int, f frame, at float64, back bool) group {
	pts, ats := make([]geom.Point3, len(b.shape)), make([]float64, len(b.shape))
	for i, p := range b.shape {
		j := i
		if back {
			j = len(pts) - 1 - i
		}
		pts[j], ats[j] = f.at(p), at+b.at[i]
	}
	return newGroup(pts, ats, k)
}

// present returns the stretch of glass that there is when heat h is made after
// those of done: whole sticks, as few as give every heat what is held.
func (m *model) present(done set, h int) (lo, hi float64) {
	first, last := h, h
	for k := range m.heats {
		if done.has(k) {
			first, last = min(first, k), max(last, k)
		}
	}
	from, to := m.reach(first, -1), m.reach(last, 1)
	lo, hi = m.ends[0], m.ends[1]
	for _, w := range m.welds {
		if w <= from {
			lo = max(lo, w)
		}
		if w >= to {
			hi = min(hi, w)
		}
	}
	return lo, hi
}

// reach returns how far glass must be there on one side of heat k.
func (m *model) reach(k, side int) float64 {
	h := &m.heats[k]
	if side < 0 {
		return h.start + h.zone[0] - m.lim.hold
	}
	return h.start + h.zone[1] + m.lim.hold
}

// segmentDistance returns the distance between segments ab and cd.
func segmentDistance(a, b, c, d geom.Point3) float64 {
	u, v, w := b.Sub(a), d.Sub(c), a.Sub(c)
	uu, uv, vv, uw, vw := u.Dot(u), u.Dot(v), v.Dot(v), u.Dot(w), v.Dot(w)
	s, t := 0.0, 0.0
	if den := float64(uu*vv) - float64(uv*uv); den > 1e-12*uu*vv {
		s = clamp((float64(uv*vw) - float64(vv*uw)) / den)
	}
	if vv > 0 {
		t = clamp((float64(uv*s) + vw) / vv)
	}
	if uu > 0 { // the nearest on ab to that point of cd
		s = clamp((float64(uv*t) - uw) / uu)
	}
	if vv > 0 {
		t = clamp((float64(uv*s) + vw) / vv)
	}
	return w.Add(u.Mul(s)).Sub(v.Mul(t)).Norm()
}

func clamp(v float64) float64 {
	if v < 0 {
		return 0
	}
	if v > 1 {
		return 1
	}
	return v
}
