package trace

import (
	"fmt"
	"math"
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

// wavyRing returns a ring with twelve waves, drawn with n points.
func wavyRing(n int) [][]geom.Point {
	loops := make([][]geom.Point, 2)
	for k, r := range [2]float64{120, 90} {
		for i := range n / 2 {
			a := 2 * math.Pi * float64(i) / float64(n/2)
			if k == 1 {
				a = -a
			}
			loops[k] = append(loops[k], geom.Point{}.Add(geom.UnitAt(geom.Angle(a)).Mul(r+8*math.Sin(12*a))))
		}
	}
	return loops
}

// BenchmarkPoints shows how time and memory grow with the points of an
// outline, the shape being the same.
func BenchmarkPoints(b *testing.B) {
	opt := Options{CapHeight: 300, Tol: tolShare * 300}
	for _, n := range [...]int{300, 600, 1250, 2500, 5000} {
		loops := wavyRing(n)
		stage := func(name string, each func() error) {
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if err := each(); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
		r, err := region.FromLoops(loops, flattenShare*opt.CapHeight)
		if err != nil {
			b.Fatal(err)
		}
		stage("region", func() error { _, err := region.FromLoops(loops, flattenShare*opt.CapHeight); return err })
		stage("axis", func() error { _, err := medial.New(r); return err })
		stage("whole", func() error { _, err := Region(r, opt); return err })
	}
}
