// Package sfnt opens OpenType font files, shapes text with them and reads
// their outlines, all in font units.
//
//	bytes ─ bounds ─ WOFF2? unpack ─ x/image/font/sfnt ─ go-text ──► *Font
//	                                 (front door)
//	text ─ itemise into runs ─ HarfBuzz shaper ──► []Run of []Glyph ─► Outline
//
// It is the only package that imports font libraries, and each has one job.
// golang.org/x/image/font/sfnt opens every font first: it rejects what is not
// a font, and answers for names, units per em, metrics and coverage. It does
// not shape, and its TrueType outlines miss the shift between a glyph's xMin
// and its left side bearing. github.com/go-text/typesetting, a port of
// HarfBuzz, shapes and gives the outlines. github.com/tdewolff/font unpacks
// WOFF2. golang.org/x/text/unicode/bidi knows the direction class of each
// character; the rules that make an order of them are in bidi.go.
//
// Fonts come from users and may be damaged. Sizes are bounded before a library
// may allocate by them (bounds.go, composite.go, cff.go), and since go-text
// panics on some damaged tables, panics of a library come back as errors.
package sfnt
