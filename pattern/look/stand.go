package look

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/tube"
)

// Support is a post that holds glass, from its centreline straight back to the wall.
type Support struct {
	Unit string
	S    float64 // developed mm from seal A
	At   geom.Point3
}

// Spacing says where supports go. All mm.
type Spacing struct {
	Most      float64 // greatest distance between two along the glass
	Electrode float64 // greatest distance to an electrode
}

// Supports places the supports of each unit: on glass in the face, spread evenly
// between one near each electrode, each moved to the nearest place clear of bends.
// They are what the pictures show; where holes are drilled is told by the mounting
// sheet.
func Supports(p pattern.Pattern, sp Spacing) []Support {
	var out []Support
	for _, u := range p.Units {
		whole := u.Tube.Length()
		first, last := min(sp.Electrode, whole/2), max(whole-sp.Electrode, whole/2)
		n := max(1, int(math.Ceil((last-first)/sp.Most)))
		for i := range n + 1 {
			want := first + (last-first)*float64(i)/float64(n)
			if s, ok := clearPlace(u, want); ok {
				out = append(out, Support{u.ID, s, PointAt(u.Tube, s)})
			}
		}
	}
	return out
}

// clearPlace returns the place on straight lit glass in the face that is nearest to
// want, a diameter clear of its ends where the straight is long enough.
func clearPlace(u pattern.Unit, want float64) (float64, bool) {
	best, found, s := 0.0, false, 0.0
	for _, piece := range u.Tube {
		n := piece.Seg.Length()
		_, straight := piece.Seg.(geom.Line3)
		if straight && piece.Role == tube.Lit && math.Abs(piece.Seg.Start().Z) < 1e-3 && math.Abs(piece.Seg.End().Z) < 1e-3 {
			margin := min(n/2, 12)
			at := min(max(want, s+margin), s+n-margin)
			if !found || math.Abs(at-want) < math.Abs(best-want) {
				best, found = at, true
			}
		}
		s += n
	}
	return best, found
}

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
