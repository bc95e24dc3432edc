package shopsheet

import (
	"strings"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// span is a stretch of running text in one style.
type span struct {
	text   string
	font   sheet.Font
	colour sheet.Colour
}

func plain(s string) span  { return span{s, sheet.Regular, black()} }
func strong(s string) span { return span{s, sheet.Bold, black()} }
func faint(s string) span  { return span{s, sheet.Regular, grey()} }

// slack is the room left for a reader that draws a hair wider: the file carries
// its own fonts, so widths are known.
const slack = 1.015

// width of one line of body text.
func widthOf(s string, f sheet.Font) float64 { return slack * sheet.Width(s, bodySize, f) }

// measure is where running text may stand: from x on, the first line as wide as
// first, the others set in by indent and ending at x + width.
type measure struct{ x, width, first, indent float64 }

// column is a measure of lines of one length.
func column(x, width float64) measure { return measure{x, width, width, 0} }

// flow writes running text from the top of the row, broken at spaces and, where a
// word is wider than a line, within it. It returns how far down it goes.
func (r *row) flow(m measure, spans ...span) float64 {
	w := &wrapper{r: r, m: m, room: m.first, x: m.x}
	for _, s := range spans {
		for _, word := range strings.Fields(sheet.Printable(s.text)) {
			w.word(span{word, s.font, s.colour})
		}
	}
	w.end()
	return w.y
}

// wrapper fills lines word by word.
type wrapper struct {
	r      *row
	m      measure
	x, y   float64 // where the line starts; lower edge of the lines before it
	room   float64 // of the line
	filled float64
	line   []span
}

// gap is the width of a space before a word, none at the start of a line.
func (w *wrapper) gap() float64 {
	if len(w.line) == 0 {
		return 0
	}
	return widthOf(" ", sheet.Regular)
}

func (w *wrapper) word(s span) {
	wide := widthOf(s.text, s.font)
	if w.filled+w.gap()+wide > w.room && len(w.line) > 0 {
		w.end()
	}
	for widthOf(s.text, s.font) > w.room {
		runes := []rune(s.text)
		n := 1
		for n < len(runes) && widthOf(string(runes[:n+1]), s.font) <= w.room {
			n++
		}
		if n == len(runes) {
			break // a single character wider than the line
		}
		w.put(span{string(runes[:n]), s.font, s.colour})
		w.end()
		s.text = string(runes[n:])
	}
	w.put(s)
}

func (w *wrapper) put(s span) {
	w.filled += w.gap() + widthOf(s.text, s.font)
	if n := len(w.line); n > 0 && w.line[n-1].font == s.font && w.line[n-1].colour == s.colour {
		w.line[n-1].text += " " + s.text
		return
	}
	w.line = append(w.line, s)
}

// end writes the line and opens the next one.
func (w *wrapper) end() {
	if len(w.line) == 0 {
		return
	}
	w.y += bodyLine
	x := w.x
	for i, s := range w.line {
		if i > 0 {
			x += widthOf(" ", sheet.Regular)
		}
		w.r.text(x, w.y-baseline, s.text, s.font, sheet.Start, s.colour)
		x += widthOf(s.text, s.font)
	}
	w.line, w.filled = nil, 0
	w.x, w.room = w.m.x+w.m.indent, w.m.width-w.m.indent
}

// linesOf parts a row of running text into its lines, so that it may break.
func linesOf(r row) []row {
	var out []row
	for _, item := range r.items {
		n := int((-item.(sheet.Text).At.Y + baseline) / bodyLine * 1.001)
		for len(out) < n {
			out = append(out, row{height: bodyLine})
		}
		out[n-1].items = append(out[n-1].items, sheet.Moved(item, geom.Vec{Y: float64(n-1) * bodyLine}))
	}
	return out
}

func (r *row) text(x, y float64, s string, f sheet.Font, a sheet.Anchor, c sheet.Colour) {
	r.items = append(r.items, sheet.Text{At: geom.Point{X: x, Y: -y}, Text: s, Size: bodySize, Font: f, Anchor: a, Colour: c})
}

func (r *row) line(x0, y0, x1, y1, width float64) {
	r.items = append(r.items, sheet.Shape{Pen: sheet.Pen{Width: width, Colour: black()},
		Paths: []geom.Path{sheet.Polyline(geom.Point{X: x0, Y: -y0}, geom.Point{X: x1, Y: -y1})}})
}

func (r *row) box(x0, y0, x1, y1, width float64) {
	b := geom.Rect{Min: geom.Point{X: x0, Y: -y1}, Max: geom.Point{X: x1, Y: -y0}}
	r.items = append(r.items, sheet.Shape{Pen: sheet.Pen{Width: width, Colour: black()}, Paths: []geom.Path{sheet.Rectangle(b)}})
}
