// Package svg writes a sheet as SVG 1.1: width and height in mm, one user unit
// one mm, true arcs, a <g> with an id for each layer and group, layers marked so
// that drawing programs list them.
//
// The same sheet always gives the same bytes. Lettering stays text, so that it
// can be searched; textLength holds it to the width the layout reckoned with,
// whatever face the reader has.
package svg

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

const decimals = 3 // of a mm: a thousandth, far under the finest pen

// Encode writes s. It returns the first error of w, and an error for a
// coordinate that is not a number.
func Encode(w io.Writer, s *sheet.Sheet) error { return EncodeStretched(w, s, sheet.Stretch{}) }

// EncodeStretched writes s for a printer that is not true: the paper is stretched
// along each axis, while one user unit stays one mm of the drawing.
func EncodeStretched(w io.Writer, s *sheet.Sheet, stretch sheet.Stretch) error {
	e := encoder{w: bufio.NewWriter(w), height: s.Height}
	width, height := e.num(s.Width), e.num(s.Height)
	x, y := stretch.Factors()
	ratio := ""
	if !stretch.None() {
		ratio = ` preserveAspectRatio="none"`
	}
	language := s.Language
	if language == "" {
		language = "en"
	}
	e.printf(`<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" version="1.1" width="%smm" height="%smm" viewBox="0 0 %s %s"%s xml:lang="%s" data-frame="%s">
<title>%s</title>
<desc>%s</desc>
<rect width="%s" height="%s" fill="#ffffff"/>
`, e.num(s.Width*x), e.num(s.Height*y), width, height, ratio, language, s.Frame, escape(s.Title), escape(s.Description), width, height)
	for _, l := range s.Layers {
		e.printf("<g id=\"%s\" inkscape:groupmode=\"layer\" inkscape:label=\"%s\">\n", escape(l.ID), escape(l.Name))
		for _, g := range l.Groups {
			e.group(g)
		}
		e.printf("</g>\n")
	}
	e.printf("</svg>\n")
	if e.err != nil {
		return e.err
	}
	return e.w.Flush()
}

type encoder struct {
	w      *bufio.Writer // keeps the first error
	height float64
	err    error // of the drawing itself
}

func (e *encoder) printf(format string, args ...any) { fmt.Fprintf(e.w, format, args...) }

func (e *encoder) num(v float64) string {
	if (math.IsNaN(v) || math.IsInf(v, 0)) && e.err == nil {
		e.err = fmt.Errorf("svg: a coordinate of the drawing is not a number")
	}
	return geom.FormatNumber(v, decimals)
}

// point writes a point with y counted down from the top.
func (e *encoder) point(p geom.Point) string { return e.num(p.X) + " " + e.num(e.height-p.Y) }

func (e *encoder) group(g sheet.Group) {
	e.printf("<g id=\"%s\">\n", escape(g.ID))
	if g.Title != "" {
		e.printf("<title>%s</title>\n", escape(g.Title))
	}
	for _, i := range g.Items {
		switch i := i.(type) {
		case sheet.Shape:
			e.shape(i)
		case sheet.Text:
			e.text(i)
		default:
			panic("svg: unknown item")
		}
	}
	e.printf("</g>\n")
}

func (e *encoder) shape(s sheet.Shape) {
	var d []string
	for _, p := range s.Paths {
		d = append(d, e.path(p)...)
	}
	if len(d) == 0 {
		return
	}
	e.printf(`<path d="%s" fill="%s"`, strings.Join(d, " "), colour(s.Fill))
	if s.Pen.Colour.Set {
		e.printf(` stroke="%s" stroke-width="%s" stroke-linejoin="round"`, colour(s.Pen.Colour), e.num(s.Pen.Width))
		if len(s.Pen.Dash) > 0 {
			dash := make([]string, len(s.Pen.Dash))
			for i, v := range s.Pen.Dash {
				dash[i] = e.num(v)
			}
			e.printf(` stroke-dasharray="%s"`, strings.Join(dash, " "))
		}
	}
	e.printf("/>\n")
}

func (e *encoder) path(p geom.Path) []string {
	if len(p.Segments) == 0 {
		return nil
	}
	d := []string{"M" + e.point(p.Start())}
	for _, s := range p.Segments {
		switch s := s.(type) {
		case geom.Line:
			d = append(d, "L"+e.point(s.B))
		case geom.Arc:
			d = append(d, e.arc(s)...)
		default:
			panic("svg: unknown segment")
		}
	}
	if p.Closed {
		d = append(d, "Z")
	}
	return d
}

// arc writes an arc in pieces under half a turn, so that no reader has to tell
// a half circle from its other half. A turn to the left is counter-clockwise
// on paper: sweep flag 0.
func (e *encoder) arc(a geom.Arc) []string {
	flag := "0"
	if a.Sweep < 0 {
		flag = "1"
	}
	n := max(1, int(math.Ceil(float64(a.Sweep.Abs())/(170*math.Pi/180))))
	var d []string
	for k := 1; k <= n; k++ {
		end := a.PointAt(a.Length() * float64(k) / float64(n))
		r := e.num(a.Radius)
		d = append(d, "A"+r+" "+r+" 0 0 "+flag+" "+e.point(end))
	}
	return d
}

func (e *encoder) text(t sheet.Text) {
	anchor := [...]string{"start", "middle", "end"}[t.Anchor]
	family, weight := "Go, Arial, Helvetica, sans-serif", ""
	switch t.Font {
	case sheet.Bold:
		weight = ` font-weight="bold"`
	case sheet.Mono:
		family = "Go Mono, Courier New, monospace"
	}
	turn := ""
	if t.Turn != 0 {
		turn = fmt.Sprintf(` transform="rotate(%s %s)"`, e.num(-t.Turn.Degrees()), e.point(t.At))
	}
	e.printf(`<text x="%s" y="%s" font-family="%s"%s font-size="%s" text-anchor="%s" textLength="%s" lengthAdjust="spacingAndGlyphs" fill="%s"%s>%s</text>`+"\n",
		e.num(t.At.X), e.num(e.height-t.At.Y), family, weight, e.num(t.Size), anchor,
		e.num(sheet.Width(t.Text, t.Size, t.Font)), colour(t.Colour), turn, escape(t.Text))
}

func colour(c sheet.Colour) string {
	if !c.Set {
		return "none"
	}
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

// escape makes text safe in elements and attributes; characters that XML does
// not allow become U+FFFD.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder never fails
	return b.String()
}
