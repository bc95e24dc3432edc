package main

import (
	"fmt"
	"strings"

	"tubewright/pattern/bender"
	"tubewright/pattern/look"
	"tubewright/pattern/mount"
	"tubewright/pattern/shop"
	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/support"
)

// mountOptions are the figures of the mounting sheet, from the shop's tables, with
// their sources.
func (s shopSide) mountOptions() mount.Options {
	rule := s.supportRule()
	value := func(key string) float64 {
		return s.plan.Tables.Cell("supports", key, quantity.Millimetre).Float(quantity.Millimetre)
	}
	o := mount.Options{Spacing: rule.Spacing, FromEnd: rule.FromEnd, Surface: s.gap(), KeepOut: value("end-gap"), HousingGap: value("housing-clearance"), Hole: s.print.Hole}
	electrode, found := electrodeOf(s.plan)
	if found {
		o.Jacket = electrode.Number("jacket_mm", quantity.Millimetre).Float(quantity.Millimetre)
	}
	o.Cite = func(key string) string {
		if key == mount.CiteJacket {
			return cited(electrode, found)
		}
		return cited(s.plan.Tables.Row("supports", key), true)
	}
	return o
}

// supportFacts tell the bender of each unit where it is held, named as on the mounting
// sheet, and how far before the surface.
func (s shopSide) supportFacts() []bender.Fact {
	w := s.print.Format.Words
	places := map[string][]string{}
	for i, k := range support.Places(s.p, s.supportRule()) {
		places[k.Unit] = append(places[k.Unit], fmt.Sprintf("S%d %s", i+1, w.Number(k.S, 0)))
	}
	off := w.Number(-look.WallZ(s.p, s.gap()), 1)
	var out []bender.Fact
	for _, u := range s.p.Units {
		if at := places[u.ID]; len(at) > 0 {
			out = append(out, bender.Fact{Field: 33, Unit: u.ID, Text: w.Say("say.supports", off, strings.Join(at, ", "))})
		}
	}
	return out
}

// electrodeOf returns the smallest class that carries the supply's current.
func electrodeOf(plan shop.Plan) (best table.Row, found bool) {
	most := func(r table.Row) float64 {
		return r.Number("most_ma", quantity.Milliampere).Float(quantity.Milliampere)
	}
	for _, r := range plan.Tables.Table("electrodes").Rows {
		if most(r) >= float64(plan.Spec.Current) && (!found || most(r) < most(best)) {
			best, found = r, true
		}
	}
	return best, found
}

// cited names a row's source and grade: "[S32b, P]".
func cited(r table.Row, found bool) string {
	switch {
	case !found:
		return "[M-low]"
	case r.Source() == "":
		return fmt.Sprintf("[%s]", r.Grade())
	}
	return fmt.Sprintf("[%s, %s]", r.Source(), r.Grade())
}
