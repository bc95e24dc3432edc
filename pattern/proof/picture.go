package proof

import (
	"image"
	"math"

	"tubewright/geom"
	"tubewright/pattern/look"
	"tubewright/pattern/tube"
)

// exposure sets how the light of a time of day is shown, linear, by eye (C).
type exposure struct {
	sky   colour3 // light on the wall from elsewhere
	tube  float32 // brightness of lit glass
	wall  float32 // how much more of its light is shown on the wall than in the glass
	veil  float32 // share of light scattered in the eye
	shade float32 // how dark the shadow of the glass on the wall is
	body  float32 // share of the sky that lit glass throws back
}

func (o Options) exposure() exposure {
	if o.Time == Day {
		return exposure{sky: colour3{1.22, 1.27, 1.34}, tube: 3.6, wall: 1, veil: 0.02, shade: 0.45, body: 0.10}
	}
	ex := exposure{sky: colour3{0.085, 0.094, 0.115}, tube: 7.5, wall: 1.5, veil: 0.06, body: 1}
	if o.Wall == LightWall { // the eye takes a bright wall darker
		ex.sky, ex.wall = ex.sky.times(0.42), 0.85
	}
	return ex
}

// canvas is the picture in linear light.
type canvas struct {
	s        *Scene
	w, h     int
	ex       exposure
	c        [3]plane
	emission [3]plane
}

// Draw returns the picture.
func (s *Scene) Draw() *image.RGBA {
	w, h := s.Size()
	cv := &canvas{s: s, w: w, h: h, ex: s.opt.exposure()}
	for i := range cv.c {
		cv.c[i], cv.emission[i] = newPlane(w, h), newPlane(w, h)
	}
	strands := s.strands()
	cv.emit(strands)
	cv.wall(strands)
	cv.person()
	cv.fittings()
	for _, st := range strands {
		cv.glass(st)
	}
	cv.veil()
	return cv.shown()
}

// emit fills the emission: how bright lit glass is, and in which colour.
func (cv *canvas) emit(strands []drawn) {
	r := cv.s.diameter / 2 * cv.s.scale()
	for _, st := range strands {
		if st.role != tube.Lit {
			continue
		}
		rgb, coated := st.light.RGB, isCoated(st.light)
		st.each(r, cv.w, func(i int, cover, across float32) {
			v := float32(cover*shine(across, st.role, coated)) * cv.ex.tube
			for k := range rgb {
				cv.emission[k].v[i] = max(cv.emission[k].v[i], v*float32(rgb[k]))
			}
		})
	}
}

func isCoated(l look.Light) bool { return l.Off[0] > 0.6 }

// bells make up the light of a straight tube on the wall, their deviations in
// distances from the wall: they stand for h/(π(h²+r²)), within 1 % of it up to 8 h
// (a test measures it; fitted by least greatest error).
func bells() []bell {
	return []bell{{0.545, 0.1832}, {1.063, 0.3229}, {2.127, 0.2501}, {5.48, 0.1924}}
}

// wall lights the wall: by the sky, less the shadow of the glass, and by the glass.
func (cv *canvas) wall(strands []drawn) {
	h := -cv.s.wallZ * cv.s.scale()
	near := bells()
	for i := range near {
		// A round tube of brightness B and radius R gives a wall π B R/h; the picture
		// has 2R of it in each line across: hence π/2.
		near[i] = bell{near[i].sigma * h, float64(cv.ex.wall) * near[i].share * math.Pi / 2}
	}
	var lit [3]plane
	for k := range lit {
		lit[k] = cv.emission[k].spread(near)
	}
	shadow := cv.shadow(strands, h)
	k := 1 / cv.s.scale()
	for y := range cv.h {
		for x := range cv.w {
			i := y*cv.w + x
			tone := cv.s.wallAt(cv.s.frame.Min.X+float64((float64(x)+0.5)*k), cv.s.frame.Max.Y-float64((float64(y)+0.5)*k))
			for j := range tone {
				sky := cv.ex.sky[j]
				if cv.ex.shade > 0 {
					sky *= 1 - float32(cv.ex.shade*shadow.v[i])
				}
				cv.c[j].v[i] = tone[j] * (sky + lit[j].v[i])
			}
		}
	}
}

// shadow returns the soft shadow of the glass on the wall: the sky is above, so it
// falls lower.
func (cv *canvas) shadow(strands []drawn, h float64) plane {
	p := newPlane(cv.w, cv.h)
	if cv.ex.shade == 0 {
		return p
	}
	down := int(0.55*h) * cv.w
	for _, st := range strands {
		st.each(cv.s.diameter/2*cv.s.scale(), cv.w, func(i int, cover, _ float32) {
			if i+down < len(p.v) {
				p.v[i+down] = max(p.v[i+down], cover)
			}
		})
	}
	return p.spread([]bell{{0.3 * h, 1}})
}

// glass lays one run over what is behind it.
func (cv *canvas) glass(st drawn) {
	sky, coated := cv.ex.sky, isCoated(st.light)
	cv.over(st.patch, cv.s.diameter/2, func(across float32, under colour3) colour3 {
		u := float64(across)
		gloss := float32(0.025 * math.Exp(-float64((u-0.45)*(u-0.45))/0.02))
		if st.role == tube.Hidden { // block-out: black paint with a little gloss
			return colour3{0.010 + gloss, 0.010 + gloss, 0.011 + gloss}.lit(sky)
		}
		body := colour3{float32(st.light.Off[0]), float32(st.light.Off[1]), float32(st.light.Off[2])}
		rim := float32(0.25 + float64(0.75*u*u)) // clear glass is seen at its edges
		if coated {
			rim = 0.92
		}
		through := 1 - rim
		thrown := float32(1)
		switch st.role {
		case tube.Leg:
			rim = float32(0.6 * rim)
			through = 1 - rim
		case tube.Lit:
			thrown = cv.ex.body
			through *= 0.1 // what is behind glowing gas is hardly seen
		}
		var out colour3
		for k := range out {
			seen := float32(under[k]*through) + float32(rim*body[k]*sky[k]*thrown)
			out[k] = seen + float32(shine(across, st.role, coated)*cv.ex.tube*float32(st.light.RGB[k]))
		}
		return out
	})
}

func (c colour3) lit(sky colour3) colour3 {
	return colour3{c[0] * sky[0], c[1] * sky[1], c[2] * sky[2]}
}

// over lays a patch of a radius in mm over the picture.
func (cv *canvas) over(p patch, radius float64, tone func(across float32, under colour3) colour3) {
	p.each(radius*cv.s.scale(), cv.w, func(i int, cover, across float32) {
		under := colour3{cv.c[0].v[i], cv.c[1].v[i], cv.c[2].v[i]}
		t := tone(across, under)
		for k := range t {
			cv.c[k].v[i] = mix(under[k], t[k], cover)
		}
	})
}

// fittings draws supports and electrodes faintly: both stand behind the glass.
func (cv *canvas) fittings() {
	faint := func(tone colour3, share float32) func(float32, colour3) colour3 {
		return func(_ float32, under colour3) colour3 {
			var out colour3
			for k := range out {
				out[k] = mix(under[k], float32(tone[k]*cv.ex.sky[k])+float32(0.3*under[k]), share)
			}
			return out
		}
	}
	for _, f := range cv.s.fittings() {
		pts := make([]geom.Point, len(f.pts))
		for i, p := range f.pts {
			pts[i].X, pts[i].Y = cv.s.Pixel(p)
		}
		cv.over(patchOf(pts, f.radius*cv.s.scale()+1, cv.w, cv.h), f.radius, faint(f.tone, 0.38))
	}
}

// veil adds the light that is scattered in the eye, over everything.
func (cv *canvas) veil() {
	reach := 0.10 * math.Min(float64(cv.w), float64(cv.h))
	near := 1.1 * cv.s.diameter * cv.s.scale()
	for k := range cv.c {
		cv.c[k].add(cv.emission[k].spread([]bell{{near, 0.8}, {reach, 1}}), cv.ex.veil)
	}
}

// shown puts the light into the range of a screen: 1 − e^−c, as film takes light up,
// with the brightest parts going to white; then the curve of sRGB, and an ordered
// pattern of less than one step so that no bands are seen.
func (cv *canvas) shown() *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, cv.w, cv.h))
	curve := screenCurve()
	for y := range cv.h {
		for x := range cv.w {
			i := y*cv.w + x
			c := colour3{cv.c[0].v[i], cv.c[1].v[i], cv.c[2].v[i]}
			most := max(c[0], c[1], c[2])
			d := threshold(x, y)
			for k := range c {
				img.Pix[4*i+k] = curve.shown(whitened(c[k], most), d)
			}
			img.Pix[4*i+3] = 255
		}
	}
	return img
}

// whitened moves a component toward the greatest one where that is far over what a
// screen shows: bright light spills into all of the eye.
func whitened(v, most float32) float32 { return mix(v, most, 0.022*most/(1+most)) }

// threshold returns a number from 0 to 1 from the 4 × 4 matrix of B. E. Bayer, "An
// optimum method for two-level rendition of continuous-tone pictures" (1973).
func threshold(x, y int) float32 {
	m := [16]float32{0, 8, 2, 10, 12, 4, 14, 6, 3, 11, 1, 9, 15, 7, 13, 5}
	return (m[(y%4)*4+x%4] + 0.5) / 16
}

// screen is the curve from light to the 8 bits of a screen, as a table over the
// square root of the light up to topLight.
type screen []float32

const (
	topLight   = 36.0
	curveSteps = 1 << 13
)

func screenCurve() screen {
	out := make(screen, curveSteps+1)
	for i := range out {
		r := float64(i) / curveSteps
		v := 1 - math.Exp(-topLight*r*r)
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = float64(1.055*math.Pow(v, 1/2.4)) - 0.055
		}
		out[i] = float32(math.Round(255*v*1e4) / 1e4) // machines differ in the last digit of Exp and Pow
	}
	return out
}

func (s screen) shown(c, d float32) byte {
	r := math.Sqrt(min(max(float64(c)/topLight, 0), 1)) * curveSteps
	i := min(int(r), curveSteps-1)
	return byte(min(mix(s[i], s[i+1], float32(r)-float32(i))+d, 255))
}

// LightOf undoes the curve of the picture: the linear light that a pixel of 8 bits
// stands for, the whitening of the brightest parts apart.
func LightOf(v byte) float64 {
	c := float64(linear(uint32(v) * 257))
	return -math.Log(max(1-c, 1e-6))
}
