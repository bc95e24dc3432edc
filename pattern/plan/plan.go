package plan

import (
	"cmp"
	"math"
	"slices"

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
}

// Plan is how one unit is made. Sections are in the order of travel, and made in
// that order.
type Plan struct {
	Unit     string
	Sections []Section
	Pieces   []stick.Piece
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

// spliceEffort bounds the simulations of each search of a splice that is tried;
// the best single splice is looked for in units of up to onceHeats heats.
const (
	spliceEffort = 300
	onceHeats    = 16
)

// maker carries one unit through its planning.
type maker struct {
	u        Unit
	rules    glass.Rules
	length   func(float64) float64
	whole    float64
	sites    []stick.Site
	bends    *order.Bends
	thorough bool // whether trials look further than at a glance
	findings []finding.Finding
}

// Make plans one unit. It renumbers the unit's heats and table. What cannot be
// made, or needs a look, is in the findings.
func Make(u Unit, rules glass.Rules) (Plan, []finding.Finding) {
	m := &maker{u: u, rules: rules, whole: u.Tube.Length(), bends: order.Prepare(u.Tube, u.Heats)}
	m.length = stick.Allowed(u.Heats, rules.Allowance)
	m.sites = stick.Sites(u.Tube, u.Heats, rules.WeldClear, u.Avoid)
	p := Plan{Unit: u.ID}
	one := m.section(0, m.whole, 0, len(u.Heats), false)
	p.Sections = []Section{one}
	if one.Block != nil {
		if parts := m.splice(); parts != nil {
			for i, s := range parts {
				parts[i] = m.section(s.From, s.To, s.First, s.Last, false)
				if parts[i].Block != nil {
					m.reportBlock(parts[i])
				}
			}
			p.Sections = parts
			m.reportSplices(parts)
		} else {
			m.reportBlock(one)
		}
	}
	m.finish(&p)
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
	s.problem.Trial = trial
	if part := first > 0 || last < len(m.u.Heats); trial && m.thorough || part && !trial {
		s.problem.Effort = spliceEffort
	}
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

// splice looks for places to make the unit in parts: one splice if that is
// enough, else as few as it finds from A on. Where the straights that keep the
// set distance from heats do not help, nearer ones are tried, first at a glance,
// then thoroughly. Where nothing helps,
// the parts that cannot be made carry what blocks them, and the others their
// orders; it returns nil where that is no gain.
func (m *maker) splice() []Section {
	for k := range 6 {
		share := [3]float64{1, 0.5, 0.25}[k%3]
		m.thorough = k >= 3
		cuts := m.cuts(stick.Sites(m.u.Tube, m.u.Heats, share*m.rules.WeldClear, m.u.Avoid))
		var parts []Section
		if len(m.u.Heats) <= onceHeats && !m.thorough {
			parts = m.spliceOnce(cuts)
		}
		if parts == nil {
			parts = m.spliceOften(cuts, k == 5)
		}
		if parts != nil {
			if share < 1 {
				m.report(finding.Warning, "weld-near-heat", parts[0].To, "a weld stands nearer to a heated zone than it should",
					"make the letters higher, or end the unit there", share*m.rules.WeldClear, m.rules.WeldClear)
			}
			return parts
		}
	}
	return nil
}

func (m *maker) spliceOnce(cuts []cut) []Section {
	for _, c := range cuts {
		left := m.section(0, c.at, 0, c.heat, true)
		if left.Block != nil {
			continue
		}
		if right := m.section(c.at, m.whole, c.heat, len(m.u.Heats), true); right.Block == nil {
			return []Section{left, right}
		}
	}
	return nil
}

// spliceOften takes from A on as long a part as it can: cut after cut, until a
// longer one no longer works. A part that cannot be made with any end is kept, as
// short as it can be, if blocked parts are to be kept.
func (m *maker) spliceOften(cuts []cut, keepBlocked bool) []Section {
	cuts = append(slices.Clone(cuts), cut{at: m.whole, heat: len(m.u.Heats)})
	slices.SortStableFunc(cuts, func(a, b cut) int { return cmp.Compare(a.at, b.at) })
	var out []Section
	from, first := 0.0, 0
	for i := 0; i < len(cuts); {
		k, s := m.longest(from, first, cuts[i:])
		if s.Block != nil && (!keepBlocked || k == len(cuts) && i == 0) {
			return nil
		}
		out = append(out, s)
		from, first, i = s.To, s.Last, i+k
	}
	if len(out) == 1 {
		return nil
	}
	return out
}

// longest returns the longest part from a place on that has an order, and how many
// of the cuts it uses up; where none has, the shortest part.
func (m *maker) longest(from float64, first int, cuts []cut) (int, Section) {
	var best Section
	used := 0
	for k, c := range cuts {
		next := m.section(from, c.at, first, c.heat, true)
		switch {
		case next.Block == nil || used == 0:
			if used == 0 || next.Block == nil {
				best, used = next, k+1
			}
		case best.Block == nil:
			return used, best
		}
	}
	return used, best
}

// cut is a place to splice: before heat number heat (an index).
type cut struct {
	at     float64
	heat   int
	hidden bool
}

// cuts returns one place in each straight that a weld may stand in, hidden ones
// first, then those that leave the most equal numbers of heats.
func (m *maker) cuts(sites []stick.Site) []cut {
	var out []cut
	for _, s := range sites {
		c := cut{at: (s.From + s.To) / 2, hidden: s.Hidden}
		for c.heat < len(m.u.Heats) && m.u.Heats[c.heat].Start < c.at {
			c.heat++
		}
		if c.heat > 0 && c.heat < len(m.u.Heats) {
			out = append(out, c)
		}
	}
	uneven := func(c cut) float64 { return math.Abs(float64(2*c.heat - len(m.u.Heats))) }
	slices.SortStableFunc(out, func(a, b cut) int {
		if a.hidden != b.hidden {
			if a.hidden {
				return -1
			}
			return 1
		}
		return cmp.Compare(uneven(a), uneven(b))
	})
	return out
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
			if step.Edge {
				m.reportEdge(s.First + step.Heat)
			}
		}
	}
	bend.Renumber(m.u.Tube, m.u.Table, m.u.Heats, made)
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
