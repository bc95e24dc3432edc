package route

import (
	"fmt"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// splitSelfTouches makes two strokes of one that runs into its own side (the
// ring of a 9, the bar of an e): the place is a junction like any other, and
// strokes are told apart at junctions. Lit glass that passes the place is cut
// there, as two pieces of one bend.
func (p *planner) splitSelfTouches(tubes []tube.Tube, strokes []Stroke) []Stroke {
	var out []Stroke
	for _, s := range strokes {
		cuts := p.selfTouches(s.Path)
		if len(cuts) == 0 {
			out = append(out, s)
			continue
		}
		at := 0.0
		var parts []Stroke
		for _, c := range append(cuts, s.Path.Length()) {
			if c-at < p.rules.MinRadius {
				continue
			}
			part := s
			part.Path = s.Path.Cut(at, c)
			if len(parts) > 0 {
				part.ID = fmt.Sprintf("%s%c", s.ID, 'a'+len(parts))
			}
			parts = append(parts, part)
			at = c
		}
		if last := &parts[len(parts)-1]; at < s.Path.Length() {
			last.Path = s.Path.Cut(s.Path.Length()-last.Path.Length()-(s.Path.Length()-at), s.Path.Length())
		}
		for i := range tubes {
			tubes[i] = cutBetween(tubes[i], s.ID, parts)
		}
		renameLit(tubes, s.ID, parts)
		out = append(out, parts...)
	}
	return out
}

// selfTouches returns where on a stroke its own ends rest, in order.
func (p *planner) selfTouches(path geom.Path) []float64 {
	n, w := path.Length(), p.window()
	if n < 3*w {
		return nil
	}
	reach := 0.6 * p.rules.Diameter
	var out []float64
	if s, d := path.Cut(w, n-w).Nearest(path.End()); d < reach {
		out = append(out, s+w)
	}
	if s, d := path.Cut(w, n-w).Nearest(path.Start()); d < reach {
		if s += w; len(out) == 0 || s > out[0]+w {
			out = append(out, s)
		} else if s < out[0]-w {
			out = append([]float64{s}, out...)
		}
	}
	return out
}

// cutBetween cuts lit pieces of a stroke where they pass from one of its parts
// to the next.
func cutBetween(t tube.Tube, id string, parts []Stroke) tube.Tube {
	var out tube.Tube
	for _, piece := range t {
		n := piece.Seg.Length()
		first, last := nearestPart(parts, piece.Seg.PointAt(0)), nearestPart(parts, piece.Seg.PointAt(n))
		if piece.Stroke != id || first == last {
			out = append(out, piece)
			continue
		}
		lo, hi := 0.0, n
		for range 40 {
			if mid := (lo + hi) / 2; nearestPart(parts, piece.Seg.PointAt(mid)) == first {
				lo = mid
			} else {
				hi = mid
			}
		}
		if lo < 0.5 || n-lo < 0.5 {
			out = append(out, piece)
			continue
		}
		a, b := piece, piece
		a.Seg, b.Seg = piece.Seg.Cut(0, lo), piece.Seg.Cut(lo, n)
		_, b.Joined = piece.Seg.(geom.Arc3)
		out = append(out, a, b)
	}
	return out
}

func nearestPart(parts []Stroke, q geom.Point3) int {
	best, at := -1.0, 0
	for i, s := range parts {
		if _, d := s.Path.Nearest(q.Plan()); best < 0 || d < best {
			best, at = d, i
		}
	}
	return at
}
