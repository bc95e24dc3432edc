package main

import (
	"math"
	"testing"

	"tubewright/fonts"
	"tubewright/geom"
	"tubewright/geom/region"
	"tubewright/geom/trace"
)

// Where the outline of a letter is its own mirror image, its strokes are too,
// within 0.5 % of the cap height.
func TestSymmetricLettersHaveSymmetricStrokes(t *testing.T) {
	letters := 0
	for _, name := range []string{"comfortaa-light", "quicksand-light", "m-plus-rounded-1c-light", "league-spartan-extralight", "jura-light"} {
		face, err := fonts.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range "AHIMOTUVWXY80" {
			gs, err := face.Shape(string(c), fonts.ShapeOptions{Size: face.SizeForCapHeight(truthCap)})
			if err != nil {
				t.Fatal(err)
			}
			r, err := region.FromOutline(gs[0].Outline, 0.01)
			if err != nil {
				t.Fatal(err)
			}
			box := r.Bounds()
			mirror := func(p geom.Point) geom.Point { return geom.Point{X: box.Min.X + box.Max.X - p.X, Y: p.Y} }
			if !mirrored(r, mirror) {
				continue
			}
			letters++
			found, err := trace.Outline(gs[0].Outline, trace.Options{CapHeight: truthCap})
			if err != nil {
				t.Fatal(err)
			}
			var lines [][]geom.Point
			for _, s := range found.Strokes {
				lines = append(lines, s.Path.Samples(step))
			}
			worst := 0.0
			for _, l := range lines {
				for _, p := range l {
					worst = max(worst, nearestOf(lines, mirror(p)))
				}
			}
			if worst > 0.5 {
				t.Errorf("%s: the strokes of %q are %.2f %% of the cap height from their mirror image", name, c, worst)
			}
		}
	}
	if letters < 20 {
		t.Errorf("only %d letters have a symmetric outline: too few to judge by", letters)
	}
}

// mirrored reports whether a region is its own mirror image to 0.1 % of the
// cap height.
func mirrored(r region.Region, mirror func(geom.Point) geom.Point) bool {
	for _, l := range r.Loops {
		for _, p := range l {
			if math.Abs(r.Distance(mirror(p))) > 0.001*truthCap {
				return false
			}
		}
	}
	return true
}
