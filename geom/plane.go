package geom

import "math"

// Point is a place in the drawing plane, in mm.
type Point struct{ X, Y float64 }

// Vec is a displacement in the drawing plane, in mm, or a direction.
type Vec struct{ X, Y float64 }

func (p Point) Add(v Vec) Point      { return Point{p.X + v.X, p.Y + v.Y} }
func (p Point) Sub(q Point) Vec      { return Vec{p.X - q.X, p.Y - q.Y} }
func (p Point) Dist(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }
func (p Point) At(z float64) Point3  { return Point3{p.X, p.Y, z} }
func (p Point) Lerp(q Point, t float64) Point {
	return Point{p.X + float64(t*(q.X-p.X)), p.Y + float64(t*(q.Y-p.Y))}
}

// IsFinite reports whether neither coordinate is infinite or NaN.
func (p Point) IsFinite() bool { return isFinite(p.X) && isFinite(p.Y) }

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func (v Vec) Add(w Vec) Vec     { return Vec{v.X + w.X, v.Y + w.Y} }
func (v Vec) Sub(w Vec) Vec     { return Vec{v.X - w.X, v.Y - w.Y} }
func (v Vec) Mul(k float64) Vec { return Vec{v.X * k, v.Y * k} }
func (v Vec) Neg() Vec          { return Vec{-v.X, -v.Y} }
func (v Vec) Norm() float64     { return math.Hypot(v.X, v.Y) }
func (v Vec) Heading() Angle    { return Angle(math.Atan2(v.Y, v.X)) }
func (v Vec) At(z float64) Vec3 { return Vec3{v.X, v.Y, z} }

// Left returns v turned a quarter turn to the left (counter-clockwise).
func (v Vec) Left() Vec { return Vec{-v.Y, v.X} }

// Dot and Cross round each product before adding. Left alone, some machines
// fuse the two steps, Cross(v, w) stops being -Cross(w, v), and files differ
// from machine to machine.
func (v Vec) Dot(w Vec) float64   { return float64(v.X*w.X) + float64(v.Y*w.Y) }
func (v Vec) Cross(w Vec) float64 { return float64(v.X*w.Y) - float64(v.Y*w.X) }

// Unit returns v scaled to length 1, and the zero vector for zero.
func (v Vec) Unit() Vec {
	n := v.Norm()
	if n == 0 {
		return Vec{}
	}
	return Vec{v.X / n, v.Y / n}
}

// Turned returns v turned counter-clockwise by a.
func (v Vec) Turned(a Angle) Vec {
	s, c := math.Sincos(float64(a))
	return Vec{float64(v.X*c) - float64(v.Y*s), float64(v.X*s) + float64(v.Y*c)}
}

// TurnTo returns the signed turn from v to w in (-π, π], left positive.
func (v Vec) TurnTo(w Vec) Angle { return Angle(math.Atan2(v.Cross(w), v.Dot(w))) }

// UnitAt returns the unit vector with heading a.
func UnitAt(a Angle) Vec {
	s, c := math.Sincos(float64(a))
	return Vec{c, s}
}

// Rect is an axis-parallel box; the zero value from EmptyRect holds nothing.
type Rect struct{ Min, Max Point }

// EmptyRect returns the box that holds no point; adding a point makes it that point.
func EmptyRect() Rect {
	inf := math.Inf(1)
	return Rect{Point{inf, inf}, Point{-inf, -inf}}
}

func (r Rect) IsEmpty() bool   { return r.Min.X > r.Max.X || r.Min.Y > r.Max.Y }
func (r Rect) Width() float64  { return max(0, r.Max.X-r.Min.X) }
func (r Rect) Height() float64 { return max(0, r.Max.Y-r.Min.Y) }
func (r Rect) Centre() Point   { return r.Min.Lerp(r.Max, 0.5) }

// Including returns the least box that holds r and p.
func (r Rect) Including(p Point) Rect {
	return Rect{
		Point{min(r.Min.X, p.X), min(r.Min.Y, p.Y)},
		Point{max(r.Max.X, p.X), max(r.Max.Y, p.Y)},
	}
}

// Union returns the least box that holds both.
func (r Rect) Union(s Rect) Rect {
	if s.IsEmpty() {
		return r
	}
	return r.Including(s.Min).Including(s.Max)
}

// Grown returns the box grown by d on every side.
func (r Rect) Grown(d float64) Rect {
	return Rect{Point{r.Min.X - d, r.Min.Y - d}, Point{r.Max.X + d, r.Max.Y + d}}
}

// Overlaps reports whether the closed boxes share a point.
func (r Rect) Overlaps(s Rect) bool {
	return r.Min.X <= s.Max.X && s.Min.X <= r.Max.X && r.Min.Y <= s.Max.Y && s.Min.Y <= r.Max.Y
}

// Contains reports whether the closed box holds p.
func (r Rect) Contains(p Point) bool {
	return r.Min.X <= p.X && p.X <= r.Max.X && r.Min.Y <= p.Y && p.Y <= r.Max.Y
}

// Affine is the map (x, y) → (XX·x + XY·y + X0, YX·x + YY·y + Y0).
type Affine struct{ XX, XY, X0, YX, YY, Y0 float64 }

// Identity maps every point to itself.
func Identity() Affine { return Affine{XX: 1, YY: 1} }

// Scaling multiplies both coordinates by k and then moves by d.
func Scaling(k float64, d Vec) Affine { return Affine{XX: k, X0: d.X, YY: k, Y0: d.Y} }

// Apply maps a point.
func (m Affine) Apply(p Point) Point {
	return Point{
		float64(m.XX*p.X) + float64(m.XY*p.Y) + m.X0,
		float64(m.YX*p.X) + float64(m.YY*p.Y) + m.Y0,
	}
}
