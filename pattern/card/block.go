package card

import (
	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
)

// Sizes of lettering (em, mm), and widths of lines.
const (
	large    = 4.6
	text     = 3.8
	small    = sheet.MinSize
	lineGap  = 1.4 // of the em, from line to line
	wideLine = 0.6
	thinLine = 0.25
)

func black(width float64) sheet.Pen { return sheet.Pen{Width: width, Colour: sheet.Grey(0)} }

func line(x, y float64, s string, size float64, f sheet.Font, a sheet.Anchor) sheet.Text {
	return sheet.Text{At: geom.Point{X: x, Y: y}, Text: sheet.Printable(s), Size: size, Font: f, Anchor: a, Colour: sheet.Grey(0)}
}

func rule(x0, y0, x1, y1, width float64) sheet.Shape {
	return sheet.Shape{Paths: []geom.Path{sheet.Polyline(geom.Point{X: x0, Y: y0}, geom.Point{X: x1, Y: y1})}, Pen: black(width)}
}

// say is a sentence in its type.
type say struct {
	words string
	size  float64
	font  sheet.Font
}

// block writes sentences wrapped to a width, one below the other, down from the
// upper edge of a row, and returns how high they are.
func block(r *paper.Row, x, width float64, sentences []say) float64 {
	y := 0.0
	for _, s := range sentences {
		for _, l := range sheet.Wrap(sheet.Printable(s.words), s.size, s.font, width) {
			y += s.size * lineGap
			r.Items = append(r.Items, line(x, -y+0.3*s.size, l, s.size, s.font, sheet.Start))
		}
	}
	return y
}

// whole writes a length to the millimetre.
func whole(v float64) string { return geom.FormatNumber(v, 0) }
