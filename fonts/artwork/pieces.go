package artwork

import (
	"cmp"
	"slices"

	"tubewright/geom"
	"tubewright/geom/region"
)

// Piece is one connected piece of ink with the ids of the shapes it was drawn
// with, in the order they are painted.
type Piece struct {
	IDs []string
	Ink region.Region
}

// Pieces unites the shapes whose ink touches and takes the ink apart into its
// connected pieces. The drawing is scaled by k, to mm, and then moved by d; tol
// is the flattening tolerance in mm. Pieces come in the order of the shapes
// they begin with, those of one shape from left to right.
func (d Drawing) Pieces(k float64, move geom.Vec, tol float64) ([]Piece, error) {
	outlines := make([]geom.Outline, len(d.Shapes))
	for i, s := range d.Shapes {
		outlines[i] = s.Outline.Transform(geom.Scaling(k, move))
	}
	var out []Piece
	for _, group := range region.Connected(outlines, tol) {
		var ids []string
		var loops [][]geom.Point
		for _, i := range group {
			// Each by itself first: shapes may run in opposite directions, and
			// their winding numbers would cancel.
			one, err := region.FromOutline(outlines[i], tol)
			if err != nil {
				return nil, d.Shapes[i].fault(err)
			}
			loops = append(loops, one.Loops...)
			if id := d.Shapes[i].ID; id != "" && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
		ink, err := region.FromLoops(loops, tol)
		if err != nil {
			return nil, d.Shapes[group[0]].fault(err)
		}
		for _, r := range apart(ink) {
			out = append(out, Piece{ids, r})
		}
	}
	return out, nil
}

func (s Shape) fault(err error) error {
	r := &Remark{ID: s.ID, What: err.Error(), Remedy: "simplify or unite the paths in the drawing program"}
	if s.from != nil {
		r.Line, r.Element = s.from.line, s.from.name
	}
	return r
}

// apart returns the connected pieces of a region from left to right: each
// outer loop with the holes that lie straight in it.
func apart(r region.Region) []region.Region {
	type part struct {
		loops [][]geom.Point
		box   geom.Rect
		area  float64
	}
	var parts []part
	var holes [][]geom.Point
	for _, l := range r.Loops {
		one := region.Region{Loops: [][]geom.Point{l}}
		if a := one.Area(); a > 0 {
			parts = append(parts, part{one.Loops, one.Bounds(), a})
		} else {
			holes = append(holes, l)
		}
	}
	for _, h := range holes {
		best := -1
		for i, p := range parts {
			if p.box.Contains(h[0]) && holds(p.loops[0], h[0]) && (best < 0 || p.area < parts[best].area) {
				best = i
			}
		}
		if best >= 0 {
			parts[best].loops = append(parts[best].loops, h)
		}
	}
	slices.SortStableFunc(parts, func(a, b part) int { return cmp.Compare(a.box.Min.X, b.box.Min.X) })
	out := make([]region.Region, len(parts))
	for i, p := range parts {
		out[i] = region.Region{Loops: p.loops}
	}
	return out
}

// Box returns the box of all shapes, in user units.
func (d Drawing) Box() geom.Rect {
	box := geom.EmptyRect()
	for _, s := range d.Shapes {
		for _, l := range region.Flatten(s.Outline, max(s.Outline.ControlBox().Width(), s.Outline.ControlBox().Height())*1e-4) {
			for _, p := range l {
				box = box.Including(p)
			}
		}
	}
	return box
}
