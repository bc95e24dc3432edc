package bend

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
)

// Fires.
const (
	Crossfire = "crossfire"
	Ribbon    = "ribbon"
)

// fire fills in how a heat is heated: the fire, the zone, what the outer wall
// thins to, and whether the bend is tight.
//
// The zone is the whole bend, and at least the length that the trade heats for
// its kind (trade notes 2.2), about the middle of the bend; on curves, a little
// beyond both ends. It ends with the glass of the unit.
func (g *grouper) fire(h *Heat) {
	r := g.rules
	h.Fire = Crossfire
	if h.Kind == Curve && (h.Radius >= ribbonRadius*r.Diameter || h.End-h.Start > ribbonArc*r.Diameter) {
		h.Fire = Ribbon
	}
	length := h.End - h.Start
	switch h.Kind {
	case Curve:
		length += 2 * r.CurveMargin
	case DoubleBack:
		length = max(length, r.DoubleBackZone)
	case Raise, Drop:
		length = max(length, 2*r.DropZone)
	default:
		length = max(length, cornerShare(h.Angle)*r.CornerZone)
	}
	mid := (h.Start + h.End) / 2
	h.From, h.To = max(0, mid-length/2), min(g.starts[len(g.t)], mid+length/2)
	h.Wall = h.Radius / (h.Radius + r.Diameter/2)
	h.Tight = h.Radius < r.TightRadius-1e-9
}

// cornerShare is the part of a right angle's heated length that a corner takes:
// the rule is given for a right angle; a smaller turn moves less glass, and half
// the length is the least that a crossfire heats (C).
func cornerShare(a geom.Angle) float64 {
	return min(1, max(0.5, a.Degrees()/90))
}

// Strains returns the places of a unit where heated zones come nearer to each
// other than the strain distance, in the order of travel.
func Strains(heats []Heat, rules glass.Rules) []Strain {
	var out []Strain
	for i := 1; i < len(heats); i++ {
		s := Strain{Before: i - 1, From: heats[i-1].To, To: heats[i].From}
		if s.Gap() < rules.StrainGap-1e-9 {
			out = append(out, s)
		}
	}
	return out
}

// Findings reports the tight bends and the strain zones of a unit, as notes: a
// bender wants to know, but corners followed by ramps always touch.
func Findings(unit string, heats []Heat, rules glass.Rules) []finding.Finding {
	var out []finding.Finding
	for _, h := range heats {
		if h.Tight {
			out = append(out, finding.Finding{Code: "tight-bend", Severity: finding.Note, Unit: unit, At: h.At,
				Got: h.Radius, Want: rules.TightRadius, What: "a tight bend: gather glass before bending"})
		}
	}
	for _, s := range Strains(heats, rules) {
		out = append(out, finding.Finding{Code: "strain", Severity: finding.Note, Unit: unit, At: heats[s.Before].At,
			Got: math.Max(0, s.Gap()), Want: rules.StrainGap,
			What: "two heated zones come near each other, and strain stays in the glass between them"})
	}
	return out
}
