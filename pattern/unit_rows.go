package pattern

import (
	"fmt"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/tube"
	"tubewright/pattern/words"
)

// LettersOf returns the letters that a unit lights, in the order of the text.
func LettersOf(p Pattern, u Unit) string {
	lit := map[string]bool{}
	for _, piece := range u.Tube {
		lit[piece.Stroke] = true
	}
	var b strings.Builder
	last := -1
	for _, s := range p.Strokes {
		if lit[s.ID] && s.Letter > last {
			b.WriteString(s.Text)
			last = s.Letter
		}
	}
	return b.String()
}

// UnitRows returns the list of units as the sheets print it: heads, a row a unit, and
// the sums. Lengths are whole mm.
func UnitRows(p Pattern, w words.Words) (heads []string, rows [][]string, sums []string) {
	for _, k := range []string{"unit", "letters", "glass", "lit", "hidden", "legs", "heats"} {
		heads = append(heads, w.Say("col."+k))
	}
	row := func(name, letters string, lengths [4]float64, heats int) []string {
		out := []string{name, letters}
		for _, v := range lengths {
			out = append(out, geom.FormatNumber(v, 0))
		}
		return append(out, fmt.Sprint(heats))
	}
	var all [4]float64
	heats := 0
	for _, u := range p.Units {
		l := [4]float64{u.Tube.Length(), u.Tube.LengthOf(tube.Lit), u.Tube.LengthOf(tube.Hidden), u.Tube.LengthOf(tube.Leg)}
		for k, v := range l {
			all[k] += v
		}
		heats += len(u.Heats)
		rows = append(rows, row(u.ID, LettersOf(p, u), l, len(u.Heats)))
	}
	return heads, rows, row(w.Say("all"), "", all, heats)
}
