package shopsheet

import (
	"slices"
	"strings"

	"tubewright/pattern/sheet"
	"tubewright/pattern/shop"
)

// Cells for what is written by hand, mm: the name at the top, room under it.
const (
	cellHigh = 8.4
	cellName = 3.6
	cellWide = 23.0 // at least
)

// blankRow draws cells to write in, their names in the corner, in as few lines as
// they take.
func blankRow(names []string, width float64) row {
	var r row
	least := cellWide
	for _, n := range names {
		least = max(least, widthOf(sheet.Printable(n), sheet.Regular)+2)
	}
	columns := max(1, min(len(names), int(width/least)))
	lines := (len(names) + columns - 1) / columns
	columns = (len(names) + lines - 1) / lines
	each := width / float64(columns)
	for i, n := range names {
		x, y := float64(i%columns)*each, float64(i/columns)*cellHigh
		r.text(x+0.8, y+cellName, sheet.Printable(n), sheet.Regular, sheet.Start, grey())
		r.box(x, y, x+each, y+cellHigh, thinLine)
	}
	r.height = float64(lines)*cellHigh + rowGap
	return r
}

// cardRow lays a unit's card out as one row: its figures as running text, and
// under them room for handwriting. The rules stand once, in legendOf.
func cardRow(s shop.Section, width float64) row {
	var r row
	var spans []span
	for i, f := range s.Figures {
		value := f.String()
		if i < len(s.Figures)-1 {
			value += ";"
		}
		spans = append(spans, plain(f.Name), strong(value))
	}
	r.height = r.flow(column(0, width), spans...) + 0.8
	b := blankRow(s.Blanks, width)
	r.put(b, 0, r.height)
	r.height += b.height
	return r
}

// legendOf says once, as running text, by which rules the figures of the cards came;
// neighbours of one rule together.
func legendOf(cards []shop.Section, width float64) []row {
	type entry struct{ names, rule string }
	var list []entry
	var seen [][2]string
	for _, s := range cards {
		for _, f := range s.Figures {
			name, rule := strings.TrimRight(f.Name, " 0123456789"), cited(f) // of circuit C1, C2, … the rule is one
			k := [2]string{name, rule}
			if rule == "" || slices.Contains(seen, k) {
				continue
			}
			seen = append(seen, k)
			if n := len(list) - 1; n >= 0 && list[n].rule == rule {
				list[n].names += ", " + name
				continue
			}
			list = append(list, entry{name, rule})
		}
	}
	var spans []span
	for _, e := range list {
		spans = append(spans, plain(e.names+":"), faint(e.rule+"."))
	}
	return linesOf(paragraphRow(width, spans...))
}

// stageRows write a stage a row: what is done, the published range, and the
// shop's own figure or a line to write it on.
func stageRows(s shop.Section, width float64) []row {
	const own = 20.0
	head := row{height: bodyLine + 0.7}
	head.text(0, bodyLine-baseline, "Stage: what has been published", sheet.Bold, sheet.Start, black())
	head.text(width, bodyLine-baseline, "Own (stages.csv)", sheet.Bold, sheet.End, black())
	out := []row{head}
	for i, f := range s.Figures {
		var r row
		r.height = max(5.2, r.flow(measure{0, width - own - 2, width - own - 2, hang}, strong(f.Name+":"), plain(f.String()), faint(cited(f))))
		if mine := s.Own[i]; mine != "" {
			var p row
			r.height = max(r.height, p.flow(column(0, own), strong(mine)))
			r.put(p, width-own, 0)
		} else {
			r.line(width-own, r.height-0.9, width, r.height-0.9, thinLine)
		}
		r.height += 0.3
		out = append(out, r)
	}
	return out
}
