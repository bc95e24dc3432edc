package route

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// part returns the part of a stroke between two places along it, the k-th of
// the parts it is told in, named after it with the mark and a number.
func (s Stroke) part(from, to float64, mark string, k int) Stroke {
	out := s
	if from > 0 || to < s.Path.Length() {
		out.Path = s.Path.Cut(from, to)
	}
	out.from = s.from + from
	if k > 0 {
		out.ID = fmt.Sprintf("%s%s%d", s.ID, mark, k+1)
	}
	return out
}

// atJoint moves a place on a path that is to be cut there to the joint of two
// segments, if one is so near that a crumb would be left.
func atJoint(path geom.Path, s float64) float64 {
	const crumb = 0.05
	at := 0.0
	for _, g := range path.Segments {
		if at += g.Length(); math.Abs(at-s) < crumb {
			return at
		}
	}
	return s
}

// to returns where on the lane the stroke ends.
func (s Stroke) to() float64 { return s.from + s.Path.Length() }

// renameLit gives the lit glass of a stroke the names of its parts, and cuts
// pieces that pass from one to the next there, as two pieces of one bend.
func renameLit(t tube.Tube, id string, parts []Stroke) tube.Tube {
	var out tube.Tube
	for _, piece := range t {
		if piece.Stroke != id || len(parts) == 0 {
			out = append(out, piece)
			continue
		}
		out = append(out, dealt(piece, parts)...)
	}
	return out
}

// dealt cuts one piece at the borders of the parts and names what is left.
func dealt(piece tube.Piece, parts []Stroke) tube.Tube {
	var out tube.Tube
	for k := 1; k < len(parts); k++ {
		border := parts[k].from
		lo, hi := min(piece.From, piece.To), max(piece.From, piece.To)
		if border <= lo+0.5 || border >= hi-0.5 {
			continue
		}
		n := piece.Seg.Length()
		before, after := piece.Cut(n * (border - piece.From) / (piece.To - piece.From))
		return append(append(out, dealt(before, parts)...), dealt(after, parts)...)
	}
	mid := (piece.From + piece.To) / 2
	best, dist := 0, -1.0
	for k, s := range parts {
		d := max(0, s.from-mid, mid-s.to())
		if dist < 0 || d < dist {
			best, dist = k, d
		}
	}
	piece.Stroke = parts[best].ID
	return append(out, piece)
}
