package proof

import (
	"image"
	"math"
)

// colour3 is linear sRGB.
type colour3 [3]float32

// Tones of walls, linear (C: chosen by eye).
func darkTone() colour3   { return colour3{0.050, 0.052, 0.058} }
func lightTone() colour3  { return colour3{0.66, 0.64, 0.60} }
func brickTone() colour3  { return colour3{0.24, 0.085, 0.05} }
func mortarTone() colour3 { return colour3{0.25, 0.235, 0.215} }

// The brick: 215 × 65 mm with joints of 10 mm (C: the usual British format).
const (
	brickWide = 225.0
	brickHigh = 75.0
	joint     = 10.0
)

// wallTone is the tone of the wall as a whole.
func (s *Scene) wallTone() colour3 {
	switch s.opt.Wall {
	case BrickWall:
		return brickTone()
	case LightWall:
		return lightTone()
	case PictureWall:
		return colour3{0.2, 0.2, 0.2} // of a middling picture
	}
	return darkTone()
}

// wallAt returns how much of each colour the wall throws back at a place in mm.
func (s *Scene) wallAt(x, y float64) colour3 {
	switch s.opt.Wall {
	case BrickWall:
		return brickAt(x, y)
	case LightWall:
		return lightTone().times(float32(1 + off(0.03, grain(x/3, y/3)) + off(0.04, smooth(x/240, y/240))))
	case PictureWall:
		return s.pictureAt(x, y)
	}
	return darkTone().times(float32(1 + off(0.10, grain(x/3, y/3)) + off(0.25, smooth(x/300, y/300))))
}

func brickAt(x, y float64) colour3 {
	row := math.Floor(y / brickHigh)
	x += float64(brickWide/2*math.Mod(math.Abs(row), 2)) + off(2, noise(row, 7))
	col := math.Floor(x / brickWide)
	u, v := x-float64(col*brickWide), y-float64(row*brickHigh)
	edge := min(min(u, brickWide-u), min(v, brickHigh-v)) - joint/2 + off(1.6, smooth(x/9, y/9))
	tone := noise(col, row)
	base := brickTone()
	switch {
	case tone < 0.25:
		base = colour3{0.17, 0.065, 0.045}
	case tone > 0.85:
		base = colour3{0.30, 0.13, 0.075}
	}
	texture := float32(1 + off(0.35, smooth(x/14, y/14)) + off(0.18, grain(x/2, y/2)))
	brick := base.times(texture * float32(1+off(0.3, noise(row, col))))
	mortar := mortarTone().times(float32(0.62 + off(0.2, grain(x/2, y/2))))
	k := float32(min(max(edge/1.5+0.5, 0), 1))
	for i := range brick {
		brick[i] = mix(mortar[i], brick[i], k)
	}
	return brick
}

// pictureAt returns the user's picture, which covers the frame and is cut off where
// its shape is another.
func (s *Scene) pictureAt(x, y float64) colour3 {
	b := s.opt.Picture.Bounds()
	k := min(float64(b.Dx())/s.frame.Width(), float64(b.Dy())/s.frame.Height())
	c := s.frame.Centre()
	px := float64(b.Min.X) + float64(b.Dx())/2 + float64((x-c.X)*k)
	py := float64(b.Min.Y) + float64(b.Dy())/2 - float64((y-c.Y)*k)
	return sample(s.opt.Picture, px-0.5, py-0.5)
}

// sample reads a picture between its pixels, in linear light.
func sample(p image.Image, x, y float64) colour3 {
	b := p.Bounds()
	x0, y0 := math.Floor(x), math.Floor(y)
	read := func(dx, dy float64) colour3 {
		i := min(max(int(x0+dx), b.Min.X), b.Max.X-1)
		j := min(max(int(y0+dy), b.Min.Y), b.Max.Y-1)
		r, g, bl, _ := p.At(i, j).RGBA()
		return colour3{linear8[r>>8], linear8[g>>8], linear8[bl>>8]}
	}
	fx, fy := float32(x-x0), float32(y-y0)
	a, c, d, e := read(0, 0), read(1, 0), read(0, 1), read(1, 1)
	var out colour3
	for i := range out {
		out[i] = mix(mix(a[i], c[i], fx), mix(d[i], e[i], fx), fy)
	}
	return out
}

// off returns how far a number from 0 to 1 is from its middle, times k.
func off(k, v float64) float64 { return float64(k * (v - 0.5)) }

func (c colour3) times(k float32) colour3 { return colour3{c[0] * k, c[1] * k, c[2] * k} }

// noise returns a number from 0 to 1 that depends on the whole numbers of its place
// alone: the same on every machine (a multiply-xor hash, constants of MurmurHash3's
// finaliser, A. Appleby, public domain).
func noise(i, j float64) float64 {
	h := uint32(int32(i))*0x9e3779b1 ^ uint32(int32(j))*0x85ebca6b
	h ^= h >> 16
	h *= 0x85ebca6b
	h ^= h >> 13
	h *= 0xc2b2ae35
	h ^= h >> 16
	return float64(h) / (1 << 32)
}

func grain(x, y float64) float64 { return noise(math.Floor(x), math.Floor(y)) }

// smooth is noise with cubic steps in between.
func smooth(x, y float64) float64 {
	x0, y0 := math.Floor(x), math.Floor(y)
	ease := func(t float64) float64 { return float64(t * t * (3 - float64(2*t))) }
	fx, fy := ease(x-x0), ease(y-y0)
	between := func(a, b, k float64) float64 { return float64(a*(1-k)) + float64(b*k) }
	return between(between(noise(x0, y0), noise(x0+1, y0), fx), between(noise(x0, y0+1), noise(x0+1, y0+1), fx), fy)
}

// linear8 holds the linear light of each component of 8 bits.
var linear8 = func() (out [256]float32) {
	for i := range out {
		out[i] = linear(uint32(i) * 257)
	}
	return out
}()

// linear undoes the curve of sRGB (IEC 61966-2-1) of a 16-bit component.
func linear(v uint32) float32 {
	c := float64(v) / 65535
	if c <= 0.04045 {
		return float32(c / 12.92)
	}
	return float32(math.Pow((c+0.055)/1.055, 2.4))
}
