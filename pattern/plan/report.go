package plan

import (
	"fmt"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/order"
	"tubewright/pattern/stick"
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

// reportSplices tells what blocks a part, and where the unit is welded together
// from parts.
func (m *maker) reportSplices(parts []Section) {
	for i, s := range parts {
		if s.Block != nil {
			m.reportBlock(s)
		}
		if i == len(parts)-1 {
			return
		}
		m.report(finding.Note, "splice", s.To, fmt.Sprintf(
			"in one piece the glass would be in the way of itself: make it in parts and weld them here, %.0f mm from electrode A", s.To), "", 0, 0)
		if s.end.share < 1 {
			m.report(finding.Warning, "weld-near-heat", s.To, "a weld stands nearer to a heated zone than it should",
				"make the letters higher, or end the unit there", s.end.share*m.rules.WeldClear, m.rules.WeldClear)
		}
	}
}

// mostNamed is how many heats a finding names.
const mostNamed = 4

// reportBlock tells which heats stop each other, and how much straight glass there
// is between them to part them by a weld. It is a warning even where every order
// was looked at: a bender has ways of flexing hot glass that the simulation, whose
// sides are rigid, has not.
func (m *maker) reportBlock(s Section) {
	b := s.Block
	if len(b.Stops) == 0 {
		what := fmt.Sprintf("no order of bending was found for heats %d to %d before the search came to its limit", m.number(s.First), m.number(s.Last-1))
		if s.Last-s.First > order.MaxHeats {
			what = fmt.Sprintf("%d heats in one piece are more than can be planned", s.Last-s.First)
		}
		m.report(finding.Warning, "boxed-in", (s.From+s.To)/2, what, "end the unit sooner, or let a bender judge", 0, 0)
		return
	}
	first, last := m.u.Heats[s.First+b.Stops[0].Heat], m.u.Heats[s.First+b.Stops[len(b.Stops)-1].Heat]
	what := "no order of bending: " + m.stops(s)
	if !b.Proved {
		what = "no order of bending was found before the search came to its limit: " + m.stops(s)
	}
	at, remedy := (first.Start+first.End)/2, "make the letters higher, or let a bender judge: hot glass gives way where the simulation does not"
	straight := m.longestStraight(first.Start, last.End)
	if need := 2 * m.rules.WeldClear; len(b.Stops) > 1 && straight < need {
		m.report(finding.Warning, "boxed-in", at, what+"; the longest straight between them, to part them by a weld, is too short",
			remedy, straight, need)
		return
	}
	m.report(finding.Warning, "boxed-in", at, what, remedy, 0, 0)
}

func (m *maker) number(heat int) int { return m.u.Heats[heat].Number }

// stops says what stops each heat of a block when it comes last.
func (m *maker) stops(s Section) string {
	var say []string
	stops := s.Block.Stops
	for k, t := range stops {
		if k == mostNamed {
			say = append(say, fmt.Sprintf("and %d more", len(stops)-k))
			break
		}
		h := m.u.Heats[s.First+t.Heat]
		one := fmt.Sprintf("heat %d (%s at %.0f mm from A) ", h.Number, h.Kind, (h.Start+h.End)/2)
		switch {
		case t.Other >= 0 && t.Other != t.Heat && t.Reason == order.Swing:
			one += fmt.Sprintf("swings into the glass of heat %d", m.number(s.First+t.Other))
		case t.Other >= 0 && t.Other != t.Heat && t.Reason == order.Fire:
			one += fmt.Sprintf("has the glass of heat %d in its fire", m.number(s.First+t.Other))
		default:
			one += "cannot be made, " + English().Reasons[t.Reason]
		}
		say = append(say, one)
	}
	if len(stops) == 1 {
		return say[0]
	}
	return "whichever of these is bent last, " + strings.Join(say, ", ")
}

// longestStraight returns the longest straight glass, outside heated zones,
// between two places of the unit.
func (m *maker) longestStraight(from, to float64) float64 {
	longest := 0.0
	for _, s := range stick.Sites(m.u.Tube, m.u.Heats, 0, m.u.Avoid) {
		longest = max(longest, min(s.To, to)-max(s.From, from))
	}
	return longest
}

// reportAwkward tells what a bender must be ready for.
func (m *maker) reportAwkward(heat int, step order.Step) {
	if step.Edge {
		m.reportEdge(heat)
	}
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
