package mount

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// mostCrosses bounds the holes of a grid that are drawn.
const mostCrosses = 20000

// wall draws what the job says of the wall or panel: keep-outs solid, how near an
// electrode may come to them dashed, the holes of a grid as small crosses.
func (m *drawing) wall() []sheet.Layer {
	near := m.p.Bounds().Grown(300)
	var groups []sheet.Group
	for i, k := range m.p.Spec.Routing.KeepOuts {
		box := geom.EmptyRect()
		for _, q := range k.Points {
			box = box.Including(q)
		}
		if !box.Overlaps(near) {
			continue
		}
		solid := sheet.Shape{Pen: pen(0.35)}
		if len(k.Points) > 1 {
			pts := k.Points
			if k.Filled {
				pts = append(pts[:len(pts):len(pts)], pts[0])
			}
			solid.Paths = append(solid.Paths, sheet.Polyline(pts...))
		}
		reach := sheet.Shape{Pen: sheet.Pen{Width: crossLine, Dash: []float64{2, 1.5}, Colour: sheet.Grey(0)}, Paths: outline(k.Points, k.Filled, k.Reach)}
		groups = append(groups, sheet.Group{ID: fmt.Sprintf("wall-%d", i+1), Title: "keep-out " + k.Name, Items: []sheet.Item{solid, reach}})
	}
	if crosses := m.crosses(); len(crosses) > 0 {
		groups = append(groups, sheet.Group{ID: "wall-grid", Title: "hole grid", Items: []sheet.Item{
			sheet.Shape{Pen: pen(thinLine), Paths: crosses}}})
	}
	if len(groups) == 0 {
		return nil
	}
	return []sheet.Layer{{ID: "wall", Name: "Wall", Groups: groups}}
}

// outline returns the line reach mm about points: a circle about one, a strip with
// round ends about each line of several, rounded corners about an area.
func outline(pts []geom.Point, filled bool, reach float64) []geom.Path {
	if reach <= 0 {
		return nil
	}
	if len(pts) == 1 {
		return []geom.Path{sheet.Circle(pts[0], reach)}
	}
	if !filled {
		var out []geom.Path
		for i := 1; i < len(pts); i++ {
			if pts[i].Dist(pts[i-1]) > 1e-6 {
				out = append(out, around([]geom.Point{pts[i-1], pts[i]}, reach))
			}
		}
		return out
	}
	area := 0.0
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		area += float64(a.X*b.Y) - float64(b.X*a.Y)
	}
	if area < 0 { // clockwise: turn it over
		turned := make([]geom.Point, len(pts))
		for i, q := range pts {
			turned[len(pts)-1-i] = q
		}
		pts = turned
	}
	return []geom.Path{around(pts, reach)}
}

// around returns the path reach mm outside points that go round counter-clockwise;
// corners that turn inwards are left sharp.
func around(pts []geom.Point, reach float64) geom.Path {
	out := geom.Path{Closed: true}
	n := len(pts)
	side := func(i int) geom.Line {
		a, b := pts[i%n], pts[(i+1)%n]
		off := b.Sub(a).Unit().Left().Mul(-reach)
		return geom.Line{A: a.Add(off), B: b.Add(off)}
	}
	for i := range n {
		l, next := side(i), side(i+1)
		out.Segments = append(out.Segments, l)
		turn := l.DirAt(0).TurnTo(next.DirAt(0))
		if n == 2 {
			turn = 180 * geom.Degree
		}
		if turn > 1e-9 {
			from := l.B.Sub(pts[(i+1)%n]).Heading()
			out.Segments = append(out.Segments, geom.Arc{Centre: pts[(i+1)%n], Radius: reach, From: from, Sweep: turn})
		} else if l.B.Dist(next.A) > 1e-9 {
			out.Segments = append(out.Segments, geom.Line{A: l.B, B: next.A})
		}
	}
	return out
}

// crosses marks the holes of the job's grid behind the lettering.
func (m *drawing) crosses() []geom.Path {
	g, b := m.p.Spec.Routing.Grid, m.p.Bounds()
	if g.Pitch <= 0 || b.IsEmpty() {
		return nil
	}
	first := func(low, at float64) float64 { return at + g.Pitch*math.Ceil((low-at)/g.Pitch) }
	x0, y0 := first(b.Min.X, g.At.X), first(b.Min.Y, g.At.Y)
	if (b.Width()/g.Pitch+1)*(b.Height()/g.Pitch+1) > mostCrosses {
		return nil
	}
	const arm = 1.5
	var out []geom.Path
	for x := x0; x <= b.Max.X; x += g.Pitch {
		for y := y0; y <= b.Max.Y; y += g.Pitch {
			out = append(out, sheet.Polyline(geom.Point{X: x - arm, Y: y}, geom.Point{X: x + arm, Y: y}), sheet.Polyline(geom.Point{X: x, Y: y - arm}, geom.Point{X: x, Y: y + arm}))
		}
	}
	return out
}
