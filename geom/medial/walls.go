package medial

import (
	"math"

	"tubewright/geom"
	"tubewright/geom/region"
)

// wall is what a disc in the ink can touch: a straight edge, or the point of
// a corner that juts into the ink. Places on it are given by t: mm from the
// start of an edge, radians of turn of the normal at a point.
type wall struct {
	point      bool
	a          geom.Point
	u          geom.Vec // direction of the edge; unused at a point
	n          geom.Vec // unit normal into the ink; at a point, the first of the fan
	span       float64  // largest t
	loop       int32
	at         float64 // mm along its loop
	next, prev int32
	over, back int32   // the edges beyond a corner that juts into the ink, ahead and behind; -1 where there is none
	cotAhead   float64 // edges: cot of half the turn to the next edge where they meet convexly, else 0
	cotBehind  float64
}

// place returns the wall point at t and the unit normal into the ink there.
func (w *wall) place(t float64) (geom.Point, geom.Vec) {
	if w.point {
		s, c := math.Sincos(t)
		return w.a, geom.Vec{X: float64(w.n.X*c) + float64(w.n.Y*s), Y: float64(w.n.Y*c) - float64(w.n.X*s)}
	}
	return geom.Point{X: w.a.X + float64(w.u.X*t), Y: w.a.Y + float64(w.u.Y*t)}, w.n
}

// foot returns the t of the wall point that a disc with centre c touches.
func (w *wall) foot(c geom.Point) float64 {
	d := c.Sub(w.a)
	if w.point {
		return min(max(-math.Atan2(w.n.Cross(d), w.n.Dot(d)), 0), w.span)
	}
	return min(max(d.Dot(w.u), 0), w.span)
}

// along returns the place of t in mm along the wall's loop.
func (w *wall) along(t float64) float64 {
	if w.point {
		return w.at
	}
	return w.at + t
}

// wallsOf lists the walls of every loop in order of travel.
func wallsOf(r region.Region) []wall {
	var ws []wall
	for li, l := range r.Loops {
		first, at := int32(len(ws)), 0.0
		n := len(l)
		for i, a := range l {
			b, c := l[(i+1)%n], l[(i+2)%n]
			d := b.Sub(a)
			u := d.Unit()
			v := c.Sub(b).Unit()
			ws = append(ws, wall{a: a, u: u, n: u.Left(), span: d.Norm(), loop: int32(li), at: at})
			at += d.Norm()
			if phi := float64(u.TurnTo(v)); phi < 0 {
				ws = append(ws, wall{point: true, a: b, n: u.Left(), span: -phi, loop: int32(li), at: at})
			} else {
				ws[len(ws)-1].cotAhead = 1 / math.Tan(max(phi, 1e-12)/2)
			}
		}
		last := int32(len(ws)) - 1
		for i := first; i <= last; i++ {
			ws[i].next, ws[i].prev = i+1, i-1
		}
		ws[last].next, ws[first].prev = first, last
		for i := first; i <= last; i++ {
			ws[ws[i].next].cotBehind = ws[i].cotAhead
			ws[i].over, ws[i].back = -1, -1
			if ws[i].point {
				continue
			}
			if m := ws[i].next; ws[m].point {
				ws[i].over = ws[m].next
			}
			if m := ws[i].prev; ws[m].point {
				ws[i].back = ws[m].prev
			}
		}
	}
	return ws
}

// radius returns the radius of the disc that touches wall e at (p, n), which
// is its place t, and also wall j; +Inf if there is none.
//
//	point q:              |q−p|² / (2 n·(q−p))
//	edge with normal m:   h / (1 − n·m), h the height of p over the edge's line,
//	                      if the disc touches between the edge's ends
func (f *field) radius(e int32, t float64, p geom.Point, n geom.Vec, j int32) float64 {
	if j == e || j < 0 {
		return math.Inf(1)
	}
	a, b := &f.walls[e], &f.walls[j]
	if a.next == j || a.prev == j {
		if a.point || b.point {
			return math.Inf(1)
		}
		return f.neighbourRadius(a, b, t, a.next == j, a.prev == j)
	}
	dx, dy := p.X-b.a.X, p.Y-b.a.Y
	if b.point {
		h := -(float64(n.X*dx) + float64(n.Y*dy))
		if h <= 0 {
			return math.Inf(1)
		}
		return (float64(dx*dx) + float64(dy*dy)) / (2 * h)
	}
	if j == a.over || j == a.back { // edges on the two sides of a corner that juts in never share a disc
		return math.Inf(1)
	}
	h := float64(dx*b.n.X) + float64(dy*b.n.Y)
	if h < 0 {
		return math.Inf(1)
	}
	mx, my := n.X-b.n.X, n.Y-b.n.Y
	r := 2 * h / (float64(mx*mx) + float64(my*my)) // 1 − n·m = |n − m|²/2
	s := float64(dx*b.u.X) + float64(dy*b.u.Y) + float64(r*(float64(n.X*b.u.X)+float64(n.Y*b.u.Y)))
	if !(s >= -f.hair && s <= b.span+f.hair) {
		return math.Inf(1)
	}
	return r
}

// neighbourRadius is radius for edges that share a convex corner. A loop of
// two edges does not exist, but one of three has both neighbours in common.
func (f *field) neighbourRadius(a, b *wall, t float64, ahead, behind bool) float64 {
	r := math.Inf(1)
	if ahead {
		if s := a.span - t; s <= b.span+f.hair {
			r = s * a.cotAhead
		}
	}
	if behind && t <= b.span+f.hair {
		r = min(r, t*a.cotBehind)
	}
	return r
}
