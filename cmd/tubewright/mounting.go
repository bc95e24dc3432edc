package main

import (
	"fmt"

	"tubewright/pattern/mount"
	"tubewright/pattern/shop"
	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
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
