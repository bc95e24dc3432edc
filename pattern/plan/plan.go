package plan

import (
	"tubewright/pattern/bend"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/order"
	"tubewright/pattern/stick"
	"tubewright/pattern/tube"
)

// Section is a part of a unit that is bent as one.
type Section struct {
	stick.Section
	First, Last int // heats First to Last−1, in the order of travel
	Order       order.Plan
	Block       *order.Block // why there is no order; nil where there is one
	problem     order.Problem
	clear       float64 // the share of the set distance that its welds keep from heats; −1 where there is no place for them
	end         cut     // the splice at its end
}

// Plan is how one unit is made. Sections are in the order of travel, and made in
// that order.
type Plan struct {
	Unit     string
	Sections []Section
	Pieces   []stick.Piece
}

// Forget lets go of what was kept to draw the plan's pictures; it is worked out again
// where they are asked for.
func (p Plan) Forget() {
	for _, s := range p.Sections {
		if s.problem.Bends != nil {
			s.problem.Bends.Forget()
		}
	}
}

// Unit is what is planned. Tables and heats are renumbered in the order of
// making. Avoid are stretches that welds must not touch: where supports are.
type Unit struct {
	ID    string
	Tube  tube.Tube
	Table *bend.Table
	Heats []bend.Heat
	Avoid []stick.Span
}

// maker carries one unit through its planning.
type maker struct {
	u        Unit
	rules    glass.Rules
	length   func(float64) float64
	whole    float64
	sites    []stick.Site
	bends    *order.Bends
	budget   *order.Budget
	findings []finding.Finding
}

// Make plans one unit. It renumbers the unit's heats and table. What cannot be
// made, or needs a look, is in the findings.
func Make(u Unit, rules glass.Rules) (Plan, []finding.Finding) {
	m := &maker{u: u, rules: rules, whole: u.Tube.Length(), bends: order.Prepare(u.Tube, u.Heats),
		budget: order.NewBudget(len(u.Heats))}
	m.length = stick.Allowed(u.Heats, rules.Allowance)
	m.sites = stick.Sites(u.Tube, u.Heats, rules.WeldClear, u.Avoid)
	p := Plan{Unit: u.ID}
	one := m.section(0, m.whole, 0, len(u.Heats), false)
	p.Sections = []Section{one}
	if one.Block != nil {
		if parts := m.splice(); parts != nil {
			p.Sections = parts
		}
	}
	m.finish(&p)
	m.bends.Forget() // hundreds of kB a heat
	return p, append(bend.Findings(u.ID, u.Heats, rules), m.findings...)
}

// section plans what lies between a and b: heats first to last−1; for a trial,
// only as far as to see whether there is an order.
func (m *maker) section(a, b float64, first, last int, trial bool) Section {
	s := Section{First: first, Last: last, Section: stick.Section{Span: stick.Span{From: a, To: b}}}
	heats := m.u.Heats[first:last]
	if len(heats) > 0 {
		s.Head = max(0, m.rules.Hold-(heats[0].From-a))
		s.Tail = max(0, m.rules.Hold-(b-heats[len(heats)-1].To))
	}
	s.Welds, s.clear = m.welds(a, b, s.Head, s.Tail)
	s.problem = order.Problem{Tube: m.u.Tube, Heats: heats, Rules: m.rules, From: a, To: b,
		Head: s.Head, Tail: s.Tail, Welds: s.Welds, Bends: m.bends, Offset: first}
	s.problem.Trial, s.problem.Budget = trial, m.budget
	s.Order, s.Block = order.Find(s.problem)
	return s
}

// welds places the welds of a section: on straights that keep the set distance
// from heated zones, else half of it, a quarter, none. It returns that share, and
// −1 where there is no straight glass to weld at all.
func (m *maker) welds(a, b, head, tail float64) ([]float64, float64) {
	for _, share := range [4]float64{1, 0.5, 0.25, 0} {
		sites := m.sites
		if share < 1 {
			sites = stick.Sites(m.u.Tube, m.u.Heats, share*m.rules.WeldClear, m.u.Avoid)
		}
		if welds, ok := stick.Welds(sites, a, b, head, tail, m.rules.Stick, m.length); ok {
			return welds, share
		}
	}
	return nil, -1
}

// finish numbers the heats in the order of making and cuts the sticks.
func (m *maker) finish(p *Plan) {
	var made []int
	for _, s := range p.Sections {
		m.reportWelds(s)
		if s.Block != nil {
			for i := s.First; i < s.Last; i++ {
				made = append(made, i)
			}
			continue
		}
		for _, step := range s.Order.Steps {
			made = append(made, s.First+step.Heat)
			m.reportAwkward(s.First+step.Heat, step)
		}
	}
	bend.Renumber(m.u.Tube, m.u.Table, m.u.Heats, made)
	m.reportSplices(p.Sections)
	m.reportReach(p.Sections)
	for i, s := range p.Sections {
		p.Pieces = append(p.Pieces, s.Pieces(p.Unit, i, len(p.Pieces)+1, m.u.Heats, m.length)...)
	}
}

// Pictures returns the glass before and after a step of a section, in the bench
// frame.
func (s Section) Pictures(step int) (before, after []order.Strand) {
	return s.problem.Pictures(s.Order, step)
}

// Welds counts the welds of the unit with its two electrodes.
func (p Plan) Welds() int { return max(0, len(p.Pieces)-1) + 2 }
