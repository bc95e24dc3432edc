package bender

import (
	"fmt"
	"strings"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/tile"
)

// pictureRoom is left about a drawing, mm.
const pictureRoom = 4.0

// name returns what the job is called on paper.
func name(p pattern.Pattern) string {
	if p.Spec.Name != "" {
		return sheet.Printable(p.Spec.Name)
	}
	return sheet.Printable(strings.Join(p.Spec.Text, " / "))
}

// settle fills in what all pages say of the job.
func (o Options) settle(p pattern.Pattern) Options {
	o.Format.Frame = sheet.Bench
	line := fmt.Sprintf("%s  “%s”  D %s mm", name(p), strings.Join(p.Spec.Text, " / "), o.Format.Words.Number(p.Spec.Rules.Diameter, 2))
	for _, n := range [3]int{17, 1, 45} { // colour, number and date, approval: where the job says them
		if t := o.given(n, ""); t != "" {
			line += "  " + t
		}
	}
	o.Format.Job = []string{line}
	if o.Overlap == 0 {
		o.Overlap = tile.Overlap
	}
	return o
}

// Tiles returns the whole drawing on pages of a home printer: page map and how to
// put them together, legend, then the tiles. drawn is the pattern's bench sheet.
// An error says what paper will not do.
func Tiles(p pattern.Pattern, drawn *sheet.Sheet, o Options) (sheet.Book, error) {
	o = o.settle(p)
	if err := o.Format.Check(); err != nil {
		return sheet.Book{}, err
	}
	w := o.Format.Words
	title := w.Say("tile.title")
	picture, box := pattern.Picture(drawn)
	l, err := tile.Lay(picture, box.Grown(pictureRoom), tile.Options{Format: o.Format, Overlap: o.Overlap})
	f := &paper.Flow{Format: o.Format}
	f.Start(title+": "+w.Say("tile.map"), w.Say("tile.map"), 0)
	if err != nil {
		// A sign too large for small paper is no reason to make nothing: the file says
		// why it holds no tiles.
		f.Add(paper.Heading(w.Say("tile.toomany"), f.Width()))
		f.Add(paper.Paragraph(err.Error(), 0, f.Width(), sheet.Bold)...)
	} else {
		f.Add(l.Guide(f.Width(), 0.32*o.Format.Area().Height())...)
	}
	f.Gap(5)
	f.Add(legend(o, f.Width())...)
	f.Gap(5)
	f.Add(cautions(o, f.Width())...)
	book := sheet.Book{Title: name(p) + ": " + title, Description: drawn.Description, Language: w.Language()}
	for _, k := range f.Pages(paper.Numbers("", 1)) {
		book.Pages = append(book.Pages, k.Page)
	}
	if err == nil {
		for i, k := range l.Sheets(title) {
			if i == 0 {
				k.Bookmark = title
			} else {
				k.Bookmark, k.Level = k.Label, 1
			}
			book.Pages = append(book.Pages, k)
		}
	}
	return book, nil
}

// legend explains the signs of the drawings, in two columns.
func legend(o Options, width float64) []paper.Row {
	rows := []paper.Row{paper.Heading(o.Format.Words.Say("legend"), width)}
	const between = 5.0
	half := (width - between) / 2
	entries := pattern.Legend(o.Format.Words)
	n := (len(entries) + 1) / 2
	for i := range n {
		r := legendEntry(entries[i], half)
		if i+n < len(entries) {
			other := legendEntry(entries[i+n], half)
			shift := geom.Vec{X: half + between}
			// Both stand in the middle of the higher of the two.
			high := max(r.Height, other.Height)
			for k, item := range r.Items {
				r.Items[k] = sheet.Moved(item, geom.Vec{Y: (r.Height - high) / 2})
			}
			shift.Y = (other.Height - high) / 2
			for _, item := range other.Items {
				r.Items = append(r.Items, sheet.Moved(item, shift))
			}
			r.Height = high
		}
		r.Keep = i < n-1
		rows = append(rows, r)
	}
	return rows
}

// legendEntry is a sign and, beside it, what it means.
func legendEntry(e pattern.LegendEntry, width float64) paper.Row {
	const column, step = pattern.LegendWide + 4, 4.6
	lines := sheet.Wrap(e.Words, sheet.MinSize, sheet.Regular, width-column)
	r := paper.Row{Height: max(pattern.LegendHigh+0.5, float64(len(lines))*step+1.5)}
	for _, i := range e.Items {
		r.Items = append(r.Items, sheet.Moved(i, geom.Vec{Y: -r.Height / 2}))
	}
	for i, l := range lines {
		y := -r.Height/2 + float64(len(lines)-1)*step/2 - float64(i)*step - 1.2
		r.Items = append(r.Items, sheet.Text{At: geom.Point{X: column, Y: y}, Text: l, Size: sheet.MinSize, Colour: sheet.Grey(0)})
	}
	return r
}

// cautions stand on everything that goes to the bench.
func cautions(o Options, width float64) []paper.Row {
	w := o.Format.Words
	rows := []paper.Row{paper.Heading(w.Say("caution"), width)}
	for _, k := range []string{"caution.glass", "caution.voltage", "caution.fill", "caution.code"} {
		rows = append(rows, paper.Item("!", w.Say(k), width)...)
	}
	return rows
}
