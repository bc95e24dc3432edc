package plan

import (
	"fmt"
	"strconv"
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

// mostNamed is how many heats of a block are told one by one.
const mostNamed = 6

// reportBlock tells which heats stop each other, what is in the way of each, and
// how much straight glass there is between them to part them by a weld. It is a
// warning even where every order was looked at: a bender has ways of flexing hot
// glass that the simulation, whose sides are rigid, has not.
func (m *maker) reportBlock(s Section) {
	b := s.Block
	middle := (s.From + s.To) / 2
	switch {
	case s.Last-s.First > order.MaxHeats:
		m.report(finding.Warning, "boxed-in", middle, fmt.Sprintf("%d heats in one piece are more than can be planned", s.Last-s.First),
			"allow shorter units", 0, 0)
		return
	case len(b.Stops) == 0:
		m.report(finding.Warning, "boxed-in", middle, "no order of bending was found before the search came to its limit",
			"let a bender judge, or allow shorter units", 0, 0)
		return
	}
	first, last := m.u.Heats[s.First+b.Stops[0].Heat], m.u.Heats[s.First+b.Stops[len(b.Stops)-1].Heat]
	what := fmt.Sprintf("no order of bending was found: whichever of heats %s comes last, other glass is in its way", m.list(s))
	if len(b.Stops) == 1 {
		what = fmt.Sprintf("no order of bending was found: heat %d cannot come last", m.number(s.First+b.Stops[0].Heat))
	}
	remedy := "let a bender judge, for hot glass gives way where the simulation does not; or make the letters higher"
	straight := m.longestStraight(first.Start, last.End)
	if need := 2 * m.rules.WeldClear; len(b.Stops) > 1 && straight < need {
		remedy = fmt.Sprintf("make the letters higher until a weld can part them, for which it needs %s mm of straight glass and the longest has %s, or let a bender judge",
			geom.FormatNumber(need, 0), geom.FormatNumber(straight, 0))
	}
	m.report(finding.Warning, "boxed-in", (first.Start+first.End)/2, what, remedy, 0, 0)
	for _, t := range b.Stops[:min(len(b.Stops), mostNamed)] {
		h := m.u.Heats[s.First+t.Heat]
		m.report(finding.Note, "boxed-in-by", (h.Start+h.End)/2, m.stop(s, t), "", 0, 0)
	}
}

func (m *maker) number(heat int) int { return m.u.Heats[heat].Number }

// list names the heats of a block: "2, 3, 5".
func (m *maker) list(s Section) string {
	var out []string
	for _, t := range s.Block.Stops {
		out = append(out, strconv.Itoa(m.number(s.First+t.Heat)))
	}
	return strings.Join(out, ", ")
}

// stop says what stops a heat when it comes last.
func (m *maker) stop(s Section, t order.Stop) string {
	n := m.number(s.First + t.Heat)
	switch {
	case t.Other >= 0 && t.Reason == order.Swing:
		return fmt.Sprintf("bent last, heat %d would swing into the glass of heat %d", n, m.number(s.First+t.Other))
	case t.Other >= 0 && t.Reason == order.Fire:
		return fmt.Sprintf("bent last, heat %d would have the glass of heat %d in its fire", n, m.number(s.First+t.Other))
	}
	return fmt.Sprintf("bent last, heat %d cannot be made, %s", n, English().Reasons[t.Reason])
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
