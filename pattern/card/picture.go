package card

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/order"
	"tubewright/pattern/sheet"
)

// view draws the bench as seen from its front edge, from above: one scale for
// all pictures of a unit.
type view struct{ scale float64 }

// The share of y and of z that goes up the sheet, seen at 60 degrees from above.
var upShare = [2]float64{math.Sin(60 * math.Pi / 180), math.Cos(60 * math.Pi / 180)}

const (
	widest  = 330.0 // mm of bench a picture shows at most
	tightly = 150.0 // and at least
)

// newView chooses the scale by the size of the finished unit.
func newView(u pattern.Unit) view {
	box := geom.EmptyRect()
	for _, p := range u.Tube {
		box = box.Including(p.Seg.Start().Plan()).Including(p.Seg.End().Plan())
	}
	shown := max(tightly, min(widest, 1.5*max(box.Width(), box.Height()*pictureWide/pictureHigh)))
	return view{pictureWide / shown}
}

func (v view) at(p geom.Point3) geom.Point {
	return geom.Point{X: v.scale * p.X, Y: v.scale * (upShare[0]*p.Y + upShare[1]*p.Z)}
}

type picture = []order.Strand

// draw returns a framed picture with the heated glass in the middle, cut off at
// the frame.
func (v view) draw(frame geom.Rect, strands picture) []sheet.Item {
	hot := geom.EmptyRect()
	for _, s := range strands {
		if s.Part == order.Hot {
			for _, p := range s.Points {
				hot = hot.Including(v.at(p))
			}
		}
	}
	move := frame.Centre().Sub(hot.Centre())
	inside := geom.Rect{Min: frame.Min.Add(geom.Vec{X: 1, Y: 1}), Max: frame.Max.Add(geom.Vec{X: -1, Y: -1})}
	out := []sheet.Item{sheet.Shape{Paths: []geom.Path{sheet.Rectangle(frame)}, Pen: black(thinLine)}}
	var all, ends []geom.Path
	var sides []order.Side
	for _, part := range [3]order.Part{order.Still, order.Moving, order.Hot} {
		var paths []geom.Path
		for _, s := range strands {
			if s.Part != part {
				continue
			}
			var pts []geom.Point
			for _, p := range s.Points {
				pts = append(pts, v.at(p).Add(move))
			}
			cut := clipped(pts, inside)
			paths = append(paths, cut...)
			if part != order.Hot && len(cut) > 0 {
				ends, sides = append(ends, cut[len(cut)-1]), append(sides, s.Side)
			}
		}
		all = append(all, paths...)
		out = append(out, strand(part, paths)...)
	}
	var taken []geom.Point
	for i, e := range ends {
		at := besideEnd(e, inside, taken, all)
		taken = append(taken, at)
		out = append(out, line(at.X, at.Y-sheet.CapHeight(small)/2, [2]string{"A", "B"}[sides[i]], small, sheet.Bold, sheet.Middle))
	}
	return out
}

// strand draws glass as its part in the picture asks.
func strand(part order.Part, paths []geom.Path) []sheet.Item {
	if len(paths) == 0 {
		return nil
	}
	switch part {
	case order.Still:
		return []sheet.Item{sheet.Shape{Paths: paths, Pen: black(0.9)}}
	case order.Moving:
		return []sheet.Item{sheet.Shape{Paths: paths, Pen: black(1.5)},
			sheet.Shape{Paths: paths, Pen: sheet.Pen{Width: 0.8, Colour: sheet.Grey(255)}}}
	}
	return []sheet.Item{sheet.Shape{Paths: paths, Pen: black(2.4)}}
}

// besideEnd returns where the letter of a strand goes: beside the end of it that is
// seen, to the left of the strand or to the right, within the frame, off the glass
// and the places taken; farther back along it where there is no such place, and where
// there is none at all as near to the end as the letters taken allow.
func besideEnd(p geom.Path, frame geom.Rect, taken []geom.Point, glass []geom.Path) geom.Point {
	const off, half, apart, clear = 2.9, 2.0, 4.5, 2.3
	room := geom.Rect{Min: frame.Min.Add(geom.Vec{X: half, Y: half}), Max: frame.Max.Add(geom.Vec{X: -half, Y: -half})}
	offLetters := func(q geom.Point) bool {
		return room.Contains(q) && !slices.ContainsFunc(taken, func(t geom.Point) bool { return t.Dist(q) < apart })
	}
	long := p.Length()
	for back := 2.5; back < long; back += 1.5 {
		at, dir := p.PointAt(long-back), p.DirAt(long-back)
		for _, side := range [2]float64{off, -off} {
			if q := at.Add(dir.Left().Mul(side)); offLetters(q) && farFrom(glass, q, clear) {
				return q
			}
		}
	}
	best := room.Centre()
	cost := math.Inf(1)
	for x := room.Min.X; x <= room.Max.X; x++ {
		for y := room.Min.Y; y <= room.Max.Y; y++ {
			q := geom.Point{X: x, Y: y}
			c := q.Dist(p.End())
			if !farFrom(glass, q, clear) {
				c += 1e3
			}
			if offLetters(q) && c < cost {
				best, cost = q, c
			}
		}
	}
	return best
}

// farFrom reports whether a point is at least so far from all glass.
func farFrom(glass []geom.Path, q geom.Point, far float64) bool {
	for _, g := range glass {
		for _, seg := range g.Segments {
			if seg.PointAt(seg.Nearest(q)).Dist(q) < far {
				return false
			}
		}
	}
	return true
}

// clipped returns the parts of a polyline within a box.
func clipped(pts []geom.Point, box geom.Rect) []geom.Path {
	var out []geom.Path
	open := false
	for i := 1; i < len(pts); i++ {
		a, b, ok := clip(pts[i-1], pts[i], box)
		if !ok || a.Dist(b) < 1e-9 {
			open = open && ok
			continue
		}
		if !open {
			out = append(out, geom.Path{})
		}
		p := &out[len(out)-1]
		p.Segments = append(p.Segments, geom.Line{A: a, B: b})
		open = b == pts[i]
	}
	return out
}

// clip returns the part of the line from a to b within a box (Liang and Barsky).
func clip(a, b geom.Point, r geom.Rect) (geom.Point, geom.Point, bool) {
	t0, t1 := 0.0, 1.0
	d := b.Sub(a)
	for _, e := range [4][2]float64{{-d.X, a.X - r.Min.X}, {d.X, r.Max.X - a.X}, {-d.Y, a.Y - r.Min.Y}, {d.Y, r.Max.Y - a.Y}} {
		switch p, q := e[0], e[1]; {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	from, to := a, b
	if t0 > 0 {
		from = a.Lerp(b, t0)
	}
	if t1 < 1 {
		to = a.Lerp(b, t1)
	}
	return from, to, true
}
