package proof

import (
	"image"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/tube"

	"golang.org/x/image/vector"
)

// fitting is what holds or ends the glass: a bar or a disc in the picture.
type fitting struct {
	kind   string // "support" or "electrode"
	unit   string
	pts    []geom.Point
	radius float64
	tone   colour3
}

// fittings returns supports as short bars across the glass and electrodes as the
// metal that is seen from the front.
func (s *Scene) fittings() []fitting {
	var out []fitting
	for _, p := range s.supports {
		d := p.Dir.Plan().Unit().Left().Mul(0.95 * s.diameter)
		out = append(out, fitting{"support", p.Unit, []geom.Point{p.At.Plan().Add(d.Mul(-1)), p.At.Plan().Add(d)}, 0.16 * s.diameter, colour3{0.75, 0.77, 0.78}})
	}
	for i, r := range s.runs {
		if r.role != tube.Leg {
			continue
		}
		end := r.pts[0]
		if i+1 == len(s.runs) || s.runs[i+1].unit != r.unit {
			end = r.pts[len(r.pts)-1]
		}
		out = append(out, fitting{"electrode", r.unit, []geom.Point{end.Plan()}, 0.42 * s.diameter, colour3{0.42, 0.40, 0.37}})
	}
	return out
}

// personPath is the outline of a person from the front, feet at (0, 0), as shares of
// the height: a start, then cubic curves of three points each; the right half, which
// is mirrored. Drawn by hand.
func personPath() [][2]float64 {
	return [][2]float64{
		{0, 1.0},
		{0.030, 1.0}, {0.047, 0.983}, {0.0475, 0.950}, // head
		{0.048, 0.916}, {0.041, 0.892}, {0.031, 0.877},
		{0.031, 0.864}, {0.033, 0.852}, {0.040, 0.843}, // neck
		{0.058, 0.828}, {0.106, 0.824}, {0.123, 0.796}, // shoulder
		{0.137, 0.764}, {0.147, 0.650}, {0.146, 0.560}, // arm
		{0.148, 0.520}, {0.146, 0.480}, {0.138, 0.462},
		{0.130, 0.452}, {0.120, 0.462}, {0.118, 0.490}, // hand
		{0.118, 0.560}, {0.112, 0.640}, {0.104, 0.700},
		{0.100, 0.640}, {0.098, 0.580}, {0.102, 0.520}, // side
		{0.104, 0.400}, {0.090, 0.200}, {0.082, 0.055}, // leg
		{0.090, 0.030}, {0.098, 0.010}, {0.080, 0.0}, // foot
		{0.060, 0.0}, {0.040, 0.0}, {0.034, 0.004},
		{0.030, 0.060}, {0.022, 0.300}, {0.006, 0.455}, // inside of the leg
		{0.004, 0.458}, {0.002, 0.459}, {0, 0.459},
	}
}

// personOutline is the same outline as a polygon, round both halves.
func personOutline() []geom.Point {
	const pieces = 12 // of a curve
	pts := personPath()
	var half []geom.Point
	for i := 1; i+2 < len(pts); i += 3 {
		for k := range pieces {
			half = append(half, onCurve(pts[i-1:i+3], float64(k)/pieces))
		}
	}
	whole := append(slices.Clone(half), geom.Point{X: pts[len(pts)-1][0], Y: pts[len(pts)-1][1]})
	for _, p := range slices.Backward(half) {
		whole = append(whole, geom.Point{X: -p.X, Y: p.Y})
	}
	return whole
}

// onCurve returns the place at t, 0 to 1, of a cubic curve (de Casteljau). Products
// are rounded, so that every machine gives the same.
func onCurve(pts [][2]float64, t float64) geom.Point {
	var c [4][2]float64
	copy(c[:], pts)
	for n := 3; n > 0; n-- {
		for i := range n {
			for k := range 2 {
				c[i][k] = float64(c[i][k]*(1-t)) + float64(c[i+1][k]*t)
			}
		}
	}
	return geom.Point{X: c[0][0], Y: c[0][1]}
}

// person draws the person as a calm dark or pale shape.
func (cv *canvas) person() {
	if cv.s.figure == nil {
		return
	}
	z := vector.NewRasterizer(cv.w, cv.h)
	for i, p := range personOutline() {
		x, y := cv.s.Pixel(geom.Point{X: cv.s.figure.X + float64(p.X*personHeight), Y: cv.s.figure.Y + float64(p.Y*personHeight)})
		if i == 0 {
			z.MoveTo(float32(x), float32(y))
		}
		z.LineTo(float32(x), float32(y))
	}
	z.ClosePath()
	mask := image.NewAlpha(image.Rect(0, 0, cv.w, cv.h))
	z.Draw(mask, mask.Bounds(), image.Opaque, image.Point{})
	tone := cv.s.personTone()
	for i, a := range mask.Pix {
		if a > 0 {
			for k := range tone {
				cv.c[k].v[i] = mix(cv.c[k].v[i], tone[k]+float32(0.12*cv.c[k].v[i]), float32(a)/255)
			}
		}
	}
}

func mirrored(p [2]float64) [2]float64 { return [2]float64{-p[0], p[1]} }

// personTone stands out from the wall a little, and no more.
func (s *Scene) personTone() colour3 {
	switch {
	case s.opt.Time == Day && s.opt.Wall == DarkWall:
		return colour3{0.075, 0.078, 0.085}
	case s.opt.Time == Day:
		return colour3{0.035, 0.037, 0.042}
	case s.opt.Wall == DarkWall:
		return colour3{0.0105, 0.0115, 0.014}
	}
	return colour3{0.002, 0.0022, 0.0026}
}
