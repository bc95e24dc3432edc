package pattern

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// A strip is a stretch of a unit seen from above, on the bench: one smooth line
// in the plane with the same look from end to end. A strip ends where lit glass
// turns hidden and where the tube runs straight up or down, so that its plan
// turns back or takes another direction; there it has a round end.
type strip struct {
	unit   int
	dark   bool // hidden or leg
	path   geom.Path
	round  [2]bool // at its start, at its end
	pieces []int   // of the tube, one for each segment of path
}

// benchView maps the front frame to the drawing: mirrored.
func benchView() geom.SimilarityMap { return geom.SimilarityMap{Mirror: true, Scale: 1} }

func benchPoint(p geom.Point3) geom.Point { return geom.Point{X: -p.X, Y: p.Y} }

// smooth is the largest change of direction within a strip.
const smooth = 2 * geom.Degree

// stripsOf returns what is seen of a unit, in order of travel.
func stripsOf(index int, t tube.Tube) []strip {
	var out []strip
	open := false // whether the last strip may go on
	for i, p := range t {
		dark := p.Role != tube.Lit
		plans := planOf(p.Seg)
		for k, s := range plans {
			s = s.Map(benchView())
			n := len(out)
			flows := open && out[n-1].path.EndDir().TurnTo(s.DirAt(0)).Abs() < smooth
			if flows && out[n-1].dark == dark && !isVerticalAt(t, i, k) {
				out[n-1].path.Segments = append(out[n-1].path.Segments, s)
				out[n-1].pieces = append(out[n-1].pieces, i)
				continue
			}
			if n > 0 && !flows {
				out[n-1].round[1] = true
			}
			out = append(out, strip{unit: index, dark: dark, path: geom.Path{Segments: []geom.Segment{s}},
				round: [2]bool{!flows}, pieces: []int{i}})
			open = true
		}
		open = open && len(plans) > 0
	}
	if len(out) > 0 {
		out[len(out)-1].round[1] = true
	}
	return out
}

// cut returns the stretch of a strip between two distances along its path.
func (s strip) cut(a, b float64) strip {
	out := strip{unit: s.unit, dark: s.dark, path: s.path.Cut(a, b)}
	out.round = [2]bool{s.round[0] && a <= 0, s.round[1] && b >= s.path.Length()}
	return out
}

// find returns the distance along a strip of the place nearest to q on a piece of
// the tube, and false where the strip does not show the piece.
func (s strip) find(piece int, q geom.Point) (float64, bool) {
	at, found, best, pos := 0.0, false, math.Inf(1), 0.0
	for i, g := range s.path.Segments {
		if s.pieces[i] == piece {
			t := g.Nearest(q)
			if dist := g.PointAt(t).Dist(q); dist < best {
				at, best, found = pos+t, dist, true
			}
		}
		pos += g.Length()
	}
	return at, found
}

// isVerticalAt reports whether the tube is upright where piece i of its plan
// starts and it is the piece's own first part.
func isVerticalAt(t tube.Tube, i, part int) bool {
	return part == 0 && math.Abs(t[i].Seg.DirAt(0).Z) > 1-1e-9
}

// planOf returns a segment as seen from the front along z: a line for a line, an
// arc for an arc in a plane parallel to the face, a line there and back for an arc
// in an upright plane, else the ellipse as a chain of arcs. A part that is seen
// end on is left out.
func planOf(s geom.Segment3) []geom.Segment {
	const seen = 1e-6
	switch s := s.(type) {
	case geom.Line3:
		if s.A.Plan().Dist(s.B.Plan()) < seen {
			return nil
		}
		return []geom.Segment{geom.Line{A: s.A.Plan(), B: s.B.Plan()}}
	case geom.Arc3:
		switch tilt := math.Abs(s.Axis.Z); {
		case tilt > 1-1e-9:
			sweep := s.Angle
			if s.Axis.Z < 0 {
				sweep = -sweep
			}
			return []geom.Segment{geom.Arc{Centre: s.Centre.Plan(), Radius: s.Radius(), From: s.From.Plan().Heading(), Sweep: sweep}}
		case tilt < 1e-6:
			return uprightPlan(s)
		}
		return ellipsePlan(s)
	}
	panic("pattern: unknown segment")
}

// uprightPlan returns the plan of an arc in an upright plane: lines between the
// places where it stands upright and turns back.
func uprightPlan(a geom.Arc3) []geom.Segment {
	const seen = 1e-6
	cuts := []float64{0}
	// The plan turns back where From, turned, lies in the plane of the face.
	level := geom.Vec3{X: -a.Axis.Y, Y: a.Axis.X}.Unit()
	up := a.Axis.Cross(level)
	phase := math.Atan2(a.From.Dot(up), a.From.Dot(level))
	for k := -2; k <= 2; k++ {
		if turn := float64(k)*math.Pi - phase; turn > 1e-9 && turn < float64(a.Angle)-1e-9 {
			cuts = append(cuts, turn*a.Radius())
		}
	}
	cuts = append(cuts, a.Length())
	var out []geom.Segment
	for i := 1; i < len(cuts); i++ {
		l := geom.Line{A: a.PointAt(cuts[i-1]).Plan(), B: a.PointAt(cuts[i]).Plan()}
		if l.Length() > seen {
			out = append(out, l)
		}
	}
	return out
}

// ellipsePlan returns the plan of a tilted arc as pairs of arcs tangent to it
// every 5 degrees: off the ellipse by less than 0.01 mm for bends up to 100 mm.
func ellipsePlan(a geom.Arc3) []geom.Segment {
	n := max(1, int(math.Ceil(a.Angle.Degrees()/5)))
	flat := func(i int) (geom.Point3, geom.Vec3) {
		s := a.Length() * float64(i) / float64(n)
		return a.PointAt(s).Plan().At(0), a.DirAt(s).Plan().Unit().At(0)
	}
	var out []geom.Segment
	p, d := flat(0)
	for i := 1; i <= n; i++ {
		q, e := flat(i)
		for _, s := range tube.Biarc(p, d, q, e) {
			out = append(out, planOf(flattened(s))...)
		}
		p, d = q, e
	}
	return out
}

// flattened clears the last digits of z from an arc meant to lie in the plane.
func flattened(s geom.Segment3) geom.Segment3 {
	if a, ok := s.(geom.Arc3); ok {
		a.Axis = geom.Vec3{Z: math.Copysign(1, a.Axis.Z)}
		return a
	}
	return s
}

// A sample is a place on a unit's tube in the drawing.
type sample struct {
	p     geom.Point
	z     float64 // front frame: behind the face is negative
	at    float64 // developed distance
	unit  int
	piece int
	dark  bool
}

// samplesOf returns places along a unit at most step apart.
func samplesOf(index int, t tube.Tube, step float64) []sample {
	var out []sample
	at := 0.0
	for i, p := range t {
		n := max(1, int(math.Ceil(p.Seg.Length()/step)))
		for k := range n {
			s := p.Seg.Length() * float64(k) / float64(n)
			q := p.Seg.PointAt(s)
			out = append(out, sample{benchPoint(q), q.Z, at + s, index, i, p.Role != tube.Lit})
		}
		at += p.Seg.Length()
	}
	if len(t) > 0 {
		q := t.End()
		out = append(out, sample{benchPoint(q), q.Z, at, index, len(t) - 1, true})
	}
	return out
}

// A crossing is where two strands of the same look cross in plan, or a dark one
// crosses a lit one; the strand at Over is nearer the face.
type crossing struct {
	at          geom.Point
	under, over sample
	sine        float64 // of the angle between them
}

// crossingsOf finds them among the samples of all units.
func crossingsOf(all [][]sample, d float64) []crossing {
	type link struct{ a, b sample }
	var links []link
	grid := map[[2]int][]int{}
	cellOf := func(p geom.Point) [2]int { return [2]int{int(math.Floor(p.X / d)), int(math.Floor(p.Y / d))} }
	var out []crossing
	for _, ss := range all {
		for i := 1; i < len(ss); i++ {
			l := link{ss[i-1], ss[i]}
			c := cellOf(l.a.p)
			for x := c[0] - 1; x <= c[0]+1; x++ {
				for y := c[1] - 1; y <= c[1]+1; y++ {
					for _, k := range grid[[2]int{x, y}] {
						if m := links[k]; m.a.unit != l.a.unit || math.Abs(m.a.at-l.a.at) > 2*d {
							if cr, ok := meet(l.a, l.b, m.a, m.b, d); ok {
								out = append(out, cr)
							}
						}
					}
				}
			}
			grid[c] = append(grid[c], len(links))
			links = append(links, l)
		}
	}
	return out
}

// meet returns the crossing of two short links, if they cross at 10 degrees or
// more with at least a third of a tube between their depths.
func meet(a, b, c, e sample, d float64) (crossing, bool) {
	u, v := b.p.Sub(a.p), e.p.Sub(c.p)
	den := u.Cross(v)
	sine := math.Abs(den) / max(u.Norm()*v.Norm(), 1e-12)
	if sine < 0.17 {
		return crossing{}, false
	}
	s, t := c.p.Sub(a.p).Cross(v)/den, c.p.Sub(a.p).Cross(u)/den
	if s < 0 || s >= 1 || t < 0 || t >= 1 || math.Abs(a.z-c.z) < d/3 {
		return crossing{}, false
	}
	cr := crossing{at: a.p.Lerp(b.p, s), under: a, over: c, sine: sine}
	if a.z > c.z {
		cr.under, cr.over = c, a
	}
	return cr, true
}
