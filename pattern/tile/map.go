package tile

import (
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
)

// Guide returns what tells a reader how the tiles go together: the page map, what to
// do in order, and the long checks.
func (l Layout) Guide(width, high float64) []paper.Row {
	w := l.Options.Format.Words
	rows := []paper.Row{paper.Heading(w.Say("tile.map"), width), l.Map(width, high)}
	rows = append(rows, paper.Paragraph(w.Say("tile.mapwords", l.Pages(), len(l.Tiles), l.Options.Format.Size.Name), 0, width, sheet.Regular)...)
	if c := l.Options.Format.Correction(); c != "" {
		rows = append(rows, paper.Paragraph(c, 0, width, sheet.Bold)...)
	}
	rows = append(rows, paper.Row{Height: 3})
	for i := range 4 {
		rows = append(rows, paper.Item(fmt.Sprintf("%d", i+1), w.Say(fmt.Sprintf("tile.how%d", i+1)), width)...)
		rows = append(rows, paper.Row{Height: 1})
	}
	if len(l.Corners) == 4 {
		rows = append(rows, paper.Row{Height: 3}, paper.Heading(w.Say("tile.long"), width))
		for _, k := range [2][2]int{{0, 2}, {1, 3}} {
			a, b := l.Corners[k[0]], l.Corners[k[1]]
			rows = append(rows, paper.Paragraph(w.Say("tile.longline", fmt.Sprintf("D%d", k[0]+1), l.pageOf(a), fmt.Sprintf("D%d", k[1]+1), l.pageOf(b), w.Number(a.Dist(b), 1)), 0, width, sheet.Regular)...)
		}
	}
	return rows
}

// pageOf names the first page that shows a place.
func (l Layout) pageOf(p geom.Point) string {
	for _, t := range l.Tiles {
		if !t.Blank && t.Window.Contains(p) {
			return l.Name(t)
		}
	}
	return "-"
}

// Map is the page map, at most width by high: the drawing, small, under the grid of
// the pages; rows are named at the left, columns above.
func (l Layout) Map(width, high float64) paper.Row {
	const side, top = 10.0, 6.0
	wide, tall := l.Options.WindowSize()
	lap := l.Options.Overlap
	whole := geom.Rect{Min: l.Tiles[len(l.Tiles)-l.Columns].Window.Min, Max: l.Tiles[l.Columns-1].Window.Max}
	k := min((width-side)/whole.Width(), (high-top)/whole.Height(), 0.4)
	at := func(p geom.Point) geom.Point {
		return geom.Point{X: side + (p.X-whole.Min.X)*k, Y: -top - (whole.Max.Y-p.Y)*k}
	}
	var r paper.Row
	r.Height = top + whole.Height()*k + 3
	r.Items = append(r.Items, l.small(at, k)...)
	var grid, blank sheet.Shape
	grid.Pen, blank.Pen = pen(ruleLine), pen(thinLine)
	for _, t := range l.Tiles {
		c := geom.Rect{Min: t.Window.Min.Add(geom.Vec{X: lap / 2, Y: lap / 2}), Max: t.Window.Max.Add(geom.Vec{X: -lap / 2, Y: -lap / 2})}
		box := geom.Rect{Min: at(c.Min), Max: at(c.Max)}
		if t.Blank {
			blank.Paths = append(blank.Paths, sheet.Polyline(box.Min, box.Max), sheet.Polyline(geom.Point{X: box.Min.X, Y: box.Max.Y}, geom.Point{X: box.Max.X, Y: box.Min.Y}))
			continue
		}
		grid.Paths = append(grid.Paths, sheet.Rectangle(box))
	}
	r.Items = append(r.Items, blank, grid)
	name := func(x, y float64, s string) {
		r.Items = append(r.Items, sheet.Text{At: geom.Point{X: x, Y: y}, Text: s, Size: sheet.MinSize, Font: sheet.Bold, Anchor: sheet.Middle, Colour: sheet.Grey(0)})
	}
	every := func(step float64) int { return max(1, int(math.Ceil(6/step))) } // names keep apart
	for c := 0; c < l.Columns; c += every((wide - lap) * k) {
		name(at(l.Tiles[c].Window.Centre()).X, -top+1.5, fmt.Sprint(c+1))
	}
	for row := 0; row < l.Rows; row += max(1, int(math.Ceil(4.5/((tall-lap)*k)))) {
		n := l.Name(l.Tiles[row*l.Columns])
		name(side/2, at(l.Tiles[row*l.Columns].Window.Centre()).Y-1.2, n[len(l.Options.Prefix):len(n)-1])
	}
	for _, c := range l.Corners {
		r.Items = append(r.Items, sheet.Shape{Fill: sheet.Grey(0), Paths: []geom.Path{sheet.Circle(at(c), 0.9)}})
	}
	return r
}

// small returns the glass of the drawing, reduced: its lines alone.
func (l Layout) small(at func(geom.Point) geom.Point, k float64) []sheet.Item {
	var out []sheet.Item
	m := geom.SimilarityMap{Scale: k, Move: geom.Vec(at(geom.Point{}))}
	for _, layer := range l.Of.Layers {
		if !slices.Contains([]string{"hidden", "glass", "electrodes"}, layer.ID) {
			continue
		}
		for _, g := range layer.Groups {
			for _, i := range g.Items {
				s, ok := i.(sheet.Shape)
				if !ok || layer.ID == "hidden" && len(s.Pen.Dash) == 0 {
					continue // hatching would fill up
				}
				small := sheet.Shape{Fill: s.Fill, Pen: s.Pen}
				small.Pen.Width = thinLine
				if len(s.Pen.Dash) > 0 {
					small.Pen.Dash = []float64{0.8, 0.5}
				}
				for _, p := range s.Paths {
					small.Paths = append(small.Paths, p.Map(m))
				}
				out = append(out, small)
			}
		}
	}
	return out
}
