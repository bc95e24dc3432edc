package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"tubewright/fonts/artwork"
	"tubewright/geom"
	"tubewright/geom/region"
	"tubewright/geom/trace"
	"tubewright/pattern/finding"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/svg"
)

// traceFormat is the name and version of trace.json.
const traceFormat = "tubewright.trace/1"

// traceTitle begins the title of a trace drawn as SVG.
const traceTitle = "tubewright trace"

// number is a coordinate in JSON, to a tenth of a nanometre.
type number float64

func (n number) MarshalJSON() ([]byte, error) { return []byte(geom.FormatNumber(float64(n), 7)), nil }

type spot [3]number

func spotAt(p geom.Point) spot { return spot{number(p.X), number(p.Y), 0} }

type segmentEntry struct {
	Kind   string      `json:"kind"`
	From   spot        `json:"from"`
	To     spot        `json:"to"`
	Centre *spot       `json:"centre,omitempty"`
	Axis   *[3]float64 `json:"axis,omitempty"`
	Radius number      `json:"radius,omitempty"`
	Angle  number      `json:"angle,omitempty"`
}

type strokeEntry struct {
	ID     string         `json:"id"`
	Closed bool           `json:"closed"`
	Path   []segmentEntry `json:"path"`
}

type junctionEntry struct {
	At     [2]number `json:"at"`
	Degree int       `json:"degree"`
	Kind   string    `json:"kind"`
}

type noteEntry struct {
	Code     string `json:"code"`
	Severity string `json:"severity"`
	At       spot   `json:"at"`
	Message  string `json:"message"`
}

type remarkEntry struct {
	Code     string `json:"code"`
	Severity string `json:"severity"`
	Line     int    `json:"line"`
	Element  string `json:"element"`
	ID       string `json:"id"`
	Message  string `json:"message"`
	Remedy   string `json:"remedy"`
}

type glyphEntry struct {
	Text      string          `json:"text"`
	IDs       []string        `json:"ids,omitempty"` // of the shapes of an artwork
	Origin    [2]number       `json:"origin"`
	Strokes   []strokeEntry   `json:"strokes"`
	Junctions []junctionEntry `json:"junctions"`
	Coverage  *number         `json:"coverage,omitempty"` // of the ink by the pen swept along the strokes, as a share; none in a single-line face
	Spill     *number         `json:"spill,omitempty"`    // out of the ink, as a share of it
	Findings  []noteEntry     `json:"findings"`
}

// writeJSON writes trace.json, one glyph a line.
func (t traced) writeJSON(w io.Writer) error {
	var b bytes.Buffer
	head := func(key string, v any) error {
		data, err := json.Marshal(v)
		fmt.Fprintf(&b, "%q: %s, ", key, data)
		return err
	}
	fmt.Fprintf(&b, "{\n  \"format\": %q, \"length_unit\": \"mm\", \"frame\": \"front\",\n  ", traceFormat)
	var err error
	if t.artwork != "" {
		err = errors.Join(head("artwork", t.artwork), head("findings", remarkEntries(t.remarks)))
	} else {
		err = errors.Join(head("text", t.text), head("font", t.font))
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(&b, "\"height\": %s,\n", geom.FormatNumber(float64(t.height), 7))
	fmt.Fprintf(&b, "  \"units_per_em\": %d, \"mm_per_em_unit\": %s,\n", t.perEm, geom.FormatNumber(t.em/float64(t.perEm), 12))
	b.WriteString("  \"glyphs\": [")
	for i, g := range t.glyphs {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n    ")
		line, err := json.Marshal(entryOf(i, g))
		if err != nil {
			return fmt.Errorf("trace of letter %q: %w", g.text, err)
		}
		b.Write(line)
	}
	b.WriteString("\n  ]\n}\n")
	_, err = w.Write(b.Bytes())
	return err
}

func remarkEntries(rs []artwork.Remark) []remarkEntry {
	out := []remarkEntry{}
	for _, r := range rs {
		out = append(out, remarkEntry{"artwork", severityOfRemark(r).String(), r.Line, r.Element, r.ID, r.Message(), r.Remedy})
	}
	return out
}

func entryOf(i int, g tracedGlyph) glyphEntry {
	e := glyphEntry{Text: g.text, IDs: g.ids, Origin: [2]number{number(g.origin.X), number(g.origin.Y)},
		Strokes: []strokeEntry{}, Junctions: []junctionEntry{}, Findings: []noteEntry{}}
	if len(g.outline) > 0 {
		cover, spill := number(g.found.Coverage), number(g.found.Spill)
		e.Coverage, e.Spill = &cover, &spill
	}
	for k, p := range g.strokes {
		e.Strokes = append(e.Strokes, strokeEntry{ID: fmt.Sprintf("g%ds%d", i, k+1), Closed: p.Closed, Path: segmentsOf(p)})
	}
	for _, j := range g.found.Junctions {
		e.Junctions = append(e.Junctions, junctionEntry{At: [2]number{number(j.At.X), number(j.At.Y)}, Degree: j.Degree, Kind: j.Kind})
	}
	for _, n := range g.found.Notes {
		e.Findings = append(e.Findings, noteEntry{Code: string(n.Kind), Severity: severityOf(n).String(), At: spotAt(n.At), Message: g.noteMessage(n)})
	}
	return e
}

// severityOf ranks a remark: a letter that no single line can follow is a
// warning, a junction left as it was found a note.
func severityOf(n trace.Note) finding.Severity {
	if n.Kind == trace.Raw {
		return finding.Note
	}
	return finding.Warning
}

func segmentsOf(p geom.Path) []segmentEntry {
	out := []segmentEntry{}
	for _, s := range p.Segments {
		e := segmentEntry{Kind: "line", From: spotAt(s.Start()), To: spotAt(s.End())}
		if a, ok := s.(geom.Arc); ok {
			c, axis := spotAt(a.Centre), [3]float64{0, 0, 1}
			if a.Sweep < 0 {
				axis[2] = -1
			}
			e.Kind, e.Centre, e.Axis = "arc", &c, &axis
			e.Radius, e.Angle = number(a.Radius), number(a.Sweep.Abs().Degrees())
		}
		out = append(out, e)
	}
	return out
}

// writeSVG draws the outlines in grey under the centrelines, with the ends of
// the strokes as dots and the junctions as rings, full size, front frame.
func (t traced) writeSVG(w io.Writer) error {
	box := geom.EmptyRect()
	for _, g := range t.glyphs {
		box = box.Union(g.outline.ControlBox())
		for _, p := range g.strokes {
			box = box.Union(p.Bounds())
		}
	}
	const margin = 10.0
	box = box.Grown(margin)
	shift := geom.Vec{X: -box.Min.X, Y: -box.Min.Y}
	pen := float64(t.height) / 150
	s := &sheet.Sheet{
		Width: box.Width(), Height: box.Height(), Frame: sheet.Front,
		Title:       traceTitle + ": " + cmp.Or(t.artwork, strings.Join(t.text, " / ")),
		Description: fmt.Sprintf("Centrelines of the face %s with the capital H %s high. Front frame, millimetres.", t.font, t.height),
	}
	if t.artwork != "" {
		s.Description = fmt.Sprintf("Centrelines of the artwork %s, whose ink is %s high. Front frame, millimetres.", t.artwork, t.height)
	}
	var outlines, strokes, marks []sheet.Item
	for _, g := range t.glyphs {
		if len(g.outline) > 0 {
			outlines = append(outlines, sheet.Shape{Paths: flattened(g.outline, shift, pen/10), Fill: sheet.Grey(0xd8)})
		}
		for _, p := range g.strokes {
			p = p.Map(geom.SimilarityMap{Scale: 1, Move: shift})
			strokes = append(strokes, sheet.Shape{Paths: []geom.Path{p}, Pen: sheet.Pen{Width: pen, Colour: sheet.Grey(0)}})
			if !p.Closed {
				ends := []geom.Path{sheet.Circle(p.Start(), 1.5*pen), sheet.Circle(p.End(), 1.5*pen)}
				marks = append(marks, sheet.Shape{Paths: ends, Fill: sheet.Grey(0)})
			}
		}
		for _, j := range g.found.Junctions {
			ring := []geom.Path{sheet.Circle(j.At.Add(shift), 3*pen)}
			marks = append(marks, sheet.Shape{Paths: ring, Pen: sheet.Pen{Width: pen / 2, Colour: sheet.RGB(0xc0, 0, 0)}})
		}
	}
	for _, l := range []struct {
		id, name string
		items    []sheet.Item
	}{{"outlines", "outlines", outlines}, {"centrelines", "centrelines", strokes}, {"marks", "ends and junctions", marks}} {
		s.Layers = append(s.Layers, sheet.Layer{ID: l.id, Name: l.name, Groups: []sheet.Group{{ID: l.id + "-all", Items: l.items}}})
	}
	return svg.Encode(w, s)
}

// flattened turns an outline into polygons that keep within tol mm of it.
func flattened(o geom.Outline, shift geom.Vec, tol float64) []geom.Path {
	var out []geom.Path
	for _, loop := range region.Flatten(o.Transform(geom.Scaling(1, shift)), tol) {
		if len(loop) > 2 {
			out = append(out, sheet.Polygon(loop...))
		}
	}
	return out
}
