package artwork

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/geom/region"
)

// parityTol is the flattening tolerance, as a share of a shape's size, for
// telling which contour lies in which.
const parityTol = 1e-4

// mostPairs bounds the comparisons of contours with each other's points.
const mostPairs = 2_000_000_000

// byParity turns an outline filled by the even-odd rule into one that the
// non-zero rule fills alike: contours that lie in an even number of others run
// counter-clockwise, the rest clockwise. That holds for contours that do not
// cross; where they do, the area of the result is not the sum of theirs, and an
// error says so.
func byParity(o geom.Outline) (geom.Outline, error) {
	box := o.ControlBox()
	tol := parityTol * max(box.Width(), box.Height())
	if tol == 0 {
		return nil, nil
	}
	loops := make([][]geom.Point, len(o))
	boxes := make([]geom.Rect, len(o))
	points := 0
	for i := range o {
		if flat := region.Flatten(o[i:i+1], tol); len(flat) == 1 {
			loops[i] = flat[0]
		}
		boxes[i] = o[i : i+1].ControlBox()
		points += len(loops[i])
	}
	if len(o)*points > mostPairs {
		return nil, fmt.Errorf("%d contours filled by the even-odd rule are too many", len(o))
	}
	out := make(geom.Outline, len(o))
	sum, length := 0.0, 0.0
	for i, l := range loops {
		out[i] = o[i]
		if len(l) == 0 {
			continue
		}
		depth := 0
		for j, other := range loops {
			if j != i && boxes[j].Contains(l[0]) && holds(other, l[0]) {
				depth++
			}
		}
		a := region.Region{Loops: loops[i : i+1]}.Area()
		if (a > 0) != (depth%2 == 0) {
			out[i] = reversed(o[i])
			a = -a
		}
		sum += a
		for k := range l {
			length += l[k].Dist(l[(k+1)%len(l)])
		}
	}
	r, err := region.FromOutline(out, tol)
	if err != nil {
		return nil, err
	}
	if math.Abs(r.Area()-sum) > 2*tol*length {
		return nil, fmt.Errorf("its contours cross each other, and it is filled by the even-odd rule")
	}
	return out, nil
}

func holds(loop []geom.Point, p geom.Point) bool {
	in := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Y > p.Y) != (b.Y > p.Y) && a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) > p.X {
			in = !in
		}
	}
	return in
}

// reversed returns the contour run the other way; where the file left it open,
// it is closed first.
func reversed(c geom.Contour) geom.Contour {
	n := len(c.Curves)
	out := geom.Contour{Start: c.Curves[n-1].To}
	for i := n - 1; i >= 0; i-- {
		k := c.Curves[i]
		to := c.Start
		if i > 0 {
			to = c.Curves[i-1].To
		}
		k.C1, k.C2, k.To = k.C2, k.C1, to
		if k.Kind == geom.QuadTo {
			k.C1, k.C2 = c.Curves[i].C1, geom.Point{}
		}
		out.Curves = append(out.Curves, k)
	}
	return out
}
