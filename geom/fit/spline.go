package fit

import (
	"math"

	"tubewright/geom"
)

// span is one piece of a spline: its length in mm and signed curvature in
// 1/mm. A line has curvature 0 and keeps it.
type span struct {
	line bool
	l, k float64
}

// pose is a place and a heading in radians (not wrapped).
type pose struct {
	p geom.Point
	h float64
	d geom.Vec // unit vector of h
}

func newPose(p geom.Point, h float64) pose { return pose{p, h, geom.UnitAt(geom.Angle(h))} }

// spline is a chain of lines and arcs that meet and share directions by
// construction: everything follows from the start pose and the spans.
type spline struct {
	start pose
	spans []span
	at    []pose // the start of each span, and the end of the last: len(spans)+1
	ring  bool   // the end is the start
}

func (c *spline) clone() *spline {
	return &spline{c.start, append([]span(nil), c.spans...), append([]pose(nil), c.at...), c.ring}
}

// lay recomputes where each span starts.
func (c *spline) lay() {
	c.at = append(c.at[:0], c.start)
	c.start = newPose(c.start.p, c.start.h)
	c.at[0] = c.start
	q := c.start
	for _, s := range c.spans {
		q = s.along(q, s.l)
		c.at = append(c.at, q)
	}
}

// along returns the pose at distance t along the span that starts at q.
func (s span) along(q pose, t float64) pose {
	x, y := bow(float64(s.k*t), t)
	return newPose(q.p.Add(q.d.Mul(x)).Add(q.d.Left().Mul(y)), q.h+float64(s.k*t))
}

// reach returns the point and direction at distance t along the span that
// starts at q.
func (s span) reach(q pose, t float64) (geom.Point, geom.Vec) {
	if s.k == 0 {
		return q.p.Add(q.d.Mul(t)), q.d
	}
	a := s.k * t
	sin, cos := math.Sincos(a / 2)
	sinc := 1 - float64(a*a)/24
	if math.Abs(a) > 1e-4 {
		sinc = sin / (a / 2)
	}
	left := q.d.Left()
	chord := q.d.Mul(cos).Add(left.Mul(sin))
	d := q.d.Mul(1 - float64(2*sin*sin)).Add(left.Mul(2 * sin * cos))
	return q.p.Add(chord.Mul(t * sinc)), d
}

// bow returns the end of an arc of length t that turns by a, starting at the
// origin along x. Sines of the half angle keep their digits where a is small.
func bow(a, t float64) (x, y float64) {
	s, c := math.Sincos(a / 2)
	sinc := 1 - float64(a*a)/24
	if math.Abs(a) > 1e-4 {
		sinc = s / (a / 2)
	}
	return t * sinc * c, t * sinc * s
}

// bowByK returns the derivative of bow with respect to curvature, a = k·t.
func bowByK(a, t float64) (x, y float64) {
	t2 := t * t
	if math.Abs(a) < 1e-3 {
		return t2 * (-a / 3), t2 * (0.5 - float64(a*a)/8)
	}
	s, c := math.Sincos(a)
	return t2 * (float64(a*c) - s) / (a * a), t2 * (float64(a*s) - (1 - c)) / (a * a)
}

// length returns the developed length.
func (c *spline) length() float64 {
	var n float64
	for _, s := range c.spans {
		n += s.l
	}
	return n
}

// foot is where on the spline a sample is measured from.
type foot struct {
	i int     // span
	t float64 // distance along it
}

// track moves a foot to the place nearest q close to where it was, so that a
// sample stays on its own strand where two run side by side.
func (c *spline) track(f foot, q geom.Point) foot {
	last := len(c.spans) - 1
	for range len(c.spans) + 1 {
		t := c.spans[f.i].nearest(c.at[f.i], f.t, q)
		switch {
		case t < 0 && (f.i > 0 || c.ring):
			f.i = (f.i + last) % (last + 1)
			f.t = c.spans[f.i].l
			if back := c.spans[f.i].nearest(c.at[f.i], f.t, q); back >= f.t {
				return f // the joint itself
			}
		case t > c.spans[f.i].l && (f.i < last || c.ring):
			f.t = 0
			f.i = (f.i + 1) % (last + 1)
			if on := c.spans[f.i].nearest(c.at[f.i], 0, q); on <= 0 {
				return f
			}
		default:
			f.t = min(max(t, 0), c.spans[f.i].l)
			return f
		}
	}
	return f
}

// nearest returns the distance along the unbounded span of its point nearest
// to q, within half a turn of t.
func (s span) nearest(start pose, t float64, q geom.Point) float64 {
	at, d := s.reach(start, t)
	v := q.Sub(at)
	if s.k == 0 {
		return t + v.Dot(d)
	}
	// In the frame here: centre at (0, 1/k); turn = atan2 of what q sees.
	x, y := v.Dot(d), v.Dot(d.Left())
	turn := math.Atan2(float64(s.k*x), 1-float64(s.k*y))
	return t + turn/s.k
}

// path returns the spline as segments. Lines are laid between joints, arcs
// about their centres; both ends of each agree with the joints to rounding.
func (c *spline) path(closed bool) geom.Path {
	out := geom.Path{Closed: closed}
	for i, s := range c.spans {
		q := c.at[i]
		if s.k == 0 {
			out.Segments = append(out.Segments, geom.Line{A: q.p, B: c.at[i+1].p})
			continue
		}
		n := q.d.Left()
		out.Segments = append(out.Segments, geom.Arc{
			Centre: q.p.Add(n.Mul(1 / s.k)),
			Radius: math.Abs(1 / s.k),
			From:   n.Mul(-s.k).Heading(),
			Sweep:  geom.Angle(s.k * s.l),
		})
	}
	return out
}
