package shopsheet

import (
	"tubewright/pattern/finding"
	"tubewright/pattern/sheet"
	"tubewright/pattern/shop"
	q "tubewright/pattern/shop/quantity"
)

// Sizes in mm. Text has capitals 2.5 mm high, the least a sheet may have.
const (
	margin    = 10.0
	gutter    = 5.0 // between two columns
	bodySize  = sheet.MinSize
	bodyLine  = 4.0  // from baseline to baseline
	baseline  = 0.95 // of a line over its lower edge
	titleSize = 4.2
	rowGap    = 0.4
	thinLine  = 0.18
	wideLine  = 0.35
)

// row is a piece of a page that is not broken, its top left corner at the origin,
// growing down.
type row struct {
	items  []sheet.Item
	height float64
}

func black() sheet.Colour { return sheet.Grey(0) }
func grey() sheet.Colour  { return sheet.Grey(55) }

// hang is how far the lines after the first are set in.
const hang = 3.0

// mostValue is the share of a line that a value may take at its right end; a
// longer one runs on after the name.
const mostValue = 0.4

// figureRow writes one figure over a width: its name, the rule by which it came
// with source and grade, and at the right end the value.
func figureRow(f q.Figure, width float64) row {
	var r row
	value := sheet.Printable(f.String())
	rule := cited(f)
	wide := widthOf(value, sheet.Bold)
	if wide > mostValue*width {
		r.height = r.flow(measure{0, width, width, hang}, strong(f.Name+":"), plain(value), faint(rule)) + rowGap
		return r
	}
	if value != "" {
		r.text(width, bodyLine-baseline, value, sheet.Bold, sheet.End, black())
	}
	r.height = max(bodyLine, r.flow(measure{0, width, width - wide - 2.5, hang}, plain(f.Name), faint(rule))) + rowGap
	return r
}

// cited is the rule of a figure with its source and grade.
func cited(f q.Figure) string {
	if c := f.Cite(); c != "" {
		return f.Rule + " " + c
	}
	return f.Rule
}

func paragraphRow(width float64, spans ...span) row {
	var r row
	r.height = r.flow(column(0, width), spans...) + rowGap
	return r
}

// noteRow writes a note with a bar at its side.
func noteRow(n shop.Note, width float64) row {
	var r row
	spans := []span{plain("Note: " + n.Text)}
	if n.Severity > finding.Note {
		word := map[finding.Severity]string{finding.Warning: "WARNING: ", finding.Error: "ERROR: "}[n.Severity]
		spans = []span{strong(word + n.Text)}
	}
	if n.Remedy != "" {
		spans = append(spans, plain("→ "+n.Remedy))
	}
	spans = append(spans, faint(n.Cite))
	h := r.flow(column(hang, width-hang), spans...)
	r.line(1, 0.5, 1, h-0.1, 0.8)
	r.height = h + rowGap + 0.6
	return r
}

// cautionRow frames the cautions of a sheet.
func cautionRow(lines []string, width float64) row {
	var r row
	const pad, head = 1.2, 20.0
	y := pad - 0.4
	r.text(2, y+bodyLine-baseline, "CAUTION", sheet.Bold, sheet.Start, black())
	for _, l := range lines {
		var p row
		h := p.flow(column(head, width-head-2), strong(l))
		r.put(p, 0, y)
		y += h + 0.3
	}
	r.height = y + pad
	r.box(0, 0, width, r.height, 0.5)
	r.height += 1
	return r
}

// put adds a row's items at a place of this row.
func (r *row) put(p row, x, y float64) { r.items = append(r.items, moved(p.items, x, y)...) }
