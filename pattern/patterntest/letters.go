// Package patterntest makes small patterns by hand for the tests of packages
// that read one: drawings, exporters. Their geometry is that of letters whose
// every vertex was worked out on paper: corners of 1.27 D, double-backs of 0.8 D.
package patterntest

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// letter is one letter at a centreline height of 138 mm for a tube of 12 mm:
// its strokes, the control polygon of its one unit, and the role of each piece
// of the rounded polygon ("" for hidden, a stroke's index in digits for lit);
// a piece with two roles is an arc, cut in half.
type letter struct {
	text    string
	width   float64
	strokes []geom.Path
	poly    []tube.Vertex
	roles   []string
}

const (
	diameter = 12.0
	corner   = 1.27 * diameter
	turn     = 0.8 * diameter
	back     = 2 * turn
	high     = 138.0
)

func v(x, y, z, r float64) tube.Vertex {
	return tube.Vertex{P: geom.Point3{X: x, Y: y, Z: z}, R: r}
}

func line(x0, y0, x1, y1 float64) geom.Path {
	return geom.Path{Segments: []geom.Segment{geom.Line{A: geom.Point{X: x0, Y: y0}, B: geom.Point{X: x1, Y: y1}}}}
}

// ramp returns the size of the S-ramp of two equal arcs of the corner radius
// between the face and the back plane: its plan length 2 R sin t and the tangent
// length R tan(t/2) of each arc, with cos t = 1 − back/2R.
func ramp() (plan, tan float64) {
	t := math.Acos(1 - back/(2*corner))
	return 2 * corner * math.Sin(t), corner * math.Tan(t/2)
}

func letterH() letter {
	const w, mid = 96.0, high / 2
	plan, t := ramp()
	in, out := corner+t, corner+plan-t
	return letter{"H", w,
		[]geom.Path{line(0, high, 0, 0), line(0, mid, w, mid), line(w, 0, w, high)},
		[]tube.Vertex{
			v(0, high, -60-corner, 0), v(0, high, 0, corner), v(0, 0, 0, turn), v(0, 0, -back, turn),
			v(0, mid, -back, corner), v(in, mid, -back, corner), v(out, mid, 0, corner),
			v(w-out, mid, 0, corner), v(w-in, mid, -back, corner), v(w, mid, -back, corner),
			v(w, 0, -back, turn), v(w, 0, 0, turn), v(w, high, 0, corner), v(w, high, -60-corner, 0),
		},
		[]string{"leg", "0", "0", "0", "", "", "", "1", "1", "1", "1", "1", "", "", "", "2", "2", "2", "leg"},
	}
}

func letterE() letter {
	const w, mid = 80.0, 0.52 * high
	plan, t := ramp()
	in, out := mid-corner-t, mid-corner-plan+t
	outline := line(w, high, 0, high)
	outline.Segments = []geom.Segment{
		geom.Line{A: geom.Point{X: w, Y: high}, B: geom.Point{X: corner, Y: high}},
		geom.Arc{Centre: geom.Point{X: corner, Y: high - corner}, Radius: corner, From: 90 * geom.Degree, Sweep: 90 * geom.Degree},
		geom.Line{A: geom.Point{Y: high - corner}, B: geom.Point{Y: corner}},
		geom.Arc{Centre: geom.Point{X: corner, Y: corner}, Radius: corner, From: 180 * geom.Degree, Sweep: 90 * geom.Degree},
		geom.Line{A: geom.Point{X: corner}, B: geom.Point{X: w}},
	}
	const tip = 66.0
	return letter{"E", w,
		[]geom.Path{outline, line(0, mid, tip, mid)},
		[]tube.Vertex{
			v(w, high, -60-corner, 0), v(w, high, 0, corner), v(0, high, 0, corner), v(0, mid, 0, corner),
			v(tip, mid, 0, turn), v(tip, mid, -back, turn), v(0, mid, -back, corner),
			v(0, in, -back, corner), v(0, out, 0, corner), v(0, 0, 0, corner),
			v(w, 0, 0, corner), v(w, 0, -60-corner, 0),
		},
		[]string{"leg", "0", "0", "0", "0", "0 1", "1", "1", "", "", "", "0", "0", "0", "0", "0", "0", "leg"},
	}
}

func letterX() letter {
	const w, dip, run = 96.0, 18.0, 36.0
	// Dips to 18 mm over two ramps of 36 mm, both at the crossing: arcs of 22.5 mm.
	const t = 11.25 // 22.5·tan(53.13°/2)
	d := geom.Vec{X: -w, Y: -high}.Unit()
	mid := geom.Point{X: w / 2, Y: high / 2}
	at := func(s, z, r float64) tube.Vertex {
		p := mid.Add(d.Mul(s))
		return v(p.X, p.Y, z, r)
	}
	return letter{"X", w,
		[]geom.Path{line(0, high, w, 0), line(w, high, 0, 0)},
		[]tube.Vertex{
			v(0, high, -60-corner, 0), v(0, high, 0, corner), v(w, 0, 0, turn), v(w, 0, -back, turn),
			v(w, high, -back, turn), v(w, high, 0, turn),
			at(-run+t, 0, 22.5), at(-t, -dip, 22.5), at(t, -dip, 22.5), at(run-t, 0, 22.5),
			v(0, 0, 0, corner), v(0, 0, -60-corner, 0),
		},
		[]string{"leg", "0", "0", "0", "", "", "", "1", "1", "1", "1", "1", "1", "1", "1", "leg"},
	}
}

// letterS is two half circles in the face.
func letterS() letter {
	const r = high / 4
	top, bottom := geom.Point{X: r, Y: high - r}, geom.Point{X: r, Y: r}
	path := geom.Path{Segments: []geom.Segment{
		geom.Line{A: geom.Point{X: 2 * r, Y: high}, B: geom.Point{X: r, Y: high}},
		geom.Arc{Centre: top, Radius: r, From: 90 * geom.Degree, Sweep: 180 * geom.Degree},
		geom.Arc{Centre: bottom, Radius: r, From: 90 * geom.Degree, Sweep: -180 * geom.Degree},
		geom.Line{A: geom.Point{X: r}, B: geom.Point{}},
	}}
	return letter{"S", 2 * r, []geom.Path{path}, nil, nil}
}

func (l letter) tube(strokeID func(i int) string) (tube.Tube, error) {
	if l.poly == nil {
		return l.curveTube(strokeID(0))
	}
	segs, err := tube.Fillet(l.poly)
	if err != nil {
		return nil, err
	}
	if len(segs) != len(l.roles) {
		return nil, fmt.Errorf("letter %s: %d pieces, %d roles", l.text, len(segs), len(l.roles))
	}
	var out tube.Tube
	for i, s := range segs {
		switch role := l.roles[i]; {
		case role == "leg":
			out = append(out, tube.Piece{Seg: s, Role: tube.Leg})
		case role == "":
			out = append(out, tube.Piece{Seg: s, Role: tube.Hidden})
		case len(role) == 3: // "0 1": cut in half
			n := s.Length()
			out = append(out,
				tube.Piece{Seg: s.Cut(0, n/2), Role: tube.Lit, Stroke: strokeID(int(role[0] - '0'))},
				tube.Piece{Seg: s.Cut(n/2, n), Role: tube.Lit, Stroke: strokeID(int(role[2] - '0')), Joined: true})
		default:
			out = append(out, tube.Piece{Seg: s, Role: tube.Lit, Stroke: strokeID(int(role[0] - '0'))})
		}
	}
	return out, nil
}

// curveTube follows the only stroke, with a leg dropped back at both ends.
func (l letter) curveTube(id string) (tube.Tube, error) {
	p := l.strokes[0]
	first, last := p.Segments[0].(geom.Line), p.Segments[len(p.Segments)-1].(geom.Line)
	end := func(at geom.Point, toward geom.Point) ([]geom.Segment3, error) {
		return tube.Fillet([]tube.Vertex{
			{P: at.At(-60 - corner)}, {P: at.At(0), R: corner}, {P: toward.At(0)},
		})
	}
	head, err := end(first.A, first.B)
	if err != nil {
		return nil, err
	}
	tail, err := end(last.B, last.A)
	if err != nil {
		return nil, err
	}
	segs := append([]geom.Segment3{}, head...)
	for _, s := range p.Segments[1 : len(p.Segments)-1] {
		segs = append(segs, geom.Raised(s, 0))
	}
	for i := len(tail) - 1; i >= 0; i-- {
		segs = append(segs, tail[i].Reversed())
	}
	out := make(tube.Tube, len(segs))
	for i, s := range segs {
		out[i] = tube.Piece{Seg: s, Role: tube.Lit, Stroke: id}
	}
	out[0], out[len(out)-1] = tube.Piece{Seg: segs[0], Role: tube.Leg}, tube.Piece{Seg: segs[len(segs)-1], Role: tube.Leg}
	return out, nil
}

// Word returns a pattern of letters from "HEXS", one unit a letter, standing in
// a line with gap mm between them, scaled by k (1 gives letters 150 mm high
// outside and a tube of 12 mm). It panics for other letters: a test's own mistake.
func Word(text string, gap, k float64) pattern.Pattern {
	rules := glass.Default(diameter * k)
	rules.DoubleBackRadius, rules.MinRadius, rules.MaxUnit = turn*k, 0.75*diameter*k, max(2400, 700*k)
	p := pattern.Pattern{Spec: pattern.Spec{Name: "Fixture " + text, Text: []string{text}, Font: "by hand", Height: 150 * k, Rules: rules}}
	x := 0.0
	for i, r := range text {
		l := byName(r)
		move := geom.SimilarityMap{Scale: k, Move: geom.Vec{X: x}}
		for _, s := range l.strokes {
			p.Strokes = append(p.Strokes, pattern.Stroke{
				ID: fmt.Sprintf("s%d", len(p.Strokes)+1), Letter: i, Text: l.text, Path: s.Map(move)})
		}
		first := len(p.Strokes) - len(l.strokes)
		t, err := l.tube(func(s int) string { return p.Strokes[first+s].ID })
		if err != nil {
			panic(err)
		}
		p.Spec.Letters = append(p.Spec.Letters, pattern.Letter{Text: l.text, Index: i})
		p.Units = append(p.Units, unit(fmt.Sprintf("U%d", i+1), scaled(t, k, x), rules))
		x += k*l.width + gap
	}
	return p
}

// WithFindings returns p with one finding of each severity on its first unit.
func WithFindings(p pattern.Pattern) pattern.Pattern {
	u := p.Units[0]
	add := func(code string, s finding.Severity, at geom.Point3, got, want float64, what, remedy string) {
		p.Findings = append(p.Findings, finding.Finding{Code: code, Severity: s, Letter: p.Strokes[0].Text, Unit: u.ID,
			At: at, Got: got, Want: want, What: what, Remedy: remedy})
	}
	h := u.Heats
	add("unit-too-long", finding.Error, u.Electrodes[0].At, u.Tube.Length(), 400, "the unit is longer than one piece of glass may be", "split the unit")
	add("strain", finding.Warning, h[len(h)/2].At, 0, 12, "two heated zones touch", "let the first cool before the second is heated")
	add("tight-bend", finding.Note, h[1].At, 0, 0, "a tight bend: gather glass", "")
	finding.Sort(p.Findings)
	return p
}

func byName(r rune) letter {
	switch r {
	case 'H':
		return letterH()
	case 'E':
		return letterE()
	case 'X':
		return letterX()
	case 'S':
		return letterS()
	}
	panic(fmt.Sprintf("patterntest: no letter %q", r))
}

func scaled(t tube.Tube, k, dx float64) tube.Tube {
	at := func(p geom.Point3) geom.Point3 { return geom.Point3{X: float64(k*p.X) + dx, Y: k * p.Y, Z: k * p.Z} }
	out := make(tube.Tube, len(t))
	for i, p := range t {
		switch s := p.Seg.(type) {
		case geom.Line3:
			l := geom.Line3{A: at(s.A), B: at(s.B)}
			if p.Role == tube.Leg { // legs are as long for every tube
				drop := geom.Vec3{Z: -60}
				if i == 0 {
					l.A = l.B.Add(drop)
				} else {
					l.B = l.A.Add(drop)
				}
			}
			p.Seg = l
		case geom.Arc3:
			p.Seg = geom.Arc3{Centre: at(s.Centre), Axis: s.Axis, From: s.From.Mul(k), Angle: s.Angle}
		}
		out[i] = p
	}
	return out
}

func unit(id string, t tube.Tube, rules glass.Rules) pattern.Unit {
	table := bend.Tabulate(t)
	return pattern.Unit{
		ID: id, Tube: t, Table: table, Heats: bend.Heats(t, &table, rules),
		Electrodes: [2]pattern.Electrode{
			{End: "A", At: t.Start(), Direction: t.StartDir().Neg()},
			{End: "B", At: t.End(), Direction: t.EndDir()},
		},
	}
}
