package pattern

import (
	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// The legend draws its samples with the code that draws the glass, on a tube of
// 5 mm.
const (
	legendTube  = 5.0
	legendWide  = 24.0 // of a sample
	legendWords = 30.0 // where the words start
	legendRow   = 10.0
)

func legendBlock() *block {
	b := newBlock("notes-legend", "Legend")
	for _, r := range []struct {
		draw  func(y float64) []sheet.Item
		words string
	}{
		{legendLit, "Lit glass: two edges one D apart, thin centreline."},
		{legendHidden, "Hidden run, raised off the bench: edges dashed, hatched: to be blocked out."},
		{legendDouble, "Double: a hidden run straight behind lit glass. Block out the hidden run only."},
		{legendCrossing, "Crossing: the broken strand dips behind the face; here it rises over the other."},
		{legendEnd, "Electrode, end A or B of its unit; the leg stands straight up off the bench."},
		{legendHeat, "Heat, numbered in the order of bending; the dot is its middle. Ticks: tangent points, where its bend starts and ends."},
		{legendArrows, "Way of travel from A to B: filled on lit glass, open on hidden glass."},
		{legendFinding, "Place of an error or warning, told in the list of findings."},
	} {
		b.items = append(b.items, r.draw(-b.height-legendRow/2-0.5)...)
		lines := sheet.Wrap(r.words, bodySize, sheet.Regular, columnWidth-legendWords)
		row := max(legendRow, float64(len(lines))*4.4+2)
		top := b.height
		b.height += (row-float64(len(lines)-1)*4.4)/2 + sheet.CapHeight(bodySize)/2 + 0.5
		for i, l := range lines {
			if i > 0 {
				b.height += 4.4
			}
			b.text(legendWords, l, bodySize, sheet.Regular, sheet.Start)
		}
		b.height = top + row
	}
	return b
}

func legendStrip(x0, y0, x1, y1 float64) strip {
	return strip{path: sheet.Polyline(geom.Point{X: x0, Y: y0}, geom.Point{X: x1, Y: y1})}
}

func litItems(s strip, gaps []gap) []sheet.Item {
	return []sheet.Item{
		sheet.Shape{Paths: broken(edgesOf(s, legendTube), gaps), Pen: solid(glassLine)},
		sheet.Shape{Paths: []geom.Path{s.path}, Pen: faint(centreLine)},
	}
}

func hatchItem(s strip) sheet.Item {
	return sheet.Shape{Paths: hatchOf(s, legendTube), Pen: faint(thinLine)}
}

func legendLit(y float64) []sheet.Item { return litItems(legendStrip(0, y, legendWide, y), nil) }

func legendHidden(y float64) []sheet.Item {
	s := legendStrip(0, y, legendWide, y)
	return []sheet.Item{
		hatchItem(s),
		sheet.Shape{Paths: edgesOf(s, legendTube), Pen: dashed()},
		sheet.Shape{Paths: []geom.Path{s.path}, Pen: faint(centreLine)},
	}
}

func legendDouble(y float64) []sheet.Item {
	s := legendStrip(0, y, legendWide, y)
	return append([]sheet.Item{hatchItem(s)}, litItems(s, nil)...)
}

func legendCrossing(y float64) []sheet.Item {
	over, under := legendStrip(0, y, legendWide, y), legendStrip(legendWide/2, y-4.8, legendWide/2, y+4.8)
	g := gap{off: legendTube/2 + 0.8, over: over.path.Samples(2)}
	return append(litItems(over, nil), litItems(under, []gap{g})...)
}

func legendEnd(y float64) []sheet.Item {
	s := legendStrip(8, y, legendWide, y)
	s.round[0] = true
	return append(litItems(s, nil), sheet.Shape{Paths: []geom.Path{sheet.Circle(s.path.Start(), legendTube/2)}, Fill: sheet.Grey(0)})
}

func legendHeat(y float64) []sheet.Item {
	const r = 6.0
	y -= 2
	s := strip{path: geom.Path{Segments: []geom.Segment{
		geom.Line{A: geom.Point{X: 0, Y: y}, B: geom.Point{X: 6, Y: y}},
		geom.Arc{Centre: geom.Point{X: 6, Y: y + r}, Radius: r, From: -90 * geom.Degree, Sweep: 75 * geom.Degree},
	}}}
	n := note{text: "7", size: heatSize, frame: ring}
	n.label.Anchor = s.path.PointAt(6 + r*37*float64(geom.Degree))
	n = n.sized()
	c := geom.Point{X: 20, Y: y + 0.4}
	items := litItems(s, nil)
	var ticks []geom.Path
	for _, at := range [2]float64{6, s.path.Length()} {
		p, side := s.path.PointAt(at), s.path.DirAt(at).Left()
		for _, w := range [2]geom.Vec{side, side.Neg()} {
			ticks = append(ticks, sheet.Polyline(p.Add(w.Mul(legendTube/2-0.6)), p.Add(w.Mul(legendTube/2+1.4))))
		}
	}
	items = append(items, sheet.Shape{Paths: ticks, Pen: solid(markLine)})
	d := n.label.Anchor.Sub(c).Unit()
	return append(items, n.draw(sheet.Spot{Centre: c, Leader: c.Add(d.Mul(n.label.Width / 2))})...)
}

func legendArrows(y float64) []sheet.Item {
	head := func(x float64) geom.Path {
		const size = 4.0
		return sheet.Polygon(geom.Point{X: x + size, Y: y}, geom.Point{X: x, Y: y + 0.36*size}, geom.Point{X: x, Y: y - 0.36*size})
	}
	return []sheet.Item{
		sheet.Shape{Paths: []geom.Path{head(4)}, Fill: sheet.Grey(0)},
		sheet.Shape{Paths: []geom.Path{head(15)}, Fill: sheet.Grey(255), Pen: solid(thinLine)},
	}
}

func legendFinding(y float64) []sheet.Item {
	n := note{text: "F1", size: endSize, font: sheet.Bold, frame: heavyBox}.sized()
	n.label.Anchor = geom.Point{X: 3, Y: y}
	return n.draw(sheet.Spot{Centre: geom.Point{X: 18, Y: y}, Leader: geom.Point{X: 18 - n.label.Width/2, Y: y}})
}
