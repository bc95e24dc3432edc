package pdf

import (
	"io"

	"codeberg.org/go-pdf/fpdf"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// EncodeBook writes sheets one after the other into one file, each a page of its
// own size at true scale; a sheet with a side over MaxSide is cut. The title and
// the description are those of the first sheet. It panics where there is no sheet.
func EncodeBook(w io.Writer, sheets []*sheet.Sheet) error {
	book := sheet.Book{Title: sheets[0].Title, Description: sheets[0].Description}
	for _, s := range sheets {
		book.Pages = append(book.Pages, cutPages(s, Options{})...)
	}
	return EncodePages(w, book)
}

// EncodePages writes a book: its pages with their views, links, labels and
// bookmarks. Layers of one name are one layer of the file. It panics where there
// is no page.
func EncodePages(w io.Writer, book sheet.Book) error {
	e := &encoder{book: book, layers: map[string]int{}, forms: map[formKey]form{}}
	first := book.Pages[0]
	wide, high := paper(first)
	e.doc = fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: wide, Ht: high}})
	e.prepare()
	for _, p := range book.Pages {
		for _, v := range p.Views {
			e.addLayers(v.Of.Layers)
		}
		e.addLayers(p.Layers)
	}
	for i := range book.Pages {
		e.page(i)
	}
	return e.finish(w)
}

// paper returns the size of a page as printed, mm.
func paper(p sheet.Page) (wide, high float64) {
	x, y := p.Stretch.Factors()
	return p.Width * x, p.Height * y
}

func (e *encoder) addLayers(layers []sheet.Layer) {
	for _, l := range layers {
		if _, ok := e.layers[l.Name]; !ok {
			e.layers[l.Name] = e.doc.AddLayer(l.Name, true)
		}
	}
}

func (e *encoder) page(i int) {
	p := e.book.Pages[i]
	wide, high := paper(p)
	e.doc.AddPageFormat("P", fpdf.SizeType{Wd: wide, Ht: high})
	e.top = high
	e.bookmark(p, high)
	for _, l := range p.Links {
		e.link(p, l)
	}
	if !p.Stretch.None() {
		x, y := p.Stretch.Factors()
		e.doc.TransformBegin()
		e.doc.Transform(fpdf.TransformMatrix{A: x, D: y})
		defer e.doc.TransformEnd()
	}
	for _, v := range p.Views {
		e.drawView(v)
	}
	e.clip = geom.Rect{Max: geom.Point{X: p.Width, Y: p.Height}}
	for _, l := range p.Layers {
		e.doc.BeginLayer(e.layers[l.Name])
		for _, g := range l.Groups {
			for _, item := range g.Items {
				e.item(item)
			}
		}
		e.doc.EndLayer()
	}
}

// bookmark adds the page to the table of contents. The library measures every
// place in it from the top of the last page; here it is the top of each one's own.
func (e *encoder) bookmark(p sheet.Page, high float64) {
	if p.Bookmark == "" {
		return
	}
	family, style := face(sheet.Regular)
	e.doc.SetFont(family, style, 10) // makes the library take the words as UTF-8
	_, last := paper(e.book.Pages[len(e.book.Pages)-1])
	y := last - high
	if y == -1 { // means something else to the library
		y = -1.001
	}
	e.doc.Bookmark(p.Bookmark, p.Level, y)
}

func (e *encoder) link(p sheet.Page, l sheet.Link) {
	x, y := p.Stretch.Factors()
	id := e.doc.AddLink()
	e.doc.SetLink(id, 0, l.Page+1)
	e.doc.Link(l.Area.Min.X*x, (p.Height-l.Area.Max.Y)*y, l.Area.Width()*x, l.Area.Height()*y, id)
}

// A form is a group of a drawing, written once and shown on many pages.
type form struct {
	fpdf.Template
	id    string
	bound geom.Rect
}

// ID is that of the template, which would else hash all of it at each use.
func (f form) ID() string { return f.id }

type formKey struct {
	of           *sheet.Sheet
	layer, group int
}

// drawView shows a window of a drawing, each of its layers cut at the window.
func (e *encoder) drawView(v sheet.View) {
	x, y := v.At.X, e.top-v.At.Y-v.Window.Height()
	for li, l := range v.Of.Layers {
		open := false
		for gi := range l.Groups {
			f := e.form(formKey{v.Of, li, gi})
			if f.bound.IsEmpty() || !f.bound.Overlaps(v.Window) {
				continue
			}
			if !open {
				e.doc.BeginLayer(e.layers[l.Name])
				e.doc.ClipRect(x, y, v.Window.Width(), v.Window.Height(), false)
				open = true
			}
			corner := fpdf.PointType{X: v.At.X - v.Window.Min.X, Y: e.top - v.Of.Height - (v.At.Y - v.Window.Min.Y)}
			e.doc.UseTemplateScaled(f, corner, fpdf.SizeType{Wd: v.Of.Width, Ht: v.Of.Height})
		}
		if open {
			e.doc.ClipEnd()
			e.doc.EndLayer()
		}
	}
}

// form returns a group as a form, made at its first use.
func (e *encoder) form(k formKey) form {
	if f, ok := e.forms[k]; ok {
		return f
	}
	g := k.of.Layers[k.layer].Groups[k.group]
	f := form{bound: g.Bounds()}
	family, style := face(sheet.Regular)
	// Within the form each font is set anew: the library leaves out what is set
	// already, and here that would be on a page that may not be the one that shows it.
	e.doc.SetFont(family, style, 1)
	f.Template = e.doc.CreateTemplateCustom(fpdf.PointType{}, fpdf.SizeType{Wd: k.of.Width, Ht: k.of.Height}, func(t *fpdf.Tpl) {
		inner := encoder{doc: &t.Fpdf, top: k.of.Height, clip: geom.Rect{Max: geom.Point{X: k.of.Width, Y: k.of.Height}}}
		for _, i := range g.Items {
			inner.item(i)
		}
		if e.err == nil {
			e.err = inner.err
		}
	})
	f.id = f.Template.ID()
	e.forms[k] = f
	return f
}
