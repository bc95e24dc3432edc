package pattern

// Alone returns the pattern of one unit: its strokes, its tube, its findings.
func Alone(p Pattern, i int) Pattern {
	one := p
	one.Units = []Unit{p.Units[i]}
	lit := map[string]bool{}
	for _, piece := range p.Units[i].Tube {
		lit[piece.Stroke] = true
	}
	one.Strokes, one.Findings = nil, nil
	for _, s := range p.Strokes {
		if lit[s.ID] {
			one.Strokes = append(one.Strokes, s)
		}
	}
	for _, f := range p.Findings {
		if UnitOf(p, f) == i {
			one.Findings = append(one.Findings, f)
		}
	}
	return one
}
