package main

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"unicode/utf8"

	"tubewright/cmd/tubewright/job"
	"tubewright/fonts"
	"tubewright/geom"
	"tubewright/pattern"
)

// layout sets the text of a job: each letter at its size and place in the
// sign. The baseline of the last line is y = 0, and the leftmost ink of the
// sign x = 0.
func layout(j job.Job, face *fonts.Face) (pattern.Spec, error) {
	spec := pattern.Spec{
		Name: j.Name, Text: j.Text, Font: fontName(face), Height: float64(j.Height), Tolerance: float64(j.Tolerance),
		Rules: j.Rules, Coarse: face.IsSingleLine(),
	}
	size, err := emSize(j, face)
	if err != nil {
		return spec, err
	}
	rows, err := setLines(j, face, size)
	spec.Routing = routing(j, rows)
	for n, r := range rows {
		for _, g := range r.glyphs {
			spec.Letters = append(spec.Letters, pattern.Letter{
				Text: g.Text, Index: r.index + g.Cluster, Line: n, Outline: g.Outline, Strokes: g.Strokes,
			})
		}
	}
	return spec, err
}

// fontName is what the sheets print: the family, or the name of the file
// without the folder it lies in, which is nobody else's business.
func fontName(face *fonts.Face) string { return cmp.Or(face.Family(), filepath.Base(face.Name())) }

// emSize returns the size, in mm to the em, at which the finished capital H is
// as tall as the job says, glass included: its centreline is a tube shorter.
func emSize(j job.Job, face *fonts.Face) (float64, error) {
	line := float64(j.Height) - j.Rules.Diameter
	const trial = 1000.0 // mm to the em; the answer does not depend on it
	glyphs, err := face.Shape("H", fonts.ShapeOptions{Size: trial})
	var missing *fonts.MissingCharacter
	if errors.As(err, &missing) {
		// A face for another script: its designer's capital height stands in.
		return face.SizeForCapHeight(geom.Length(line)), nil
	}
	if err != nil {
		return 0, err
	}
	tall, err := pattern.CapLine(pattern.Letter{Text: "H", Outline: glyphs[0].Outline, Strokes: glyphs[0].Strokes})
	if err != nil {
		return 0, fmt.Errorf("the capital H of face %q: %w", face.Name(), err)
	}
	return line / tall * trial, nil
}

// row is one line of text, set: its glyphs that draw something.
type row struct {
	glyphs []fonts.Glyph
	index  int // of its first character in the text, lines joined
	ink    geom.Rect
}

// setLines shapes the lines and stands them under each other, aligned by their
// ink, not by the blank space that a face leaves beside a letter.
func setLines(j job.Job, face *fonts.Face, size float64) ([]row, error) {
	var rows []row
	index, wide, drawn := 0, 0.0, 0
	for n, text := range j.Text {
		glyphs, err := face.Shape(text, fonts.ShapeOptions{Size: size, LetterSpacing: float64(j.LetterSpacing)})
		if err != nil && len(j.Text) > 1 {
			return nil, fmt.Errorf("line %d: %w", n+1, err)
		}
		if err != nil {
			return nil, err
		}
		r := row{index: index, ink: geom.EmptyRect()}
		for _, g := range glyphs {
			if len(g.Outline) > 0 || len(g.Strokes) > 0 { // else a space
				r.glyphs = append(r.glyphs, g)
				r.ink = r.ink.Union(inkOf(g))
			}
		}
		index += utf8.RuneCountInString(text)
		wide = max(wide, r.ink.Width())
		drawn += len(r.glyphs)
		rows = append(rows, r)
	}
	if drawn == 0 {
		return nil, errors.New("the text has nothing to bend: the face draws none of its characters; write other words")
	}
	for n, r := range rows {
		to := geom.Vec{X: indent(j.Align, wide-r.ink.Width()) - r.ink.Min.X, Y: float64(len(rows)-1-n) * float64(j.LineSpacing)}
		for i, g := range r.glyphs {
			r.glyphs[i] = moved(g, to)
		}
	}
	return rows, nil
}

// indent is how far a line with so much room to spare starts from the left.
func indent(align string, room float64) float64 {
	switch align {
	case job.Centre:
		return room / 2
	case job.Right:
		return room
	}
	return 0
}

func moved(g fonts.Glyph, by geom.Vec) fonts.Glyph {
	g.Origin = g.Origin.Add(by)
	g.Outline = g.Outline.Transform(geom.Scaling(1, by))
	strokes := make([]geom.Path, len(g.Strokes))
	for i, s := range g.Strokes {
		strokes[i] = s.Map(geom.SimilarityMap{Scale: 1, Move: by})
	}
	g.Strokes = strokes
	return g
}

func inkOf(g fonts.Glyph) geom.Rect {
	r := g.Outline.ControlBox()
	for _, s := range g.Strokes {
		r = r.Union(s.Bounds())
	}
	return r
}
