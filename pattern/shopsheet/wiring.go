package shopsheet

import (
	"fmt"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/shop"
)

// Sizes of a wiring drawing, mm.
const (
	wiringHigh = 24.0 // of the glass at most
	wiringRoom = 7.0  // over and under it for labels
	wiringSide = 10.5 // beside it: an electrode's name stands there
)

// wiringBox is what a drawing of a circuit shows, front frame.
func wiringBox(p pattern.Pattern, c shop.Circuit) geom.Rect {
	box := geom.EmptyRect()
	for _, u := range c.Units {
		for _, piece := range p.Units[u].Tube {
			n := piece.Seg.Length()
			for k := range 5 {
				box = box.Including(piece.Seg.PointAt(n * float64(k) / 4).Plan())
			}
		}
	}
	return box.Including(c.At.Plan())
}

// isWide reports whether a circuit takes the width of the page: it is long, or has
// more units than labels find room for.
func isWide(p pattern.Pattern, c shop.Circuit) bool {
	box := wiringBox(p, c)
	return len(c.Units) > 3 || box.Width() > 4*box.Height()
}

// wiringRow draws one circuit from the front, shrunk to the width: the glass as a
// line, electrodes as dots, leads dashed from the supply through the units and
// back, numbered in the order of the wiring.
func wiringRow(p pattern.Pattern, c shop.Circuit, width float64) row {
	box := wiringBox(p, c)
	scale := min((width-2*wiringSide)/max(box.Width(), 1), wiringHigh/max(box.Height(), 1))
	high := box.Height()*scale + 2*wiringRoom
	at := func(q geom.Point) geom.Point {
		return geom.Point{
			X: width/2 + (q.X-box.Centre().X)*scale,
			Y: -high/2 + (q.Y-box.Centre().Y)*scale,
		}
	}
	d := diagram{at: at, placer: sheet.NewPlacer(0.8)}
	for _, u := range c.Units {
		d.glass(p.Units[u])
	}
	d.string(p, c)
	d.place()
	return row{items: d.items, height: high + rowGap}
}

type diagram struct {
	at     func(geom.Point) geom.Point
	placer *sheet.Placer
	items  []sheet.Item
	labels []sheet.Label
	words  []string
}

func (d *diagram) glass(u pattern.Unit) {
	var pts []geom.Point
	for _, piece := range u.Tube {
		n := piece.Seg.Length()
		for k := range 9 {
			pts = append(pts, d.at(piece.Seg.PointAt(n*float64(k)/8).Plan()))
		}
	}
	d.items = append(d.items, sheet.Shape{Pen: sheet.Pen{Width: 0.5, Colour: sheet.Grey(110)}, Paths: []geom.Path{sheet.Polyline(pts...)}})
	for i := 1; i < len(pts); i++ {
		d.placer.Block(pts[i-1], pts[i], 0.25)
	}
	for _, e := range u.Electrodes {
		q := d.at(e.At.Plan())
		d.items = append(d.items, sheet.Shape{Paths: []geom.Path{sheet.Circle(q, 1.1)}, Fill: black()})
		d.placer.Block(q, q, 1.1)
		d.label(q, u.ID+e.End, 1.1)
	}
}

func (d *diagram) label(q geom.Point, s string, reach float64) {
	d.words = append(d.words, s)
	d.labels = append(d.labels, sheet.Label{Anchor: q, Width: sheet.Room * sheet.Width(s, bodySize, sheet.Regular), Height: bodySize, Reach: reach})
}

// string draws the leads from the supply through the stops and back.
func (d *diagram) string(p pattern.Pattern, c shop.Circuit) {
	here := d.at(c.At.Plan())
	supply := here
	lead := func(to geom.Point, dash []float64) {
		d.items = append(d.items, sheet.Shape{Pen: sheet.Pen{Width: 0.35, Dash: dash, Colour: black()}, Paths: []geom.Path{sheet.Polyline(here, to)}})
		d.placer.Block(here, to, 0.2)
	}
	dashes := []float64{2, 1}
	n := 0
	number := func(to geom.Point) {
		n++
		mid := geom.Point{X: (here.X + to.X) / 2, Y: (here.Y + to.Y) / 2}
		d.label(mid, fmt.Sprint(n), 0.3)
	}
	for k, s := range c.Stops {
		e := p.Units[s.Unit].Electrodes
		in, out := e[0], e[1]
		if s.Reversed {
			in, out = out, in
		}
		to := d.at(in.At.Plan())
		if s.Second && k > 0 && !c.Stops[k-1].Second && c.HasMidpoint {
			mid := here
			lead(supply, []float64{0.6, 0.8})
			d.label(geom.Point{X: (mid.X + supply.X) / 2, Y: (mid.Y + supply.Y) / 2}, "mid", 0.3)
		}
		lead(to, dashes)
		number(to)
		here = d.at(out.At.Plan())
	}
	lead(supply, dashes)
	number(supply)
	box := geom.Rect{Min: supply.Add(geom.Vec{X: -3, Y: -2}), Max: supply.Add(geom.Vec{X: 3, Y: 2})}
	d.items = append(d.items, sheet.Shape{Paths: []geom.Path{sheet.Rectangle(box)}, Fill: sheet.Grey(255), Pen: sheet.Pen{Width: 0.5, Colour: black()}})
	d.placer.BlockBox(box)
	d.label(supply, "supply", 3.7)
}

func (d *diagram) place() {
	for i, spot := range d.placer.Place(d.labels) {
		l := d.labels[i]
		if spot.Leader.Dist(l.Anchor) > 2.5 {
			d.items = append(d.items, sheet.Shape{Pen: sheet.Pen{Width: 0.2, Colour: grey()}, Paths: []geom.Path{sheet.Polyline(l.Anchor, spot.Leader)}})
		}
		d.items = append(d.items, sheet.Text{At: spot.Centre.Add(geom.Vec{Y: -sheet.CapHeight(bodySize) / 2}), Text: sheet.Printable(d.words[i]), Size: bodySize, Anchor: sheet.Middle, Colour: black()})
	}
}
