package card

import (
	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// spread moves labels apart to at least gap, keeping their order and, where there
// is room, their place, within lo to hi; groups that push each other are centred on
// their marks.
func spread(ls []label, gap, lo, hi float64) []float64 {
	type cluster struct {
		first, n int
		mid      float64
	}
	var cs []cluster
	for i, l := range ls {
		c := cluster{i, 1, l.x}
		for len(cs) > 0 {
			b := cs[len(cs)-1]
			if c.mid-gap*float64(c.n-1)/2-(b.mid+gap*float64(b.n-1)/2) >= gap {
				break
			}
			n := b.n + c.n
			mid := 0.0
			for k := b.first; k < b.first+n; k++ {
				mid += ls[k].x - gap*(float64(k-b.first)-float64(n-1)/2)
			}
			c = cluster{b.first, n, mid / float64(n)}
			cs = cs[:len(cs)-1]
		}
		cs = append(cs, c)
	}
	out := make([]float64, len(ls))
	for _, c := range cs {
		for k := range c.n {
			out[c.first+k] = c.mid + gap*(float64(k)-float64(c.n-1)/2)
		}
	}
	for i := range out {
		out[i] = max(out[i], lo+gap*float64(i))
	}
	for i := range out {
		k := len(out) - 1 - i
		out[k] = min(out[k], hi-gap*float64(i))
	}
	return out
}

// hatched fills a box with slanted lines.
func hatched(r geom.Rect) []sheet.Item {
	var paths []geom.Path
	const step = 1.6
	for x := r.Min.X - r.Height(); x < r.Max.X; x += step {
		a, b := geom.Point{X: x, Y: r.Min.Y}, geom.Point{X: x + r.Height(), Y: r.Max.Y}
		if a.X < r.Min.X {
			a = geom.Point{X: r.Min.X, Y: r.Min.Y + r.Min.X - x}
		}
		if b.X > r.Max.X {
			b = geom.Point{X: r.Max.X, Y: r.Min.Y + r.Max.X - x}
		}
		if a.X < b.X {
			paths = append(paths, sheet.Polyline(a, b))
		}
	}
	if len(paths) == 0 {
		return nil
	}
	return []sheet.Item{sheet.Shape{Paths: paths, Pen: black(thinLine)}}
}
