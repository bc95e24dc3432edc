package export

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/plan"
	"tubewright/pattern/stick"
)

// WriteHeats writes heats.csv; the package comment describes its columns. It
// returns the first error of w.
func WriteHeats(w io.Writer, p pattern.Pattern) error {
	c := csv.NewWriter(w)
	_ = c.Write([]string{"unit", "heat", "part", "kind", "side", "fire", "angle_deg", "radius_mm", "wall_left", "tight",
		"start_mm", "end_mm", "heated_from_mm", "heated_to_mm", "stick", "stick_from_mm", "stick_to_mm",
		"stays", "swings", "travel_mm", "lift_deg", "before", "strain_with", "x_mm", "y_mm", "z_mm"}) // an error stays in c
	for _, u := range p.Units {
		strains := bend.Strains(u.Heats, p.Spec.Rules)
		for _, t := range u.Plan.Tell(u.Heats, strains, plan.English()) {
			_ = c.Write(heatLine(u, t, strains))
		}
	}
	c.Flush()
	return c.Error()
}

func heatLine(u pattern.Unit, t plan.Told, strains []bend.Strain) []string {
	mm := func(v float64) string { return geom.FormatNumber(v, 2) }
	h := t.Heat
	line := []string{u.ID, strconv.Itoa(h.Number), strconv.Itoa(t.Section + 1), h.Kind, h.Direction, h.Fire,
		mm(h.Angle.Degrees()), mm(h.Radius), mm(h.Wall), yes(h.Tight), mm(h.Start), mm(h.End), mm(h.From), mm(h.To)}
	number, from, to := stick.Zone(u.Plan.Pieces, h.Number)
	line = append(line, strconv.Itoa(number), mm(from), mm(to))
	line = append(line, stepCells(u, t)...)
	return append(line, numbers(u.Heats, strainsOf(strains, u.Heats, h.Number)), mm(h.At.X), mm(h.At.Y), mm(h.At.Z))
}

// stepCells are what stays, what swings, how far, how high, and which heats wait
// for this one; empty in a part without an order.
func stepCells(u pattern.Unit, t plan.Told) []string {
	if t.Step < 0 {
		return make([]string, 5)
	}
	s := u.Plan.Sections[t.Section]
	step := s.Order.Steps[t.Step]
	sides := [2]string{"A", "B"}
	var before []int
	for _, b := range step.Before {
		before = append(before, s.First+b)
	}
	return []string{sides[1-step.Swings], sides[step.Swings], geom.FormatNumber(step.Travel, 1),
		geom.FormatNumber(step.Lift.Degrees(), 0), numbers(u.Heats, before)}
}

// strainsOf returns the indexes of the heats whose zones meet that of a number.
func strainsOf(strains []bend.Strain, heats []bend.Heat, number int) []int {
	var out []int
	for _, s := range strains {
		if heats[s.Before].Number == number {
			out = append(out, s.Before+1)
		}
		if heats[s.Before+1].Number == number {
			out = append(out, s.Before)
		}
	}
	return out
}

// numbers writes heats, given by index, as "3 5".
func numbers(heats []bend.Heat, indexes []int) string {
	var out []string
	for _, i := range indexes {
		out = append(out, strconv.Itoa(heats[i].Number))
	}
	return strings.Join(out, " ")
}

func yes(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}
