package tube

import (
	"math"

	"tubewright/geom"
)

// Dip takes a lit run behind another strand: flat at Depth behind the face
// for Flat/2 on each side of At, with an S-ramp of two equal arcs over Run on
// each side (recipes 4 and 8 of the geometry notes: in profile the radius is
// Depth·(1 + (Run/Depth)²)/4).
type Dip struct {
	At               float64 // distance along the path
	Depth, Run, Flat float64
}

// Half returns the plan length from the middle of the dip to where it is back
// in the face.
func (d Dip) Half() float64 { return d.Flat/2 + d.Run }

// ProfileRadius is the radius of the ramp's arcs as seen from the side.
func (d Dip) ProfileRadius() float64 {
	q := d.Run / d.Depth
	return d.Depth * (1 + float64(q*q)) / 4
}

// Height returns z and dz/ds at distance u from the middle of the dip.
func (d Dip) Height(u float64) (z, slope float64) {
	side := 1.0
	if u < 0 {
		side, u = -1, -u
	}
	u -= d.Flat / 2
	r := d.ProfileRadius()
	switch {
	case u <= 0:
		return -d.Depth, 0
	case u >= d.Run:
		return 0, 0
	case u <= d.Run/2:
		root := math.Sqrt(float64(r*r) - float64(u*u))
		return -d.Depth + (r - root), side * u / root
	default:
		w := d.Run - u
		root := math.Sqrt(float64(r*r) - float64(w*w))
		return -(r - root), side * w / root
	}
}

// Lift returns the run over the plane path p with the dips taken, in the
// front frame at z = 0 elsewhere. Dips must lie within the path and not
// overlap; they are given in order. On straight glass a ramp is exactly two
// arcs; on a curve it is a chain of biarcs through points of the true curve.
func Lift(p geom.Path, dips []Dip) []geom.Segment3 {
	var out []geom.Segment3
	at := 0.0
	for _, d := range dips {
		out = append(out, raised(p.Cut(at, d.At-d.Half()), 0)...)
		out = append(out, ramp(p, d, d.At-d.Half(), d.At-d.Flat/2)...)
		if d.Flat > shortest {
			out = append(out, raised(p.Cut(d.At-d.Flat/2, d.At+d.Flat/2), -d.Depth)...)
		}
		out = append(out, ramp(p, d, d.At+d.Flat/2, d.At+d.Half())...)
		at = d.At + d.Half()
	}
	return append(out, raised(p.Cut(at, p.Length()), 0)...)
}

// Sink returns the run over the whole plane path p as one S-ramp from the face
// at its start to depth behind the face at its end.
func Sink(p geom.Path, depth float64) []geom.Segment3 {
	n := p.Length()
	return ramp(p, Dip{At: n, Depth: depth, Run: n}, 0, n)
}

func raised(p geom.Path, z float64) []geom.Segment3 {
	out := make([]geom.Segment3, len(p.Segments))
	for i, s := range p.Segments {
		out[i] = geom.Raised(s, z)
	}
	return out
}

// rampTol is how far, in mm, a ramp over a curve may leave the true curve.
const rampTol = 0.25

// ramp returns the piece of the dip between distances a and b along the path.
func ramp(p geom.Path, d Dip, a, b float64) []geom.Segment3 {
	plan := p.Cut(a, b)
	if len(plan.Segments) == 1 && plan.Segments[0].Curvature() == 0 {
		return rampPiece(p, d, [2]float64{a, b}, 0)
	}
	mid := (a + b) / 2 // the ramp's two halves bend opposite ways
	return append(rampPiece(p, d, [2]float64{a, mid}, 3), rampPiece(p, d, [2]float64{mid, b}, 3)...)
}

// rampPiece joins two places on the ramp by a biarc, or by more, up to 2^depth,
// where one leaves the true curve.
func rampPiece(p geom.Path, d Dip, at [2]float64, depth int) []geom.Segment3 {
	p0, d0 := lifted(p, d, at[0])
	p1, d1 := lifted(p, d, at[1])
	segs := Biarc(p0, d0, p1, d1)
	if depth == 0 {
		return segs
	}
	off := 0.0
	for _, s := range segs {
		for _, f := range [2]float64{0.5, 1} {
			q := s.PointAt(f * s.Length())
			_, dist := p.Nearest(q.Plan())
			off = max(off, dist)
		}
	}
	if off <= rampTol {
		return segs
	}
	mid := (at[0] + at[1]) / 2
	return append(rampPiece(p, d, [2]float64{at[0], mid}, depth-1), rampPiece(p, d, [2]float64{mid, at[1]}, depth-1)...)
}

func lifted(p geom.Path, d Dip, s float64) (geom.Point3, geom.Vec3) {
	z, slope := d.Height(s - d.At)
	return p.PointAt(s).At(z), p.DirAt(s).At(slope).Unit()
}
