package geom

import "math"

// Segment is one piece of a stroke: a Line or an Arc, nothing else.
// Distances along it run from 0 at its start to Length() at its end.
type Segment interface {
	Length() float64
	Start() Point
	End() Point
	// PointAt returns the point at distance s from the start.
	PointAt(s float64) Point
	// DirAt returns the unit direction of travel at distance s.
	DirAt(s float64) Vec
	// Curvature is signed, left positive; 0 for a line.
	Curvature() float64
	Reversed() Segment
	// Cut returns the piece between distances a < b.
	Cut(a, b float64) Segment
	// Nearest returns the distance along the segment of its point nearest to p.
	Nearest(p Point) float64
	Map(f SimilarityMap) Segment
	segment()
}

// SimilarityMap turns, scales and moves; with Mirror, x is negated first.
type SimilarityMap struct {
	Mirror bool
	Scale  float64
	Turn   Angle
	Move   Vec
}

// Apply maps a point.
func (m SimilarityMap) Apply(p Point) Point {
	v := Vec(p)
	if m.Mirror {
		v.X = -v.X
	}
	return Point{}.Add(v.Mul(m.Scale).Turned(m.Turn)).Add(m.Move)
}

// Line is the straight piece from A to B.
type Line struct{ A, B Point }

func (l Line) segment()           {}
func (l Line) Length() float64    { return l.A.Dist(l.B) }
func (l Line) Start() Point       { return l.A }
func (l Line) End() Point         { return l.B }
func (l Line) DirAt(float64) Vec  { return l.B.Sub(l.A).Unit() }
func (l Line) Curvature() float64 { return 0 }
func (l Line) Reversed() Segment  { return Line{l.B, l.A} }
func (l Line) PointAt(s float64) Point {
	if n := l.Length(); n > 0 {
		return l.A.Lerp(l.B, s/n)
	}
	return l.A
}

func (l Line) Cut(a, b float64) Segment { return Line{l.PointAt(a), l.PointAt(b)} }

func (l Line) Nearest(p Point) float64 {
	n := l.Length()
	if n == 0 {
		return 0
	}
	return clamp(p.Sub(l.A).Dot(l.B.Sub(l.A))/n, 0, n)
}

func (l Line) Map(f SimilarityMap) Segment { return Line{f.Apply(l.A), f.Apply(l.B)} }

// Arc is a piece of a circle.
//
//	    ,-- Sweep > 0 --.      From    heading from Centre to the first point
//	  ,'       |         `.
//	 /      Radius         \   Sweep   signed turn, left positive; its size
//	|          +            |          is the degree of bend
//	         Centre            Radius  centreline radius (CLR)
//
// A valid arc has Radius > 0 and 0 < |Sweep| ≤ 2π.
type Arc struct {
	Centre Point
	Radius float64
	From   Angle
	Sweep  Angle
}

func (a Arc) segment() {}

// Length returns the developed length Radius·|Sweep|, exact but for rounding.
func (a Arc) Length() float64 { return a.Radius * float64(a.Sweep.Abs()) }
func (a Arc) Start() Point    { return a.at(0) }
func (a Arc) End() Point      { return a.at(a.Sweep) }
func (a Arc) at(turn Angle) Point {
	return a.Centre.Add(UnitAt(a.From + turn).Mul(a.Radius))
}
func (a Arc) turnAt(s float64) Angle {
	return Angle(math.Copysign(s/a.Radius, float64(a.Sweep)))
}
func (a Arc) PointAt(s float64) Point { return a.at(a.turnAt(s)) }
func (a Arc) DirAt(s float64) Vec {
	d := UnitAt(a.From + a.turnAt(s)).Left()
	if a.Sweep < 0 {
		return d.Neg()
	}
	return d
}
func (a Arc) Curvature() float64 { return math.Copysign(1/a.Radius, float64(a.Sweep)) }
func (a Arc) Reversed() Segment {
	return Arc{a.Centre, a.Radius, a.From + a.Sweep, -a.Sweep}
}
func (a Arc) Cut(s, t float64) Segment {
	return Arc{a.Centre, a.Radius, a.From + a.turnAt(s), a.turnAt(t) - a.turnAt(s)}
}
func (a Arc) Nearest(p Point) float64 {
	v := p.Sub(a.Centre)
	if v.Norm() == 0 {
		return 0
	}
	turn := float64(v.Heading() - a.From)
	if a.Sweep < 0 {
		turn = -turn
	}
	turn = math.Mod(turn, 2*math.Pi)
	if turn < 0 {
		turn += 2 * math.Pi
	}
	if turn <= float64(a.Sweep.Abs()) {
		return turn * a.Radius
	}
	if p.Dist(a.Start()) <= p.Dist(a.End()) {
		return 0
	}
	return a.Length()
}
func (a Arc) Map(f SimilarityMap) Segment {
	from, sweep := a.From, a.Sweep
	if f.Mirror {
		from, sweep = math.Pi-from, -sweep
	}
	return Arc{f.Apply(a.Centre), a.Radius * f.Scale, from + f.Turn, sweep}
}

// nearlyStraight is the half turn, in radians, under which an arc is a line: on
// a metre of glass it bulges by less than a micrometre, and a circle of its
// radius could not be told from one a little larger in floating point.
const nearlyStraight = 1e-6

// ArcThrough returns the segment from p to q that leaves p in direction d:
// an Arc, or a Line where q lies straight ahead. It is the circle tangent to d
// at p through q. It panics if p and q are the same point.
func ArcThrough(p Point, d Vec, q Point) Segment {
	chord := q.Sub(p)
	n := chord.Norm()
	if n == 0 {
		panic("geom: ArcThrough of one point")
	}
	half := d.TurnTo(chord)
	if half.Abs() < nearlyStraight {
		return Line{p, q}
	}
	r := n / (2 * math.Sin(float64(half.Abs())))
	side := d.Unit().Left()
	if half < 0 {
		side = side.Neg()
	}
	c := p.Add(side.Mul(r))
	return Arc{c, r, p.Sub(c).Heading(), 2 * half}
}

// Path is a chain of segments, each starting where the one before it ends.
// A closed path ends where it starts. The zero value is an empty path.
type Path struct {
	Segments []Segment
	Closed   bool
}

// Length returns the developed length.
func (p Path) Length() float64 {
	var n float64
	for _, s := range p.Segments {
		n += s.Length()
	}
	return n
}

func (p Path) Start() Point  { return p.Segments[0].Start() }
func (p Path) End() Point    { return p.Segments[len(p.Segments)-1].End() }
func (p Path) StartDir() Vec { return p.Segments[0].DirAt(0) }
func (p Path) EndDir() Vec   { s := p.Segments[len(p.Segments)-1]; return s.DirAt(s.Length()) }

// locate returns the segment that holds distance s, and the distance within it.
func (p Path) locate(s float64) (Segment, float64) {
	for i, g := range p.Segments {
		n := g.Length()
		if s <= n || i == len(p.Segments)-1 {
			return g, clamp(s, 0, n)
		}
		s -= n
	}
	panic("geom: empty path")
}

// PointAt returns the point at distance s from the start, clamped to the path.
func (p Path) PointAt(s float64) Point { g, t := p.locate(s); return g.PointAt(t) }

// DirAt returns the unit direction of travel at distance s, clamped to the path.
func (p Path) DirAt(s float64) Vec { g, t := p.locate(s); return g.DirAt(t) }

// Reversed returns the path travelled the other way.
func (p Path) Reversed() Path {
	out := Path{Segments: make([]Segment, len(p.Segments)), Closed: p.Closed}
	for i, s := range p.Segments {
		out.Segments[len(p.Segments)-1-i] = s.Reversed()
	}
	return out
}

// Cut returns the open piece between distances a < b. Pieces shorter than
// 1e-9 mm at either end are dropped.
func (p Path) Cut(a, b float64) Path {
	var out Path
	at := 0.0
	for _, g := range p.Segments {
		n := g.Length()
		lo, hi := max(a-at, 0), min(b-at, n)
		if hi-lo > 1e-9 {
			if lo == 0 && hi == n {
				out.Segments = append(out.Segments, g)
			} else {
				out.Segments = append(out.Segments, g.Cut(lo, hi))
			}
		}
		at += n
	}
	return out
}

// Nearest returns the distance along the path of its point nearest to q, and
// how far away that point is.
func (p Path) Nearest(q Point) (s, dist float64) {
	dist = math.Inf(1)
	at := 0.0
	for _, g := range p.Segments {
		t := g.Nearest(q)
		if d := g.PointAt(t).Dist(q); d < dist {
			s, dist = at+t, d
		}
		at += g.Length()
	}
	return s, dist
}

// Map returns the path under a similarity.
func (p Path) Map(f SimilarityMap) Path {
	out := Path{Segments: make([]Segment, len(p.Segments)), Closed: p.Closed}
	for i, s := range p.Segments {
		out.Segments[i] = s.Map(f)
	}
	return out
}

// Bounds returns the exact box of the path.
func (p Path) Bounds() Rect {
	r := EmptyRect()
	for _, g := range p.Segments {
		r = r.Including(g.Start()).Including(g.End())
		a, ok := g.(Arc)
		if !ok {
			continue
		}
		for k := range 4 { // the four extremes of the circle, where the arc reaches them
			q := a.at(Angle(k)*math.Pi/2 - a.From)
			if a.PointAt(a.Nearest(q)).Dist(q) < 1e-9*a.Radius {
				r = r.Including(q)
			}
		}
	}
	return r
}

// Samples returns points along the path at most step apart, both ends included.
func (p Path) Samples(step float64) []Point {
	var out []Point
	for i, g := range p.Segments {
		n := max(1, int(math.Ceil(g.Length()/step)))
		if i == 0 {
			out = append(out, g.Start())
		}
		for k := 1; k <= n; k++ {
			out = append(out, g.PointAt(g.Length()*float64(k)/float64(n)))
		}
	}
	return out
}

func clamp(v, lo, hi float64) float64 { return min(max(v, lo), hi) }
