package grade

import (
	"fmt"
	"strings"

	"tubewright/geom"
	"tubewright/geom/region"
	"tubewright/pattern/sheet"
)

// The specimen is one A4 page, upright; mm.
const (
	pageWide, pageHigh = 210.0, 297.0
	margin             = 12.0
	headHigh           = 45.0 // of title, verdict and legend
	textSize           = 3.6
	lineHigh           = 5.0
	letterGap          = 5.0 // between letters
	captionHigh        = 7.0 // under a row
	captionWide        = 11.0
	mostReasons        = 90.0 // height for the reasons at the foot
)

// What the specimen is drawn with.
func inkColour() sheet.Colour  { return sheet.Grey(0xdc) }
func tubeColour() sheet.Colour { return sheet.RGB(0x86, 0xb4, 0xd8) }
func careColour() sheet.Colour { return sheet.RGB(0xb0, 0x20, 0x10) }

func words(x, y float64, s string, f sheet.Font) sheet.Text {
	return sheet.Text{At: geom.Point{X: x, Y: y}, Text: sheet.Printable(s), Size: textSize, Font: f, Colour: sheet.Grey(0)}
}

// Draw returns the specimen of a graded face: its letters at a told scale, the
// ink pale, the tube over it with its middle, and those that need care framed
// and numbered, with the reasons at the foot.
func Draw(g Grade) *sheet.Sheet {
	foot := g.foot()
	footHigh := float64(len(foot)) * lineHigh
	room := geom.Rect{Min: geom.Point{X: margin, Y: margin + footHigh + 4}, Max: geom.Point{X: pageWide - margin, Y: pageHigh - margin - headHigh}}
	scale, rows := g.fit(room)
	letters := sheet.Layer{ID: "letters", Name: "Letters"}
	y := room.Max.Y
	for n, r := range rows {
		y -= r.top * scale
		letters.Groups = append(letters.Groups, sheet.Group{ID: fmt.Sprintf("row-%d", n+1), Items: g.drawRow(r, scale, geom.Point{X: room.Min.X, Y: y})})
		y += r.bottom*scale - captionHigh
	}
	s := &sheet.Sheet{
		Width: pageWide, Height: pageHigh, Frame: sheet.Front, Title: "tubewright specimen: " + g.Spec.Face,
		Description: fmt.Sprintf("Letters of the face %s in a tube of %s, with the finished capital H %s high, drawn at 1:%s. Front frame, millimetres.",
			g.Spec.Face, geom.Length(g.Spec.Rules.Diameter), geom.Length(g.Spec.Height), geom.FormatNumber(1/scale, 1)),
	}
	head := sheet.Layer{ID: "head", Name: "Head", Groups: []sheet.Group{{ID: "head-all", Items: g.head(scale)}}}
	var reasons []sheet.Item
	for i, line := range foot {
		reasons = append(reasons, words(margin, margin+footHigh-float64(i+1)*lineHigh+1, line, sheet.Regular))
	}
	s.Layers = []sheet.Layer{head, letters, {ID: "reasons", Name: "Reasons", Groups: []sheet.Group{{ID: "reasons-all", Items: reasons}}}}
	return s
}

// line is a row of letters, by index, and how far they reach above and below
// the baseline (mm at full size; bottom is negative).
type line struct {
	letters     []int
	top, bottom float64
}

// fit breaks the letters into rows at the largest scale of a few round ones at
// which they fit the room; the smallest is taken whether they do or not.
func (g Grade) fit(room geom.Rect) (scale float64, rows []line) {
	ratios := []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 300, 500}
	for _, r := range ratios {
		scale = 1 / r
		rows = g.rowsAt(scale, room.Width())
		high := 0.0
		for _, l := range rows {
			high += (l.top-l.bottom)*scale + captionHigh
		}
		if high <= room.Height() {
			break
		}
	}
	return scale, rows
}

func (g Grade) rowsAt(scale, wide float64) []line {
	var rows []line
	x := 0.0
	for i, l := range g.Spec.Letters {
		w := cellWide(l, scale)
		if len(rows) == 0 || x+w > wide && x > 0 {
			rows = append(rows, line{})
			x = 0
		}
		x += w + letterGap
		r, box := &rows[len(rows)-1], l.box().Grown(g.Spec.Rules.Diameter/2)
		r.letters = append(r.letters, i)
		r.top, r.bottom = max(r.top, box.Max.Y), min(r.bottom, box.Min.Y)
	}
	return rows
}

func cellWide(l Letter, scale float64) float64 { return max(captionWide, l.box().Width()*scale) }

// box is that of a letter's ink and strokes.
func (l Letter) box() geom.Rect {
	r := l.Outline.ControlBox()
	for _, s := range l.Trace.Strokes {
		r = r.Union(s.Path.Bounds())
	}
	if r.IsEmpty() {
		return geom.Rect{}
	}
	return r
}

// drawRow draws a row of letters from a place on the baseline on.
func (g Grade) drawRow(r line, scale float64, at geom.Point) []sheet.Item {
	var items []sheet.Item
	for _, i := range r.letters {
		l, grade := g.Spec.Letters[i], g.Letters[i]
		box, w := l.box(), cellWide(l, scale)
		to := geom.Vec{X: at.X + (w-box.Width()*scale)/2 - box.Min.X*scale, Y: at.Y}
		items = append(items, g.drawLetter(l, geom.SimilarityMap{Scale: scale, Move: to})...)
		low := at.Y + r.bottom*scale - 4
		caption := words(at.X+w/2, low, "–", sheet.Regular)
		caption.Anchor = sheet.Middle
		if grade.Room.Height > 0 {
			caption.Text = geom.FormatNumber(grade.Room.Height, 0)
		}
		if len(grade.Care) > 0 {
			caption.Font, caption.Colour = sheet.Bold, careColour()
			frame := geom.Rect{Min: geom.Point{X: at.X - 1.5, Y: low - 1.4}, Max: geom.Point{X: at.X + w + 1.5, Y: at.Y + r.top*scale + 0.5}}
			items = append(items, sheet.Shape{Paths: []geom.Path{sheet.Rectangle(frame)}, Pen: sheet.Pen{Width: 0.35, Colour: careColour()}})
		}
		items = append(items, caption)
		at.X += w + letterGap
	}
	return items
}

// drawLetter draws one letter: pale ink, tube, and the middle of the tube.
func (g Grade) drawLetter(l Letter, m geom.SimilarityMap) []sheet.Item {
	var items []sheet.Item
	if len(l.Outline) > 0 {
		items = append(items, sheet.Shape{Paths: inkPaths(l.Outline, m), Fill: inkColour()})
	}
	var tubes, middles, dots []geom.Path
	for _, s := range l.Trace.Strokes {
		if len(s.Path.Segments) == 0 {
			continue
		}
		p := s.Path.Map(m)
		if s.Dot {
			dots = append(dots, sheet.Circle(p.PointAt(p.Length()/2), g.Spec.Rules.Diameter*m.Scale/2))
			continue
		}
		tubes = append(tubes, p)
		middles = append(middles, p)
	}
	if len(tubes) > 0 {
		items = append(items, sheet.Shape{Paths: tubes, Pen: sheet.Pen{Width: g.Spec.Rules.Diameter * m.Scale, Colour: tubeColour()}})
		items = append(items, sheet.Shape{Paths: middles, Pen: sheet.Pen{Width: 0.18, Colour: sheet.Grey(0)}})
	}
	if len(dots) > 0 {
		items = append(items, sheet.Shape{Paths: dots, Fill: tubeColour()})
	}
	return items
}

// inkPaths flattens an outline for the specimen, finer than a pen draws.
func inkPaths(o geom.Outline, m geom.SimilarityMap) []geom.Path {
	const tol = 0.02 // mm on the paper
	var out []geom.Path
	for _, loop := range region.Flatten(o, tol/m.Scale) {
		if len(loop) > 2 {
			out = append(out, sheet.Polygon(loop...).Map(m))
		}
	}
	return out
}

// head draws what stands above the letters.
func (g Grade) head(scale float64) []sheet.Item {
	y := pageHigh - margin
	title := sheet.Text{At: geom.Point{X: margin, Y: y - 5}, Text: clipped(sheet.Printable(g.Spec.Face), 6, 178), Size: 6, Font: sheet.Bold, Colour: sheet.Grey(0)}
	items := []sheet.Item{title}
	lines := []string{
		fmt.Sprintf("Tube %s, finished capital H %s high, drawn at 1:%s.", geom.Length(g.Spec.Rules.Diameter), geom.Length(g.Spec.Height), geom.FormatNumber(1/scale, 1)),
		fmt.Sprintf("For tube: %s. %s", g.Verdict, g.StrokeWords()),
		g.RoomWords(),
	}
	for i, l := range lines {
		items = append(items, words(margin, y-11-lineHigh*float64(i), clipped(l, textSize, pageWide-2*margin), sheet.Regular))
	}
	return append(items, g.legend(scale, y-29)...)
}

// legend explains the marks, with a bar of a round length of the sign.
func (g Grade) legend(scale, y float64) []sheet.Item {
	x := margin
	swatch := func(p geom.Path, pen sheet.Pen, fill sheet.Colour, wide float64, s string) []sheet.Item {
		out := []sheet.Item{sheet.Shape{Paths: []geom.Path{p}, Pen: pen, Fill: fill}, words(x+wide+2, y-1.2, s, sheet.Regular)}
		x += wide + 2 + sheet.Width(s, textSize, sheet.Regular)*sheet.Room + 5
		return out
	}
	box := func(w float64) geom.Path {
		return sheet.Rectangle(geom.Rect{Min: geom.Point{X: x, Y: y - 1.8}, Max: geom.Point{X: x + w, Y: y + 1.8}})
	}
	var items []sheet.Item
	if !g.Spec.Coarse {
		items = append(items, swatch(box(5), sheet.Pen{}, inkColour(), 5, "ink of the face")...)
	}
	items = append(items, swatch(sheet.Polyline(geom.Point{X: x, Y: y}, geom.Point{X: x + 6, Y: y}), sheet.Pen{Width: 1.6, Colour: tubeColour()}, sheet.Colour{}, 6, "tube")...)
	items = append(items, swatch(box(5), sheet.Pen{Width: 0.35, Colour: careColour()}, sheet.Colour{}, 5, "needs care: see below")...)
	bar := 100.0
	for bar*scale > 45 {
		bar /= 2
	}
	rule := sheet.Polyline(geom.Point{X: x, Y: y + 1.5}, geom.Point{X: x, Y: y}, geom.Point{X: x + bar*scale, Y: y}, geom.Point{X: x + bar*scale, Y: y + 1.5})
	items = append(items, swatch(rule, sheet.Pen{Width: 0.25, Colour: sheet.Grey(0)}, sheet.Colour{}, bar*scale, geom.FormatNumber(bar, 1)+" mm on the sign")...)
	const under = "Under a letter: height of the finished capitals, mm, from which the tube has room (–: none found)."
	for i, l := range sheet.Wrap(under, textSize, sheet.Regular, pageWide-2*margin) {
		items = append(items, words(margin, y-7-lineHigh*float64(i), l, sheet.Regular))
	}
	return items
}

// foot lists why letters need care, broken into lines.
func (g Grade) foot() []string {
	var out []string
	if g.Why != "" {
		out = append(out, sheet.Wrap(sheet.Printable(capital(g.Why)+"."), textSize, sheet.Regular, pageWide-2*margin)...)
		out = append(out, sheet.Wrap(sheet.Printable(capital(g.Serve)+"."), textSize, sheet.Regular, pageWide-2*margin)...)
	}
	reasons := g.Reasons()
	for i, r := range reasons {
		more := sheet.Wrap(sheet.Printable(capital(r.Why)+": "+strings.Join(r.Letters, ", ")), textSize, sheet.Regular, pageWide-2*margin)
		if float64(len(out)+len(more)+1)*lineHigh > mostReasons {
			return append(out, fmt.Sprintf("%d more reasons are told by tubewright fonts.", len(reasons)-i))
		}
		out = append(out, more...)
	}
	return out
}

// clipped shortens a line to a width.
func clipped(s string, size, wide float64) string {
	lines := sheet.Wrap(s, size, sheet.Bold, wide)
	if len(lines) < 2 {
		return s
	}
	return lines[0] + " …"
}
