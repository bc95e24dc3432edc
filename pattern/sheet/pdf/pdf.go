// Package pdf writes a sheet as a PDF at true size, for a roll plotter or a
// screen: fonts embedded, text searchable, one optional-content layer for each
// layer of the sheet, print dialogs asked not to scale.
//
// A side over MaxSide is cut into pages that overlap, with match marks, because
// readers that ignore the format's larger user unit would print a longer page at
// a false size without a word.
//
// The same sheet always gives the same bytes: the dates in the file are a fixed
// day, not the clock's.
package pdf

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/words"
)

const (
	// MaxSide is the longest page side in mm: under the 14,400 points
	// (5,080 mm) up to which readers keep to scale.
	MaxSide = 5000.0
	// Overlap is the strip in mm that neighbouring pages both show.
	Overlap = 50.0
)

// Options say how a drawing is put on its pages.
type Options struct {
	// Stretch makes up for a printer that is not true.
	Stretch sheet.Stretch
	// OnePage leaves a side over MaxSide in one piece, with a warning on it. It is
	// written without the format's larger user unit: readers that ignore that
	// print at a false size, those that know no longer page at least show it.
	OnePage bool
	// Words are those of sheet numbers, joints and the warning of a long page.
	Words words.Words
}

// Encode writes s. It returns the first error of w or of the PDF library, and an
// error for a coordinate that is not a number.
func Encode(w io.Writer, s *sheet.Sheet) error { return EncodeWith(w, s, Options{}) }

// EncodeWith writes s as Encode does, with options.
func EncodeWith(w io.Writer, s *sheet.Sheet, o Options) error {
	book := sheet.Book{Title: s.Title, Description: s.Description, Language: s.Language, Pages: cutPages(s, o)}
	if o.OnePage && len(book.Pages) > 1 {
		book.Pages = []sheet.Page{longPage(s, o)}
	}
	return EncodePages(w, book)
}

// finish writes the file.
func (e *encoder) finish(w io.Writer) error {
	if e.err != nil {
		return e.err
	}
	var buf bytes.Buffer
	if err := e.doc.Output(&buf); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	labels := make([]string, len(e.book.Pages))
	for i, p := range e.book.Pages {
		labels[i] = p.Label
	}
	file, err := addToCatalogue(buf.Bytes(), noScaling+pageLabels(labels))
	if err != nil {
		return err
	}
	_, err = w.Write(file)
	return err
}

type encoder struct {
	book   sheet.Book
	doc    *fpdf.Fpdf
	layers map[string]int // by name
	forms  map[formKey]form
	top    float64   // height of the page being written, mm as printed
	clip   geom.Rect // what of the drawing it shows
	err    error     // of the drawing itself
}

func (e *encoder) prepare() {
	// No clock: the file says the day of the format's own specification.
	day := time.Date(2008, time.July, 1, 0, 0, 0, 0, time.UTC)
	e.doc.SetCreationDate(day)
	e.doc.SetModificationDate(day)
	e.doc.SetCatalogSort(true)
	e.doc.SetTitle(e.book.Title, true)
	e.doc.SetSubject(e.book.Description, true)
	e.doc.SetCreator("tubewright", false)
	lang := e.book.Language
	if lang == "" {
		lang = "en"
	}
	e.doc.SetLang(lang)
	e.doc.SetMargins(0, 0, 0)
	e.doc.SetAutoPageBreak(false, 0)
	e.addFonts()
	e.doc.SetLineCapStyle("butt")
	e.doc.SetLineJoinStyle("round")
}

// addFonts embeds the faces that the book uses. The library writes into the
// bytes it is given, so each file gets its own.
func (e *encoder) addFonts() {
	used, wide := [3]bool{sheet.Regular: true}, false
	note := func(layers []sheet.Layer) {
		for _, l := range layers {
			for _, g := range l.Groups {
				for _, i := range g.Items {
					if t, ok := i.(sheet.Text); ok {
						used[t.Font] = true
						wide = wide || strings.ContainsFunc(t.Text, sheet.IsWide)
					}
				}
			}
		}
	}
	seen := map[*sheet.Sheet]bool{}
	for _, p := range e.book.Pages {
		note(p.Layers)
		for _, v := range p.Views {
			if !seen[v.Of] {
				seen[v.Of] = true
				note(v.Of.Layers)
			}
		}
	}
	for f, ttf := range [3][]byte{sheet.Regular: goregular.TTF, sheet.Bold: gobold.TTF, sheet.Mono: gomono.TTF} {
		if used[f] {
			family, style := face(sheet.Font(f))
			e.doc.AddUTF8FontFromBytes(family, style, bytes.Clone(ttf))
		}
	}
	if wide {
		e.doc.AddUTF8FontFromBytes(japaneseFamily, "", bytes.Clone(japanese))
	}
}

// japanese is a part of the face M PLUS 1 Regular: kana and the kanji that the
// sheets' own words use. Its licence stands beside it.
//
//go:embed font/japanese.ttf
var japanese []byte

// face returns the names the library knows a font by.
func face(f sheet.Font) (family, style string) {
	switch f {
	case sheet.Bold:
		return "Go", "B"
	case sheet.Mono:
		return "Go Mono", ""
	}
	return "Go", ""
}

func (e *encoder) item(i sheet.Item) {
	b := i.Bounds()
	if b.IsEmpty() {
		return
	}
	if !b.Min.IsFinite() || !b.Max.IsFinite() {
		e.err = fmt.Errorf("pdf: a coordinate of the drawing is not a number")
		return
	}
	if !b.Overlaps(e.clip) {
		return
	}
	switch i := i.(type) {
	case sheet.Shape:
		e.shape(i)
	case sheet.Text:
		e.text(i)
	default:
		panic("pdf: unknown item")
	}
}

// at returns a point in the library's frame: from the top left corner of the
// page, y down.
func (e *encoder) at(p geom.Point) (x, y float64) {
	return p.X, e.top - p.Y
}

func (e *encoder) shape(s sheet.Shape) {
	style := ""
	if s.Fill.Set {
		style = "F"
		e.doc.SetFillColor(int(s.Fill.R), int(s.Fill.G), int(s.Fill.B))
	}
	if s.Pen.Colour.Set {
		style += "D"
		e.doc.SetDrawColor(int(s.Pen.Colour.R), int(s.Pen.Colour.G), int(s.Pen.Colour.B))
		e.doc.SetLineWidth(s.Pen.Width)
		e.doc.SetDashPattern(s.Pen.Dash, 0)
	}
	if style == "" || len(s.Paths) == 0 {
		return
	}
	for _, p := range s.Paths {
		e.path(p)
	}
	e.doc.DrawPath(style)
}

func (e *encoder) path(p geom.Path) {
	if len(p.Segments) == 0 {
		return
	}
	e.doc.MoveTo(e.at(p.Start()))
	for _, s := range p.Segments {
		switch s := s.(type) {
		case geom.Line:
			e.doc.LineTo(e.at(s.B))
		case geom.Arc:
			e.arc(s)
		default:
			panic("pdf: unknown segment")
		}
	}
	if p.Closed {
		e.doc.ClosePath()
	}
}

// arc writes cubic Béziers of at most 30 degrees each, with control points
// 4/3·tan(θ/4)·R along the tangents: off the circle by less than 4e-7 R.
func (e *encoder) arc(a geom.Arc) {
	n := max(1, int(math.Ceil(float64(a.Sweep.Abs())/(30*math.Pi/180))))
	step := a.Length() / float64(n)
	k := 4.0 / 3 * math.Tan(float64(a.Sweep.Abs())/float64(n)/4) * a.Radius
	for i := range n {
		s, t := step*float64(i), step*float64(i+1)
		q := a.PointAt(t)
		x1, y1 := e.at(a.PointAt(s).Add(a.DirAt(s).Mul(k)))
		x2, y2 := e.at(q.Add(a.DirAt(t).Mul(-k)))
		x, y := e.at(q)
		e.doc.CurveBezierCubicTo(x1, y1, x2, y2, x, y)
	}
}

const japaneseFamily = "M PLUS 1"

func (e *encoder) text(t sheet.Text) {
	if !t.Colour.Set || t.Text == "" {
		return
	}
	e.doc.SetTextColor(int(t.Colour.R), int(t.Colour.G), int(t.Colour.B))
	x, y := e.at(t.At)
	if t.Turn != 0 {
		e.doc.TransformBegin()
		e.doc.TransformRotate(t.Turn.Degrees(), x, y)
		defer e.doc.TransformEnd()
	}
	w := sheet.Width(t.Text, t.Size, t.Font)
	x -= [...]float64{0, w / 2, w}[t.Anchor]
	for _, run := range runs(t.Text) {
		family, style := face(t.Font)
		if first, _ := utf8.DecodeRuneInString(run); sheet.IsWide(first) {
			family, style = japaneseFamily, ""
		}
		e.doc.SetFont(family, style, t.Size*72/25.4)
		e.doc.Text(x, y, run)
		x += sheet.Width(run, t.Size, t.Font)
	}
}

// runs cuts text where it changes from one face to another.
func runs(text string) []string {
	var out []string
	start, wide := 0, false
	for i, r := range text {
		if w := sheet.IsWide(r); i == 0 || w != wide {
			if i > 0 {
				out = append(out, text[start:i])
			}
			start, wide = i, w
		}
	}
	return append(out, text[start:])
}
