package proof

import "math"

// plane is a picture of one float a pixel, row by row.
type plane struct {
	w, h int
	v    []float32
}

func newPlane(w, h int) plane { return plane{w, h, make([]float32, w*h)} }

// blurred returns the plane blurred by a bell curve of deviation sigma pixels: three
// box blurs with fractional edges, whose variances add up to sigma² (W. M. Wells,
// "Efficient synthesis of Gaussian filters by cascaded uniform filters", IEEE PAMI
// 8(2), 1986). What lies outside is 0. A wide blur is made on a plane of half the
// size, a quarter, and so on, where nothing is lost by it.
func (p plane) blurred(sigma float64) plane {
	if sigma > 8 && p.w > 32 && p.h > 32 {
		return p.halved().blurred(sigma/2).doubled(p.w, p.h)
	}
	out := plane{p.w, p.h, append([]float32(nil), p.v...)}
	tmp := newPlane(p.h, p.w)
	radius := (math.Sqrt(4*sigma*sigma+1) - 1) / 2
	for range 3 {
		out.boxRows(tmp, radius)
		tmp.boxRows(out, radius)
	}
	return out
}

// boxRows writes into out, whose rows are the columns of p, the mean over radius
// pixels on each side along the rows of p.
func (p plane) boxRows(out plane, radius float64) {
	r := int(radius)
	part := float32(radius - float64(r))
	norm := 1 / float32(2*radius+1)
	at := func(row []float32, i int) float32 {
		if i < 0 || i >= len(row) {
			return 0
		}
		return row[i]
	}
	for y := range p.h {
		row := p.v[y*p.w : (y+1)*p.w]
		var sum float64
		for i := 0; i <= min(r, p.w-1); i++ {
			sum += float64(row[i])
		}
		for x := range row {
			edge := float32(at(row, x-r-1)+at(row, x+r+1)) * part
			out.v[x*out.w+y] = float32(float32(sum)+edge) * norm
			sum += float64(at(row, x+r+1)) - float64(at(row, x-r))
		}
	}
}

// halved returns the plane at half the size: means of four.
func (p plane) halved() plane {
	out := newPlane((p.w+1)/2, (p.h+1)/2)
	for y := range p.h {
		for x := range p.w {
			out.v[(y/2)*out.w+x/2] += p.v[y*p.w+x] * 0.25
		}
	}
	return out
}

// doubled returns the plane at w × h, in between by straight lines.
func (p plane) doubled(w, h int) plane {
	out := newPlane(w, h)
	for y := range h {
		y0, fy := halfway(y, p.h)
		for x := range w {
			x0, fx := halfway(x, p.w)
			x1, y1 := min(x0+1, p.w-1), min(y0+1, p.h-1)
			top := mix(p.v[y0*p.w+x0], p.v[y0*p.w+x1], fx)
			low := mix(p.v[y1*p.w+x0], p.v[y1*p.w+x1], fx)
			out.v[y*w+x] = mix(top, low, fy)
		}
	}
	return out
}

// halfway returns between which pixels of the small plane pixel i of the large lies.
func halfway(i, n int) (first int, part float32) {
	switch {
	case i == 0:
		return 0, 0
	case i%2 == 1:
		return min(i/2, n-1), 0.25
	}
	return min(i/2-1, n-1), 0.75
}

func mix(a, b, k float32) float32 { return float32(a*(1-k)) + float32(b*k) }

// add adds k times q.
func (p plane) add(q plane, k float32) {
	for i, v := range q.v {
		p.v[i] += float32(k * v)
	}
}
