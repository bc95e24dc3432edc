package route

import (
	"tubewright/pattern/finding"
	"tubewright/pattern/tube"
)

// omitFrom, in D, is the length of a dark stretch from which it is no gap in
// the light any more: that part of the stroke is left out, with an error.
const omitFrom = 2.9

// leaveOutDark takes out of the strokes what could not be lit, so that the
// strokes are what will be seen, and files each part left out. Lit glass is
// renamed to the part of its stroke that it lights.
func (p *planner) leaveOutDark(tubes []tube.Tube, strokes []Stroke) []Stroke {
	lit := litPlan(tubes, p.rules.Diameter)
	var out []Stroke
	for _, s := range strokes {
		parts := p.litParts(s, lit)
		if len(parts) == 1 && parts[0].ID == s.ID && parts[0].Path.Length() == s.Path.Length() {
			out = append(out, s)
			continue
		}
		for i := range tubes {
			tubes[i] = renameLit(tubes[i], s.ID, parts)
		}
		out = append(out, parts...)
	}
	return out
}

// litParts cuts a stroke at its long dark stretches. A stroke that is all dark
// has no parts.
func (p *planner) litParts(s Stroke, lit *plan) []Stroke {
	at := 0.0
	var out []Stroke
	keep := func(from, to float64) {
		from, to = atJoint(s.Path, from), atJoint(s.Path, to)
		if to-from < 0.5 {
			return
		}
		out = append(out, s.part(from, to, "-", len(out)))
	}
	for _, r := range darkRuns(s.Path, lit, 0.5*p.rules.Diameter+0.25) {
		if r.to-r.from < omitFrom*p.rules.Diameter {
			continue
		}
		keep(at, r.from)
		at = r.to
		p.addFor(finding.Finding{
			Code: "left-out", Severity: finding.Error, At: s.Path.PointAt((r.from + r.to) / 2).At(0),
			Got: r.to - r.from, Want: omitFrom * p.rules.Diameter,
			What:   "a part of the stroke could not be lit and is left out: other glass stands there",
			Remedy: "make the letters higher, choose a lighter or plainer face, or use a thinner tube",
		}, s)
	}
	keep(at, s.Path.Length())
	return out
}

// addFor files a finding about a stroke.
func (p *planner) addFor(f finding.Finding, s Stroke) {
	f.Stroke, f.Letter, f.Index = s.ID, s.Text, s.Letter
	p.findings = append(p.findings, f)
}
