package bender

import (
	"fmt"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/tile"
)

// nameColumn is where the values of fields start, mm.
const nameColumn = 66.0

// Book returns bender.pdf. drawn is the pattern's bench sheet.
func Book(p pattern.Pattern, drawn *sheet.Sheet, o Options) (sheet.Book, error) {
	o = o.settle(p)
	if err := o.Format.Check(); err != nil {
		return sheet.Book{}, err
	}
	w := o.Format.Words
	b := &binder{o: o, p: p, missing: o.Blanks(p)}
	b.book = sheet.Book{Title: name(p) + ": " + w.Say("title"), Description: drawn.Description, Language: w.Language()}
	b.front(drawn)
	for i := range p.Units {
		if err := b.unit(i); err != nil {
			return sheet.Book{}, err
		}
	}
	b.tie()
	return b.book, nil
}

// binder puts the book together; links are by name until all pages are there.
type binder struct {
	o       Options
	p       pattern.Pattern
	missing []Blank
	book    sheet.Book
	links   []namedLink
	names   map[string]int // page of each name
}

type namedLink struct {
	page int
	paper.Named
}

// take adds the pages of a flow.
func (b *binder) take(f *paper.Flow, number func(int) string) {
	for _, l := range f.Pages(number) {
		for _, k := range l.Links {
			b.links = append(b.links, namedLink{len(b.book.Pages), k})
		}
		b.book.Pages = append(b.book.Pages, l.Page)
	}
}

func (b *binder) tie() {
	for _, l := range b.links {
		b.book.Pages[l.page].Links = append(b.book.Pages[l.page].Links, sheet.Link{Area: l.Area, Page: b.names[l.Name]})
	}
}

// entries returns the fields of a group, one below the other.
func (b *binder) entries(group string, u *pattern.Unit, width float64) []paper.Row {
	var rows []paper.Row
	for _, f := range fields() {
		if f.group != group {
			continue
		}
		label := fmt.Sprintf("%d. %s", f.number, b.o.Format.Words.Say(fmt.Sprintf("field.%d", f.number)))
		rows = append(rows, paper.Entry(label, b.o.value(f, b.p, u), nameColumn, width), paper.Row{Height: 0.6})
	}
	return rows
}

// front makes cover, overview and legend.
func (b *binder) front(drawn *sheet.Sheet) {
	w := b.o.Format.Words
	f := &paper.Flow{Format: b.o.Format}
	title := w.Say("title")
	f.Start(title, w.Say("cover"), 0)
	width := f.Width()
	f.Add(cautions(b.o, width)...)
	f.Gap(3)
	f.Add(paper.Heading(w.Say("scale.title"), width))
	f.Add(paper.Paragraph(w.Say("scale.words"), 0, width, sheet.Regular)...)
	if c := b.o.Format.Correction(); c != "" {
		f.Add(paper.Paragraph(c, 0, width, sheet.Bold)...)
	}
	f.Add(paper.Paragraph(w.Say("bw"), 0, width, sheet.Regular)...)
	for _, g := range []string{"job", "pattern"} {
		f.Gap(3)
		f.Add(paper.Heading(w.Say("facts."+g), width))
		f.Add(b.entries(g, nil, width)...)
	}
	f.Start(title, w.Say("facts.delivery"), 0)
	for _, g := range []string{"supply", "delivery", "remake"} {
		f.Add(paper.Heading(w.Say("facts."+g), width))
		f.Add(b.entries(g, nil, width)...)
		f.Gap(2)
	}
	if len(b.missing) > 0 {
		f.Gap(3)
		f.Add(paper.Heading(w.Say("missing"), width))
		f.Add(paper.Paragraph(w.Say("missing.words"), 0, width, sheet.Regular)...)
		for _, m := range b.missing {
			f.Add(paper.Item("□", m.label(w)+": "+m.Key, width)...)
		}
	}
	f.Start(title, w.Say("overview"), 0)
	f.Add(paper.Heading(w.Say("overview"), width))
	f.Add(paper.Paragraph(w.Say("overview.words"), 0, width, sheet.Regular)...)
	f.Add(b.overview(drawn, width, 0.42*b.o.Format.Area().Height()))
	f.Gap(3)
	b.unitList(f)
	f.Gap(4)
	loose := b.p
	loose.Findings = nil // blank fields are listed above
	for _, k := range b.p.Findings {
		if pattern.UnitOf(b.p, k) < 0 {
			loose.Findings = append(loose.Findings, k)
		}
	}
	if len(loose.Findings) > 0 {
		f.Add(findings(loose, w, width)...)
		f.Gap(4)
	}
	f.Add(legend(b.o, width)...)
	b.names = map[string]int{}
	b.take(f, paper.Numbers("", 1))
}

// overview is the whole drawing, small, with the names of the units under their
// glass or over it.
func (b *binder) overview(drawn *sheet.Sheet, width, high float64) paper.Row {
	picture, box := pattern.Picture(drawn)
	const room = 7.0 // for names, above and below
	k := min(width/max(box.Width(), 1), (high-2*room)/max(box.Height(), 1), 0.5)
	m := geom.SimilarityMap{Scale: k, Move: geom.Vec{X: -box.Min.X * k, Y: -room - box.Max.Y*k}}
	r := paper.Row{Height: box.Height()*k + 2*room}
	for _, l := range picture.Layers {
		if l.ID != "hidden" && l.ID != "glass" && l.ID != "electrodes" {
			continue
		}
		for _, g := range l.Groups {
			for _, i := range g.Items {
				s, ok := i.(sheet.Shape)
				if !ok || l.ID == "hidden" && len(s.Pen.Dash) == 0 {
					continue
				}
				small := sheet.Shape{Fill: s.Fill, Pen: sheet.Pen{Width: 0.2, Colour: s.Pen.Colour}}
				if len(s.Pen.Dash) > 0 {
					small.Pen.Dash = []float64{0.8, 0.5}
				}
				for _, path := range s.Paths {
					small.Paths = append(small.Paths, path.Map(m))
				}
				r.Items = append(r.Items, small)
			}
		}
	}
	return b.unitNames(r, picture, m, box, k)
}

// unitNames adds the name of each unit above or below the drawing, over the middle of
// its glass, where the name before it leaves room.
func (b *binder) unitNames(r paper.Row, picture *sheet.Sheet, m geom.SimilarityMap, box geom.Rect, k float64) paper.Row {
	glass, ok := picture.Layer("centreline")
	if !ok {
		return r
	}
	ends := [2]float64{-1e9, -1e9} // where the last name above and below ends
	order := make([]int, len(glass.Groups))
	for i := range order {
		order[i] = len(order) - 1 - i // on the bench the last unit is leftmost
	}
	for _, i := range order {
		c := m.Apply(glass.Groups[i].Bounds().Centre())
		name := b.p.Units[i].ID
		w := sheet.Room * sheet.Width(name, sheet.MinSize, sheet.Bold)
		x := c.X
		row := 0
		if x-w/2 < ends[0] {
			row = 1
		}
		if x-w/2 < ends[row] {
			x = ends[row] + w/2
		}
		y := -3.5
		if row == 1 {
			y = -7 - box.Height()*k - 4.5
		}
		ends[row] = x + w/2 + 1.5
		r.Items = append(r.Items, sheet.Text{At: geom.Point{X: x, Y: y}, Text: name, Size: sheet.MinSize, Font: sheet.Bold, Anchor: sheet.Middle, Colour: sheet.Grey(0)})
	}
	return r
}

// unitList lists the units; each row leads to its unit.
func (b *binder) unitList(f *paper.Flow) {
	w := b.o.Format.Words
	heads, cells, sums := pattern.UnitRows(b.p, w)
	var columns []paper.Column
	for i, share := range []float64{1, 1.9, 1, 1.3, 1.2, 1, 1} {
		columns = append(columns, paper.Column{Head: heads[i], Share: share, Right: i >= 2})
	}
	cells = append(cells, sums)
	rows := append([]paper.Row{paper.Heading(w.Say("units"), f.Width())}, paper.Table(columns, cells, f.Width())...)
	for i, r := range rows {
		f.Add(r)
		if unit := i - 2; unit >= 0 && unit < len(b.p.Units) {
			f.Link(r.Height, b.p.Units[unit].ID)
		}
	}
	f.Add(paper.Paragraph(w.Say("lengths"), 0, f.Width(), sheet.Regular)...)
}

// unit makes the pages of one unit: facts, card, sticks, ends, block-out, findings,
// drawing.
func (b *binder) unit(i int) error {
	u, w := b.p.Units[i], b.o.Format.Words
	defer u.Plan.Forget() // of the pictures: hundreds of kB a heat
	one := pattern.Alone(b.p, i)
	b.names[u.ID] = len(b.book.Pages)
	f := &paper.Flow{Format: b.o.Format}
	width := f.Width()
	title := w.Say("facts.unit") + " " + u.ID + "  " + sheet.Printable(pattern.LettersOf(b.p, u))
	f.Start(title, u.ID+"  "+pattern.LettersOf(b.p, u), 0)
	f.Add(paper.Heading(w.Say("facts.unit"), width))
	f.Add(b.entries("unit", &u, width)...)
	f.Gap(3)
	f.Add(paper.Heading(w.Say("facts.ends"), width))
	f.Add(b.entries("ends", &u, width)...)
	f.Add(ends(b.p, u, w, width)...)
	f.Gap(3)
	f.Add(blockOut(u, w, width)...)
	f.Gap(3)
	f.Add(findings(one, w, width)...)
	f.Gap(3)
	b.bendCard(u, title, f)
	b.take(f, paper.Numbers(u.ID+"-", 1))
	if b.o.Strips {
		b.strips(u, title)
	}
	return b.drawing(one, title)
}

// drawing adds the full-size drawing of a unit: one sheet of its own size, or tiles.
func (b *binder) drawing(one pattern.Pattern, title string) error {
	w, id := b.o.Format.Words, one.Units[0].ID
	picture, box := pattern.Picture(pattern.DrawFor(one, pattern.Print{Words: w}))
	box = box.Grown(pictureRoom)
	sheetTitle := title + ": " + w.Say("drawing")
	format := b.o.Format.Holding(box.Width(), box.Height())
	if !b.o.Tiled && max(format.Size.Width, format.Size.Height) <= longestSheet {
		page := format.Page(sheetTitle, id)
		a := format.Area()
		page.Views = []sheet.View{{Of: picture, Window: box, At: geom.Point{X: a.Centre().X - box.Width()/2, Y: a.Centre().Y - box.Height()/2}}}
		page.Bookmark, page.Level = w.Say("drawing"), 1
		b.book.Pages = append(b.book.Pages, page)
		return nil
	}
	l, err := tile.Lay(picture, box, tile.Options{Format: b.o.Format, Overlap: b.o.Overlap, Prefix: id + " "})
	if err != nil {
		return fmt.Errorf("bender.pdf: unit %s: %w", id, err)
	}
	f := &paper.Flow{Format: b.o.Format}
	f.Start(sheetTitle, w.Say("drawing"), 1)
	f.Add(paper.Paragraph(w.Say("drawing.tiles", l.Pages()), 0, f.Width(), sheet.Bold)...)
	f.Add(l.Guide(f.Width(), 0.5*b.o.Format.Area().Height())...)
	b.take(f, paper.Numbers(id+"-M", 1))
	for _, page := range l.Sheets(sheetTitle) {
		page.Bookmark, page.Level = page.Label, 2
		b.book.Pages = append(b.book.Pages, page)
	}
	return nil
}

// longestSheet is the longest page that readers keep to scale, mm.
const longestSheet = 5000.0
