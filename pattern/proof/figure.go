package proof

import (
	"image"

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
		{0.036, 1.0}, {0.054, 0.974}, {0.053, 0.940}, // head
		{0.052, 0.912}, {0.040, 0.886}, {0.029, 0.874},
		{0.028, 0.862}, {0.030, 0.852}, {0.036, 0.845}, // neck
		{0.070, 0.832}, {0.108, 0.826}, {0.122, 0.800}, // shoulder
		{0.140, 0.752}, {0.148, 0.640}, {0.146, 0.560}, // arm
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

// person draws the person as a calm dark or pale shape.
func (cv *canvas) person() {
	if cv.s.figure == nil {
		return
	}
	z := vector.NewRasterizer(cv.w, cv.h)
	at := func(p [2]float64) (float32, float32) {
		x, y := cv.s.Pixel(geom.Point{X: cv.s.figure.X + p[0]*personHeight, Y: cv.s.figure.Y + p[1]*personHeight})
		return float32(x), float32(y)
	}
	pts := personPath()
	z.MoveTo(at(pts[0]))
	for i := 1; i+2 < len(pts); i += 3 {
		bx, by := at(pts[i])
		cx, cy := at(pts[i+1])
		dx, dy := at(pts[i+2])
		z.CubeTo(bx, by, cx, cy, dx, dy)
	}
	for i := len(pts) - 1; i >= 3; i -= 3 {
		bx, by := at(mirrored(pts[i-1]))
		cx, cy := at(mirrored(pts[i-2]))
		dx, dy := at(mirrored(pts[i-3]))
		z.CubeTo(bx, by, cx, cy, dx, dy)
	}
	z.ClosePath()
	mask := image.NewAlpha(image.Rect(0, 0, cv.w, cv.h))
	z.Draw(mask, mask.Bounds(), image.Opaque, image.Point{})
	tone := cv.s.personTone()
	for i, a := range mask.Pix {
		if a > 0 {
			for k := range tone {
				cv.c[k].v[i] = mix(cv.c[k].v[i], tone[k]+0.12*cv.c[k].v[i], float32(a)/255)
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
