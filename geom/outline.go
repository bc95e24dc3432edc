package geom

// CurveKind says how many control points a Curve has.
type CurveKind int

const (
	LineTo  CurveKind = iota // straight to To
	QuadTo                   // quadratic Bézier with control point C1
	CubicTo                  // cubic Bézier with control points C1 and C2
)

// Curve is one piece of a contour; it starts where the piece before it ended.
type Curve struct {
	Kind   CurveKind
	C1, C2 Point
	To     Point
}

// At returns the point at parameter t in [0, 1] of the piece that starts at from.
func (c Curve) At(from Point, t float64) Point {
	switch c.Kind {
	case QuadTo:
		a, b := from.Lerp(c.C1, t), c.C1.Lerp(c.To, t)
		return a.Lerp(b, t)
	case CubicTo:
		a, b, d := from.Lerp(c.C1, t), c.C1.Lerp(c.C2, t), c.C2.Lerp(c.To, t)
		return a.Lerp(b, t).Lerp(b.Lerp(d, t), t)
	}
	return from.Lerp(c.To, t)
}

// Contour is one closed loop of an outline. The last piece ends at Start; if
// the font left it open, a straight piece closes it.
type Contour struct {
	Start  Point
	Curves []Curve
}

// Outline is the filled shape of a glyph or of artwork: the points with a
// winding number other than zero are inside (the OpenType rule).
type Outline []Contour

// Transform returns a mapped copy.
func (o Outline) Transform(m Affine) Outline {
	out := make(Outline, len(o))
	for i, c := range o {
		out[i] = Contour{Start: m.Apply(c.Start), Curves: make([]Curve, len(c.Curves))}
		for j, k := range c.Curves {
			out[i].Curves[j] = Curve{Kind: k.Kind, C1: m.Apply(k.C1), C2: m.Apply(k.C2), To: m.Apply(k.To)}
		}
	}
	return out
}

// ControlBox returns the least box that holds every end and control point; the
// outline lies within it.
func (o Outline) ControlBox() Rect {
	r := EmptyRect()
	for _, c := range o {
		r = r.Including(c.Start)
		for _, k := range c.Curves {
			if k.Kind != LineTo {
				r = r.Including(k.C1)
			}
			if k.Kind == CubicTo {
				r = r.Including(k.C2)
			}
			r = r.Including(k.To)
		}
	}
	return r
}
