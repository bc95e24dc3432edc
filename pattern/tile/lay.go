package tile

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
)

// Options say on what the tiles are printed.
type Options struct {
	Format  paper.Format // its Size upright; Lay turns it where that saves pages
	Overlap float64      // mm that neighbours both show, 10 to 50
	Prefix  string       // before the name of each page, as in "U2 "
}

// Overlap is the usual overlap, mm: room for a mark and for glue.
const Overlap = 15.0

// MaxPages bounds the pages of one drawing; nobody glues more.
const MaxPages = 2000

// margins of the window within the free area of a page, mm: room for crop marks and
// the names of neighbours.
const (
	besideWindow = 6.0
	underWindow  = 6.0
)

// Tile is one page: where it stands in the grid and what it shows.
type Tile struct {
	Row, Column int // from 0, rows from the top
	Window      geom.Rect
	Blank       bool // nothing is drawn there: left out
}

// Layout is a drawing cut up.
type Layout struct {
	Of            *sheet.Sheet
	Options       Options
	Region        geom.Rect // what is shown of the drawing
	Rows, Columns int
	Tiles         []Tile // row by row from the upper left
	Joints        []Joint
	Corners       []geom.Point // of the long check: lower left, lower right, upper right, upper left
	marks         *sheet.Sheet
}

// Lay cuts the part of a drawing in region, upright or lying, whichever takes fewer
// pages. An error says what paper will not do.
func Lay(of *sheet.Sheet, region geom.Rect, o Options) (Layout, error) {
	if err := o.Format.Check(); err != nil {
		return Layout{}, err
	}
	if !(o.Overlap >= 10 && o.Overlap <= 50) {
		return Layout{}, fmt.Errorf("overlap of %g mm: overlaps from 10 to 50 mm are served", o.Overlap)
	}
	k := inkOf(of)
	best, err := lay(of, region, o, k)
	lying := o
	lying.Format.Size = o.Format.Size.Turned()
	if lying.Format.Check() == nil {
		if l, lerr := lay(of, region, lying, k); lerr == nil && (err != nil || l.Pages() < best.Pages()) {
			best, err = l, nil
		}
	}
	if err != nil {
		return Layout{}, err
	}
	best.join(k)
	best.long(k)
	best.drawMarks()
	return best, nil
}

// WindowSize returns what one page shows, mm.
func (o Options) WindowSize() (wide, high float64) {
	a := o.Format.Area()
	return a.Width() - 2*besideWindow, a.Height() - 2*underWindow
}

func lay(of *sheet.Sheet, region geom.Rect, o Options, k ink) (Layout, error) {
	wide, high := o.WindowSize()
	count := func(side, page float64) int {
		return max(1, int(math.Ceil((side-o.Overlap)/(page-o.Overlap)-1e-9)))
	}
	l := Layout{Of: of, Options: o, Region: region, Columns: count(region.Width(), wide), Rows: count(region.Height(), high)}
	if n := l.Rows * l.Columns; n > 4*MaxPages {
		return l, l.tooMany(n)
	}
	span := func(n int, page float64) float64 { return float64(n)*(page-o.Overlap) + o.Overlap }
	// On whole millimetres, so that what a page says of its place is true.
	x0 := math.Round(region.Centre().X - span(l.Columns, wide)/2)
	y1 := math.Round(region.Centre().Y + span(l.Rows, high)/2)
	for r := range l.Rows {
		for c := range l.Columns {
			x, y := x0+float64(c)*(wide-o.Overlap), y1-float64(r)*(high-o.Overlap)
			w := geom.Rect{Min: geom.Point{X: x, Y: y - high}, Max: geom.Point{X: x + wide, Y: y}}
			l.Tiles = append(l.Tiles, Tile{r, c, w, k.free(w)})
		}
	}
	if n := l.Pages(); n > MaxPages {
		return l, l.tooMany(n)
	}
	return l, nil
}

func (l Layout) tooMany(n int) error {
	return fmt.Errorf("a drawing of %.1f by %.1f m would take %d pages of %s, and at most %d are served; take larger paper, or print pattern.pdf on a roll",
		l.Region.Width()/1000, l.Region.Height()/1000, n, l.Options.Format.Size.Name, MaxPages)
}

// Pages returns how many pages are printed.
func (l Layout) Pages() int {
	n := 0
	for _, t := range l.Tiles {
		if !t.Blank {
			n++
		}
	}
	return n
}

// Name returns the name of a tile: its row's letter and its column's number.
func (l Layout) Name(t Tile) string {
	row := ""
	for r := t.Row + 1; r > 0; r = (r - 1) / 26 {
		row = string(rune('A'+(r-1)%26)) + row
	}
	return fmt.Sprintf("%s%s%d", l.Options.Prefix, row, t.Column+1)
}

// at returns the tile in a row and column, and false where there is none or it is
// left out.
func (l Layout) at(row, column int) (Tile, bool) {
	if row < 0 || column < 0 || row >= l.Rows || column >= l.Columns {
		return Tile{}, false
	}
	t := l.Tiles[row*l.Columns+column]
	return t, !t.Blank
}
