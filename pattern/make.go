package pattern

import (
	"fmt"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/condition"
	"tubewright/pattern/finding"
	"tubewright/pattern/grade"
	bendplan "tubewright/pattern/plan"
	"tubewright/pattern/route"
)

// maker carries one job through the stages.
type maker struct {
	spec     Spec
	findings []finding.Finding
}

// Make runs the whole pipeline. An error means that no pattern could be made;
// what was made and breaks a rule is in Findings, worst first.
func Make(spec Spec) (Pattern, error) {
	if err := spec.validate(); err != nil {
		return Pattern{}, err
	}
	m := &maker{spec: spec}
	traced, err := TraceLetters(spec.Letters, spec.Height, spec.Tolerance)
	if err != nil {
		return Pattern{}, err
	}
	m.findings = append(m.findings, grade.Findings(m.graded(traced), spec.Rules, spec.Height)...)
	strokes := m.condition(m.drawnStrokes(traced))
	if len(strokes) == 0 {
		return Pattern{}, fmt.Errorf("the text has no strokes; nothing can be bent")
	}
	plan := route.Plan(strokes, spec.Rules, spec.Routing)
	p := Pattern{Spec: spec, Search: plan.Search, Findings: append(m.findings, m.placed(plan.Findings)...)}
	for _, s := range plan.Strokes {
		p.Strokes = append(p.Strokes, Stroke{ID: s.ID, Letter: s.Letter, Text: s.Text, Path: s.Path})
	}
	for i, t := range plan.Tubes {
		table := bend.Tabulate(t)
		heats := bend.Heats(t, &table, spec.Rules)
		id := route.UnitID(i)
		made, found := bendplan.Make(bendplan.Unit{ID: id, Tube: t, Table: &table, Heats: heats}, spec.Rules)
		p.Findings = append(p.Findings, found...)
		p.Units = append(p.Units, Unit{
			ID: id, Tube: t, Table: table, Heats: heats, Plan: made, Cost: plan.Costs[i], Depth: DepthOf(t),
			Electrodes: [2]Electrode{
				{End: "A", At: t.Start(), Direction: t.StartDir().Neg()},
				{End: "B", At: t.End(), Direction: t.EndDir()},
			},
		})
	}
	tubulate(p.Units)
	finding.Sort(p.Findings)
	return p, nil
}

// graded puts the traced letters as the grade of their face wants them.
func (m *maker) graded(traced []Traced) []grade.Letter {
	var out []grade.Letter
	for _, t := range traced {
		l := grade.Letter{Text: textOf(m.spec.Letters, t.Letters), Index: m.spec.Letters[t.Letters[0]].Index, Trace: t.Trace}
		for _, i := range t.Letters {
			l.Outline = append(l.Outline, m.spec.Letters[i].Outline...)
		}
		out = append(out, l)
	}
	return out
}

// The heights served, mm: a sign letter is not smaller than a thumb nail, and
// nothing lettered in tube is higher than a house.
const (
	MinHeight = 10.0
	MaxHeight = 5000.0
)

func (s Spec) validate() error {
	if err := s.Rules.Validate(); err != nil {
		return err
	}
	if !(s.Height >= MinHeight && s.Height <= MaxHeight) {
		return fmt.Errorf("height of %g mm: letters from %g to %g mm high are served", s.Height, MinHeight, MaxHeight)
	}
	if s.Height <= s.Rules.Diameter {
		return fmt.Errorf("height of %g mm with a tube of %g mm: a letter must be higher than its tube is thick; make it higher or the tube thinner", s.Height, s.Rules.Diameter)
	}
	return nil
}

// condition makes the drawn strokes fit for glass and names them.
func (m *maker) condition(in []drawn) []route.Stroke {
	lim := condition.Limits{
		Diameter: m.spec.Rules.Diameter, MinRadius: m.spec.Rules.MinRadius,
		CornerRadius: m.spec.Rules.CornerRadius, Smooth: m.spec.Coarse,
	}
	var out []route.Stroke
	for _, d := range in {
		id := fmt.Sprintf("s%d", len(out)+1)
		l := m.spec.Letters[d.letter]
		path := d.path
		if !d.dot {
			r := condition.Stroke(path, lim)
			path = r.Path
			m.deviations(d.letter, id, r)
		}
		if len(path.Segments) == 0 {
			continue
		}
		out = append(out, route.Stroke{ID: id, Letter: d.letter, Text: l.Text, Line: l.Line, Path: path})
	}
	return out
}

// deviations files what conditioning had to change beyond what an eye forgives.
func (m *maker) deviations(letter int, id string, r condition.Result) {
	l := m.spec.Letters[letter]
	base := finding.Finding{Letter: l.Text, Index: l.Index, Stroke: id}
	within := r.Deviation <= noteOff*m.spec.Height // of what an eye forgives
	for _, p := range r.Problems {
		f := base
		f.Code, f.Severity, f.At, f.Got, f.Want = p.Kind.String(), finding.Warning, p.At.At(0), p.Got, p.Want
		f.What, f.Remedy = p.Kind.Words(), "make the letters higher or use a thinner tube"
		if p.Kind.IsNote() || within && p.Kind.KeepsShape() {
			f.Severity = finding.Note
		}
		m.findings = append(m.findings, f)
	}
	if r.Deviation > noteOff*m.spec.Height && len(r.Problems) == 0 {
		f := base
		f.Code, f.Severity, f.At, f.Got, f.Want = "off-the-drawing", finding.Note, r.DeviationAt.At(0), r.Deviation, noteOff*m.spec.Height
		f.What = "the glass leaves the drawn stroke by more than an eye forgives"
		if r.Deviation > mostOff*m.spec.Height {
			f.Severity, f.Want, f.Remedy = finding.Warning, mostOff*m.spec.Height, "make the letters higher or use a thinner tube"
		}
		m.findings = append(m.findings, f)
	}
}

// How far, as a share of the height, rounding may take the glass from the
// drawn stroke before it is noted, and before it is a warning. A sharp corner
// of a light face is rounded by 6 to 13 % of the height at the sizes in use
// (common practice, no source).
const (
	noteOff = 0.06
	mostOff = 0.15
)

// placed turns the letter index of route's findings into the index of the
// character in the text.
func (m *maker) placed(fs []finding.Finding) []finding.Finding {
	for i := range fs {
		if fs[i].Letter != "" {
			fs[i].Index = m.spec.Letters[fs[i].Index].Index
		}
	}
	return fs
}

// Bounds returns the box of all glass in plan, centrelines grown by half a tube.
func (p Pattern) Bounds() geom.Rect {
	box := geom.EmptyRect()
	for _, u := range p.Units {
		for _, piece := range u.Tube {
			n := max(1, int(piece.Seg.Length()))
			for k := range n + 1 {
				box = box.Including(piece.Seg.PointAt(piece.Seg.Length() * float64(k) / float64(n)).Plan())
			}
		}
	}
	return box.Grown(p.Spec.Rules.Diameter / 2)
}
