package export

import (
	"encoding/csv"
	"io"
	"strconv"

	"tubewright/geom"
	"tubewright/pattern"
)

// WriteBends writes bends.csv; the package comment describes its columns. It
// returns the first error of w.
func WriteBends(w io.Writer, p pattern.Pattern) error {
	c := csv.NewWriter(w)
	_ = c.Write([]string{"unit", "heat", "kind", "direction", "start_mm", "end_mm", "straight_before_mm",
		"angle_deg", "radius_mm", "x_mm", "y_mm", "z_mm"}) // an error stays in c
	mm := func(v float64) string { return geom.FormatNumber(v, 2) }
	for _, u := range p.Units {
		end := 0.0
		for _, h := range u.Heats {
			_ = c.Write([]string{u.ID, strconv.Itoa(h.Number), h.Kind, h.Direction, mm(h.Start), mm(h.End), mm(h.Start - end),
				mm(h.Angle.Degrees()), mm(h.Radius), mm(h.At.X), mm(h.At.Y), mm(h.At.Z)})
			end = h.End
		}
	}
	c.Flush()
	return c.Error()
}
