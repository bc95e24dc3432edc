package artwork

import (
	"fmt"
	"math"
	"strings"

	"tubewright/geom"
)

// outlineOf returns the outline of an element in its own units; an element
// without an extent has none.
func outlineOf(n *node) (geom.Outline, error) {
	switch n.name {
	case "path":
		return parsePath(n.get("d"))
	case "polygon", "polyline":
		return polygon(n.get("points"))
	case "rect":
		v, err := lengths(n, "x", "y", "width", "height", "rx", "ry")
		if err != nil {
			return nil, err
		}
		return rectangle(v, n.get("rx") != "", n.get("ry") != "")
	case "circle":
		v, err := lengths(n, "cx", "cy", "r")
		if err != nil {
			return nil, err
		}
		return ellipse(v[0], v[1], v[2], v[2])
	case "ellipse":
		v, err := lengths(n, "cx", "cy", "rx", "ry")
		if err != nil {
			return nil, err
		}
		return ellipse(v[0], v[1], v[2], v[3])
	}
	return nil, nil
}

// lengths reads attributes as user units; one that is missing is 0.
func lengths(n *node, names ...string) ([]float64, error) {
	out := make([]float64, len(names))
	for i, name := range names {
		s := strings.TrimSpace(n.get(name))
		if s == "" || s == "auto" {
			continue
		}
		v, unit, err := splitUnit(s)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		size, known := unitSize(unit)
		switch {
		case unit == "":
			out[i] = v
		case known:
			out[i] = v * size / pixel // within a drawing a user unit is a px
		default:
			return nil, fmt.Errorf("%s: the unit of %q cannot be worked out", name, clip(s))
		}
	}
	return out, nil
}

func polygon(points string) (geom.Outline, error) {
	v, err := numbers(points)
	if err != nil {
		return nil, fmt.Errorf("points: %w", err)
	}
	if len(v)%2 != 0 {
		return nil, fmt.Errorf("points: %d numbers do not make pairs", len(v))
	}
	if len(v) < 6 {
		return nil, nil
	}
	c := geom.Contour{Start: geom.Point{X: v[0], Y: v[1]}}
	for i := 2; i < len(v); i += 2 {
		c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: geom.Point{X: v[i], Y: v[i+1]}})
	}
	return geom.Outline{c}, nil
}

// rectangle returns a rectangle with its corners rounded (SVG 1.1, section 9.2).
func rectangle(v []float64, hasRx, hasRy bool) (geom.Outline, error) {
	x, y, w, h, rx, ry := v[0], v[1], v[2], v[3], v[4], v[5]
	if w < 0 || h < 0 || rx < 0 || ry < 0 {
		return nil, fmt.Errorf("a width, height or radius is below 0")
	}
	if w == 0 || h == 0 {
		return nil, nil
	}
	if !hasRx {
		rx = ry
	}
	if !hasRy {
		ry = rx
	}
	rx, ry = min(rx, w/2), min(ry, h/2)
	if rx == 0 || ry == 0 {
		return polygonOf(geom.Point{X: x, Y: y}, geom.Point{X: x + w, Y: y}, geom.Point{X: x + w, Y: y + h}, geom.Point{X: x, Y: y + h}), nil
	}
	c := geom.Contour{Start: geom.Point{X: x + w, Y: y + h - ry}}
	for k, mid := range [4]geom.Point{{X: x + w - rx, Y: y + h - ry}, {X: x + rx, Y: y + h - ry}, {X: x + rx, Y: y + ry}, {X: x + w - rx, Y: y + ry}} {
		a, b := geom.Vec{X: rx}, geom.Vec{Y: ry}
		first := float64(k) * math.Pi / 2
		sin, cos := math.Sincos(first)
		if k > 0 {
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: mid.Add(a.Mul(cos)).Add(b.Mul(sin))})
		}
		c.Curves = append(c.Curves, ellipsePieces(mid, a, b, first, math.Pi/2)...)
	}
	return geom.Outline{c}, nil
}

func polygonOf(pts ...geom.Point) geom.Outline {
	c := geom.Contour{Start: pts[0]}
	for _, p := range pts[1:] {
		c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: p})
	}
	return geom.Outline{c}
}

func ellipse(cx, cy, rx, ry float64) (geom.Outline, error) {
	if rx < 0 || ry < 0 {
		return nil, fmt.Errorf("a radius is below 0")
	}
	if rx == 0 || ry == 0 {
		return nil, nil
	}
	c := geom.Point{X: cx, Y: cy}
	return geom.Outline{{Start: geom.Point{X: cx + rx, Y: cy}, Curves: ellipsePieces(c, geom.Vec{X: rx}, geom.Vec{Y: ry}, 0, 2*math.Pi)}}, nil
}
