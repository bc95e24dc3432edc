package sheet

import "tubewright/geom"

// Moved returns an item displaced by v.
func Moved(i Item, v geom.Vec) Item {
	switch i := i.(type) {
	case Shape:
		paths := make([]geom.Path, len(i.Paths))
		for k, p := range i.Paths {
			paths[k] = p.Map(geom.SimilarityMap{Scale: 1, Move: v})
		}
		i.Paths = paths
		return i
	case Text:
		i.At = i.At.Add(v)
		return i
	}
	panic("sheet: unknown item")
}

// Scaled returns an item k times as large, about the origin: lines, dashes and words
// too.
func Scaled(i Item, k float64) Item {
	switch i := i.(type) {
	case Shape:
		paths := make([]geom.Path, len(i.Paths))
		for n, p := range i.Paths {
			paths[n] = p.Map(geom.SimilarityMap{Scale: k})
		}
		dash := make([]float64, len(i.Pen.Dash))
		for n, v := range i.Pen.Dash {
			dash[n] = k * v
		}
		i.Paths, i.Pen.Width, i.Pen.Dash = paths, k*i.Pen.Width, dash
		return i
	case Text:
		i.At, i.Size = geom.Point{X: k * i.At.X, Y: k * i.At.Y}, k*i.Size
		return i
	}
	panic("sheet: unknown item")
}
