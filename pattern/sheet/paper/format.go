package paper

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/words"
)

// Margin is what home printers leave white, and a little: mm.
const Margin = 10.0

// Format is the look all pages of a document share.
type Format struct {
	Size     Size
	Margin   float64 // mm of the paper, left white on each side
	Readings Readings
	Words    words.Words
	Frame    sheet.Frame
	Job      []string // one or two lines under the title of each page
}

// The strips about the free area of a page, mm.
const (
	headHigh = 22.0
	footHigh = 17.0
	leftWide = 13.0
)

// Line widths, mm.
const (
	wideLine = 0.5
	ruleLine = 0.35
	thinLine = 0.2 // the least that a photocopy keeps, in black
)

func black() sheet.Colour { return sheet.Grey(0) }

func pen(width float64) sheet.Pen { return sheet.Pen{Width: width, Colour: black()} }

// Check reports what no page can be made with.
func (f Format) Check() error {
	if !(f.Margin >= 0 && f.Margin <= 50) {
		return fmt.Errorf("margin of %g mm: margins from 0 to 50 mm are served", f.Margin)
	}
	if a := f.Area(); a.Width() < 110 || a.Height() < 110 {
		return fmt.Errorf("paper of %g by %g mm with margins of %g mm leaves %.0f by %.0f mm, and a page needs 110 by 110 mm; take larger paper or smaller margins",
			f.Size.Width, f.Size.Height, f.Margin, a.Width(), a.Height())
	}
	return nil
}

// printable returns what a printer can mark, in true mm.
func (f Format) printable() geom.Rect {
	x, y := f.Readings.Stretch().Factors()
	return geom.Rect{Min: geom.Point{X: f.Margin / x, Y: f.Margin / y}, Max: geom.Point{X: (f.Size.Width - f.Margin) / x, Y: (f.Size.Height - f.Margin) / y}}
}

// Area returns what of a page is free for its own matter.
func (f Format) Area() geom.Rect {
	p := f.printable()
	return geom.Rect{Min: geom.Point{X: p.Min.X + leftWide, Y: p.Min.Y + footHigh}, Max: geom.Point{X: p.Max.X, Y: p.Max.Y - headHigh}}
}

// Page returns a page with all that every page has: its title, the job, the frame
// in words, rulers on both axes, the correction, its number.
func (f Format) Page(title, number string) sheet.Page {
	p := sheet.Page{Stretch: f.Readings.Stretch(), Label: number}
	x, y := p.Stretch.Factors()
	p.Width, p.Height, p.Frame = f.Size.Width/x, f.Size.Height/y, f.Frame
	box := f.printable()
	p.Layers = []sheet.Layer{
		{ID: "border", Name: "Border", Groups: []sheet.Group{{ID: "head", Title: title, Items: f.head(box, title, number)}}},
		{ID: "scale", Name: "Scale bars", Groups: []sheet.Group{
			{ID: "ruler-x", Items: RulerAcross(geom.Point{X: box.Min.X + leftWide, Y: box.Min.Y + 6})},
			{ID: "ruler-y", Items: RulerUp(geom.Point{X: box.Min.X + 6, Y: box.Min.Y + footHigh})},
			{ID: "ruler-words", Items: f.rulerWords(box)},
		}},
	}
	return p
}

func text(x, y float64, s string, size float64, font sheet.Font, a sheet.Anchor) sheet.Text {
	return sheet.Text{At: geom.Point{X: x, Y: y}, Text: s, Size: size, Font: font, Anchor: a, Colour: black()}
}

func line(a, b geom.Point, width float64) sheet.Shape {
	return sheet.Shape{Paths: []geom.Path{sheet.Polyline(a, b)}, Pen: pen(width)}
}

// head is the strip at the top: frame and title, number in a box, the job.
func (f Format) head(box geom.Rect, title, number string) []sheet.Item {
	frame := f.Words.Say("frame." + f.Frame.String())
	top := box.Max.Y
	var out []sheet.Item
	right := box.Max.X
	if number != "" {
		w := sheet.Room*sheet.Width(number, 7, sheet.Bold) + 5
		out = append(out,
			sheet.Shape{Pen: pen(wideLine), Paths: []geom.Path{sheet.Rectangle(geom.Rect{Min: geom.Point{X: right - w, Y: top - 9}, Max: geom.Point{X: right - 0.25, Y: top - 0.25}})}},
			text(right-w/2, top-7.1, number, 7, sheet.Bold, sheet.Middle))
		right -= w + 4
	}
	x := box.Min.X
	titleSize := fit(title, 6, right-x, sheet.Bold)
	out = append(out, text(x, top-5.2, title, titleSize, sheet.Bold, sheet.Start),
		text(x, top-10.2, frame, fit(frame, 4.2, right-x, sheet.Bold), sheet.Bold, sheet.Start))
	for i, l := range f.Job[:min(1, len(f.Job))] {
		out = append(out, text(x, top-15-float64(i)*4.4, Clip(l, box.Max.X-x, sheet.MinSize, sheet.Regular), sheet.MinSize, sheet.Regular, sheet.Start))
	}
	return append(out, line(geom.Point{X: x, Y: top - 17.2}, geom.Point{X: box.Max.X, Y: top - 17.2}, ruleLine))
}

// fit returns the size, at most size and at least the least allowed, at which a line
// is no wider than width.
func fit(s string, size, width float64, font sheet.Font) float64 {
	if w := sheet.Room * sheet.Width(s, 1, font); w*size > width {
		size = max(sheet.MinSize, width/w)
	}
	return size
}

// Clip shortens a line to a width in mm, with an ellipsis.
func Clip(s string, width, size float64, font sheet.Font) string {
	s = sheet.Printable(s)
	if sheet.Room*sheet.Width(s, size, font) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && sheet.Room*sheet.Width(string(r)+"…", size, font) > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// ruler returns a beam of 4 in with teeth of mm to 100 on one side and of a quarter
// inch on the other: filled pieces, so that no pen adds to a length. It
// runs along +x from the origin; across is +y on the side of the millimetres.
func ruler() []geom.Rect {
	const inch, half, width = 25.4, 0.3, 0.2
	out := []geom.Rect{{Min: geom.Point{X: 0, Y: -half}, Max: geom.Point{X: 4 * inch, Y: half}}}
	tooth := func(at, high float64) {
		at = min(max(at, width/2), 4*inch-width/2)
		lo, hi := 0.0, high
		if high < 0 {
			lo, hi = high, 0
		}
		out = append(out, geom.Rect{Min: geom.Point{X: at - width/2, Y: lo}, Max: geom.Point{X: at + width/2, Y: hi}})
	}
	for mm := 0; mm <= 100; mm += 5 {
		switch {
		case mm%50 == 0:
			tooth(float64(mm), 3)
		case mm%10 == 0:
			tooth(float64(mm), 2)
		default:
			tooth(float64(mm), 1.2)
		}
	}
	for q := 0; q <= 16; q++ {
		if q%4 == 0 {
			tooth(float64(q)*inch/4, -3)
		} else {
			tooth(float64(q)*inch/4, -1.2)
		}
	}
	return out
}

// RulerAcross is a ruler of 100 mm and 4 in from a point along x: 122 mm long with its
// words, 4 mm to each side.
func RulerAcross(at geom.Point) []sheet.Item {
	var s sheet.Shape
	s.Fill = black()
	for _, r := range ruler() {
		s.Paths = append(s.Paths, sheet.Rectangle(geom.Rect{Min: at.Add(geom.Vec{X: r.Min.X, Y: r.Min.Y}), Max: at.Add(geom.Vec{X: r.Max.X, Y: r.Max.Y})}))
	}
	return []sheet.Item{s,
		text(at.X+103, at.Y+0.9, "100 mm", sheet.MinSize, sheet.Regular, sheet.Start),
		text(at.X+103, at.Y-3.4, "4 in", sheet.MinSize, sheet.Regular, sheet.Start),
	}
}

// RulerUp is a ruler of 100 mm and 4 in from a point along y.
func RulerUp(at geom.Point) []sheet.Item {
	var s sheet.Shape
	s.Fill = black()
	for _, r := range ruler() { // turned a quarter to the left
		s.Paths = append(s.Paths, sheet.Rectangle(geom.Rect{Min: at.Add(geom.Vec{X: -r.Max.Y, Y: r.Min.X}), Max: at.Add(geom.Vec{X: -r.Min.Y, Y: r.Max.X})}))
	}
	up := func(dx float64, words string) sheet.Text {
		t := text(at.X+dx, at.Y+103, words, sheet.MinSize, sheet.Regular, sheet.Start)
		t.Turn = 90 * geom.Degree
		return t
	}
	return []sheet.Item{s, up(-0.9, "100 mm"), up(3.4, "4 in")}
}

// wordLines is how many lines of words there is room for beside the ruler.
const wordLines = 4

// rulerWords says what to do with the rulers and, where the page is corrected, so.
func (f Format) rulerWords(box geom.Rect) []sheet.Item {
	x := box.Min.X + leftWide + 118
	say := f.Words.Say("ruler.check")
	if !f.Readings.Stretch().None() {
		say = f.Correction()
	}
	var out []sheet.Item
	lines := sheet.Wrap(say, sheet.MinSize, sheet.Regular, box.Max.X-x)
	for i, l := range lines[:min(wordLines, len(lines))] {
		out = append(out, text(x, box.Min.Y+12.9-4.0*float64(i), l, sheet.MinSize, sheet.Regular, sheet.Start))
	}
	return out
}

// Correction says how the page is stretched and why, "" where it is not.
func (f Format) Correction() string {
	if f.Readings.Stretch().None() {
		return ""
	}
	x, y := f.Readings.Stretch().Factors()
	n := func(v float64) string { return f.Words.Number(v, 5) }
	return f.Words.Say("ruler.corrected", n(x), n(y), f.Words.Number(100/x, 2), f.Words.Number(100/y, 2))
}

// Holding returns the format on paper just large enough for a free area of width by
// high, and for the words about it.
func (f Format) Holding(width, high float64) Format {
	x, y := f.Readings.Stretch().Factors()
	width, high = max(width, 180), max(high, 112)
	f.Size = Size{Name: "sheet", Width: math.Ceil((width+leftWide)*x + 2*f.Margin), Height: math.Ceil((high+headHigh+footHigh)*y + 2*f.Margin)}
	return f
}
