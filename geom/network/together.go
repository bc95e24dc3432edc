package network

import (
	"math"

	"tubewright/geom"
)

// reachEnd is where two paths stop being within tol of each other.
type reachEnd struct {
	s, t   float64
	parted bool       // they part here; false where one of them ends
	angle  geom.Angle // between them where they part
	side   float64    // of the second path on which the first leaves
}

// meeting goes from a hit both ways until the paths part, and says what it saw.
func (f *finder) meeting(h hit) (Meeting, bool) {
	h = f.settle(h)
	lo, hi := f.follow(h, -1), f.follow(h, 1)
	if f.self && f.same(lo.s, lo.t) && f.same(hi.s, hi.t) {
		return Meeting{}, false
	}
	length := hi.s - lo.s
	angle := folded(f.a.dir(h.s).TurnTo(f.b.dir(h.t)))
	m := Meeting{A: h.s, AEnd: h.s, B: h.t, BEnd: h.t, Angle: angle}
	// Straight paths that cross stay within tol for twice tol/sin(angle), and
	// circles that touch for twice as long as their angle at parting says.
	// Longer than that is running together.
	var natural float64
	for _, e := range [2]reachEnd{lo, hi} {
		if e.parted {
			natural += f.tol / math.Sin(math.Max(float64(e.angle), 1e-9))
		}
	}
	switch {
	case length > 4*f.tol && length > together*natural:
		m = Meeting{Kind: Overlap, A: lo.s, AEnd: hi.s, B: lo.t, BEnd: hi.t}
	case lo.parted && hi.parted && lo.side*hi.side < 0:
		m.Kind = Cross
	default:
		m.Kind = Touch
	}
	m.At = f.a.point(m.A).Lerp(f.b.point(m.B), 0.5)
	m.A, m.AEnd = f.homed(f.a, m.A, m.AEnd)
	m.B, m.BEnd = f.homed(f.b, m.B, m.BEnd)
	return m, true
}

// together is how many times longer than crossing would explain paths must run
// side by side to count as one.
const together = 3.5

// homed brings a stretch of a closed path to start inside it.
func (f *finder) homed(w way, s, e float64) (float64, float64) {
	if !w.Closed {
		return s, e
	}
	in := w.inside(s)
	return in, e + in - s
}

// folded returns the angle between undirected lines.
func folded(a geom.Angle) geom.Angle {
	a = a.Abs()
	return min(a, math.Pi-a)
}

// settle moves a hit that is a near miss to where the gap is least.
func (f *finder) settle(h hit) hit {
	if f.a.point(h.s).Dist(f.b.point(h.t)) <= 1e-9 {
		return h
	}
	for range 3 {
		h.t, _ = f.b.nearest(f.a.point(h.s), h.t, 2*f.tol)
		h.s, _ = f.a.nearest(f.b.point(h.t), h.s, 2*f.tol)
	}
	return h
}

// stride is the longest step taken along paths that run together, mm.
const stride = 1

// follow goes along the first path from a hit, forward or back, as far as the
// second stays within tol.
func (f *finder) follow(h hit, way float64) reachEnd {
	s, t := h.s, h.t
	step := f.tol
	for walked := 0.0; walked < f.a.length; {
		next := s + way*step
		if !f.a.Closed {
			next = f.a.inside(next)
		}
		nt, d := f.b.nearest(f.a.point(next), t, 2*step+2*f.tol)
		if d > f.tol || f.self && f.same(next, nt) {
			if step > f.tol/8 && step > 1e-9 { // come closer before giving up
				step /= 2
				continue
			}
			return f.parting(s, t, way, d > f.tol)
		}
		if next == s {
			return reachEnd{s: s, t: t}
		}
		walked += step
		s, t = next, nt
		step = min(2*step, stride)
	}
	return reachEnd{s: s, t: t}
}

// parting describes the place where the paths part, or where one of them ends.
func (f *finder) parting(s, t, way float64, apart bool) reachEnd {
	ends := !f.b.Closed && (t <= f.tol || t >= f.b.length-f.tol)
	e := reachEnd{s: s, t: t, parted: apart && !ends}
	d := f.b.dir(t)
	e.angle = folded(f.a.dir(s).TurnTo(d))
	beyond := f.a.point(s + way*f.tol/4)
	near, _ := f.b.nearest(beyond, t, 2*f.tol)
	e.side = f.b.dir(near).Cross(beyond.Sub(f.b.point(near)))
	return e
}
