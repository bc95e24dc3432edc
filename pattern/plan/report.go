package plan

import (
	"fmt"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/order"
)

func (m *maker) report(s finding.Severity, code string, at float64, what, remedy string, got, want float64) {
	m.findings = append(m.findings, finding.Finding{Code: code, Severity: s, Unit: m.u.ID, At: m.pointAt(at),
		Got: got, Want: want, What: what, Remedy: remedy})
}

func (m *maker) pointAt(s float64) geom.Point3 {
	for _, p := range m.u.Tube {
		n := p.Seg.Length()
		if s <= n {
			return p.Seg.PointAt(s)
		}
		s -= n
	}
	return m.u.Tube.End()
}

// reportSplices tells where the unit is welded together from parts.
func (m *maker) reportSplices(parts []Section) {
	for _, s := range parts[:len(parts)-1] {
		m.report(finding.Note, "splice", s.To, fmt.Sprintf(
			"in one piece the glass would be in the way of itself: make it in parts and weld them here, %.0f mm from electrode A", s.To), "", 0, 0)
	}
}

// reportBlock tells which heats stop each other. Heats are named by their place
// along the unit: their numbers are not known yet. It is a warning even where
// every order was looked at: a bender has ways of flexing hot glass that the
// simulation, whose sides are rigid, has not.
func (m *maker) reportBlock(s Section) {
	b := s.Block
	name := func(i int) string {
		h := m.u.Heats[s.First+i]
		return fmt.Sprintf("the %s at %.0f mm", h.Kind, (h.Start+h.End)/2)
	}
	at := (s.From + s.To) / 2
	what := fmt.Sprintf("%d heats in one piece are more than can be planned", s.Last-s.First)
	if b.Reason != order.TooMany {
		h := m.u.Heats[s.First+b.First]
		at = (h.Start + h.End) / 2
		what = "no order of bending was found: " + name(b.First) + " cannot be made"
		if b.Second >= 0 {
			what = "no order of bending was found: " + name(b.First) + " and " + name(b.Second) + " from electrode A block each other"
		}
		what += ", " + English().Reasons[b.Reason]
	}
	m.report(finding.Warning, "boxed-in", at, what, "end the unit between the two, make the letters higher, or let a bender judge", 0, 0)
}

func (m *maker) reportEdge(heat int) {
	h := m.u.Heats[heat]
	m.report(finding.Note, "table-edge", (h.Start+h.End)/2, "glass hangs below the table while this heat is made: work at its edge", "", 0, 0)
}

// reportWelds tells where welds of sticks stand too near to a heat, or where there
// is no place for them.
func (m *maker) reportWelds(s Section) {
	const remedy = "let the unit be split, or use longer sticks"
	switch {
	case s.clear < 0:
		m.report(finding.Warning, "no-weld", (s.From+s.To)/2, "the glass is longer than a stick and has no straight to weld",
			remedy, s.To-s.From+s.Head+s.Tail, m.rules.Stick)
	case s.clear < 1:
		m.report(finding.Warning, "weld-near-heat", s.Welds[0], "a weld stands nearer to a heated zone than it should",
			remedy, s.clear*m.rules.WeldClear, m.rules.WeldClear)
	}
}
