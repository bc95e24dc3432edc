// Package fonts turns a line of text into placed outlines or strokes.
//
//	Builtin, Open          the faces inside the program
//	Parse                  the bytes of a TTF, OTF or WOFF2 file
//	      ↓
//	*Face ── Shape(text, options) ──► []Glyph, left to right, in millimetres
//
// Text is shaped, not set letter by letter: kerning, ligatures, the contextual
// forms that join a script face, and right-to-left runs all take effect. An
// outline face gives each glyph a geom.Outline with the font's own curves; a
// single-line face gives strokes, which are centrelines already.
//
// Coordinates are millimetres in the front frame: the baseline is y = 0, y
// points up, and the pen starts at x = 0. The caller says how large an em is;
// Face.SizeForCapHeight works that out from the height of a capital H.
//
// The package reads no files. Children: sfnt is the only package that imports
// a font library; stroke reads the single-line vector data. To add a face, put
// its file and its licence in faces/, add a row in builtin.go and an entry in
// LICENCES.md, and run the tests.
package fonts
