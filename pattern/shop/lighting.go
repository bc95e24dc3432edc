package shop

import (
	"fmt"
	"strings"

	"tubewright/pattern/finding"
	"tubewright/pattern/shop/light"
	q "tubewright/pattern/shop/quantity"
)

// light is what the sign shows.
func (m *maker) light() []Section {
	s := Section{ID: "light", Title: "Light", Sheet: "light"}
	lit := m.sum(func(u Unit) q.Quantity { return u.Lit })
	hidden := m.sum(func(u Unit) q.Quantity { return u.Hidden })
	over := m.paintLength().Sub(hidden)
	seen := lit.Sub(over).Max(q.Int(0, q.Millimetre))
	of := func(f q.Figure) q.Figure { return by(f, measured.Rule, measured.Source, measured.Grade) }
	s.add(of(fig("lit glass", lit, q.Metre, 4)), of(fig("blocked glass, hidden runs", hidden, q.Metre, 4)))
	electrical := q.Int(0, q.Metre)
	for _, c := range m.circuits {
		electrical = electrical.Add(c.Answer.Electrical)
	}
	s.add(by(fig("electrical, chart "+m.chart.ID, electrical, q.Metre, 4), "paint included", m.chart.Source, m.chart.Grade))
	s.add(by(fig("lit, less paint's overlap", seen, q.Metre, 4), "half counts half", "S7", "P"))
	s.add(by(fig("emitting surface", light.EmittingArea(m.diameter, seen), q.SquareCentimetre, 0), "π D × that length", "S7", "D"))
	low, high := m.tables.Row("settings", "watts-low"), m.tables.Row("settings", "watts-high")
	glass := m.sum(func(u Unit) q.Quantity { return u.Glass })
	w := func(u string) q.Quantity { return m.tables.Cell("settings", u, q.WattPerMetre).Mul(glass) }
	s.add(by(span("power in the glass", w("watts-low"), w("watts-high"), q.Watt, 0), low.Text("value")+" to "+high.Text("value")+" W/m", low.Source(), low.Grade()))
	m.flux(&s)
	m.legibility(&s)
	return []Section{s}
}

// flux reckons lumens where the shop's colours state them.
func (m *maker) flux(s *Section) {
	for _, k := range m.glassKinds() {
		c, _ := m.tables.Table("colours").Find(k.Colour)
		if !c.Has("lumens_per_metre") {
			s.add(by(said("light of "+k.Colour, "not known"), "no source: lm/m into colours.csv", "", ""))
			continue
		}
		lit := q.Int(0, q.Millimetre)
		for _, u := range m.units {
			for _, p := range u.Spans {
				if p.Colour == k.Colour {
					lit = lit.Add(u.Lit.Sub(m.diameter.Mul(m.tables.Cell("settings", "paint-overlap", q.One)).Times(int64(2*u.HiddenRuns), 1)).Mul(p.Length).Div(u.Glass))
				}
			}
		}
		per := c.Number("lumens_per_metre", q.LumenPerMetre)
		s.add(by(fig("light of "+k.Colour, per.Mul(lit.Max(q.Int(0, q.Millimetre))), q.Lumen, 0), per.Format(q.LumenPerMetre, 0)+" × lit length less overlap; a unit of two colours is shared by length", c.Source(), c.Grade()))
	}
}

// legibility prints reading distances and the least letter heights.
func (m *maker) legibility(s *Section) {
	h := q.FromFloat(m.p.Spec.Height, q.Millimetre, 1)
	s.add(by(fig("read with ease from", light.DesignDistance(h), q.Metre, 1), "200 × height", "S51a", "P"))
	if d, between, ok := light.FarthestRed(m.tables, h); ok {
		rule := "table"
		if between {
			rule += ", between its rows"
		}
		s.add(by(fig("farthest for red", d, q.Metre, 0), rule, "S82", "P"))
		for _, c := range []string{"blue", "green"} {
			s.add(by(fig("farthest for "+c, light.OfColour(d, c), q.Metre, 0), map[string]string{"blue": "0.75", "green": "0.65"}[c]+" × red", "S22", "P"))
		}
	} else {
		s.add(by(said("farthest for red", "not in the table"), "heights from 2 to 36 in", "S82", "P"))
	}
	s.add(by(fig("painted letters", light.PaintedDistance(h), q.Metre, 0), "29 ft an inch, not lit", "S51b", "P"))
	hard := light.LeastHeight(m.diameter, m.diameter.Times(127, 100))
	easy := light.LeastHeight(m.diameter, m.diameter.Times(2, 1))
	s.add(by(fig("least height of an S or B", hard, q.Millimetre, 0), "4 R + D, R = 1.27 D", "S13", "D"))
	s.add(by(fig("comfortable height", easy, q.Millimetre, 0), "4 R + D, R = 2 D", "", "D"))
	switch {
	case h.Less(hard):
		s.note("letters-low", finding.Warning, fmt.Sprintf("capitals of %s are under the least of %s for this tube", h.Format(q.Millimetre, 0), hard.Format(q.Millimetre, 0)), "make the letters higher, or take a thinner tube", "[D]")
	case h.Less(easy):
		s.note("letters-tight", finding.Note, fmt.Sprintf("capitals of %s are under the comfortable %s for this tube: bends are tight", h.Format(q.Millimetre, 0), easy.Format(q.Millimetre, 0)), "", "[D]")
	}
	if strings.ToUpper(strings.Join(m.p.Spec.Text, "")) != strings.Join(m.p.Spec.Text, "") {
		s.note("lower-case", finding.Note, "lower case: its x-height is what is read", "", "[D]")
	}
}
