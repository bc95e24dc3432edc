package shop

import (
	"fmt"
	"slices"
	"strings"

	"tubewright/pattern"
	"tubewright/pattern/finding"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/support"
)

// Plan is the shop's side of one job.
type Plan struct {
	Name     string
	Spec     Spec
	Tables   table.Set
	Units    []Unit
	Circuits []Circuit
	Cuts     []Cut      // stick by stick, kinds of glass in the order they are met
	Paint    q.Quantity // length painted out, overlaps included
	Mercury  q.Quantity // ceiling of one set; 0 mg without
	Sections []Section  // in the order of the sheets
}

// Notes returns the notes of all sections.
func (p Plan) Notes() []Note {
	var out []Note
	for _, s := range p.Sections {
		out = append(out, s.Notes...)
	}
	return out
}

// Worst returns the highest severity among the notes, and false where there are none.
func (p Plan) Worst() (finding.Severity, bool) {
	worst, any := finding.Note, false
	for _, n := range p.Notes() {
		worst, any = max(worst, n.Severity), true
	}
	return worst, any
}

// maker carries one job through the stages.
type maker struct {
	settled
	p        pattern.Pattern
	diameter q.Quantity
	wall     q.Quantity
	wallRow  *table.Row // nil where the wall is assumed
	units    []Unit
	circuits []Circuit
	supports []support.Place
	bought   int // sticks, all kinds of glass together
	cutList  []Cut
}

// Make reckons the shop's side of a pattern. An error means that the job cannot
// be made as it is asked for: an unknown word, or a unit of glasses that do not
// weld. What a chart refuses is a note in the plan.
func Make(p pattern.Pattern, spec Spec) (Plan, error) {
	s, err := settle(spec)
	if err != nil {
		return Plan{}, err
	}
	m := &maker{settled: s, p: p, diameter: q.FromFloat(p.Spec.Rules.Diameter, q.Millimetre, 3)}
	m.findWall()
	mm := func(key string) float64 { return s.tables.Cell("supports", key, q.Millimetre).Float(q.Millimetre) }
	m.supports = support.Places(p, support.Rule{Spacing: mm("support-spacing"), FromEnd: mm("support-electrode")})
	if err := m.measure(); err != nil {
		return Plan{}, err
	}
	m.share()
	if err := m.measuredLeads(); err != nil {
		return Plan{}, err
	}
	out := Plan{Name: p.Spec.Name, Spec: m.Spec, Tables: m.tables, Units: m.units, Circuits: m.circuits}
	stages := [][]Section{m.job(), m.loading(), m.materials(), m.light(), m.processing(), m.price(), m.recordSection()}
	for _, ss := range stages {
		out.Sections = append(out.Sections, ss...)
	}
	out.Cuts, out.Paint, out.Mercury = m.cutList, m.paintLength(), m.allMercury()
	return out, nil
}

// findWall takes the wall of the table of tubes; of a size it does not have,
// that of the next thinner tube.
func (m *maker) findWall() {
	rows := m.tables.Table("tubes").Rows
	var near *table.Row
	for i := range rows {
		d := rows[i].Number("diameter_mm", q.Millimetre)
		if d.Cmp(m.diameter) == 0 {
			m.wallRow, m.wall = &rows[i], rows[i].Number("wall_mm", q.Millimetre)
			return
		}
		if d.Less(m.diameter) && (near == nil || near.Number("diameter_mm", q.Millimetre).Less(d)) {
			near = &rows[i]
		}
	}
	m.wall = q.Of("0.8", q.Millimetre)
	if near != nil {
		m.wall = near.Number("wall_mm", q.Millimetre)
	}
	m.wall = m.wall.Min(m.diameter.Times(1, 4))
}

// gasRow returns the gas of a colour.
func (m *maker) gasRow(colour string) table.Row {
	c, _ := m.tables.Table("colours").Find(colour)
	g, _ := m.tables.Table("gases").Find(c.Text("gas"))
	return g
}

func hasMercury(gas table.Row) bool { return gas.Text("mercury") == "yes" }

// job is the head of every sheet.
func (m *maker) job() []Section {
	s := Section{ID: "job", Title: "Job", Sheet: "loading"}
	spec := m.p.Spec
	s.add(said("text", strings.Join(spec.Text, " / ")))
	s.add(told(fig("height of the capital H, outside", q.FromFloat(spec.Height, q.Millimetre, 1), q.Millimetre, 1)))
	s.add(told(fig("tube, outside diameter D", m.diameter, q.Millimetre, 1)))
	wall := by(fig("wall", m.wall, q.Millimetre, 1), "of the next thinner tube in the table: none of this size", "", "C")
	if m.wallRow != nil {
		wall = by(fig("wall", m.wall, q.Millimetre, 1), "table tubes", m.wallRow.Source(), m.wallRow.Grade())
	}
	s.add(wall, said("colour", m.colourWords(m.Colour)), said("glass", m.glassWords(m.Glass)))
	s.add(said("place", m.place.Text("name")), said("exposure", m.exposure()))
	s.add(said("supply", fmt.Sprintf("%s, %d mA", m.Supply, m.Current)), said("chart", m.chart.ID+": "+m.chart.Name))
	s.add(said("supply stands", m.supplyWords()))
	s.add(told(fig("sets of this sign", q.Int(m.Sets, q.Piece), q.Piece, 0)))
	if m.wallRow == nil {
		s.note("no-wall", finding.Note, fmt.Sprintf("the table of tubes has no wall for %s: volumes and masses are estimates", m.diameter.Format(q.Millimetre, 1)), "add the size to tubes.csv", "")
	}
	return []Section{s}
}

func (m *maker) exposure() string {
	s := "outdoors"
	if m.Indoors {
		s = "indoors, heated"
	}
	if m.ambient != nil {
		return s + ", never under " + m.ambient.Format(q.Celsius, 0)
	}
	return s + ", least temperature not stated"
}

func (m *maker) colourWords(colour string) string {
	c, _ := m.tables.Table("colours").Find(colour)
	words := colour + ": " + c.Text("seen") + ", " + m.gasRow(colour).Text("name")
	if c.Has("tint") {
		words += ", tint " + c.Text("tint")
	}
	if c.Has("coating") {
		words += ", coating " + c.Text("coating")
	}
	return words
}

func (m *maker) glassWords(glass string) string {
	g, _ := m.tables.Table("glasses").Find(glass)
	return glass + ": " + g.Text("name")
}

// Unchecked lists what the plan does not look at.
func Unchecked() []string {
	return []string{
		"Whether any code is met: codes differ by place and year.",
		"Grounding, bonding, wiring methods, enclosures, disconnects, listing or approval.",
		"The building: what the wall carries and hides, wind, snow.",
		"The glass in hand: expansion, wall, strain, age, colour.",
		"Parts: nameplates and data sheets of electrodes, cable, housings, supplies go first.",
		"Figures graded C, M, M-low, and prices graded invented: the shop puts in its own.",
		"Mercury and waste law, permits, landlord's rules, limits of light.",
	}
}

// recordSection ends the plan: authority and what was not checked.
func (m *maker) recordSection() []Section {
	s := Section{ID: "unchecked", Title: "Who decides; what was not checked", Sheet: "loading"}
	code := m.place.Text("code")
	s.Lines = append(s.Lines, "The authority: the local code ("+code+") and the licensed people under it. Arithmetic is checked, not compliance. Not checked:")
	for _, u := range Unchecked() {
		s.Lines = append(s.Lines, "• "+u)
	}
	s.Lines = append(s.Lines, "Source keys: tubewright tables sources. Grades: P published, D derived, C common practice, M from memory, M-low: could be off.")
	return []Section{s}
}

// cautions adds the cautions of the table that belong on a sheet.
func (m *maker) cautions(sheet string, mercury bool) Section {
	s := Section{ID: "cautions-" + sheet, Title: "Caution", Sheet: sheet}
	for _, r := range m.tables.Table("cautions").Rows {
		if r.Text("sheet") == sheet && (mercury || !slices.Contains([]string{"mercury", "ultraviolet"}, r.Text("caution"))) {
			s.Lines = append(s.Lines, r.Text("text"))
		}
	}
	return s
}

// weightOf returns a length as a weight for the balance: tenths of a millimetre.
func weightOf(l q.Quantity) int64 { return int64(l.Times(10, 1).Ceil(q.Millimetre)) }

// mostKV returns the greatest rating in question.
func (m *maker) mostKV() q.Quantity { return m.Supply.MostKV() }
