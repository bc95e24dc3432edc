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
