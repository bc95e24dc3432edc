package pattern

import (
	"slices"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// Picture returns the drawing of a bench sheet alone, without border, bars and words,
// at its place on the sheet, and the box of all that is drawn.
func Picture(s *sheet.Sheet) (*sheet.Sheet, geom.Rect) {
	out := *s
	out.Layers = nil
	for _, l := range s.Layers {
		if slices.Contains([]string{"hidden", "glass", "centreline", "electrodes", "marks", "labels"}, l.ID) {
			out.Layers = append(out.Layers, l)
		}
	}
	box := out.Bounds()
	if box.IsEmpty() {
		box = geom.Rect{}
	}
	return &out, box
}

// FrontGlass returns the glass of a pattern as it is seen from the front, at its
// place in the front frame: layers "hidden", "glass", "centreline", a group a unit.
func FrontGlass(p Pattern) []sheet.Layer {
	d := newDrawing(p)
	layers := []sheet.Layer{
		{ID: "hidden", Name: "Hidden runs", Groups: d.units("hidden", "hidden runs", d.hidden)},
		{ID: "glass", Name: "Glass", Groups: d.units("glass", "lit glass", d.glass)},
		{ID: "centreline", Name: "Centrelines", Groups: d.units("centreline", "centreline from A to B", d.centreline)},
	}
	for _, l := range layers {
		for _, g := range l.Groups {
			for k, i := range g.Items {
				g.Items[k] = turnedOver(i.(sheet.Shape))
			}
		}
	}
	return layers
}

// turnedOver returns a shape of the bench seen from the front.
func turnedOver(s sheet.Shape) sheet.Shape {
	paths := make([]geom.Path, len(s.Paths))
	for i, p := range s.Paths {
		paths[i] = p.Map(geom.SimilarityMap{Mirror: true, Scale: 1})
	}
	s.Paths = paths
	return s
}
