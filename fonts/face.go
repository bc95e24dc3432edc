package fonts

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"tubewright/fonts/sfnt"
	"tubewright/fonts/stroke"
	"tubewright/geom"
)

// Face is one font, ready to shape text. It never changes after it is made and
// may be used from several goroutines at once.
type Face struct {
	name      string
	family    string
	copyright string
	licence   string
	sum       string
	metrics   Metrics
	font      *sfnt.Font   // nil in a single-line face
	strokes   *stroke.Font // nil in an outline face
}

// Metrics are the vertical measures of a face, in ems above the baseline
// except where noted.
type Metrics struct {
	UnitsPerEm int // coordinates of the font file in one em
	// CapHeight is the height of a capital H from its lowest to its highest
	// point. In a single-line face it is the height of the strokes, to which
	// the tube adds its own diameter.
	CapHeight     float64
	CapHeightFrom string  // what CapHeight was taken from
	Ascender      float64 // top of the tallest letters
	Descender     float64 // bottom of the deepest letters; negative
	LineGap       float64 // extra space the designer wants between lines
}

// Parse reads the bytes of a TTF, OTF or WOFF2 file; of a collection it takes
// the first font. The name stands in error messages: the path the user gave.
// Damaged, unsupported and over-large files (see sfnt.Parse) give an error.
func Parse(data []byte, name string) (*Face, error) {
	font, err := sfnt.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("face %q: %w", name, err)
	}
	return newFace(name, data, font, nil), nil
}

// newFace fills in what both kinds of face have. One of font and set is nil.
func newFace(name string, data []byte, font *sfnt.Font, set *stroke.Font) *Face {
	sum := sha256.Sum256(data)
	f := &Face{name: name, sum: hex.EncodeToString(sum[:]), font: font, strokes: set}
	if set != nil {
		const em = stroke.UnitsPerEm
		f.metrics = Metrics{
			UnitsPerEm: em, CapHeight: float64(stroke.CapHeight) / em, CapHeightFrom: "the data of the set",
			Ascender: float64(stroke.Ascender) / em, Descender: float64(stroke.Descender) / em,
		}
		return f
	}
	f.family, f.copyright, f.licence = font.Family(), font.Copyright(), font.Licence()
	m := font.Metrics()
	em := float64(m.UnitsPerEm)
	f.metrics = Metrics{
		UnitsPerEm: m.UnitsPerEm, CapHeight: m.CapHeight / em, CapHeightFrom: m.CapHeightFrom,
		Ascender: m.Ascender / em, Descender: m.Descender / em, LineGap: m.LineGap / em,
	}
	return f
}

// Name returns the short name of a face inside the program, or the name given
// to Parse.
func (f *Face) Name() string { return f.name }

// Family returns the family and style that the font states, or "".
func (f *Face) Family() string { return f.family }

// Copyright returns the copyright line, or "" where the font states none.
func (f *Face) Copyright() string { return f.copyright }

// Licence returns the full licence text of a face inside the program, and
// what the font states about its licence for any other; "" for nothing.
func (f *Face) Licence() string { return f.licence }

// SHA256 returns the hexadecimal SHA-256 sum of the font file.
func (f *Face) SHA256() string { return f.sum }

// IsSingleLine reports whether glyphs have strokes and no outlines.
func (f *Face) IsSingleLine() bool { return f.strokes != nil }

// Metrics returns the vertical measures of the face.
func (f *Face) Metrics() Metrics { return f.metrics }

// SizeForCapHeight returns the size, in mm to the em, that makes a capital H
// of the drawing as tall as h.
func (f *Face) SizeForCapHeight(h geom.Length) float64 {
	return float64(h) / f.metrics.CapHeight
}
