package sfnt

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"

	gofont "github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/font/opentype/tables"
	"golang.org/x/image/font"
	xsfnt "golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"tubewright/geom"
)

// Font is one opened font. It never changes after Parse and may be used from
// several goroutines at once.
type Font struct {
	front     *xsfnt.Font  // names, metrics, coverage
	shaper    *gofont.Font // shaping
	drawer    *gofont.Face // outlines; these alone change nothing in a Face
	family    string
	copyright string
	licence   string
	metrics   Metrics
}

// Metrics are the vertical measures of a font, in units, y up.
type Metrics struct {
	UnitsPerEm    int
	CapHeight     float64 // outside height of a capital H
	CapHeightFrom string  // what CapHeight was taken from
	Ascender      float64
	Descender     float64 // negative below the baseline
	LineGap       float64
}

// Parse opens the bytes of a TTF, OTF or WOFF2 file, or the first font of a
// TTC or OTC collection. A variable font is opened at its default instance.
//
// It refuses files over MaxFile, WOFF 1, bitmap and colour fonts, CFF2
// outlines, damaged tables, and fonts whose outlines pass the bounds in
// composite.go and cff.go. It never panics.
func Parse(data []byte) (f *Font, err error) {
	defer recoverAs(&err, "it cannot be opened")
	switch {
	case len(data) > MaxFile:
		return nil, fmt.Errorf("file of %d bytes: a font may have at most %d", len(data), MaxFile)
	case len(data) == 0:
		return nil, errors.New("the file is empty")
	case bytes.HasPrefix(data, []byte(sigWOFF2)):
		if data, err = unpackWOFF2(data); err != nil {
			return nil, err
		}
	case bytes.HasPrefix(data, []byte(sigWOFF)):
		return nil, errors.New("WOFF 1 is not read: convert the file to TTF, OTF or WOFF2")
	case !isSFNT(data):
		return nil, errors.New("not a font: need a TTF, OTF or WOFF2 file")
	}
	dir, err := readDirectory(data)
	if err != nil {
		return nil, damaged("%w", err)
	}
	if dir.find("CFF2") != nil && dir.find("glyf") == nil {
		return nil, errors.New("CFF2 outlines are not read: make a static OTF or TTF instance of the font")
	}
	if err := cmp.Or(checkGlyf(dir), checkCFF(dir)); err != nil {
		return nil, damaged("%w", err)
	}
	if f, err = open(data); err != nil {
		return nil, damaged("%w", err)
	}
	return f, nil
}

func isSFNT(data []byte) bool {
	for _, sig := range []string{sigTrueType, sigTrueTypeMP, sigCFF, sigCollection} {
		if bytes.HasPrefix(data, []byte(sig)) {
			return true
		}
	}
	return false
}

// open hands bounded SFNT bytes to the front door, then to the shaper.
func open(data []byte) (*Font, error) {
	collection, err := xsfnt.ParseCollection(data)
	if err != nil {
		return nil, err
	}
	front, err := collection.Font(0)
	if err != nil {
		return nil, err
	}
	loaders, err := opentype.NewLoaders(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	shaper, err := gofont.NewFont(loaders[0])
	if err != nil {
		return nil, err
	}
	f := &Font{front: front, shaper: shaper, drawer: gofont.NewFace(shaper)}
	if int(shaper.Upem()) != int(front.UnitsPerEm()) {
		return nil, fmt.Errorf("%d units to the em, must be 16 to 16384", front.UnitsPerEm())
	}
	f.family = cmp.Or(f.nameEntry(xsfnt.NameIDFull), f.nameEntry(xsfnt.NameIDFamily))
	f.copyright = f.nameEntry(xsfnt.NameIDCopyright)
	f.licence = strings.TrimSpace(f.nameEntry(xsfnt.NameIDLicense) + "\n" + f.nameEntry(xsfnt.NameIDLicenseURL))
	return f, f.measure()
}

// nameEntry returns an entry of the name table, "" where there is none. Control
// codes other than line ends are left out: the text goes to terminals.
func (f *Font) nameEntry(id xsfnt.NameID) string {
	s, err := f.front.Name(nil, id)
	if err != nil {
		return ""
	}
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' {
			return -1
		}
		return r
	}, s))
}

// measure fills in the metrics.
func (f *Font) measure() error {
	em := f.front.UnitsPerEm()
	m, err := f.front.Metrics(nil, fixed.Int26_6(em), font.HintingNone)
	if err != nil {
		return err
	}
	f.metrics = Metrics{
		UnitsPerEm: int(em), Ascender: float64(m.Ascent), Descender: -float64(m.Descent),
		LineGap: float64(m.Height - m.Ascent - m.Descent),
	}
	h, _ := f.front.GlyphIndex(nil, 'H')
	outline := geom.Outline{}
	if h != 0 {
		if outline, err = f.Outline(uint32(h)); err != nil {
			return err
		}
	}
	switch {
	case len(outline) > 0:
		f.metrics.CapHeight, f.metrics.CapHeightFrom = height(outline), "the outline of H"
	case m.CapHeight > 0:
		f.metrics.CapHeight, f.metrics.CapHeightFrom = float64(m.CapHeight), "the font's OS/2 table"
	default:
		// No H and no word on it: seven tenths of the em is common practice
		// among text faces, no source.
		f.metrics.CapHeight, f.metrics.CapHeightFrom = 0.7*float64(em), "the size of the em, for want of better"
	}
	return nil
}

// height returns how far an outline reaches from bottom to top, to a ten
// thousandth: curves are sampled, since control points may lie outside.
func height(o geom.Outline) float64 {
	const samples = 128
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range o {
		from := c.Start
		for _, k := range c.Curves {
			for i := range samples + 1 {
				y := k.At(from, float64(i)/samples).Y
				low, high = math.Min(low, y), math.Max(high, y)
			}
			from = k.To
		}
	}
	return high - low
}

// Family returns the full name that the font states, or "".
func (f *Font) Family() string { return f.family }

// Copyright returns the font's copyright entry, or "".
func (f *Font) Copyright() string { return f.copyright }

// Licence returns what the font states about its licence, or "".
func (f *Font) Licence() string { return f.licence }

// Metrics returns the vertical measures.
func (f *Font) Metrics() Metrics { return f.metrics }

// NumGlyphs returns how many glyphs the font has.
func (f *Font) NumGlyphs() int { return f.front.NumGlyphs() }

// Has reports whether the font maps the character to a glyph.
func (f *Font) Has(r rune) bool {
	i, err := f.front.GlyphIndex(nil, r)
	return err == nil && i != 0
}

// Outline returns the contours of a glyph in units, with the font's own curves.
func (f *Font) Outline(id uint32) (o geom.Outline, err error) {
	defer recoverAs(&err, fmt.Sprintf("glyph %d cannot be read", id))
	if int64(id) >= int64(f.NumGlyphs()) {
		return nil, damaged("it asks for glyph %d of %d", id, f.NumGlyphs())
	}
	drawn, ok := f.drawer.GlyphDataOutline(tables.GlyphID(id))
	if !ok {
		return nil, damaged("glyph %d has no outline that can be read", id)
	}
	for _, s := range drawn.Segments {
		p := [3]geom.Point{}
		for i, a := range s.Args {
			p[i] = geom.Point{X: float64(a.X), Y: float64(a.Y)}
			if !p[i].IsFinite() {
				return nil, damaged("a coordinate of glyph %d is not a number", id)
			}
		}
		if s.Op == opentype.SegmentOpMoveTo {
			o = append(o, geom.Contour{Start: p[0]})
			continue
		}
		if len(o) == 0 {
			return nil, damaged("the outline of glyph %d has no start", id)
		}
		c := &o[len(o)-1]
		switch s.Op {
		case opentype.SegmentOpLineTo:
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: p[0]})
		case opentype.SegmentOpQuadTo:
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.QuadTo, C1: p[0], To: p[1]})
		case opentype.SegmentOpCubeTo:
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.CubicTo, C1: p[0], C2: p[1], To: p[2]})
		}
		if len(c.Curves) > maxGlyphPoints {
			return nil, damaged("glyph %d has more than %d curves", id, maxGlyphPoints)
		}
	}
	return withoutPoints(o), nil
}

// withoutPoints drops contours that draw nothing: fonts hold single points as
// anchors for hinting.
func withoutPoints(o geom.Outline) geom.Outline {
	var kept geom.Outline
	for _, c := range o {
		if len(c.Curves) > 0 {
			kept = append(kept, c)
		}
	}
	return kept
}

// damaged is the error for a font that cannot be trusted, with its remedy.
func damaged(format string, args ...any) error {
	return fmt.Errorf("the font is damaged: "+format+"; get a sound copy of the file or choose another face", args...)
}

// recoverAs turns a panic of a font library into an error.
func recoverAs(err *error, what string) {
	if r := recover(); r != nil {
		*err = damaged("%s (%v)", what, r)
	}
}
