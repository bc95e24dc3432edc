package sfnt

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	gofont "github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/harfbuzz"
	"github.com/go-text/typesetting/language"
)

// Options say how text is shaped.
type Options struct {
	Language string   // BCP 47, "" for none
	Features []string // "ss01", "-liga", "salt=2"
	Spaced   bool     // letters will be moved apart: no optional ligatures
}

// Run is a shaped stretch of text in one direction and one script.
type Run struct {
	Start, End  int    // of the text, in characters
	RightToLeft bool   // its glyphs are in visual order all the same
	Script      string // ISO 15924
	Joins       bool   // letters of the script join and may not be moved apart
	Glyphs      []Glyph
}

// Glyph is one glyph of a run, in units; left to right along the line.
type Glyph struct {
	ID                  uint32
	Cluster, ClusterEnd int // the characters it helps to write
	Advance             int // to the next glyph's pen place
	XOffset, YOffset    int // of its origin from its own pen place
}

// maxGrowth bounds the glyphs that one character may turn into.
const maxGrowth = 64

// Shape returns the runs of a line of text from left to right. A character the
// font lacks becomes glyph 0; the caller decides what that means. Glyphs are
// those of HarfBuzz, save that a ligature of negative advance is not used.
func (f *Font) Shape(text []rune, opt Options) (runs []Run, err error) {
	defer recoverAs(&err, "it cannot shape this text")
	features, err := parseFeatures(opt)
	if err != nil {
		return nil, err
	}
	// A Face caches as it shapes, so each call has its own.
	shaper := harfbuzz.NewFont(gofont.NewFace(f.shaper))
	for _, it := range itemise(text) {
		run := Run{
			Start: it.start, End: it.end, RightToLeft: it.level%2 == 1,
			Script: it.script.String(), Joins: joins(it.script),
		}
		if run.Glyphs, err = shapeItem(shaper, text, it, opt.Language, features); err != nil {
			return nil, err
		}
		if faulty := backward(shaper.Face(), run.Glyphs); len(faulty) > 0 {
			run.Glyphs, err = shapeItem(shaper, text, it, opt.Language, slices.Concat(features, faulty))
			if err != nil {
				return nil, err
			}
			if still := backward(shaper.Face(), run.Glyphs); len(still) > 0 {
				return nil, damaged("its glyph for %q has a negative advance", string(text[still[0].Start:still[0].End]))
			}
		}
		runs = append(runs, run)
	}
	return runs, nil
}

// shapeItem shapes one item with HarfBuzz.
func shapeItem(shaper *harfbuzz.Font, text []rune, it item, lang string, features []harfbuzz.Feature) ([]Glyph, error) {
	buf := harfbuzz.NewBuffer()
	buf.AddRunes(text, it.start, it.end-it.start)
	buf.Props = harfbuzz.SegmentProperties{
		Language: language.NewLanguage(lang), Script: it.script, Direction: harfbuzz.LeftToRight,
	}
	if it.level%2 == 1 {
		buf.Props.Direction = harfbuzz.RightToLeft
	}
	if it.start == 0 {
		buf.Flags |= harfbuzz.Bot
	}
	if it.end == len(text) {
		buf.Flags |= harfbuzz.Eot
	}
	buf.Shape(shaper, features)
	if len(buf.Info) > maxGrowth*(it.end-it.start) {
		return nil, damaged("%d characters become %d glyphs", it.end-it.start, len(buf.Info))
	}
	return glyphsOf(buf, it)
}

// backward finds the clusters that hold a glyph whose own advance is negative,
// and returns settings that turn ligatures off for each. Such an advance is a
// fault (the format has none; the shaper reads those over 32,767 so), and where
// it is that of a ligature, as of "rs" in Vibur, the letters have sound glyphs.
func backward(face harfbuzz.Face, glyphs []Glyph) []harfbuzz.Feature {
	var off []harfbuzz.Feature
	for _, g := range glyphs {
		if face.HorizontalAdvance(gofont.GID(g.ID)) >= 0 {
			continue
		}
		for _, tag := range []string{"liga", "clig", "dlig", "rlig"} {
			off = append(off, harfbuzz.Feature{Tag: opentype.MustNewTag(tag), Start: g.Cluster, End: g.ClusterEnd})
		}
	}
	return off
}

// glyphsOf reads the shaped buffer. A cluster ends where the next one in the
// text begins.
func glyphsOf(buf *harfbuzz.Buffer, it item) ([]Glyph, error) {
	starts := []int{it.end}
	for _, info := range buf.Info {
		if info.Cluster < it.start || info.Cluster >= it.end {
			return nil, damaged("a glyph stands for character %d of a run from %d to %d", info.Cluster+1, it.start+1, it.end)
		}
		starts = append(starts, info.Cluster)
	}
	slices.Sort(starts)
	starts = slices.Compact(starts)
	glyphs := make([]Glyph, len(buf.Info))
	for i, info := range buf.Info {
		at, _ := slices.BinarySearch(starts, info.Cluster)
		pos := buf.Pos[i]
		glyphs[i] = Glyph{
			ID: uint32(info.Glyph), Cluster: info.Cluster, ClusterEnd: starts[at+1],
			Advance: int(pos.XAdvance), XOffset: int(pos.XOffset), YOffset: int(pos.YOffset),
		}
	}
	return glyphs, nil
}

// parseFeatures reads the feature settings. Spaced text turns optional
// ligatures off first, so that a setting can still turn them on.
func parseFeatures(opt Options) ([]harfbuzz.Feature, error) {
	var settings []string
	if opt.Spaced {
		settings = append(settings, "-liga", "-clig")
	}
	const maxFeatures = 100
	if len(opt.Features) > maxFeatures {
		return nil, fmt.Errorf("%d font features: at most %d", len(opt.Features), maxFeatures)
	}
	settings = append(settings, opt.Features...)
	var features []harfbuzz.Feature
	for _, s := range settings {
		feature, ok := parseFeature(s)
		if !ok {
			return nil, fmt.Errorf(`font feature %q: write a tag of four letters or digits, as "ss01", "-liga" or "salt=2"`, s)
		}
		features = append(features, feature)
	}
	return features, nil
}

// parseFeature reads "tag", "+tag", "-tag" or "tag=number". HarfBuzz's own
// parser is not used: it takes any text for a tag.
func parseFeature(s string) (harfbuzz.Feature, bool) {
	on := uint64(1)
	tag, number, valued := strings.Cut(s, "=")
	if !valued && strings.HasPrefix(tag, "-") {
		on = 0
	}
	if !valued {
		tag = strings.TrimLeft(tag[:min(1, len(tag))], "+-") + tag[min(1, len(tag)):]
	}
	isTag := len(tag) == 4 && !strings.ContainsFunc(tag, func(r rune) bool {
		return r > 'z' || !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	var err error
	if valued {
		on, err = strconv.ParseUint(number, 10, 16)
	}
	if err != nil || !isTag {
		return harfbuzz.Feature{}, false
	}
	return harfbuzz.Feature{
		Tag: opentype.MustNewTag(tag), Value: uint32(on),
		Start: harfbuzz.FeatureGlobalStart, End: harfbuzz.FeatureGlobalEnd,
	}, true
}
