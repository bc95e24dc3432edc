package bend

import (
	"encoding/csv"
	"io"
	"strconv"

	"tubewright/geom"
)

// Starts returns the developed distance in mm from seal A to where the arc of
// each row begins, and last the whole developed length.
func (tab Table) Starts() []float64 {
	out := make([]float64, 0, len(tab.Rows)+1)
	at := 0.0
	for _, r := range tab.Rows {
		at += r.StraightBefore
		out = append(out, at)
		at += r.ArcLength()
	}
	return append(out, at+tab.StraightAfter)
}

// ArcLength returns the glass in the bend, mm.
func (r Row) ArcLength() float64 { return float64(r.Radius * float64(r.Angle)) }

// Listed is one unit of a table file.
type Listed struct {
	Unit  string
	Table Table
	Heats []Heat
}

// WriteTable writes the bend table of units as CSV, one line an arc in order of
// travel from electrode A, and one line for the straight glass after the last:
//
//	unit, row, heat, kind   the heat that the arc belongs to
//	side                    where the heat turns to on the bench: the side that
//	                        the first bend takes is that of row 1
//	feed_mm                 straight glass since the arc before
//	rotation_deg            turn of the bend plane about the tube since the arc
//	                        before, right-handed about the travel
//	angle_deg, radius_mm    of the centreline
//	from_a_mm, to_b_mm      running totals: from seal A to where the arc begins,
//	                        and from where it ends to seal B
//
// Feed, rotation, angle and radius rebuild the unit to well within 0.01 mm. It
// returns the first error of w.
func WriteTable(w io.Writer, units []Listed) error {
	c := csv.NewWriter(w)
	_ = c.Write([]string{"unit", "row", "heat", "kind", "side", "feed_mm", "rotation_deg", "angle_deg", "radius_mm",
		"from_a_mm", "to_b_mm"}) // an error stays in c
	mm := func(v float64) string { return geom.FormatNumber(v, 5) }
	degrees := func(a geom.Angle) string { return geom.FormatNumber(a.Degrees(), 8) }
	for _, u := range units {
		starts := u.Table.Starts()
		whole := starts[len(starts)-1]
		for i, r := range u.Table.Rows {
			h := heatOf(u.Heats, r.Bend)
			_ = c.Write([]string{u.Unit, strconv.Itoa(i + 1), strconv.Itoa(r.Bend), h.Kind, h.Direction,
				mm(r.StraightBefore), degrees(r.Rotation), degrees(r.Angle), mm(r.Radius),
				mm(starts[i]), mm(whole - starts[i] - r.ArcLength())})
		}
		_ = c.Write([]string{u.Unit, "end", "", "straight", "", mm(u.Table.StraightAfter), "0", "0", "0", mm(whole), "0"})
	}
	c.Flush()
	return c.Error()
}

// heatOf returns the heat with a number, and an empty one where there is none.
func heatOf(heats []Heat, number int) Heat {
	for _, h := range heats {
		if h.Number == number {
			return h
		}
	}
	return Heat{}
}
