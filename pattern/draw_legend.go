package pattern

import (
	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/words"
)

// The legend draws its samples with the code that draws the glass, on a tube of
// 5 mm.
const (
	legendTube  = 5.0
	legendWide  = 24.0 // of a sample
	legendWords = 30.0 // where the words start
	legendRow   = 10.0
)

// LegendEntry is a sign of the drawings and what it means. Its items stand in a box
// LegendWide by LegendHigh whose left edge has its middle at the origin.
type LegendEntry struct {
	Items []sheet.Item
	Words string
}

// The box of a sign in the legend, mm.
const (
	LegendWide = legendWide
	LegendHigh = legendRow
)

// Legend returns the signs of the drawings in a language.
func Legend(w words.Words) []LegendEntry {
	return []LegendEntry{
		{legendLit(0), w.Say("legend.lit")},
		{legendHidden(0), w.Say("legend.hidden")},
		{legendDouble(0), w.Say("legend.double")},
		{legendCrossing(0), w.Say("legend.crossing")},
		{legendEnd(0), w.Say("legend.end")},
		{legendHeat(0), w.Say("legend.heat")},
		{legendArrows(0), w.Say("legend.arrows")},
		{legendFinding(0), w.Say("legend.finding")},
	}
}

func (d *drawing) legendBlock() *block {
	b := newBlock("notes-legend", d.say("legend"))
	for _, e := range Legend(d.w) {
		for _, i := range e.Items {
			b.items = append(b.items, sheet.Moved(i, geom.Vec{Y: -b.height - legendRow/2 - 0.5}))
		}
		lines := sheet.Wrap(e.Words, bodySize, sheet.Regular, columnWidth-legendWords)
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
		sheet.Shape{Paths: []geom.Path{s.path}, Pen: solid(centreLine)},
	}
}

func hatchItem(s strip) sheet.Item {
	return sheet.Shape{Paths: hatchOf(s, legendTube), Pen: solid(thinLine)}
}

func legendLit(y float64) []sheet.Item { return litItems(legendStrip(0, y, legendWide, y), nil) }

func legendHidden(y float64) []sheet.Item {
	s := legendStrip(0, y, legendWide, y)
	return []sheet.Item{
		hatchItem(s),
		sheet.Shape{Paths: edgesOf(s, legendTube), Pen: dashed()},
		sheet.Shape{Paths: []geom.Path{s.path}, Pen: solid(centreLine)},
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
	n := note{text: "7", size: sheet.MinSize, frame: ring}
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
	n := note{text: "F1", size: 4.5, font: sheet.Bold, frame: heavyBox}.sized()
	n.label.Anchor = geom.Point{X: 3, Y: y}
	return n.draw(sheet.Spot{Centre: geom.Point{X: 18, Y: y}, Leader: geom.Point{X: 18 - n.label.Width/2, Y: y}})
}
