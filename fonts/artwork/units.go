package artwork

import (
	"fmt"
	"math"
	"strings"

	"tubewright/geom"
)

// pixel is the length in mm of a CSS px.
const pixel = 25.4 / 96

// unitSize returns the length in mm of a unit of CSS (CSS Values and Units 3,
// section 5.2).
func unitSize(unit string) (mm float64, known bool) {
	switch unit {
	case "mm":
		return 1, true
	case "cm":
		return 10, true
	case "in":
		return 25.4, true
	case "pt":
		return 25.4 / 72, true
	case "pc":
		return 25.4 / 6, true
	case "q":
		return 0.25, true
	case "px":
		return pixel, true
	}
	return 0, false
}

// splitUnit reads a number and what stands behind it.
func splitUnit(s string) (v float64, unit string, err error) {
	p := scanner{s: strings.TrimSpace(s)}
	v, err = p.number()
	return v, strings.ToLower(strings.TrimSpace(p.s[p.i:])), err
}

// realSize reads a width or height that says how long it is on paper. A bare
// number or px does not: programs differ in how many of them they put into an
// inch.
func realSize(s string) (mm float64, ok bool) {
	v, unit, err := splitUnit(s)
	size, known := unitSize(unit)
	return v * size, err == nil && known && unit != "px" && v > 0
}

// viewport is how the root's user units lie on paper.
type viewport struct {
	page geom.Rect   // of the drawing, user units, y down; empty where unknown
	unit geom.Length // 0 where unknown
}

// viewportOf reads the root's width, height and viewBox (SVG 1.1, section 7).
func viewportOf(root *node) (viewport, error) {
	v := viewport{page: geom.EmptyRect()}
	box, err := numbers(root.get("viewBox"))
	if err != nil || len(box) != 0 && len(box) != 4 || len(box) == 4 && !(box[2] > 0 && box[3] > 0) {
		return v, fmt.Errorf("viewBox %q: four numbers are needed, the last two over 0", clip(root.get("viewBox")))
	}
	w, hasW := realSize(root.get("width"))
	h, hasH := realSize(root.get("height"))
	if len(box) == 0 {
		if hasW || hasH {
			v.unit = geom.Length(pixel) // a user unit is a px, of which an inch has 96
		}
		return v, nil
	}
	v.page = geom.Rect{Min: geom.Point{X: box[0], Y: box[1]}, Max: geom.Point{X: box[0] + box[2], Y: box[1] + box[3]}}
	kx, ky := w/box[2], h/box[3]
	if !hasW {
		kx = ky
	}
	if !hasH {
		ky = kx
	}
	if strings.HasPrefix(strings.TrimSpace(root.get("preserveAspectRatio")), "none") && math.Abs(kx-ky) > 1e-3*max(kx, ky) {
		return v, fmt.Errorf("the drawing is stretched: a unit is %s mm wide and %s mm high", geom.FormatNumber(kx, 4), geom.FormatNumber(ky, 4))
	}
	v.unit = geom.Length(min(kx, ky))
	if strings.Contains(root.get("preserveAspectRatio"), "slice") {
		v.unit = geom.Length(max(kx, ky))
	}
	return v, nil
}
