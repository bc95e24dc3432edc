package artwork

import (
	"fmt"
	"math"
	"strings"

	"tubewright/geom"
)

// then returns the map that does first and then m. Products are rounded before
// they are added, so that every machine gives the same.
func then(m, first geom.Affine) geom.Affine {
	dot := func(a, b, c, d float64) float64 { return float64(a*b) + float64(c*d) }
	return geom.Affine{
		XX: dot(m.XX, first.XX, m.XY, first.YX), XY: dot(m.XX, first.XY, m.XY, first.YY), X0: dot(m.XX, first.X0, m.XY, first.Y0) + m.X0,
		YX: dot(m.YX, first.XX, m.YY, first.YX), YY: dot(m.YX, first.XY, m.YY, first.YY), Y0: dot(m.YX, first.X0, m.YY, first.Y0) + m.Y0,
	}
}

func moving(x, y float64) geom.Affine { return geom.Affine{XX: 1, YY: 1, X0: x, Y0: y} }

// parseTransform reads a transform attribute (SVG 1.1, section 7.6): the last
// of the list is done first.
func parseTransform(s string) (geom.Affine, error) {
	m := geom.Identity()
	for s = strings.Trim(s, " \t\r\n,"); s != ""; s = strings.Trim(s, " \t\r\n,") {
		name, rest, ok := strings.Cut(s, "(")
		list, after, closed := strings.Cut(rest, ")")
		if !ok || !closed {
			return m, fmt.Errorf("transform %q is not complete", clip(s))
		}
		v, err := numbers(list)
		if err != nil {
			return m, fmt.Errorf("transform %q: %w", clip(s), err)
		}
		one, ok := oneTransform(strings.TrimSpace(name), v)
		if !ok {
			return m, fmt.Errorf("transform %q with %d numbers is unknown", clip(strings.TrimSpace(name)), len(v))
		}
		m, s = then(m, one), after
	}
	return m, nil
}

func oneTransform(name string, v []float64) (geom.Affine, bool) {
	at := func(i int, or float64) float64 {
		if i < len(v) {
			return v[i]
		}
		return or
	}
	n := len(v)
	switch {
	case name == "matrix" && n == 6:
		return geom.Affine{XX: v[0], YX: v[1], XY: v[2], YY: v[3], X0: v[4], Y0: v[5]}, true
	case name == "translate" && (n == 1 || n == 2):
		return moving(v[0], at(1, 0)), true
	case name == "scale" && (n == 1 || n == 2):
		return geom.Affine{XX: v[0], YY: at(1, v[0])}, true
	case name == "rotate" && (n == 1 || n == 3):
		sin, cos := math.Sincos(v[0] * math.Pi / 180)
		turn := geom.Affine{XX: cos, XY: -sin, YX: sin, YY: cos}
		x, y := at(1, 0), at(2, 0)
		return then(moving(x, y), then(turn, moving(-x, -y))), true
	case name == "skewX" && n == 1:
		return geom.Affine{XX: 1, XY: math.Tan(v[0] * math.Pi / 180), YY: 1}, true
	case name == "skewY" && n == 1:
		return geom.Affine{XX: 1, YX: math.Tan(v[0] * math.Pi / 180), YY: 1}, true
	}
	return geom.Affine{}, false
}

// numbers reads numbers with spaces or commas between them.
func numbers(s string) ([]float64, error) {
	p := scanner{s: s}
	var out []float64
	for p.space(); p.i < len(p.s); p.comma() {
		v, err := p.number()
		if err != nil {
			return nil, err
		}
		if out = append(out, v); len(out) > 2*maxCurves {
			return nil, fmt.Errorf("more than %d numbers", 2*maxCurves)
		}
	}
	return out, nil
}
