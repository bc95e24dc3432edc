package fit

import (
	"math"

	"tubewright/geom"
)

// fitter holds one call of Curve.
type fitter struct {
	pts []geom.Point // closed: the first repeated at the end
	opt Options
}

// growth is how much the band widens when MinRadius forbids holding it.
const growth = 2

// run returns the path and its deviation.
func (f *fitter) run() (geom.Path, float64) {
	p, ok := f.whole()
	if !ok {
		var dev float64
		if p, dev, ok = f.smooth(); ok {
			return p, dev
		}
		p = f.cornered()
	}
	return p, deviation(f.pts, p, f.opt.Tol)
}

// cornered fits what smooth cannot: sharp turns back, and a least radius that
// the band does not allow.
func (f *fitter) cornered() geom.Path {
	if f.opt.MinRadius == 0 {
		// The samples can be within the band where the path between two of
		// them is not, so a smaller band and tighter arcs are tried as well.
		for _, share := range [3]float64{1, 0.7, 0.4} {
			p, ok := f.attempt(share*f.opt.Tol, 1/(share*share*share*f.opt.Tol))
			if ok && deviation(f.pts, p, f.opt.Tol) <= f.opt.Tol {
				return p
			}
		}
		return rounded(f.pts, f.opt)
	}
	box := geom.EmptyRect()
	for _, p := range f.pts {
		box = box.Including(p)
	}
	limit := math.Hypot(box.Width(), box.Height()) + 2*f.opt.MinRadius
	for tol := f.opt.Tol; tol < limit; tol *= growth {
		p, ok := f.attempt(tol, 1/f.opt.MinRadius)
		if ok && deviation(f.pts, p, tol) <= growth*tol {
			return p
		}
	}
	return f.last()
}

// whole answers the cases of one piece that need no search: a straight line,
// and a full circle.
func (f *fitter) whole() (geom.Path, bool) {
	n := len(f.pts)
	if !f.opt.Closed {
		l := geom.Line{A: f.pts[0], B: f.pts[n-1]}
		if l.Length() == 0 || !along(f.opt.StartDir, l) || !along(f.opt.EndDir, l) {
			return geom.Path{}, false
		}
		return geom.Path{Segments: []geom.Segment{l}}, f.inOrderOn(l)
	}
	m := moments{o: f.pts[0]}
	for i, p := range f.pts[1:] {
		m.add(p, p.Dist(f.pts[i]))
	}
	c, ok := m.circle()
	if !ok || c.a == 0 || math.Abs(1/(2*c.a)) < f.opt.MinRadius {
		return geom.Path{}, false
	}
	centre := c.o.Add(c.b.Mul(-1 / (2 * c.a)))
	turns := 0.0 // about the centre: noise cannot upset it as it does the turns at vertices
	for i, p := range f.pts[1:] {
		turns += float64(f.pts[i].Sub(centre).TurnTo(p.Sub(centre)))
	}
	if math.Abs(math.Abs(turns)-2*math.Pi) > 1e-6 {
		return geom.Path{}, false
	}
	for _, p := range f.pts {
		if math.Abs(p.Dist(centre)-math.Abs(1/(2*c.a))) > f.opt.Tol {
			return geom.Path{}, false
		}
	}
	p := geom.Path{Closed: true, Segments: []geom.Segment{geom.Arc{
		Centre: centre, Radius: math.Abs(1 / (2 * c.a)),
		From: f.pts[0].Sub(centre).Heading(), Sweep: geom.Angle(turns),
	}}}
	return p, deviation(f.pts, p, f.opt.Tol) <= f.opt.Tol
}

// inOrderOn reports whether the points lie on the line, one after the other.
func (f *fitter) inOrderOn(l geom.Line) bool {
	n := l.Length()
	d := l.B.Sub(l.A).Unit()
	last := 0.0
	for _, p := range f.pts {
		v := p.Sub(l.A)
		at := v.Dot(d)
		if math.Abs(d.Cross(v)) > 1e-9*n || at < last-1e-9*n {
			return false
		}
		last = at
	}
	return true
}

// along reports whether direction d, if given, is that of the line.
func along(d geom.Vec, l geom.Line) bool {
	return d == (geom.Vec{}) || d.TurnTo(l.B.Sub(l.A)).Abs() < 1e-9
}

// totalTurn returns the sum of the turns at the vertices, in radians.
func totalTurn(pts []geom.Point, closed bool) float64 {
	var sum float64
	for i := 1; i+1 < len(pts); i++ {
		sum += float64(pts[i].Sub(pts[i-1]).TurnTo(pts[i+1].Sub(pts[i])))
	}
	if closed {
		n := len(pts)
		sum += float64(pts[n-1].Sub(pts[n-2]).TurnTo(pts[1].Sub(pts[0])))
	}
	return sum
}

// pieces returns samples and structure, with stations enough for the pieces
// they turn out to need.
func (f *fitter) pieces(pts []geom.Point, tol float64) ([]sample, []piece) {
	for limit := maxStations; ; limit *= 2 {
		sm := sampled(pts, tol, maxSamples*limit/maxStations)
		list := structure(sm, tol, limit)
		if len(list) > 0 && (len(list) <= limit/8 || len(sm) <= limit) {
			return sm, list
		}
	}
}

// attempt fits within tol and curvature kmax.
func (f *fitter) attempt(tol, kmax float64) (geom.Path, bool) {
	pts := f.pts
	sm, list := f.pieces(pts, tol)
	if f.opt.Closed {
		// Start where two pieces part: a start inside one would cut it in two.
		// The parts of a long curve meet inside one, so there it is the reverse.
		p := list[len(list)/2]
		at := p.from
		if len(list) > maxPieces {
			at = (p.from + p.to) / 2
		}
		pts = rotated(pts, sm[at].p)
		sm, list = f.pieces(pts, tol)
	}
	if len(list) > maxPieces {
		t, ok := f.long(sm, list, tol, kmax)
		if !ok {
			return geom.Path{}, false
		}
		return t.c.path(f.opt.Closed), true
	}
	r := &refiner{sm: sm, tol: tol, work: workFor(len(pts)), bounded: f.opt.MinRadius > 0}
	t, ok := r.search(sm, list, func(list []piece) *spline {
		c := initial(sm, list, tol, kmax)
		c.ring = f.opt.Closed
		r.target = f.target(c, kmax)
		return c
	})
	if !ok {
		return geom.Path{}, false
	}
	return r.polish(t, finalRounds).path(f.opt.Closed), true
}

// closingTurn returns the total turn of a closed curve, a multiple of 2π, from
// the spline first laid along it: single vertices may be noise.
func closingTurn(c *spline) float64 {
	h := c.at[len(c.spans)].h
	gap := float64(geom.UnitAt(geom.Angle(h)).TurnTo(geom.UnitAt(geom.Angle(c.start.h))))
	return 2 * math.Pi * math.Round((h+gap-c.start.h)/(2*math.Pi))
}

// target returns the exact conditions, headings counted on from the start of c
// (which is turned to StartDir if that is given).
func (f *fitter) target(c *spline, kmax float64) target {
	t := target{closed: f.opt.Closed, kmax: kmax}
	if f.opt.Closed {
		t.turns = closingTurn(c)
		return t
	}
	t.end.p = f.pts[len(f.pts)-1]
	if d := f.opt.StartDir; d != (geom.Vec{}) {
		t.fixStart = true
		c.start.h += float64(geom.UnitAt(geom.Angle(c.start.h)).TurnTo(d))
	}
	c.lay()
	if d := f.opt.EndDir; d != (geom.Vec{}) {
		t.fixEnd = true
		h := c.at[len(c.spans)].h
		t.end.h = h + float64(geom.UnitAt(geom.Angle(h)).TurnTo(d))
	}
	return t
}

// rotated returns the closed polyline started at its vertex nearest to p.
func rotated(pts []geom.Point, p geom.Point) []geom.Point {
	best := 0
	for i := range pts[:len(pts)-1] {
		if pts[i].Dist(p) < pts[best].Dist(p) {
			best = i
		}
	}
	ring := pts[:len(pts)-1]
	out := append(append([]geom.Point(nil), ring[best:]...), ring[:best]...)
	return append(out, out[0])
}
