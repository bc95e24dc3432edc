package sheet

import "tubewright/geom"

// Book is a document of pages that belong together.
type Book struct {
	Title       string
	Description string
	Language    string // of its words, as in "de"; "" is English
	Pages       []Page
}

// Page is one sheet of paper in a book. Its own layers lie over its views.
type Page struct {
	Sheet
	Views []View
	Links []Link
	// Label is what a reader's page list calls the page, as in "B2".
	Label string
	// Bookmark is the page's line in the table of contents, "" for none, Level how
	// deep it stands there, from 0.
	Bookmark string
	Level    int
	// Stretch makes up for a printer that is not true: the paper is Width·X by
	// Height·Y, and all on it is drawn that much larger. The zero value is none.
	Stretch Stretch
}

// Stretch is a factor along each axis; 0 stands for 1.
type Stretch struct{ X, Y float64 }

// Factors returns both factors, 1 for those not set.
func (s Stretch) Factors() (x, y float64) {
	x, y = s.X, s.Y
	if x == 0 {
		x = 1
	}
	if y == 0 {
		y = 1
	}
	return x, y
}

// None reports whether nothing is stretched.
func (s Stretch) None() bool {
	x, y := s.Factors()
	return x == 1 && y == 1
}

// View shows a part of another drawing at full size, cut off at its edges. Many
// views of one drawing cost a file little more than one.
type View struct {
	Of     *Sheet
	Window geom.Rect  // the part shown, of the drawing
	At     geom.Point // where the window's lower left corner stands on the page
}

// Link takes a reader who touches Area to a page of the book, counted from 0.
type Link struct {
	Area geom.Rect
	Page int
}

// Bounds returns the box of all items of a group.
func (g Group) Bounds() geom.Rect {
	r := geom.EmptyRect()
	for _, i := range g.Items {
		r = r.Union(i.Bounds())
	}
	return r
}

// Bounds returns the box of all items of a sheet.
func (s *Sheet) Bounds() geom.Rect {
	r := geom.EmptyRect()
	for _, l := range s.Layers {
		for _, g := range l.Groups {
			r = r.Union(g.Bounds())
		}
	}
	return r
}
