package shopsheet

import (
	"fmt"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/shop"
)

// Pages are A4, or Letter in the USA and Canada.
func paper(place string) (wide, high float64) {
	if strings.HasPrefix(place, "US") || place == "CA" {
		return 215.9, 279.4
	}
	return 210, 297
}

const (
	headHeight = 17.0
	footHeight = 8.0
	blockGap   = 4.0
)

// block is a section laid out. A block kept whole moves to the next page where it
// does not fit; other blocks break between rows.
type block struct {
	title string
	rows  []row
	whole bool
	apart bool // starts a page
}

func (b block) height() float64 {
	h := titleHeight
	for _, r := range b.rows {
		h += r.height
	}
	return h
}

const titleHeight = titleSize + 3.4

// heading returns the row of a block's title.
func heading(title string, width float64) row {
	var r row
	r.items = append(r.items, sheet.Text{At: geom.Point{Y: -titleSize + 1}, Text: sheet.Printable(title), Size: titleSize, Font: sheet.Bold, Colour: black()})
	r.line(0, titleSize+0.9, width, titleSize+0.9, wideLine)
	r.height = titleHeight
	return r
}

// book collects pages.
type book struct {
	wide, high float64
	job        string // line under the title of each page
	foot       string
	pages      []*page
}

type page struct {
	title string
	items []sheet.Item
	y     float64 // how far down the page is filled
}

func (b *book) width() float64 { return b.wide - 2*margin }

// bottom is how far down a page may be filled.
func (b *book) bottom() float64 { return b.high - margin - footHeight }

func (b *book) start(title string) *page {
	p := &page{title: title, y: margin + headHeight}
	b.pages = append(b.pages, p)
	return p
}

func (p *page) put(r row) {
	for _, i := range r.items {
		p.items = append(p.items, sheet.Moved(i, geom.Vec{X: margin, Y: -p.y}))
	}
	p.y += r.height
}

// flow lays blocks out on new pages of one title.
func (b *book) flow(title string, blocks []block) {
	p := b.start(title)
	for i, bl := range blocks {
		if len(bl.rows) == 0 {
			continue
		}
		first := titleHeight + bl.rows[0].height
		if len(bl.rows) > 1 {
			first += bl.rows[1].height
		}
		room := b.bottom() - p.y
		if i > 0 && (bl.apart || first > room || bl.whole && bl.height() > room) && p.y > margin+headHeight {
			p = b.start(title)
		}
		p.put(heading(bl.title, b.width()))
		for _, r := range bl.rows {
			if p.y+r.height > b.bottom() {
				p = b.start(title)
				p.put(heading(bl.title+", continued", b.width()))
			}
			p.put(r)
		}
		p.y += blockGap
	}
}

// sheets returns the pages with head, foot and page numbers.
func (b *book) sheets(name string) []*sheet.Sheet {
	var out []*sheet.Sheet
	for i, p := range b.pages {
		s := &sheet.Sheet{Width: b.wide, Height: b.high, Frame: sheet.Front, Title: name,
			Description: "Shop sheets: " + p.title + ". No part of them is at full size."}
		s.Layers = []sheet.Layer{
			{ID: "border", Name: "Border", Groups: []sheet.Group{{ID: "border", Title: "head and foot", Items: b.frame(p, i)}}},
			{ID: "notes", Name: "Notes", Groups: []sheet.Group{{ID: "notes", Title: p.title, Items: lifted(p.items, b.high)}}},
		}
		out = append(out, s)
	}
	return out
}

// lifted moves items that count down from the top of the page onto it.
func lifted(items []sheet.Item, high float64) []sheet.Item {
	out := make([]sheet.Item, len(items))
	for i, it := range items {
		out[i] = sheet.Moved(it, geom.Vec{Y: high})
	}
	return out
}

func (b *book) frame(p *page, i int) []sheet.Item {
	var r row
	w := b.width()
	r.items = append(r.items, sheet.Text{At: geom.Point{Y: -5}, Text: sheet.Printable(p.title), Size: 6, Font: sheet.Bold, Colour: black()})
	r.text(w, 4.5, fmt.Sprintf("Page %d of %d", i+1, len(b.pages)), sheet.Regular, sheet.End, black())
	lines := sheet.Wrap(sheet.Printable(b.job), bodySize, sheet.Regular, w)
	for k, l := range lines[:min(2, len(lines))] {
		r.text(0, 9.6+float64(k)*bodyLine, l, sheet.Regular, sheet.Start, black())
	}
	r.line(0, headHeight-1.6, w, headHeight-1.6, 0.5)
	foot := b.high - 2*margin
	r.line(0, foot-4.6, w, foot-4.6, thinLine)
	r.text(0, foot-0.6, b.foot, sheet.Regular, sheet.Start, black())
	var out []sheet.Item
	for _, it := range r.items {
		out = append(out, sheet.Moved(it, geom.Vec{X: margin, Y: b.high - margin}))
	}
	return out
}

// blockOf lays a section out.
func blockOf(s shop.Section, width float64, currency string) block {
	bl := block{title: s.Title, whole: s.Unit != ""}
	switch {
	case s.ID == "stages":
		bl.rows = stageRows(s, width)
		return bl
	case s.Unit != "":
		bl.rows = []row{cardRow(s, width, currency)}
		for _, n := range s.Notes {
			bl.rows = append(bl.rows, noteRow(n, width))
		}
		return bl
	case strings.HasPrefix(s.ID, "cautions-"):
		bl.whole = true
		for _, l := range s.Lines {
			bl.rows = append(bl.rows, paragraphRow("- "+l, sheet.Bold, width))
		}
		return bl
	}
	for _, n := range s.Notes {
		bl.rows = append(bl.rows, noteRow(n, width))
	}
	if s.Grid != nil {
		bl.rows = append(bl.rows, gridRows(s.Grid, width, currency)...)
	}
	for _, f := range s.Figures {
		bl.rows = append(bl.rows, figureRow(f, width, currency))
	}
	for _, l := range s.Lines {
		bl.rows = append(bl.rows, paragraphRow(l, sheet.Regular, width))
	}
	if len(s.Blanks) > 0 {
		bl.rows = append(bl.rows, blankRows(s.Blanks, width)...)
	}
	return bl
}
