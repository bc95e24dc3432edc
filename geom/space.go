package geom

import "math"

// Point3 is a place in the finished sign, in mm.
type Point3 struct{ X, Y, Z float64 }

// Vec3 is a displacement or direction in space.
type Vec3 struct{ X, Y, Z float64 }

func (p Point3) Add(v Vec3) Point3               { return Point3{p.X + v.X, p.Y + v.Y, p.Z + v.Z} }
func (p Point3) Sub(q Point3) Vec3               { return Vec3{p.X - q.X, p.Y - q.Y, p.Z - q.Z} }
func (p Point3) Dist(q Point3) float64           { return p.Sub(q).Norm() }
func (p Point3) Plan() Point                     { return Point{p.X, p.Y} }
func (p Point3) Lerp(q Point3, t float64) Point3 { return p.Add(q.Sub(p).Mul(t)) }

func (v Vec3) Add(w Vec3) Vec3    { return Vec3{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }
func (v Vec3) Sub(w Vec3) Vec3    { return Vec3{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }
func (v Vec3) Mul(k float64) Vec3 { return Vec3{float64(v.X * k), float64(v.Y * k), float64(v.Z * k)} }
func (v Vec3) Neg() Vec3          { return Vec3{-v.X, -v.Y, -v.Z} }
func (v Vec3) Plan() Vec          { return Vec{v.X, v.Y} }
func (v Vec3) Norm() float64      { return math.Sqrt(v.Dot(v)) }
func (v Vec3) Dot(w Vec3) float64 {
	return float64(v.X*w.X) + float64(v.Y*w.Y) + float64(v.Z*w.Z)
}
func (v Vec3) Cross(w Vec3) Vec3 {
	return Vec3{
		float64(v.Y*w.Z) - float64(v.Z*w.Y),
		float64(v.Z*w.X) - float64(v.X*w.Z),
		float64(v.X*w.Y) - float64(v.Y*w.X),
	}
}

// Unit returns v scaled to length 1, and the zero vector for zero.
func (v Vec3) Unit() Vec3 {
	n := v.Norm()
	if n == 0 {
		return Vec3{}
	}
	return Vec3{v.X / n, v.Y / n, v.Z / n}
}

// Turned returns v turned by a about the unit axis, right-handed (Rodrigues).
func (v Vec3) Turned(axis Vec3, a Angle) Vec3 {
	s, c := math.Sincos(float64(a))
	return v.Mul(c).Add(axis.Cross(v).Mul(s)).Add(axis.Mul(axis.Dot(v) * (1 - c)))
}

// AngleTo returns the angle between v and w in [0, π], good at both ends of
// the range (atan2 of cross and dot, never acos alone).
func (v Vec3) AngleTo(w Vec3) Angle { return Angle(math.Atan2(v.Cross(w).Norm(), v.Dot(w))) }

// Segment3 is one piece of a tube's centreline: a Line3 or an Arc3, nothing else.
type Segment3 interface {
	Length() float64
	Start() Point3
	End() Point3
	PointAt(s float64) Point3
	DirAt(s float64) Vec3
	Reversed() Segment3
	Cut(a, b float64) Segment3
	segment3()
}

// Line3 is the straight piece from A to B.
type Line3 struct{ A, B Point3 }

func (l Line3) segment3()          {}
func (l Line3) Length() float64    { return l.A.Dist(l.B) }
func (l Line3) Start() Point3      { return l.A }
func (l Line3) End() Point3        { return l.B }
func (l Line3) DirAt(float64) Vec3 { return l.B.Sub(l.A).Unit() }
func (l Line3) Reversed() Segment3 { return Line3{l.B, l.A} }
func (l Line3) PointAt(s float64) Point3 {
	if n := l.Length(); n > 0 {
		return l.A.Lerp(l.B, s/n)
	}
	return l.A
}
func (l Line3) Cut(a, b float64) Segment3 { return Line3{l.PointAt(a), l.PointAt(b)} }

// Arc3 is a circular bend. Travel starts at From and is counter-clockwise
// about Axis, the unit normal of its plane, by Angle in (0, 2π].
type Arc3 struct {
	Centre Point3
	Axis   Vec3
	From   Vec3 // from Centre to the first point; its length is the radius
	Angle  Angle
}

func (a Arc3) segment3()       {}
func (a Arc3) Radius() float64 { return a.From.Norm() }
func (a Arc3) Length() float64 { return a.Radius() * float64(a.Angle) }
func (a Arc3) Start() Point3   { return a.Centre.Add(a.From) }
func (a Arc3) End() Point3     { return a.Centre.Add(a.From.Turned(a.Axis, a.Angle)) }
func (a Arc3) PointAt(s float64) Point3 {
	return a.Centre.Add(a.From.Turned(a.Axis, Angle(s/a.Radius())))
}
func (a Arc3) DirAt(s float64) Vec3 {
	return a.Axis.Cross(a.From.Turned(a.Axis, Angle(s/a.Radius()))).Unit()
}
func (a Arc3) Reversed() Segment3 {
	return Arc3{a.Centre, a.Axis.Neg(), a.From.Turned(a.Axis, a.Angle), a.Angle}
}
func (a Arc3) Cut(s, t float64) Segment3 {
	r := a.Radius()
	return Arc3{a.Centre, a.Axis, a.From.Turned(a.Axis, Angle(s/r)), Angle((t - s) / r)}
}

// ArcThrough3 returns the segment from p to q that leaves p in direction d:
// an Arc3, or a Line3 where q lies straight ahead. It panics if p and q are
// the same point.
func ArcThrough3(p Point3, d Vec3, q Point3) Segment3 {
	chord := q.Sub(p)
	n := chord.Norm()
	if n == 0 {
		panic("geom: ArcThrough3 of one point")
	}
	half := d.AngleTo(chord)
	if half < nearlyStraight {
		return Line3{p, q}
	}
	axis := d.Cross(chord).Unit()
	r := n / (2 * math.Sin(float64(half)))
	from := axis.Cross(d.Unit()).Mul(-r)
	return Arc3{p.Add(from.Neg()), axis, from, 2 * half}
}

// Raised returns the plane segment lifted to height z.
func Raised(s Segment, z float64) Segment3 {
	switch s := s.(type) {
	case Line:
		return Line3{s.A.At(z), s.B.At(z)}
	case Arc:
		axis := Vec3{0, 0, 1}
		if s.Sweep < 0 {
			axis.Z = -1
		}
		return Arc3{s.Centre.At(z), axis, s.Start().Sub(s.Centre).At(0), s.Sweep.Abs()}
	}
	panic("geom: unknown segment")
}
