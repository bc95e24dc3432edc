// Package dxf writes a sheet as a drawing that any CAD or router program opens: DXF
// release 12, millimetres, one layer for each layer of the sheet, and nothing but
// LINE, ARC, CIRCLE and TEXT. Arcs are true arcs.
//
// Release 12 has no units of its own; $INSUNITS says millimetres to readers that know
// it. Filled shapes are written as their outlines. The same sheet always gives
// the same bytes.
//
// Source of the format: Autodesk, DXF Reference, release 12 (AC1009).
package dxf

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

const decimals = 6 // of a mm

// Encode writes s. It returns the first error of w, and an error for a coordinate
// that is not a number.
func Encode(w io.Writer, s *sheet.Sheet) error {
	e := &encoder{w: bufio.NewWriter(w)}
	e.header(s)
	e.tables(s)
	e.pair(0, "SECTION")
	e.pair(2, "ENTITIES")
	for _, l := range s.Layers {
		e.layer = layerName(l.ID)
		for _, g := range l.Groups {
			for _, i := range g.Items {
				switch i := i.(type) {
				case sheet.Shape:
					e.shape(i)
				case sheet.Text:
					e.text(i)
				default:
					panic("dxf: unknown item")
				}
			}
		}
	}
	e.pair(0, "ENDSEC")
	e.pair(0, "EOF")
	if e.err != nil {
		return e.err
	}
	return e.w.Flush()
}

type encoder struct {
	w     *bufio.Writer // keeps the first error
	layer string
	err   error // of the drawing itself
}

// pair writes one group: its code and its value, a line each.
func (e *encoder) pair(code int, value string) { fmt.Fprintf(e.w, "%3d\r\n%s\r\n", code, value) }

func (e *encoder) num(code int, v float64) {
	if (math.IsNaN(v) || math.IsInf(v, 0)) && e.err == nil {
		e.err = fmt.Errorf("dxf: a coordinate of the drawing is not a number")
	}
	s := geom.FormatNumber(v, decimals)
	if !strings.Contains(s, ".") {
		s += ".0" // what some readers tell a real number by
	}
	e.pair(code, s)
}

func (e *encoder) point(code int, p geom.Point) {
	e.num(code, p.X)
	e.num(code+10, p.Y)
	e.num(code+20, 0)
}

func (e *encoder) header(s *sheet.Sheet) {
	e.pair(0, "SECTION")
	e.pair(2, "HEADER")
	e.pair(9, "$ACADVER")
	e.pair(1, "AC1009")
	e.pair(9, "$INSUNITS")
	e.pair(70, "4")
	e.pair(9, "$MEASUREMENT")
	e.pair(70, "1")
	e.pair(9, "$EXTMIN")
	e.point(10, geom.Point{})
	e.pair(9, "$EXTMAX")
	e.point(10, geom.Point{X: s.Width, Y: s.Height})
	e.pair(0, "ENDSEC")
}

func (e *encoder) tables(s *sheet.Sheet) {
	e.pair(0, "SECTION")
	e.pair(2, "TABLES")
	e.pair(0, "TABLE")
	e.pair(2, "LTYPE")
	e.pair(70, "1")
	e.pair(0, "LTYPE")
	e.pair(2, "CONTINUOUS")
	e.pair(70, "0")
	e.pair(3, "Solid line")
	e.pair(72, "65")
	e.pair(73, "0")
	e.num(40, 0)
	e.pair(0, "ENDTAB")
	e.pair(0, "TABLE")
	e.pair(2, "LAYER")
	e.pair(70, fmt.Sprint(len(s.Layers)+1))
	names := []string{"0"}
	for _, l := range s.Layers {
		names = append(names, layerName(l.ID))
	}
	for i, n := range names {
		e.pair(0, "LAYER")
		e.pair(2, n)
		e.pair(70, "0")
		e.pair(62, fmt.Sprint(1+(6+i)%7)) // a colour of the index of seven, white or black first
		e.pair(6, "CONTINUOUS")
	}
	e.pair(0, "ENDTAB")
	e.pair(0, "TABLE")
	e.pair(2, "STYLE")
	e.pair(70, "1")
	e.pair(0, "STYLE")
	e.pair(2, "STANDARD")
	e.pair(70, "0")
	e.num(40, 0)
	e.num(41, 1)
	e.num(50, 0)
	e.pair(71, "0")
	e.num(42, 2.5)
	e.pair(3, "txt")
	e.pair(4, "")
	e.pair(0, "ENDTAB")
	e.pair(0, "ENDSEC")
}

// layerName makes a name of capitals, digits, '-' and '_', at most 31 long.
func layerName(id string) string {
	name := strings.Map(func(r rune) rune {
		if r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
			return r
		}
		return '_'
	}, strings.ToUpper(id))
	return name[:min(31, len(name))]
}

func (e *encoder) entity(kind string) {
	e.pair(0, kind)
	e.pair(8, e.layer)
}

func (e *encoder) shape(s sheet.Shape) {
	if !s.Pen.Colour.Set && !s.Fill.Set {
		return
	}
	for _, p := range s.Paths {
		for _, g := range p.Segments {
			switch g := g.(type) {
			case geom.Line:
				e.entity("LINE")
				e.point(10, g.A)
				e.point(11, g.B)
			case geom.Arc:
				e.arc(g)
			default:
				panic("dxf: unknown segment")
			}
		}
	}
}

// arc writes a circle where the sweep is a full turn. Arcs run counter-clockwise.
func (e *encoder) arc(a geom.Arc) {
	if a.Sweep.Abs() > 360*geom.Degree-1e-9 {
		e.entity("CIRCLE")
		e.point(10, a.Centre)
		e.num(40, a.Radius)
		return
	}
	from, to := a.From, a.From+a.Sweep
	if a.Sweep < 0 {
		from, to = to, from
	}
	e.entity("ARC")
	e.point(10, a.Centre)
	e.num(40, a.Radius)
	e.num(50, turn(from.Degrees()))
	e.num(51, turn(to.Degrees()))
}

// turn returns an angle in degrees from 0 to 360.
func turn(d float64) float64 {
	d = math.Mod(d, 360)
	if d < 0 {
		d += 360
	}
	return d
}

func (e *encoder) text(t sheet.Text) {
	if !t.Colour.Set || t.Text == "" {
		return
	}
	e.entity("TEXT")
	e.point(10, t.At)
	e.num(40, sheet.CapHeight(t.Size)) // the height of capitals
	e.pair(1, plain(t.Text))
	if t.Turn != 0 {
		e.num(50, turn(t.Turn.Degrees()))
	}
	if t.Anchor != sheet.Start {
		e.pair(72, [...]string{"0", "1", "2"}[t.Anchor])
		e.point(11, t.At)
	}
}

// plain writes text in letters that every reader has: signs of the trade as the
// format's own codes, others by their code point.
func plain(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == 'Ø' || r == '⌀':
			b.WriteString("%%c")
		case r == '°':
			b.WriteString("%%d")
		case r == '±':
			b.WriteString("%%p")
		case r == '%':
			b.WriteString("%%%")
		case r == '×':
			b.WriteString("x")
		case r == '“' || r == '”':
			b.WriteString(`"`)
		case r >= ' ' && r < 0x7f:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, `\U+%04X`, r)
		}
	}
	return b.String()
}
