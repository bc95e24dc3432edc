package tile

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// cell is the side of a square of ink, mm.
const cell = 2.0

// ink is the set of squares of a drawing in which something is drawn: blocks of 64 by
// 64 squares, a bit each.
type ink map[[2]int32]*[64]uint64

func square(p geom.Point) [2]int32 {
	return [2]int32{int32(math.Floor(p.X / cell)), int32(math.Floor(p.Y / cell))}
}

// rows calls f for every row of a block that the squares from lo to hi touch, with
// their bits in it, until f returns false.
func (k ink) rows(lo, hi [2]int32, make bool, f func(row *uint64, bits uint64) bool) bool {
	for bx := lo[0] >> 6; bx <= hi[0]>>6; bx++ {
		bits := ^uint64(0)
		if bx == lo[0]>>6 {
			bits &= ^uint64(0) << (lo[0] & 63)
		}
		if bx == hi[0]>>6 {
			bits &= ^uint64(0) >> (63 - hi[0]&63)
		}
		for by := lo[1] >> 6; by <= hi[1]>>6; by++ {
			block := k[[2]int32{bx, by}]
			if block == nil {
				if !make {
					continue
				}
				block = new([64]uint64)
				k[[2]int32{bx, by}] = block
			}
			for y := max(lo[1], by<<6); y <= min(hi[1], by<<6+63); y++ {
				if !f(&block[y&63], bits) {
					return false
				}
			}
		}
	}
	return true
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
			k.set(square(q), square(q))
		}
		if b := p.Bounds(); s.Fill.Set && b.Width() < 100 && b.Height() < 100 {
			k.box(b)
		}
	}
}

func (k ink) set(lo, hi [2]int32) {
	k.rows(lo, hi, true, func(row *uint64, bits uint64) bool { *row |= bits; return true })
}

func (k ink) box(b geom.Rect) {
	if !b.IsEmpty() {
		k.set(square(b.Min), square(b.Max))
	}
}

// free reports whether there is no ink in a box.
func (k ink) free(b geom.Rect) bool {
	return k.rows(square(b.Min), square(b.Max), false, func(row *uint64, bits uint64) bool { return *row&bits == 0 })
}
