package tile

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// cell is the side of a square of ink, mm.
const cell = 2.0

// ink is the set of squares of a drawing in which something is drawn.
type ink map[[2]int32]struct{}

func square(p geom.Point) [2]int32 {
	return [2]int32{int32(math.Floor(p.X / cell)), int32(math.Floor(p.Y / cell))}
}

// inkOf finds the ink of a sheet: lines by places at most half a square apart, the
// inside of what is filled, and the boxes of text.
func inkOf(s *sheet.Sheet) ink {
	k := ink{}
	for _, l := range s.Layers {
		for _, g := range l.Groups {
			for _, i := range g.Items {
				switch i := i.(type) {
				case sheet.Shape:
					k.shape(i)
				case sheet.Text:
					k.box(i.Bounds())
				}
			}
		}
	}
	return k
}

func (k ink) shape(s sheet.Shape) {
	for _, p := range s.Paths {
		for _, q := range p.Samples(cell / 2) {
			k[square(q)] = struct{}{}
		}
		if b := p.Bounds(); s.Fill.Set && b.Width() < 100 && b.Height() < 100 {
			k.box(b)
		}
	}
}

func (k ink) box(b geom.Rect) {
	if b.IsEmpty() {
		return
	}
	lo, hi := square(b.Min), square(b.Max)
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			k[[2]int32{x, y}] = struct{}{}
		}
	}
}

// free reports whether there is no ink in a box.
func (k ink) free(b geom.Rect) bool {
	lo, hi := square(b.Min), square(b.Max)
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			if _, ok := k[[2]int32{x, y}]; ok {
				return false
			}
		}
	}
	return true
}
