package proof

import "math"

// plane is a picture of one float a pixel, row by row.
type plane struct {
	w, h int
	v    []float32
}

func newPlane(w, h int) plane { return plane{w, h, make([]float32, w*h)} }

// bell is a bell curve: its deviation, and its share of a sum.
type bell struct{ sigma, share float64 }

// spread returns the sum of the plane blurred by each bell, in pixels, times its
// share. Wide bells are made on a plane of half the size, a quarter, and so on, where
// nothing is lost by it. What lies outside is 0.
func (p plane) spread(bells []bell) plane {
	out := newPlane(p.w, p.h)
	var wide []bell
	for _, b := range bells {
		if b.sigma > 8 && p.w > 32 && p.h > 32 {
			wide = append(wide, bell{b.sigma / 2, b.share})
			continue
		}
		out.add(p.blurred(b.sigma), float32(b.share))
	}
	if len(wide) > 0 {
		out.addDoubled(p.halved().spread(wide))
	}
	return out
}

// blurred returns the plane blurred by a bell curve of deviation sigma pixels: three
// box blurs with fractional edges, whose variances add up to sigma² (W. M. Wells,
// "Efficient synthesis of Gaussian filters by cascaded uniform filters", IEEE PAMI
// 8(2), 1986).
func (p plane) blurred(sigma float64) plane {
	out := plane{p.w, p.h, append([]float32(nil), p.v...)}
	tmp := newPlane(p.h, p.w)
	radius := (math.Sqrt(float64(4*sigma*sigma)+1) - 1) / 2
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
			edge := float32((at(row, x-r-1) + at(row, x+r+1)) * part)
			out.v[x*out.w+y] = float32(float32(sum)+edge) * norm
			sum += float64(at(row, x+r+1)) - float64(at(row, x-r))
		}
	}
}

// halved returns the plane at half the size: means of four.
func (p plane) halved() plane {
	out := newPlane((p.w+1)/2, (p.h+1)/2)
	for y := range p.h {
		row, to := p.v[y*p.w:(y+1)*p.w], out.v[(y/2)*out.w:(y/2+1)*out.w]
		for x, v := range row {
			to[x/2] += float32(v * 0.25)
		}
	}
	return out
}

// addDoubled adds a plane of half the size, in between by straight lines.
func (p plane) addDoubled(q plane) {
	between := make([]float32, q.w)
	for y := range p.h {
		y0, fy := halfway(y, q.h)
		up, low := q.v[y0*q.w:(y0+1)*q.w], q.v[min(y0+1, q.h-1)*q.w:]
		for x := range between {
			between[x] = mix(up[x], low[x], fy)
		}
		row := p.v[y*p.w : (y+1)*p.w]
		row[0] += between[0]
		for i := 0; i+1 < q.w; i++ { // pixels 2i+1 and 2i+2 lie between i and i+1
			a, b := between[i], between[i+1]
			row[2*i+1] += mix(a, b, 0.25)
			if 2*i+2 < len(row) {
				row[2*i+2] += mix(a, b, 0.75)
			}
		}
		if p.w%2 == 0 {
			row[p.w-1] += between[q.w-1]
		}
	}
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
