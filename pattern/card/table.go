package card

import (
	"strconv"

	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/words"
)

// Table returns the bend table: the three motions of each arc, with running totals
// from both ends.
func Table(u pattern.Unit, w words.Words, width float64) []paper.Row {
	out := []paper.Row{paper.Heading(w.Say("table"), width)}
	out = append(out, paper.Paragraph(w.Say("table.words"), 0, width, sheet.Regular)...)
	if len(u.Heats) > 0 {
		out = append(out, paper.Paragraph(w.Say("table.first", w.Say("dir."+u.Heats[0].Direction)), 0, width, sheet.Bold)...)
	}
	var columns []paper.Column
	for _, key := range [8]string{"arc", "heat", "feed", "rotate", "angle", "radius", "froma", "tob"} {
		columns = append(columns, paper.Column{Head: w.Say("table." + key), Share: 1, Right: true})
	}
	starts := u.Table.Starts()
	all := starts[len(starts)-1]
	var cells [][]string
	for i, r := range u.Table.Rows {
		row := []string{strconv.Itoa(i + 1), strconv.Itoa(r.Bend)}
		for _, v := range [6]float64{r.StraightBefore, r.Rotation.Degrees(), r.Angle.Degrees(), r.Radius, starts[i], all - starts[i] - r.ArcLength()} {
			row = append(row, w.Fixed(v, 1))
		}
		cells = append(cells, row)
	}
	cells = append(cells, []string{w.Say("tag.end"), "", w.Fixed(u.Table.StraightAfter, 1), "", "", "", w.Fixed(all, 1), w.Fixed(0, 1)})
	return append(append(out, paper.Row{Height: 1.5, Keep: true}), paper.Table(columns, cells, width)...)
}
