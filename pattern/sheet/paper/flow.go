package paper

import (
	"fmt"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

const (
	bodySize = sheet.MinSize
	bodyLine = 4.9
	headSize = 4.8
	gap      = 4.0 // between blocks
)

// Row is a piece of a page that is not broken: items down from the upper left corner
// of the text, and how high they are.
type Row struct {
	Items  []sheet.Item
	Height float64
	Keep   bool  // stays on a page with the next row
	Under  []Row // its heads, said again where the row comes first on a page
}

// Flow lays rows out on pages.
type Flow struct {
	Format Format
	pages  []flowPage
}

type flowPage struct {
	title, bookmark string
	level           int
	items           []sheet.Item
	links           []linkAt
	used            float64
}

// linkAt is a link on a page, its area down from the upper left corner of the text.
type linkAt struct {
	area geom.Rect
	name string
}

// Width returns the width of the text, mm.
func (f *Flow) Width() float64 { return f.Format.Area().Width() }

// Start begins a page. A page with a bookmark stands in the table of contents.
func (f *Flow) Start(title, bookmark string, level int) {
	f.pages = append(f.pages, flowPage{title: title, bookmark: bookmark, level: level})
}

// Add puts rows one below the other, on further pages of the same title where one
// is full.
func (f *Flow) Add(rows ...Row) {
	for i, r := range rows {
		need := r.Height
		for k := i; rows[k].Keep && k+1 < len(rows); k++ {
			need += rows[k+1].Height
		}
		p := &f.pages[len(f.pages)-1]
		if p.used > 0 && p.used+need > f.Format.Area().Height() {
			f.Start(p.title, "", 0)
			p = &f.pages[len(f.pages)-1]
			for _, head := range r.Under {
				p.put(head)
			}
		}
		p.put(r)
	}
}

func (p *flowPage) put(r Row) {
	for _, item := range r.Items {
		p.items = append(p.items, sheet.Moved(item, geom.Vec{Y: -p.used}))
	}
	p.used += r.Height
}

// Gap leaves white space, none at the top of a page.
func (f *Flow) Gap(high float64) {
	if p := &f.pages[len(f.pages)-1]; p.used > 0 {
		p.used += high
	}
}

// Link makes the last high mm of the page lead to the page that is named.
func (f *Flow) Link(high float64, name string) {
	p := &f.pages[len(f.pages)-1]
	p.links = append(p.links, linkAt{geom.Rect{Min: geom.Point{Y: -p.used}, Max: geom.Point{X: f.Width(), Y: -p.used + high}}, name})
}

// Laid is a finished page with the names of those its links lead to.
type Laid struct {
	Page  sheet.Page
	Links []Named
}

// Named is a link to a page by its name.
type Named struct {
	Area geom.Rect
	Name string
}

// Pages returns the pages made so far; number gives each its own, from 0.
func (f *Flow) Pages(number func(i int) string) []Laid {
	var out []Laid
	a := f.Format.Area()
	corner := geom.Vec{X: a.Min.X, Y: a.Max.Y}
	for i, p := range f.pages {
		page := f.Format.Page(p.title, number(i))
		page.Bookmark, page.Level = p.bookmark, p.level
		g := sheet.Group{ID: "notes", Title: p.title}
		for _, item := range p.items {
			g.Items = append(g.Items, sheet.Moved(item, corner))
		}
		page.Layers = append(page.Layers, sheet.Layer{ID: "notes", Name: "Notes", Groups: []sheet.Group{g}})
		l := Laid{Page: page}
		for _, k := range p.links {
			l.Links = append(l.Links, Named{geom.Rect{Min: k.area.Min.Add(corner), Max: k.area.Max.Add(corner)}, k.name})
		}
		out = append(out, l)
	}
	return out
}

func (r *Row) put(x, y float64, s string, font sheet.Font, a sheet.Anchor) {
	r.Items = append(r.Items, text(x, -y, s, bodySize, font, a))
}

// Heading is the title of a block, over a line.
func Heading(title string, width float64) Row {
	r := Row{Height: headSize + 3.2, Keep: true}
	r.Items = append(r.Items, text(0, -headSize, title, fit(title, headSize, width, sheet.Bold), sheet.Bold, sheet.Start),
		line(geom.Point{Y: -headSize - 1.5}, geom.Point{X: width, Y: -headSize - 1.5}, ruleLine))
	return r
}

// Paragraph is text wrapped from x to the right edge, a row a line.
func Paragraph(s string, x, width float64, font sheet.Font) []Row {
	var out []Row
	for _, l := range sheet.Wrap(sheet.Printable(s), bodySize, font, width-x) {
		r := Row{Height: bodyLine}
		r.put(x, bodyLine-1.2, l, font, sheet.Start)
		out = append(out, r)
	}
	return out
}

// Item is a paragraph with a mark before it.
func Item(mark, s string, width float64) []Row {
	x := max(6, sheet.Room*sheet.Width(mark, bodySize, sheet.Bold)+2.5)
	rows := Paragraph(s, x, width, sheet.Regular)
	if len(rows) == 0 {
		rows = []Row{{Height: bodyLine}}
	}
	rows[0].put(0, bodyLine-1.2, mark, sheet.Bold, sheet.Start)
	for i := range rows[:len(rows)-1] {
		rows[i].Keep = true
	}
	return rows
}

// Entry is a name and, beside it from column on, its wrapped value; where the value
// is "" there is a line to write on.
func Entry(name, value string, column, width float64) Row {
	var r Row
	names := sheet.Wrap(sheet.Printable(name), bodySize, sheet.Bold, column-3)
	for i, l := range names {
		r.put(0, float64(i+1)*bodyLine-1.2, l, sheet.Bold, sheet.Start)
	}
	values := sheet.Wrap(sheet.Printable(value), bodySize, sheet.Regular, width-column)
	for i, l := range values {
		r.put(column, float64(i+1)*bodyLine-1.2, l, sheet.Regular, sheet.Start)
	}
	r.Height = bodyLine * float64(max(1, len(names), len(values)))
	if len(values) == 0 {
		r.Height = max(r.Height, bodyLine+1.8)
		r.Items = append(r.Items, line(geom.Point{X: column, Y: -r.Height + 0.8}, geom.Point{X: width, Y: -r.Height + 0.8}, thinLine))
	}
	return r
}

// Column is one of a table.
type Column struct {
	Head  string
	Share float64 // of the width
	Right bool
}

// together is how many rows of a table stay on a page with its heads, and how many
// with its last.
const together = 3

// Table returns the rows of a table under its heads, which are said again on every
// page; cells wrap. A line after every fifth row leads the eye.
func Table(columns []Column, cells [][]string, width float64) []Row {
	heads := make([]string, len(columns))
	for i, c := range columns {
		heads[i] = c.Head
	}
	head := tableRow(columns, heads, width, sheet.Bold)
	head.Items = append(head.Items, line(geom.Point{Y: -head.Height + 0.3}, geom.Point{X: width, Y: -head.Height + 0.3}, thinLine))
	head.Height += 0.6
	head.Keep = true
	out := []Row{head}
	for i, c := range cells {
		r := tableRow(columns, c, width, sheet.Regular)
		r.Under = []Row{head}
		r.Keep = i < len(cells)-1 && (i < together-1 || i >= len(cells)-together)
		if (i+1)%5 == 0 && i < len(cells)-1 {
			r.Items = append(r.Items, line(geom.Point{Y: -r.Height}, geom.Point{X: width, Y: -r.Height}, thinLine))
		}
		out = append(out, r)
	}
	return out
}

func tableRow(columns []Column, cells []string, width float64, font sheet.Font) Row {
	r := Row{Height: bodyLine}
	total := 0.0
	for _, c := range columns {
		total += c.Share
	}
	x := 0.0
	for i, c := range columns {
		w := width * c.Share / total
		for k, l := range sheet.Wrap(sheet.Printable(cells[i]), bodySize, font, w-2) {
			y := float64(k+1)*bodyLine - 1.2
			if c.Right {
				r.put(x+w-2, y, l, font, sheet.End)
			} else {
				r.put(x, y, l, font, sheet.Start)
			}
			r.Height = max(r.Height, float64(k+1)*bodyLine)
		}
		x += w
	}
	return r
}

// Numbers numbers pages "1", "2", from first on, with a prefix.
func Numbers(prefix string, first int) func(int) string {
	return func(i int) string { return fmt.Sprintf("%s%d", prefix, first+i) }
}
