package card

import (
	"strconv"

	"tubewright/pattern/bend"
	"tubewright/pattern/sheet"
)

// table writes the bend table: the three motions of each arc, with running totals
// from both ends.
func (w *writer) table() {
	const rowHigh = 5.2
	heads := []string{"arc", "heat", "feed", "rotate", "bend", "R", "from A", "to B"}
	edges := []float64{10, 24, 48, 74, 100, 122, 152, 182} // right edges of the columns
	head := func() {
		w.y -= rowHigh
		for i, h := range heads {
			w.add(line(margin+edges[i], w.y, h, text, sheet.Bold, sheet.End))
		}
		w.y -= 1.4
		w.add(rule(margin, w.y, margin+edges[len(edges)-1], w.y, thinLine))
	}
	w.heading("Bend table: mm and degrees, in order of travel from A", 4*rowHigh)
	if first := firstHeat(w.u.Heats); first.Direction != "" {
		w.y = w.lines(margin, w.y, inner, "From seal A the first bend turns "+first.Direction+
			" on the bench. Rotate: turn of the bend plane about the tube since the bend before, right-handed along the travel.", text, sheet.Regular)
	}
	head()
	starts := w.u.Table.Starts()
	whole := starts[len(starts)-1]
	row := func(cells ...string) {
		if w.y-rowHigh < margin {
			w.room(pageHigh)
			head()
		}
		w.y -= rowHigh
		for i, c := range cells {
			w.add(line(margin+edges[i], w.y, c, text, sheet.Regular, sheet.End))
		}
	}
	for i, r := range w.u.Table.Rows {
		row(strconv.Itoa(i+1), strconv.Itoa(r.Bend), mm(r.StraightBefore, 1), mm(r.Rotation.Degrees(), 1), mm(r.Angle.Degrees(), 1),
			mm(r.Radius, 1), mm(starts[i], 1), mm(whole-starts[i]-r.ArcLength(), 1))
	}
	row("end", "", mm(w.u.Table.StraightAfter, 1), "", "", "", mm(whole, 1), "0")
}

// firstHeat returns the first heat along the tube.
func firstHeat(heats []bend.Heat) bend.Heat {
	if len(heats) == 0 {
		return bend.Heat{}
	}
	return heats[0]
}
