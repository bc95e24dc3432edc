package tube

import (
	"fmt"
	"math"

	"tubewright/geom"
)

// Vertex is a corner of a control polygon, rounded with radius R; the first
// and last vertex of a polygon are its ends and their R is not read.
type Vertex struct {
	P geom.Point3
	R float64
}

// TightError says that a polygon's edge is too short for the two corners it joins.
type TightError struct {
	Edge      int // from vertex Edge to vertex Edge+1
	Have, Lag float64
}

func (e *TightError) Error() string {
	return fmt.Sprintf("edge %d of %.3f mm is %.3f mm too short for its bends", e.Edge, e.Have, e.Lag)
}

// shortest is the length under which a line between two arcs is left out, mm.
const shortest = 1e-9

// Fillet rounds the corners of a control polygon:
//
//	t = atan2(|a × b|, a·b), tangent length T = R tan(t/2)
//
// with a, b the directions before and after the corner. An edge must hold the
// tangent lengths of both its corners. A turn of 180 degrees is no vertex: it is
// two of 90 degrees. The result runs from the first vertex to the last, lines
// and arcs tangent to each other.
func Fillet(vs []Vertex) ([]geom.Segment3, error) {
	n := len(vs)
	tan := make([]float64, n)
	for i := 1; i+1 < n; i++ {
		a, b := vs[i].P.Sub(vs[i-1].P).Unit(), vs[i+1].P.Sub(vs[i].P).Unit()
		tan[i] = vs[i].R * math.Tan(float64(a.AngleTo(b))/2)
	}
	var out []geom.Segment3
	from := vs[0].P
	for i := 0; i+1 < n; i++ {
		edge := vs[i+1].P.Sub(vs[i].P)
		have, d := edge.Norm(), edge.Unit()
		if lag := tan[i] + tan[i+1] - have; lag > 1e-7 {
			return nil, &TightError{i, have, lag}
		}
		to := vs[i+1].P.Add(d.Mul(-tan[i+1]))
		if from.Dist(to) > shortest && to.Sub(from).Dot(d) > 0 {
			out = append(out, geom.Line3{A: from, B: to})
		} else {
			to = from
		}
		from = to
		if i+2 < n && tan[i+1] > shortest {
			arc := cornerArc(from, d, vs[i+2].P.Sub(vs[i+1].P).Unit(), vs[i+1].R)
			out = append(out, arc)
			from = arc.End()
		}
	}
	return out, nil
}

// cornerArc turns from direction a to direction b with radius r, from p.
func cornerArc(p geom.Point3, a, b geom.Vec3, r float64) geom.Arc3 {
	axis := a.Cross(b).Unit()
	toCentre := axis.Cross(a).Mul(r)
	return geom.Arc3{Centre: p.Add(toCentre), Axis: axis, From: toCentre.Neg(), Angle: a.AngleTo(b)}
}

// Biarc joins (p0, d0) to (p1, d1) by two arcs with one tangent where they
// meet, the one with equal tangent lengths at both ends (the solution of
// |p1 − p0 − k(d0 + d1)| = 2k). Straight pieces come out as lines. In a plane
// with parallel ends it is the S of two equal arcs.
func Biarc(p0 geom.Point3, d0 geom.Vec3, p1 geom.Point3, d1 geom.Vec3) []geom.Segment3 {
	v := p1.Sub(p0)
	if d0.Cross(v).Norm() < 1e-9*v.Norm() && d1.Cross(v).Norm() < 1e-9*v.Norm() {
		return []geom.Segment3{geom.Line3{A: p0, B: p1}}
	}
	t := d0.Add(d1)
	vt, den := v.Dot(t), 2*(1-d0.Dot(d1))
	var k float64
	if den < 1e-9 {
		k = v.Dot(v) / (4 * v.Dot(d1))
	} else {
		k = (-vt + math.Sqrt(float64(vt*vt)+float64(den*v.Dot(v)))) / den
	}
	mid := p0.Add(d0.Mul(k)).Lerp(p1.Add(d1.Mul(-k)), 0.5)
	return []geom.Segment3{
		geom.ArcThrough3(p0, d0, mid),
		geom.ArcThrough3(p1, d1.Neg(), mid).Reversed(),
	}
}
