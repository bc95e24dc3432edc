package pattern

import (
	"fmt"
	"math"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

const (
	edgeLine   = 6.0  // from the edge of the paper to the border
	inside     = 7.0  // from the border to what it holds
	gutter     = 9.0  // between columns, blocks and the drawing
	bannerHigh = 17.0 // of the headline
	besideMost = 1500 // mm: a wider sheet has its words below, where scale bars can be repeated
	scaleEvery = 4000 // mm: there are scale bars at least this often along a sheet
)

// compose sets the drawing, a headline and the blocks of words on a sheet just
// large enough for them.
func (d *drawing) compose(layers []sheet.Layer) *sheet.Sheet {
	picture := geom.EmptyRect()
	for _, l := range layers {
		for _, g := range l.Groups {
			for _, i := range g.Items {
				picture = picture.Union(i.Bounds())
			}
		}
	}
	if picture.IsEmpty() {
		picture = geom.Rect{}
	}
	blocks := []*block{d.titleBlock(), d.frameBlock(), d.scaleBlock("scale-1"), d.legendBlock()}
	blocks = append(blocks, d.unitBlocks()...)
	blocks = append(blocks, d.cautionBlock())
	blocks = append(blocks, d.findingBlocks()...)
	a := d.arrange(picture, blocks)
	s := &sheet.Sheet{Width: a.width, Height: a.height, Frame: sheet.Bench, Title: d.title(), Language: d.w.Language()}

	origin := geom.Vec{X: math.Round(a.picture.X - picture.Min.X), Y: math.Round(a.picture.Y - picture.Min.Y)}
	s.Description = d.describe(origin)
	for _, l := range layers {
		for gi, g := range l.Groups {
			for i, item := range g.Items {
				l.Groups[gi].Items[i] = sheet.Moved(item, origin)
			}
		}
	}
	border := sheet.Shape{Pen: solid(wideLine), Paths: []geom.Path{sheet.Rectangle(geom.Rect{
		Min: geom.Point{X: edgeLine, Y: edgeLine}, Max: geom.Point{X: a.width - edgeLine, Y: a.height - edgeLine}})}}
	s.Layers = append(s.Layers, sheet.Layer{ID: "border", Name: "Border", Groups: []sheet.Group{{ID: "border-line", Items: []sheet.Item{border}}}})
	s.Layers = append(s.Layers, layers...)
	return d.withWords(s, a)
}

func (d *drawing) title() string {
	name := d.p.Spec.Name
	if name == "" {
		name = strings.Join(d.p.Spec.Text, " / ")
	}
	return sheet.Printable(name) + ": " + d.say("pattern.whole")
}

// withWords adds the layers of scale bars and words.
func (d *drawing) withWords(s *sheet.Sheet, a arrangement) *sheet.Sheet {
	scale := sheet.Layer{ID: "scale", Name: "Scale bars"}
	notes := sheet.Layer{ID: "notes", Name: "Notes", Groups: []sheet.Group{{ID: "notes-headline", Title: "Headline", Items: d.headline(a)}}}
	for i, b := range a.blocks {
		if b.id == "" { // an empty place
			continue
		}
		g := sheet.Group{ID: b.id, Title: b.title}
		for _, item := range b.items {
			g.Items = append(g.Items, sheet.Moved(item, a.at[i]))
		}
		if strings.HasPrefix(b.id, "scale") {
			scale.Groups = append(scale.Groups, g)
		} else {
			notes.Groups = append(notes.Groups, g)
		}
	}
	s.Layers = append(s.Layers, scale, notes)
	return s
}

// headline names the frame, larger on a large sheet, which is read from farther off.
func (d *drawing) headline(a arrangement) []sheet.Item {
	y := a.height - edgeLine - inside
	words := func(x, y float64, s string, size float64, f sheet.Font) sheet.Item {
		return sheet.Text{At: geom.Point{X: x, Y: y}, Text: s, Size: size, Font: f, Colour: sheet.Grey(0)}
	}
	const x = edgeLine + inside
	k := a.words
	next := x + sheet.Room*sheet.Width("BENCH", 15*k, sheet.Bold) + 5*k
	return []sheet.Item{
		words(x, y-11*k, "BENCH", 15*k, sheet.Bold),
		words(next, y-5.2*k, d.say("pattern.headline"), 5*k, sheet.Bold),
		words(next, y-11*k, d.say("pattern.subline"), sheet.MinSize*k, sheet.Regular),
	}
}

// enlarged returns blocks with all in them k times as large; scale bars stay as they
// are.
func enlarged(blocks []*block, k float64) []*block {
	out := make([]*block, len(blocks))
	for i, b := range blocks {
		if out[i] = b; strings.HasPrefix(b.id, "scale") {
			continue
		}
		large := &block{id: b.id, title: b.title, height: k * b.height}
		for _, item := range b.items {
			large.items = append(large.items, sheet.Scaled(item, k))
		}
		out[i] = large
	}
	return out
}

// An arrangement is where everything stands on the sheet.
type arrangement struct {
	width, height float64
	words         float64    // how much larger than usual words are
	picture       geom.Point // lower left corner of the drawing
	blocks        []*block
	at            []geom.Vec // top left corner of each block
}

// arrange tries the columns of words under the drawing and beside it and takes
// the smaller sheet.
func (d *drawing) arrange(picture geom.Rect, blocks []*block) arrangement {
	w, h := picture.Width(), picture.Height()
	best := d.below(w, h, blocks)
	for n := 2; n <= 4; n++ { // two are as wide as the headline
		if a := beside(w, h, blocks, n); a.width <= besideMost && a.width*a.height < 0.95*best.width*best.height {
			best = a
		}
	}
	return best
}

const frameRoom = edgeLine + inside

func columnsWidth(n int, column float64) float64 { return float64(n)*column + float64(n-1)*gutter }

// A sheet from largeSheet mm on is read from farther off: its words stand largeWords
// times as large.
const (
	largeSheet = 1500.0
	largeWords = 1.5
)

func (d *drawing) below(w, h float64, blocks []*block) arrangement {
	k := 1.0
	if w >= largeSheet {
		k = largeWords
		blocks = enlarged(blocks, k)
	}
	column := k * columnWidth
	n := max(3, int((w+gutter)/(column+gutter)))
	blocks = d.withMoreScales(blocks, n, column)
	at, high := fill(blocks, n, column)
	wide := max(w, columnsWidth(n, column))
	a := arrangement{blocks: blocks, words: k}
	a.width = math.Ceil(wide + 2*frameRoom)
	a.height = math.Ceil(k*bannerHigh + gutter + h + gutter + high + 2*frameRoom)
	a.picture = geom.Point{X: frameRoom + (wide-w)/2, Y: frameRoom + high + gutter}
	for _, v := range at {
		a.at = append(a.at, geom.Vec{X: frameRoom + v.X, Y: frameRoom + high + v.Y})
	}
	return a
}

func beside(w, h float64, blocks []*block, n int) arrangement {
	at, high := fill(blocks, n, columnWidth)
	tall := max(h, high)
	a := arrangement{blocks: blocks, words: 1}
	a.width = math.Ceil(w + gutter + columnsWidth(n, columnWidth) + 2*frameRoom)
	a.height = math.Ceil(bannerHigh + gutter + tall + 2*frameRoom)
	a.picture = geom.Point{X: frameRoom, Y: frameRoom + (tall-h)/2}
	for _, v := range at {
		a.at = append(a.at, geom.Vec{X: frameRoom + w + gutter + v.X, Y: frameRoom + tall + v.Y})
	}
	return a
}

// fill puts each block under the shortest of n columns and returns their places
// from the top left corner, and the height of all.
func fill(blocks []*block, n int, column float64) ([]geom.Vec, float64) {
	heights := make([]float64, n)
	at := make([]geom.Vec, len(blocks))
	for i, b := range blocks {
		col := 0
		for c, h := range heights {
			if h < heights[col] {
				col = c
			}
		}
		if b.id == "" { // an empty place
			heights[col] += b.height
			continue
		}
		if heights[col] > 0 {
			heights[col] += gutter
		}
		at[i] = geom.Vec{X: float64(col) * (column + gutter), Y: -heights[col]}
		heights[col] += b.height
	}
	high := 0.0
	for _, h := range heights {
		high = max(high, h)
	}
	return at, high
}

// withMoreScales repeats the scale bars along a sheet of n columns, so that each
// part of a long one, cut for printing, has its own.
func (d *drawing) withMoreScales(blocks []*block, n int, column float64) []*block {
	every := int(math.Floor(scaleEvery / (column + gutter)))
	if n <= every {
		return blocks
	}
	out := append([]*block{}, blocks...)
	first := len(blocks) // columns from here on are empty
	for c := first; c < n; c++ {
		if (n-1-c)%every == 0 {
			out = append(out, d.scaleBlock(fmt.Sprintf("scale-%d", c+1)))
		} else {
			out = append(out, &block{height: 1e-3})
		}
	}
	return out
}
