package fonts

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"

	"tubewright/fonts/sfnt"
	"tubewright/fonts/stroke"
	"tubewright/geom"
)

// Limits of one call of Shape.
const (
	MaxText    = 5000    // characters
	MaxSize    = 100_000 // mm to the em
	MaxCurves  = 1_000_000
	MaxSpacing = MaxSize
)

// ShapeOptions say how a line of text is set.
type ShapeOptions struct {
	// Size is the length of one em in mm, over 0 and at most MaxSize.
	Size float64
	// LetterSpacing is added between letters, in mm; negative is tighter. Any
	// value but 0 turns optional ligatures off, since their letters could not
	// be moved apart, and is an error for a script whose letters must join.
	LetterSpacing float64
	// Language is a BCP 47 tag such as "nl" for fonts with forms of their own
	// for a language; "" for none.
	Language string
	// Features turn OpenType features on and off, or choose an alternate:
	// "ss01", "-liga", "salt=2". A feature the font does not have changes
	// nothing, so that a single-line face ignores them all.
	Features []string
}

// Glyph is one placed glyph of a shaped line.
type Glyph struct {
	ID uint32 // glyph index in the font; in a single-line face, the character
	// Cluster is the place in the text, in characters from 0, of the first
	// character this glyph helps to write. Glyphs that write the same
	// characters together share it, and Text.
	Cluster int
	Text    string     // the characters of the cluster
	Advance float64    // from this glyph's pen place to the next one's, in mm
	Origin  geom.Point // where the glyph's own origin lies
	// Outline is placed, in mm, with the curves of the font; nil for a space
	// and in a single-line face.
	Outline geom.Outline
	// Strokes are placed, in mm: the lines of a single-line face, as drawn.
	Strokes []geom.Path
}

// Width returns how far the pen moves over the glyphs, in mm.
func Width(glyphs []Glyph) float64 {
	sum := 0.0
	for _, g := range glyphs {
		sum += g.Advance
	}
	return sum
}

// Shape sets one line of text and returns its glyphs from left to right. The
// pen starts at (0, 0) and runs along y = 0. Spaces give glyphs without a
// shape; an empty text gives none.
//
// Text with right-to-left letters is put in visual order by the Unicode
// Bidirectional Algorithm; the line reads in the direction of its first
// letter. Glyph order is the order on the wall, so Cluster may fall.
//
// Errors: *MissingCharacter; text that is too long, not UTF-8, or holds line
// ends, tabs or direction controls; options out of range; a damaged font.
func (f *Face) Shape(text string, opt ShapeOptions) ([]Glyph, error) {
	runes, err := checkText(text)
	if err != nil {
		return nil, err
	}
	if err := opt.check(); err != nil {
		return nil, err
	}
	if f.strokes != nil {
		return f.shapeStrokes(runes, opt)
	}
	return f.shapeOutlines(runes, opt)
}

// checkText returns the characters of text, or why it cannot be one line.
func checkText(text string) ([]rune, error) {
	if len(text) > utf8.UTFMax*MaxText || utf8.RuneCountInString(text) > MaxText {
		return nil, fmt.Errorf("text of %d characters: at most %d fit one line; split it", utf8.RuneCountInString(text), MaxText)
	}
	for i, r := range text {
		if r == utf8.RuneError {
			if _, n := utf8.DecodeRuneInString(text[i:]); n == 1 {
				return nil, fmt.Errorf("text is not UTF-8 at byte %d (0x%02X): save it as UTF-8", i+1, text[i])
			}
		}
	}
	runes := []rune(text)
	for i, r := range runes {
		switch {
		case unicode.IsControl(r) || r == '\u2028' || r == '\u2029':
			return nil, fmt.Errorf("character %d of the text is the control code %U: give one line of text, without tabs", i+1, r)
		case r >= '\u202A' && r <= '\u202E' || r >= '\u2066' && r <= '\u2069':
			return nil, fmt.Errorf("character %d of the text is the direction control %U: take it out; direction follows from the letters", i+1, r)
		}
	}
	return runes, nil
}

func (opt ShapeOptions) check() error {
	if !(opt.Size > 0 && opt.Size <= MaxSize) { // !(…) also catches NaN
		return fmt.Errorf("size %g mm to the em: must be over 0 and at most %d", opt.Size, MaxSize)
	}
	if !(math.Abs(opt.LetterSpacing) <= MaxSpacing) {
		return fmt.Errorf("letter spacing %g mm: must be at most %d mm", opt.LetterSpacing, MaxSpacing)
	}
	return nil
}

// shapeOutlines shapes by the font's tables, then scales to mm.
func (f *Face) shapeOutlines(text []rune, opt ShapeOptions) ([]Glyph, error) {
	runs, err := f.font.Shape(text, sfnt.Options{
		Language: opt.Language, Features: opt.Features, Spaced: opt.LetterSpacing != 0,
	})
	if err != nil {
		return nil, fmt.Errorf("face %q: %w", f.name, err)
	}
	if err := f.missing(text, runs); err != nil {
		return nil, err
	}
	line := line{spacing: opt.LetterSpacing, scale: opt.Size / float64(f.metrics.UnitsPerEm)}
	outlines := map[uint32]geom.Outline{}
	curves := 0
	for _, run := range runs {
		if opt.LetterSpacing != 0 && run.Joins {
			return nil, fmt.Errorf("face %q: letter spacing %g mm would tear apart the joined letters of %q: set it to 0",
				f.name, opt.LetterSpacing, string(text[run.Start:run.End]))
		}
		for _, g := range run.Glyphs {
			drawn, ok := outlines[g.ID]
			if !ok {
				if drawn, err = f.font.Outline(g.ID); err != nil {
					return nil, fmt.Errorf("face %q: %w", f.name, err)
				}
				outlines[g.ID] = drawn
			}
			if curves += countCurves(drawn); curves > MaxCurves {
				return nil, fmt.Errorf("face %q: the text takes more than %d curves: split it", f.name, MaxCurves)
			}
			placed := line.place(Glyph{ID: g.ID, Cluster: g.Cluster, Text: string(text[g.Cluster:g.ClusterEnd])},
				g.Advance, geom.Vec{X: float64(g.XOffset), Y: float64(g.YOffset)})
			if len(drawn) > 0 {
				placed.Outline = drawn.Transform(geom.Scaling(line.scale, placed.Origin.Sub(geom.Point{})))
			}
		}
	}
	return line.glyphs, nil
}

// line is a line of glyphs being set, from left to right.
type line struct {
	glyphs  []Glyph
	pen     float64 // mm
	scale   float64 // mm to the font unit
	spacing float64 // mm between clusters
}

// place appends g at the pen and moves the pen on; advance and offset are in
// font units. Spacing goes behind the last glyph of each cluster but the last.
func (l *line) place(g Glyph, advance int, offset geom.Vec) *Glyph {
	if n := len(l.glyphs); n > 0 && l.glyphs[n-1].Cluster != g.Cluster {
		l.glyphs[n-1].Advance += l.spacing
		l.pen += l.spacing
	}
	g.Origin = geom.Point{X: l.pen + float64(offset.X*l.scale), Y: offset.Y * l.scale}
	g.Advance = float64(advance) * l.scale
	l.pen += g.Advance
	l.glyphs = append(l.glyphs, g)
	return &l.glyphs[len(l.glyphs)-1]
}

func countCurves(o geom.Outline) int {
	n := 0
	for _, c := range o {
		n += len(c.Curves)
	}
	return n
}

// missing returns *MissingCharacter if the shaper met a character that the
// face does not have: it then put glyph 0 in its place.
func (f *Face) missing(text []rune, runs []sfnt.Run) error {
	lacking := map[int]bool{}
	for _, run := range runs {
		for _, g := range run.Glyphs {
			if g.ID != 0 {
				continue
			}
			at := g.Cluster
			for i := g.Cluster; i < g.ClusterEnd; i++ {
				if !f.font.Has(text[i]) {
					at = i
					break
				}
			}
			lacking[at] = true
		}
	}
	return f.missingAt(text, func(i int) bool { return lacking[i] })
}

// missingAt returns *MissingCharacter if any place in the text is lacking.
func (f *Face) missingAt(text []rune, lacking func(i int) bool) error {
	var e *MissingCharacter
	seen := map[rune]bool{}
	for i, r := range text {
		if !lacking(i) || seen[r] {
			continue
		}
		seen[r] = true
		if e == nil {
			e = &MissingCharacter{Rune: r, Index: i, Face: f.name}
		} else {
			e.Also = append(e.Also, r)
		}
	}
	if e == nil {
		return nil
	}
	return e
}

// shapeStrokes sets the letters of a single-line set one after the other; the
// set has no kerning and no alternate forms.
func (f *Face) shapeStrokes(text []rune, opt ShapeOptions) ([]Glyph, error) {
	err := f.missingAt(text, func(i int) bool { _, ok := f.strokes.Glyph(text[i]); return !ok })
	if err != nil {
		return nil, err
	}
	line := line{spacing: opt.LetterSpacing, scale: opt.Size / stroke.UnitsPerEm}
	for i, r := range text {
		drawn, _ := f.strokes.Glyph(r)
		g := line.place(Glyph{ID: uint32(r), Cluster: i, Text: string(r)}, drawn.Advance, geom.Vec{})
		to := geom.SimilarityMap{Scale: line.scale, Move: geom.Vec{X: g.Origin.X}}
		for _, p := range drawn.Strokes {
			g.Strokes = append(g.Strokes, p.Map(to))
		}
	}
	return line.glyphs, nil
}
