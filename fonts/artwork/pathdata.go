package artwork

import (
	"fmt"
	"math"
	"strconv"

	"tubewright/geom"
)

// scanner reads the numbers of an attribute.
type scanner struct {
	s string
	i int
}

func (p *scanner) space() {
	for p.i < len(p.s) && (p.s[p.i] == ' ' || p.s[p.i] == '\t' || p.s[p.i] == '\n' || p.s[p.i] == '\r' || p.s[p.i] == '\f') {
		p.i++
	}
}

// comma skips what may stand between two numbers.
func (p *scanner) comma() {
	p.space()
	if p.i < len(p.s) && p.s[p.i] == ',' {
		p.i++
		p.space()
	}
}

// number reads one number of the SVG grammar: a sign, digits with a point, an
// exponent; the next may follow without a space, as in "1.5.5-2".
func (p *scanner) number() (float64, error) {
	start, digits := p.i, 0
	i := p.i
	at := func(set string) bool {
		for k := range len(set) {
			if i < len(p.s) && p.s[i] == set[k] {
				return true
			}
		}
		return false
	}
	if at("+-") {
		i++
	}
	for ; at("0123456789"); i++ {
		digits++
	}
	if at(".") {
		for i++; at("0123456789"); i++ {
			digits++
		}
	}
	if digits == 0 {
		return 0, fmt.Errorf("a number is missing at %q", clip(p.s[start:min(len(p.s), start+16)]))
	}
	if at("eE") {
		mark := i
		i++
		if at("+-") {
			i++
		}
		if !at("0123456789") {
			i = mark
		}
		for i > mark && at("0123456789") {
			i++
		}
	}
	p.i = i
	v, err := strconv.ParseFloat(p.s[start:i], 64)
	if err != nil || math.Abs(v) > maxCoord {
		return 0, fmt.Errorf("the number %s is out of range: at most %g is read", clip(p.s[start:i]), float64(maxCoord))
	}
	return v, nil
}

// flag reads one of the two flags of an arc, which need no space after them.
func (p *scanner) flag() (bool, error) {
	if p.i < len(p.s) && (p.s[p.i] == '0' || p.s[p.i] == '1') {
		p.i++
		return p.s[p.i-1] == '1', nil
	}
	return false, fmt.Errorf("an arc's flag must be 0 or 1 at %q", clip(p.s[p.i:min(len(p.s), p.i+16)]))
}

// pathReader turns path data into contours (SVG 1.1, section 8.3).
type pathReader struct {
	scanner
	out     geom.Outline
	at      geom.Point // where the pen is
	control geom.Point // of the last curve, for S and T
	last    byte       // command before, upper case
	curves  int
}

// parsePath reads the d attribute of a path.
func parsePath(d string) (geom.Outline, error) {
	r := pathReader{scanner: scanner{s: d}}
	var cmd byte
	for r.space(); r.i < len(r.s); r.comma() {
		c := r.s[r.i]
		isLetter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
		switch {
		case isLetter:
			cmd = c
			r.i++
			r.space()
		case cmd == 0 || cmd|0x20 == 'z':
			return nil, fmt.Errorf("the path data has no command at %q", clip(r.s[r.i:min(len(r.s), r.i+16)]))
		}
		if r.last == 0 && cmd|0x20 != 'm' {
			return nil, fmt.Errorf("the path data starts with %q, not with M", string(cmd))
		}
		if err := r.step(cmd); err != nil {
			return nil, fmt.Errorf("path data, command %q: %w", string(cmd), err)
		}
		if r.curves > maxCurves {
			return nil, fmt.Errorf("the path has more than %d curves", maxCurves)
		}
		if cmd|0x20 == 'm' {
			cmd-- // more points after M or m are lines
		}
	}
	return r.out, nil
}

// step carries out one command, or one repetition of it.
func (r *pathReader) step(cmd byte) error {
	relative := cmd >= 'a'
	upper := cmd &^ 0x20
	counts := map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 0, 'Z': 0}
	n, known := counts[upper]
	if !known {
		return fmt.Errorf("there is no such command")
	}
	var v [6]float64
	for k := range n {
		if k > 0 {
			r.comma()
		}
		x, err := r.number()
		if err != nil {
			return err
		}
		v[k] = x
	}
	base := geom.Vec{}
	if relative {
		base = geom.Vec(r.at)
	}
	point := func(k int) geom.Point { return geom.Point{X: v[k], Y: v[k+1]}.Add(base) }
	reflected := func(after string) geom.Point {
		if r.last == after[0] || r.last == after[1] {
			return r.at.Add(r.at.Sub(r.control))
		}
		return r.at
	}
	switch upper {
	case 'M':
		r.at = point(0)
		r.out = append(r.out, geom.Contour{Start: r.at})
		r.curves++ // a contour without a curve takes room too
	case 'Z':
		if len(r.out) > 0 {
			r.at = r.out[len(r.out)-1].Start
		}
	case 'L':
		r.line(point(0))
	case 'H':
		r.line(geom.Point{X: v[0] + base.X, Y: r.at.Y})
	case 'V':
		r.line(geom.Point{X: r.at.X, Y: v[0] + base.Y})
	case 'C':
		r.cubic(point(0), point(2), point(4))
	case 'S':
		r.cubic(reflected("CS"), point(0), point(2))
	case 'Q':
		r.quad(point(0), point(2))
	case 'T':
		r.quad(reflected("QT"), point(0))
	case 'A':
		if err := r.arc(base); err != nil {
			return err
		}
	}
	r.last = upper
	return nil
}

// add appends a curve to the open contour. After Z, the pen starts a new one
// where the last began.
func (r *pathReader) add(c geom.Curve) {
	if r.last == 'Z' {
		r.out = append(r.out, geom.Contour{Start: r.at})
		r.last = 'M'
	}
	open := &r.out[len(r.out)-1]
	open.Curves = append(open.Curves, c)
	r.at = c.To
	r.curves++
}

func (r *pathReader) line(to geom.Point) { r.add(geom.Curve{Kind: geom.LineTo, To: to}) }

func (r *pathReader) quad(c, to geom.Point) {
	r.add(geom.Curve{Kind: geom.QuadTo, C1: c, To: to})
	r.control = c
}

func (r *pathReader) cubic(c1, c2, to geom.Point) {
	r.add(geom.Curve{Kind: geom.CubicTo, C1: c1, C2: c2, To: to})
	r.control = c2
}

// arc reads the seven numbers of an elliptical arc.
func (r *pathReader) arc(base geom.Vec) error {
	var v [5]float64
	var flags [2]bool
	for k := range 7 {
		if k > 0 {
			r.comma()
		}
		var err error
		switch k {
		case 3, 4:
			flags[k-3], err = r.flag()
		case 5, 6:
			v[k-2], err = r.number()
		default:
			v[k], err = r.number()
		}
		if err != nil {
			return err
		}
	}
	to := geom.Point{X: v[3], Y: v[4]}.Add(base)
	e := ellipseArc{from: r.at, to: to, rx: math.Abs(v[0]), ry: math.Abs(v[1]), turn: v[2] * math.Pi / 180, large: flags[0], sweep: flags[1]}
	for _, c := range e.curves() {
		r.add(c)
	}
	return nil
}
