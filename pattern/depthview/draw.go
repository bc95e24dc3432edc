package depthview

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/tube"
)

// Sizes on the sheet, mm.
const (
	margin  = 15.0
	gap     = 14.0 // between the two views of a line, and between lines
	size    = 5.0  // of names
	heading = 12.0
)

// Draw returns the sheet.
func Draw(p pattern.Pattern) *sheet.Sheet {
	d := &drawing{p: p}
	d.lines = d.byLine()
	box := p.Bounds()
	d.left = margin - box.Min.X
	top := margin
	for i := len(d.lines) - 1; i >= 0; i-- { // from the bottom up
		top = d.line(d.lines[i], top)
	}
	width := max(box.Width()+2*margin, 260)
	title := fmt.Sprintf("%s: front view and, under it, view from above", p.Spec.Name)
	d.layer(3).Items = append(d.layer(3).Items,
		label(margin, top+size, title, sheet.Bold, sheet.Start),
		label(margin, top-size, "Front frame, full size. Solid: lit. Dashed: hidden, painted out. Thin, with a dot: leg and electrode.", sheet.Regular, sheet.Start))
	return &sheet.Sheet{
		Width: width, Height: top + heading + margin, Title: title, Frame: sheet.Front,
		Description: "Front view of each line of text, and under it the view from above: the face is the lower line, the wall is above it.",
		Layers:      d.layers[:],
	}
}

type drawing struct {
	p      pattern.Pattern
	lines  [][]pattern.Unit
	left   float64
	layers [4]sheet.Layer
}

// byLine deals the units out to the lines of text, in order.
func (d *drawing) byLine() [][]pattern.Unit {
	names := [4][2]string{{"lit", "Lit glass"}, {"hidden", "Hidden glass"}, {"legs", "Legs"}, {"words", "Words"}}
	for i, n := range names {
		d.layers[i] = sheet.Layer{ID: n[0], Name: n[1], Groups: []sheet.Group{{ID: n[0] + "-all", Title: n[1]}}}
	}
	line := map[string]int{}
	most := 0
	for _, s := range d.p.Strokes {
		line[s.ID] = d.p.Spec.Letters[s.Letter].Line
		most = max(most, line[s.ID])
	}
	out := make([][]pattern.Unit, most+1)
	for _, u := range d.p.Units {
		n := 0
		for _, piece := range u.Tube {
			if piece.Stroke != "" {
				n = line[piece.Stroke]
				break
			}
		}
		out[n] = append(out[n], u)
	}
	return out
}

func (d *drawing) layer(i int) *sheet.Group { return &d.layers[i].Groups[0] }

// line draws one line of text with its lower edge at y and returns where it
// ends.
func (d *drawing) line(units []pattern.Unit, y float64) float64 {
	if len(units) == 0 {
		return y
	}
	box := geom.EmptyRect()
	deep := 0.0
	for _, u := range units {
		for _, piece := range u.Tube {
			for _, q := range points(piece.Seg) {
				box = box.Including(q.Plan())
				deep = max(deep, -q.Z)
			}
		}
	}
	r := d.p.Spec.Rules.Diameter / 2
	face := y + 2*size + r // where z = 0 is drawn
	front := face + deep + r + gap - box.Min.Y
	above := func(q geom.Point3) geom.Point { return geom.Point{X: d.left + q.X, Y: face - q.Z} }
	ahead := func(q geom.Point3) geom.Point { return geom.Point{X: d.left + q.X, Y: front + q.Y} }
	for _, u := range units {
		d.unit(u, ahead)
		d.unit(u, above)
		d.name(u, y+0.6*size)
	}
	return front + box.Max.Y + gap
}

// unit draws one unit in one view.
func (d *drawing) unit(u pattern.Unit, view func(geom.Point3) geom.Point) {
	pens := [3]sheet.Pen{
		{Width: 1.4, Colour: sheet.Grey(0)},
		{Width: 0.6, Dash: []float64{2.4, 1.6}, Colour: sheet.Grey(0)},
		{Width: 0.35, Colour: sheet.Grey(0)},
	}
	for k, role := range [3]tube.Role{tube.Lit, tube.Hidden, tube.Leg} {
		s := sheet.Shape{Pen: pens[k]}
		for _, piece := range u.Tube {
			if piece.Role != role {
				continue
			}
			var pts []geom.Point
			for _, q := range points(piece.Seg) {
				if v := view(q); len(pts) == 0 || v.Dist(pts[len(pts)-1]) > 0.05 {
					pts = append(pts, v)
				}
			}
			if len(pts) > 1 { // a leg seen from the front is a point
				s.Paths = append(s.Paths, sheet.Polyline(pts...))
			}
		}
		if len(s.Paths) > 0 {
			d.layer(k).Items = append(d.layer(k).Items, s)
		}
	}
	for _, e := range u.Electrodes {
		d.layer(2).Items = append(d.layer(2).Items, sheet.Shape{Fill: sheet.Grey(0), Paths: []geom.Path{sheet.Circle(view(e.At), 1.8)}})
	}
}

// bow is how far in mm an arc may stand off the chords it is drawn with: a good deal
// under the width of the thinnest line, so that no curve looks cornered at full size.
const bow = 0.02

// points returns points of a piece, near enough to each other to be drawn.
func points(s geom.Segment3) []geom.Point3 {
	n := 1
	if a, ok := s.(geom.Arc3); ok {
		n = max(2, int(math.Ceil(float64(a.Angle)/(2*math.Acos(max(0, 1-bow/a.Radius()))))))
	}
	out := make([]geom.Point3, n+1)
	for k := range out {
		out[k] = s.PointAt(s.Length() * float64(k) / float64(n))
	}
	return out
}

// name says under a unit what it is and how deep it stands.
func (d *drawing) name(u pattern.Unit, y float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, piece := range u.Tube {
		for _, q := range points(piece.Seg) {
			lo, hi = min(lo, q.X), max(hi, q.X)
		}
	}
	text := fmt.Sprintf("%s: %s mm deep", u.ID, geom.FormatNumber(u.Depth.Deepest, 1))
	fit := size
	if w := sheet.Width(text, size, sheet.Regular) * sheet.Room; w > hi-lo+14 {
		text = u.ID
		if sheet.Width(text, size, sheet.Regular) > hi-lo+14 {
			fit = sheet.MinSize
		}
	}
	l := label(d.left+(lo+hi)/2, y, text, sheet.Regular, sheet.Middle)
	l.Size = fit
	d.layer(3).Items = append(d.layer(3).Items, l)
}

func label(x, y float64, s string, f sheet.Font, a sheet.Anchor) sheet.Text {
	return sheet.Text{At: geom.Point{X: x, Y: y}, Text: sheet.Printable(s), Size: size, Font: f, Anchor: a, Colour: sheet.Grey(0)}
}
