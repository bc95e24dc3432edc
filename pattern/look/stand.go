package look

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/tube"
)

// PointAt returns the place s mm of glass from seal A.
func PointAt(t tube.Tube, s float64) geom.Point3 {
	for _, piece := range t {
		n := piece.Seg.Length()
		if s <= n {
			return piece.Seg.PointAt(max(s, 0))
		}
		s -= n
	}
	return t.End()
}

// WallZ returns where the wall stands, front frame: gap mm of air behind the
// deepest glass, the legs apart, which run on into housings in the wall.
func WallZ(p pattern.Pattern, gap float64) float64 {
	deepest := 0.0
	for _, u := range p.Units {
		for _, piece := range u.Tube {
			if piece.Role != tube.Leg {
				deepest = min(deepest, piece.Seg.Start().Z, piece.Seg.End().Z)
			}
		}
	}
	return deepest - p.Spec.Rules.Diameter/2 - gap
}

// Sample is a point of a centreline.
type Sample struct {
	At   geom.Point3
	S    float64 // developed mm from seal A
	Role tube.Role
}

// Samples returns the centreline of a unit as points no more than tol mm from it,
// and at every change of role two: the last of one and the first of the next.
func Samples(u pattern.Unit, tol float64) []Sample {
	var out []Sample
	s := 0.0
	for i, piece := range u.Tube {
		n := 1
		if a, ok := piece.Seg.(geom.Arc3); ok {
			step := 2 * math.Acos(max(0, 1-tol/max(a.Radius(), tol)))
			n = max(1, int(math.Ceil(float64(a.Angle)/step)))
		}
		if i == 0 || u.Tube[i-1].Role != piece.Role {
			out = append(out, Sample{piece.Seg.Start(), s, piece.Role})
		}
		length := piece.Seg.Length()
		for k := 1; k <= n; k++ {
			d := length * float64(k) / float64(n)
			out = append(out, Sample{piece.Seg.PointAt(d), s + d, piece.Role})
		}
		s += length
	}
	return out
}
