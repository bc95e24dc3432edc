package trace

import (
	"testing"

	"tubewright/fonts"
	"tubewright/geom"
	"tubewright/geom/medial"
	"tubewright/geom/region"
)

const benchText = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"

// benchGlyphs returns the letters and digits of every embedded outline face
// that has them, 300 mm high.
func benchGlyphs(b *testing.B) []geom.Outline {
	b.Helper()
	var out []geom.Outline
	for _, info := range fonts.Builtin() {
		if info.Kind != fonts.Outline {
			continue
		}
		face, err := fonts.Open(info.Name)
		if err != nil {
			b.Fatal(err)
		}
		glyphs, err := face.Shape(benchText, fonts.ShapeOptions{Size: face.SizeForCapHeight(300)})
		if err != nil {
			continue // a face without Latin letters
		}
		for _, g := range glyphs {
			out = append(out, g.Outline)
		}
	}
	return out
}

// BenchmarkGlyph takes the stages of the centreline apart. One round is one
// glyph; the glyphs of all faces come in turn.
func BenchmarkGlyph(b *testing.B) {
	glyphs := benchGlyphs(b)
	opt := Options{CapHeight: 300, Tol: tolShare * 300}
	stage := func(name string, each func(i int) error) {
		b.Run(name, func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				if err := each(i % len(glyphs)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	regions := make([]region.Region, len(glyphs))
	axes := make([]*medial.Axis, len(glyphs))
	for i, o := range glyphs {
		var err error
		if regions[i], err = region.FromOutline(o, flattenShare*opt.CapHeight); err != nil {
			b.Fatal(err)
		}
		if axes[i], err = medial.New(regions[i]); err != nil {
			b.Fatal(err)
		}
	}
	draw := func(i int) *tracer {
		t := newTracer(regions[i], axes[i], opt)
		t.findZones()
		t.solveZones()
		t.assemble()
		return t
	}
	stage("whole", func(i int) error { _, err := Outline(glyphs[i], opt); return err })
	stage("region", func(i int) error { _, err := region.FromOutline(glyphs[i], flattenShare*opt.CapHeight); return err })
	stage("axis", func(i int) error { _, err := medial.New(regions[i]); return err })
	stage("repair", func(i int) error { draw(i); return nil })
	stage("repair+fit", func(i int) error { return draw(i).fitAll() })
}
