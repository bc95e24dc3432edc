package shop

import (
	"strings"

	"tubewright/geom"
	"tubewright/pattern/finding"
)

// Findings returns the warnings and errors of the sheets as findings, worst first:
// they count like those of the glass. A warning is what somebody must change, or
// decide and state, before the sign is made from the sheets: a rule broken, a figure
// missing or doubtful, something left out of a sum. Notes, what is only to be known,
// are remarks on the sheets and no findings: two charts that differ, a rating that
// the job asked to be interpolated, a temperature that it does not state. Each tells
// its sheet and has a place for programs: the supply of its circuit, or the origin
// where it is of none.
func (p Plan) Findings() []finding.Finding {
	var out []finding.Finding
	sheet := map[string]string{}
	for _, s := range p.Sections {
		sheet[s.ID] = s.Sheet
	}
	for _, n := range p.Notes() {
		if n.Severity == finding.Note {
			continue
		}
		f := finding.Finding{Code: "shop-" + n.Code, Severity: n.Severity, Sheet: sheet[n.Section], At: p.placeOf(n), What: n.Text, Remedy: n.Remedy}
		if c, ok := circuitOfSection(n.Section); ok {
			f.What = "circuit " + c + ": " + f.What
		}
		out = append(out, f)
	}
	finding.Sort(out)
	return out
}

// circuitOfSection returns the circuit that a section is of: "C2" of "wiring-C2".
func circuitOfSection(id string) (string, bool) {
	for _, kind := range []string{"loading-", "wiring-"} {
		if c, ok := strings.CutPrefix(id, kind); ok {
			return c, true
		}
	}
	return "", false
}

func (p Plan) placeOf(n Note) geom.Point3 {
	if c, ok := circuitOfSection(n.Section); ok {
		for i := range p.Circuits {
			if circuitName(i) == c {
				return p.Circuits[i].At
			}
		}
	}
	return geom.Point3{}
}
