package shopsheet

import (
	"fmt"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// Pages are A4, or Letter in the USA and Canada.
func paper(place string) (wide, high float64) {
	if strings.HasPrefix(place, "US") || place == "CA" {
		return 215.9, 279.4
	}
	return 210, 297
}

const (
	headHeight = 12.6
	footHeight = 5.0
	blockGap   = 1.8
)

// block is a section laid out for its width. A block over the full width stands
// alone; those of half the width run down two columns.
type block struct {
	title string
	rows  []row
	full  bool
}

const titleHeight = titleSize + 1.4

// heading returns the row of a block's title.
func heading(title string, width float64) row {
	r := row{height: titleHeight}
	title = clipped(title, titleSize, sheet.Bold, width)
	r.items = append(r.items, sheet.Text{At: geom.Point{Y: -titleSize + 0.9}, Text: title, Size: titleSize, Font: sheet.Bold, Colour: black()})
	r.line(0, titleSize+0.4, width, titleSize+0.4, wideLine)
	return r
}

// clipped shortens a line to a width.
func clipped(text string, size float64, f sheet.Font, width float64) string {
	runes := []rune(text)
	for n := len(runes); n > 0; n-- {
		s := text
		if n < len(runes) {
			s = strings.TrimRight(string(runes[:n]), " ") + "…"
		}
		if slack*sheet.Width(s, size, f) <= width {
			return s
		}
	}
	return "…"
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

// half is the width of one of two columns.
func (b *book) half() float64 { return (b.width() - gutter) / 2 }

// bottom is how far down a page may be filled.
func (b *book) bottom() float64 { return b.high - margin - footHeight }

func (b *book) start(title string) *page {
	p := &page{title: title, y: margin + headHeight}
	b.pages = append(b.pages, p)
	return p
}

func (p *page) put(r row, x, y float64) {
	p.items = append(p.items, moved(r.items, margin+x, y)...)
}

func moved(items []sheet.Item, x, y float64) []sheet.Item {
	out := make([]sheet.Item, len(items))
	for i, it := range items {
		out[i] = sheet.Moved(it, geom.Vec{X: x, Y: -y})
	}
	return out
}

// flow lays blocks out on new pages of one title.
func (b *book) flow(title string, blocks []block) {
	b.start(title)
	for len(blocks) > 0 {
		n := 0
		for n < len(blocks) && blocks[n].full == blocks[0].full {
			n++
		}
		if blocks[0].full {
			for _, bl := range blocks[:n] {
				b.fill(title, pieces([]block{bl}, b.width()), 1)
			}
		} else {
			b.fill(title, pieces(blocks[:n], b.half()), 2)
		}
		blocks = blocks[n:]
	}
}

// piece is what is never broken: a row, or a heading with the first row under it.
// Again is the heading that stands over it where it starts a column.
type piece struct {
	row
	gap   float64 // over it, where it does not start a column
	again row
}

func pieces(blocks []block, width float64) []piece {
	var out []piece
	for _, bl := range blocks {
		if len(bl.rows) == 0 {
			continue
		}
		top := row{}
		if bl.title != "" {
			top = heading(sheet.Printable(bl.title), width)
		}
		first := row{items: top.items, height: top.height}
		first.put(bl.rows[0], 0, first.height)
		first.height += bl.rows[0].height
		out = append(out, piece{row: first, gap: blockGap})
		var again row
		if bl.title != "" {
			again = heading(sheet.Printable(bl.title)+", continued", width)
		}
		for _, r := range bl.rows[1:] {
			out = append(out, piece{row: r, again: again})
		}
	}
	return out
}

// fits returns how many pieces go into a column of a height, at least one where
// must says so, and how high they stand.
func fits(list []piece, high float64, must bool) (n int, y float64) {
	for i, p := range list {
		h := p.height
		if i == 0 {
			h += p.again.height
		} else {
			h += p.gap
		}
		if y+h > high+1e-9 && !(must && i == 0) {
			break
		}
		n, y = i+1, y+h
	}
	return n, y
}

// fill lays pieces in columns from where the page is filled, and goes on to new
// pages. The last columns are made as even as they can be.
func (b *book) fill(title string, list []piece, columns int) {
	for len(list) > 0 {
		p := b.pages[len(b.pages)-1]
		fresh := p.y <= margin+headHeight
		top := p.y
		if !fresh {
			top += blockGap
		}
		room := b.bottom() - top
		high := b.even(list, room, columns)
		least, took := top, 0
		for c := range columns {
			n, y := fits(list[took:], high, fresh)
			b.column(p, list[took:took+n], float64(c)*(b.half()+gutter), top)
			took += n
			least = max(least, top+y)
		}
		p.y = least
		if list = list[took:]; len(list) > 0 {
			b.start(title)
		}
	}
}

// even returns the least height at which all pieces go into the columns, or the
// room where they do not.
func (b *book) even(list []piece, room float64, columns int) float64 {
	all := func(high float64) bool {
		at := 0
		for range columns {
			n, _ := fits(list[at:], high, false)
			at += n
		}
		return at == len(list)
	}
	if columns == 1 || !all(room) {
		return room
	}
	lo, hi := 0.0, room
	for hi-lo > 0.1 {
		if mid := (lo + hi) / 2; all(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

func (b *book) column(p *page, list []piece, x, y float64) {
	for i, c := range list {
		if i == 0 {
			p.put(c.again, x, y)
			y += c.again.height
		} else {
			y += c.gap
		}
		p.put(c.row, x, y)
		y += c.height
	}
}

// sheets returns the pages with head, foot and page numbers.
func (b *book) sheets(name string) []*sheet.Sheet {
	var out []*sheet.Sheet
	for i, p := range b.pages {
		s := &sheet.Sheet{Width: b.wide, Height: b.high, Frame: sheet.Front, Title: name,
			Description: name + ": " + p.title + ". No part is at full size."}
		s.Layers = []sheet.Layer{
			{ID: "border", Name: "Border", Groups: []sheet.Group{{ID: "border", Title: "head and foot", Items: b.frame(p, i)}}},
			{ID: "notes", Name: "Notes", Groups: []sheet.Group{{ID: "notes", Title: p.title, Items: moved(p.items, 0, -b.high)}}},
		}
		out = append(out, s)
	}
	return out
}

func (b *book) frame(p *page, i int) []sheet.Item {
	var r row
	w := b.width()
	r.items = append(r.items, sheet.Text{At: geom.Point{Y: -4.4}, Text: sheet.Printable(p.title), Size: 6, Font: sheet.Bold, Colour: black()})
	r.text(w, 4.2, fmt.Sprintf("%d / %d", i+1, len(b.pages)), sheet.Bold, sheet.End, black())
	r.text(0, 5.7+bodyLine-baseline, clipped(sheet.Printable(b.job), bodySize, sheet.Regular, w), sheet.Regular, sheet.Start, black())
	r.line(0, headHeight-1.2, w, headHeight-1.2, 0.5)
	foot := b.high - 2*margin
	r.line(0, foot-4.4, w, foot-4.4, thinLine)
	r.text(0, foot-0.6, b.foot, sheet.Regular, sheet.Start, black())
	return moved(r.items, margin, margin-b.high)
}
