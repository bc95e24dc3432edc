package tile

import (
	"cmp"
	"fmt"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
)

func sortTiles(ts []Tile, by func(Tile) float64) {
	slices.SortStableFunc(ts, func(a, b Tile) int { return cmp.Compare(by(a), by(b)) })
}

// Sheets returns the pages of the tiles, row by row, each with its window, the marks
// of its joints, crop marks and the names of its neighbours.
func (l Layout) Sheets(title string) []sheet.Page {
	var out []sheet.Page
	for i, t := range l.Tiles {
		if !t.Blank {
			out = append(out, l.page(i, title))
		}
	}
	return out
}

func (l Layout) page(i int, title string) sheet.Page {
	t := l.Tiles[i]
	name := l.Name(t)
	p := l.Options.Format.Page(title, name)
	a := l.Options.Format.Area()
	at := geom.Point{X: a.Min.X + besideWindow, Y: a.Min.Y + underWindow}
	from := l.all().Min.Sub(geom.Point{}).Neg() // the sheet of the marks starts there
	ofMarks := geom.Rect{Min: t.Window.Min.Add(from), Max: t.Window.Max.Add(from)}
	p.Views = []sheet.View{{Of: l.Of, Window: t.Window, At: at}, {Of: l.marks, Window: ofMarks, At: at}}
	w := geom.Rect{Min: at, Max: at.Add(geom.Vec{X: t.Window.Width(), Y: t.Window.Height()})}
	edges := l.edges(t, w)
	mm := func(v float64) string { return l.Options.Format.Words.Number(v, 1) }
	place := l.Options.Format.Words.Say("tile.place", name, t.Row+1, l.Rows, t.Column+1, l.Columns) + "  " +
		fmt.Sprintf("x %s … %s; y %s … %s mm", mm(t.Window.Min.X), mm(t.Window.Max.X), mm(t.Window.Min.Y), mm(t.Window.Max.Y))
	edges = append(edges, sheet.Text{At: geom.Point{X: a.Min.X, Y: a.Max.Y + 0.9}, Text: paper.Clip(place, a.Width(), sheet.MinSize, sheet.Regular), Size: sheet.MinSize, Colour: sheet.Grey(0)})
	p.Layers = append(p.Layers, sheet.Layer{ID: "crop", Name: "Crop marks", Groups: []sheet.Group{{ID: "crop", Title: "crop marks and neighbours", Items: edges}}})
	return p
}

// edges returns what stands around the window: crop marks where neighbours are
// joined, corners where none is, and the names of the neighbours.
func (l Layout) edges(t Tile, w geom.Rect) []sheet.Item {
	const off, long = 0.8, 4.6
	half := l.Options.Overlap / 2
	var cut, lay sheet.Shape // cut here; the neighbour is cut here
	cut.Pen, lay.Pen = pen(ruleLine), pen(thinLine)
	var items []sheet.Item
	tick := func(s *sheet.Shape, a, b geom.Point) { s.Paths = append(s.Paths, sheet.Polyline(a, b)) }
	name := func(n Tile, x, y float64, turn geom.Angle) {
		items = append(items, sheet.Text{At: geom.Point{X: x, Y: y}, Text: l.Name(n), Size: sheet.MinSize, Font: sheet.Bold, Anchor: sheet.Middle, Turn: turn, Colour: sheet.Grey(0)})
	}
	upright := func(s *sheet.Shape, x float64) {
		tick(s, geom.Point{X: x, Y: w.Max.Y + off}, geom.Point{X: x, Y: w.Max.Y + long})
		tick(s, geom.Point{X: x, Y: w.Min.Y - off}, geom.Point{X: x, Y: w.Min.Y - long})
	}
	level := func(s *sheet.Shape, y float64) {
		tick(s, geom.Point{X: w.Min.X - off, Y: y}, geom.Point{X: w.Min.X - long, Y: y})
		tick(s, geom.Point{X: w.Max.X + off, Y: y}, geom.Point{X: w.Max.X + long, Y: y})
	}
	c := w.Centre()
	if n, ok := l.at(t.Row, t.Column-1); ok {
		upright(&lay, w.Min.X+half)
		name(n, w.Min.X-1.6, c.Y, 90*geom.Degree)
	}
	if n, ok := l.at(t.Row, t.Column+1); ok {
		upright(&cut, w.Max.X-half)
		name(n, w.Max.X+1.6, c.Y, -90*geom.Degree)
	}
	if n, ok := l.at(t.Row-1, t.Column); ok {
		level(&lay, w.Max.Y-half)
		name(n, c.X, w.Max.Y+1.6, 0)
	}
	if n, ok := l.at(t.Row+1, t.Column); ok {
		level(&cut, w.Min.Y+half)
		name(n, c.X, w.Min.Y-1.6-sheet.CapHeight(sheet.MinSize), 0)
	}
	var corner sheet.Shape
	corner.Pen = pen(thinLine)
	for _, k := range [4][2]float64{{w.Min.X, w.Min.Y}, {w.Max.X, w.Min.Y}, {w.Max.X, w.Max.Y}, {w.Min.X, w.Max.Y}} {
		x, y := 1.0, 1.0
		if k[0] == w.Min.X {
			x = -1
		}
		if k[1] == w.Min.Y {
			y = -1
		}
		tick(&corner, geom.Point{X: k[0] + x*off, Y: k[1]}, geom.Point{X: k[0] + x*2.4, Y: k[1]})
		tick(&corner, geom.Point{X: k[0], Y: k[1] + y*off}, geom.Point{X: k[0], Y: k[1] + y*2.4})
	}
	return append(items, cut, lay, corner)
}
