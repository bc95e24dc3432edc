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
	whole := starts[len(starts)-1]
	var cells [][]string
	for i, r := range u.Table.Rows {
		cells = append(cells, []string{strconv.Itoa(i + 1), strconv.Itoa(r.Bend), mm(r.StraightBefore, 1), degrees(r.Rotation), degrees(r.Angle),
			mm(r.Radius, 1), mm(starts[i], 1), mm(whole-starts[i]-r.ArcLength(), 1)})
	}
	cells = append(cells, []string{w.Say("tag.end"), "", mm(u.Table.StraightAfter, 1), "", "", "", mm(whole, 1), "0"})
	return append(append(out, paper.Row{Height: 1.5, Keep: true}), paper.Table(columns, cells, width)...)
}
