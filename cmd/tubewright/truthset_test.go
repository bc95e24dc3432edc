package main

import (
	"math"
	"slices"
	"testing"

	"tubewright/fonts"
	"tubewright/geom"
	"tubewright/geom/region"
)

// The project's own truth: the single-stroke letters of two embedded Hershey
// faces (their owner is acknowledged in fonts/LICENCES.md), rounded between
// their sharp corners and drawn with a round pen. Nothing of the tracer builds
// them: every short bit of stroke becomes a capsule, and the region package
// unites the capsules.

const (
	truthCap     = 100.0
	truthCorner  = 46 * math.Pi / 180 // a vertex that turns by this or more stays a corner
	truthRound   = 14.0               // the most that a rounded vertex takes of either side, % of cap height
	truthSnap    = 4.3                // ends this near to another stroke are meant to touch it
	truthTouch   = 0.05               // nearer than this is touching
	truthOneNode = 0.5                // meetings nearer than this are one
)

// truthGlyph is a letter whose strokes are known; cap height 100.
type truthGlyph struct {
	char      rune
	strokes   [][]geom.Point
	corners   []geom.Point
	junctions []geom.Point // three arms or more meet
	leaves    []geom.Point // free ends
	pieces    int          // connected components
	rings     int          // independent loops
	half      float64      // of the pen
}

// truthGlyphs builds the letters of a single-line face for a pen of the given
// half-width. Letters whose ink hides what is asked for (a counter filled up,
// a dot that touches) are left out.
func truthGlyphs(t *testing.T, name, chars string, half float64) []truthGlyph {
	t.Helper()
	face, err := fonts.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	var out []truthGlyph
	for _, c := range chars {
		gs, err := face.Shape(string(c), fonts.ShapeOptions{Size: face.SizeForCapHeight(truthCap)})
		if err != nil || len(gs) != 1 {
			t.Fatalf("%s: %q: %v, %d glyphs", name, c, err, len(gs))
		}
		g := truthGlyph{char: c, half: half}
		for _, s := range gs[0].Strokes {
			line := []geom.Point{s.Start()}
			for _, seg := range s.Segments {
				line = append(line, seg.End())
			}
			smooth, corners := rounded(line)
			g.strokes, g.corners = append(g.strokes, smooth), append(g.corners, corners...)
		}
		g.snap()
		g.meetings()
		if p, h := inkTopology(t, g.outline()); p == g.pieces && h == g.rings {
			out = append(out, g)
		}
	}
	return out
}

// rounded replaces every vertex that is no corner by a parabola between its
// two sides.
func rounded(line []geom.Point) (out, corners []geom.Point) {
	n := len(line)
	out = []geom.Point{line[0]}
	closed := n > 3 && line[0].Dist(line[n-1]) < 1e-9
	first, last := 1, n-1
	if closed {
		out, last = nil, n
	}
	for i := first; i < last; i++ {
		a, b, c := line[i-1], line[i], line[(i+1)%n]
		if i == n-1 {
			c = line[1]
		}
		u, v := b.Sub(a), c.Sub(b)
		if math.Abs(float64(u.TurnTo(v))) >= truthCorner {
			out, corners = append(out, b), append(corners, b)
			continue
		}
		p := b.Add(u.Unit().Mul(-min(u.Norm()/2, truthRound)))
		q := b.Add(v.Unit().Mul(min(v.Norm()/2, truthRound)))
		for k := range 9 {
			s := float64(k) / 8
			out = append(out, p.Lerp(b, s).Lerp(b.Lerp(q, s), s))
		}
	}
	if closed {
		return append(out, out[0]), corners
	}
	return append(out, line[n-1]), corners
}

// snap moves ends that nearly touch another stroke onto it.
func (g *truthGlyph) snap() {
	for i, s := range g.strokes {
		for _, k := range []int{0, len(s) - 1} {
			if s[0] == s[len(s)-1] {
				continue
			}
			best, at := truthSnap, s[k]
			for j, o := range g.strokes {
				if q, d := onLine(o, s[k]); j != i && d < best {
					best, at = d, q
				}
			}
			s[k] = at
		}
	}
}

// onLine returns the point of a polyline nearest to p.
func onLine(l []geom.Point, p geom.Point) (geom.Point, float64) {
	at, best := l[0], l[0].Dist(p)
	for i := 1; i < len(l); i++ {
		a, b := l[i-1], l[i]
		if max(min(a.X, b.X)-p.X, p.X-max(a.X, b.X), min(a.Y, b.Y)-p.Y, p.Y-max(a.Y, b.Y)) >= best {
			continue // its box is further away
		}
		q := onBit(a, b, p)
		if d := q.Dist(p); d < best {
			at, best = q, d
		}
	}
	return at, best
}

func onBit(a, b, p geom.Point) geom.Point {
	u := b.Sub(a)
	if n := u.Dot(u); n > 0 {
		return a.Lerp(b, min(max(p.Sub(a).Dot(u)/n, 0), 1))
	}
	return a
}

// meetings finds where strokes meet and so the letter's junctions, free ends,
// components and rings.
func (g *truthGlyph) meetings() {
	var nodes []geom.Point
	add := func(p geom.Point) {
		for _, q := range nodes {
			if q.Dist(p) < truthOneNode {
				return
			}
		}
		nodes = append(nodes, p)
	}
	for i, s := range g.strokes {
		add(s[0])
		add(s[len(s)-1])
		for j := 0; j <= i; j++ {
			for _, p := range crossings(s, g.strokes[j], i == j) {
				add(p)
			}
		}
	}
	group := make([]int, len(g.strokes))
	for i := range group {
		group[i] = i
	}
	arms := 0
	for _, p := range nodes {
		here, first := 0, -1
		for i, s := range g.strokes {
			n := armsAt(s, p)
			if n == 0 {
				continue
			}
			here += n
			if first < 0 {
				first = group[i]
			}
			for k, from := range group {
				if from == group[i] && k != i {
					group[k] = first
				}
			}
			group[i] = first
		}
		arms += here
		switch {
		case here == 1:
			g.leaves = append(g.leaves, p)
		case here > 2:
			g.junctions = append(g.junctions, p)
		}
	}
	g.leaves = slices.DeleteFunc(g.leaves, func(p geom.Point) bool { // hidden in the ink of a junction
		return slices.ContainsFunc(g.junctions, func(q geom.Point) bool { return p.Dist(q) < g.half })
	})
	for i, a := range group {
		g.pieces++
		for _, b := range group[:i] {
			if a == b {
				g.pieces--
				break
			}
		}
	}
	g.rings = arms/2 - len(nodes) + g.pieces
}

// crossings returns where two polylines cross away from their shared bits.
func crossings(a, b []geom.Point, same bool) []geom.Point {
	var out []geom.Point
	for i := 1; i < len(a); i++ {
		for j := 1; j < len(b); j++ {
			if same && j > i-2 {
				break
			}
			u, v := a[i].Sub(a[i-1]), b[j].Sub(b[j-1])
			den := u.Cross(v)
			if den == 0 {
				continue
			}
			w := b[j-1].Sub(a[i-1])
			if s, q := w.Cross(v)/den, w.Cross(u)/den; s >= 0 && s <= 1 && q >= 0 && q <= 1 {
				out = append(out, a[i-1].Add(u.Mul(s)))
			}
		}
	}
	return out
}

// armsAt counts the arms of a polyline at p: two where it passes, one where it
// ends.
func armsAt(l []geom.Point, p geom.Point) int {
	n := 0
	for i := 1; i < len(l); {
		if onBit(l[i-1], l[i], p).Dist(p) > truthTouch {
			i++
			continue
		}
		from := i
		for i < len(l) && onBit(l[i-1], l[i], p).Dist(p) <= truthTouch {
			i++
		}
		n += 2
		if from == 1 && l[0].Dist(p) <= truthTouch {
			n--
		}
		if i == len(l) && l[i-1].Dist(p) <= truthTouch {
			n--
		}
	}
	return n
}

// outline returns the ink: a capsule for every bit of stroke.
func (g *truthGlyph) outline() geom.Outline {
	const sides = 32
	var o geom.Outline
	for _, s := range g.strokes {
		for i := 1; i < len(s); i++ {
			d := s[i].Sub(s[i-1]).Unit()
			if d == (geom.Vec{}) {
				continue
			}
			var l []geom.Point
			for k := range sides + 1 {
				a := geom.Angle(math.Pi * float64(k) / sides)
				l = append(l, s[i].Add(d.Left().Neg().Turned(a).Mul(g.half)))
			}
			for k := range sides + 1 {
				a := geom.Angle(math.Pi * float64(k) / sides)
				l = append(l, s[i-1].Add(d.Left().Turned(a).Mul(g.half)))
			}
			c := geom.Contour{Start: l[0]}
			for _, p := range l[1:] {
				c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: p})
			}
			o = append(o, c)
		}
	}
	return o
}

// inkTopology counts the components and holes of an outline.
func inkTopology(t *testing.T, o geom.Outline) (pieces, holes int) {
	t.Helper()
	r, err := region.FromOutline(o, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range r.Loops {
		if (region.Region{Loops: [][]geom.Point{l}}).Area() > 0 {
			pieces++
		} else {
			holes++
		}
	}
	return pieces, holes
}
