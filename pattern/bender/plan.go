package bender

import (
	"fmt"
	"slices"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/order"
	"tubewright/pattern/plan"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/stick"
	"tubewright/pattern/tube"
	"tubewright/pattern/words"
)

// messages returns the sentences of a bend plan in a language.
func messages(w words.Words) plan.Messages {
	m := plan.English()
	m.Swing, m.Before, m.Last, m.Join = w.Say("plan.swing"), w.Say("plan.before"), w.Say("plan.last"), w.Say("plan.join")
	m.Edge, m.Lift, m.Pinch = w.Say("plan.edge"), w.Say("plan.lift"), w.Say("plan.pinch")
	m.Gather, m.Strain = w.Say("plan.gather"), w.Say("plan.strain")
	m.Section, m.Splice, m.And = w.Say("plan.section"), w.Say("plan.splice"), w.Say("plan.and")
	m.Fires = map[string]string{bend.Crossfire: w.Say("fire.crossfire"), bend.Ribbon: w.Say("fire.ribbon")}
	m.Ways, m.Reasons = map[order.Way]string{}, map[order.Reason]string{}
	for _, k := range []order.Way{order.FromA, order.FromB, order.Outwards, order.Mixed} {
		m.Ways[k] = w.Say(fmt.Sprintf("way.%d", wayNumber(k)))
	}
	for i, k := range []order.Reason{order.Swing, order.Fire, order.Hold, order.Hand, order.Table} {
		m.Reasons[k] = w.Say(fmt.Sprintf("reason.%d", i))
	}
	return m
}

func wayNumber(k order.Way) int {
	return slices.Index([]order.Way{order.FromA, order.FromB, order.Outwards, order.Mixed}, k)
}

// bendIn says what a heat makes.
func bendIn(w words.Words, h bend.Heat) string {
	kind, dir, radius := w.Say("kind."+h.Kind), w.Say("dir."+h.Direction), mm(h.Radius)
	if h.Kind == bend.Raise || h.Kind == bend.Drop {
		return w.Say("bend.flat", kind, dir, radius)
	}
	return w.Say("bend.angle", kind, dir, geom.FormatNumber(h.Angle.Degrees(), 0), radius)
}

// bendCard lists the heats in the order of making.
func bendCard(p pattern.Pattern, u pattern.Unit, w words.Words, width float64) []paper.Row {
	rows := []paper.Row{paper.Heading(w.Say("card"), width)}
	rows = append(rows, paper.Paragraph(w.Say("card.words"), 0, width, sheet.Regular)...)
	told := u.Plan.Tell(u.Heats, bend.Strains(u.Heats, p.Spec.Rules), messages(w))
	if len(told) < len(u.Heats) {
		rows = append(rows, paper.Paragraph(w.Say("card.noorder"), 0, width, sheet.Bold)...)
	}
	how := map[int]string{}
	for _, t := range told {
		say := t.How
		if len(t.Watch) > 0 {
			for _, k := range t.Watch {
				say += " " + k
			}
		}
		how[t.Heat.Number] = say
	}
	heats := slices.Clone(u.Heats)
	slices.SortStableFunc(heats, func(a, b bend.Heat) int { return a.Number - b.Number })
	var cells [][]string
	for _, h := range heats {
		cells = append(cells, []string{fmt.Sprint(h.Number), bendIn(w, h), w.Say("fire." + h.Fire), mm(h.From) + " … " + mm(h.To), how[h.Number]})
	}
	rows = append(rows, paper.Row{Height: 1.5})
	return append(rows, paper.Table([]paper.Column{{Head: w.Say("col.no"), Share: 0.8}, {Head: w.Say("col.bend"), Share: 2.6}, {Head: w.Say("col.fire"), Share: 2},
		{Head: w.Say("col.from"), Share: 2.5}, {Head: w.Say("col.how"), Share: 5.8}}, cells, width)...)
}

// stickMarks draws each stick, reduced, and lists its marks, so that all can be made
// before the first fire.
func stickMarks(u pattern.Unit, w words.Words, width float64) []paper.Row {
	rows := []paper.Row{paper.Heading(w.Say("sticks"), width)}
	rows = append(rows, paper.Paragraph(w.Say("sticks.words"), 0, width, sheet.Regular)...)
	for _, k := range u.Plan.Pieces {
		title := paper.Paragraph(w.Say("stick", k.Number, mm(k.Length)), 0, width, sheet.Bold)
		for i := range title {
			title[i].Keep = true
		}
		rows = append(rows, paper.Row{Height: 1.5, Keep: true})
		rows = append(rows, title...)
		rows = append(rows, stickPicture(k, width))
		rows = append(rows, markList(k, w, width)...)
	}
	return rows
}

// stickPicture is the stick as a bar with its marks, heated zones filled.
func stickPicture(k stick.Piece, width float64) paper.Row {
	const high = 3.0
	r := paper.Row{Height: 7}
	scale := width / k.Length
	pen := func(w float64) sheet.Pen { return sheet.Pen{Width: w, Colour: sheet.Grey(0)} }
	box := func(a, b, lo, hi float64) geom.Path {
		return sheet.Rectangle(geom.Rect{Min: geom.Point{X: a, Y: lo}, Max: geom.Point{X: b, Y: hi}})
	}
	bottom := -5.5
	zones := sheet.Shape{Fill: sheet.Grey(185)}
	ticks := sheet.Shape{Pen: pen(0.25)}
	starts := map[int]float64{}
	for _, m := range k.Marks {
		x := m.At * scale
		switch m.Kind {
		case stick.HeatsAt:
			starts[m.Heat] = x
		case stick.HeatsTo:
			zones.Paths = append(zones.Paths, box(starts[m.Heat], x, bottom, bottom+high))
		}
		long := 0.0
		if m.Kind == stick.Trim || m.Kind == stick.Weld {
			long = 1.5
		}
		if m.Kind != stick.Middle {
			ticks.Paths = append(ticks.Paths, sheet.Polyline(geom.Point{X: x, Y: bottom - long}, geom.Point{X: x, Y: bottom + high + long}))
		}
	}
	r.Items = []sheet.Item{zones, sheet.Shape{Pen: pen(0.35), Paths: []geom.Path{box(0, width, bottom, bottom+high)}}, ticks}
	return r
}

// markList lists the marks of a stick in four columns, down each.
func markList(k stick.Piece, w words.Words, width float64) []paper.Row {
	const columns = 4
	n := (len(k.Marks) + columns - 1) / columns
	var heads []paper.Column
	for range columns {
		heads = append(heads, paper.Column{Head: w.Say("col.at"), Share: 1, Right: true}, paper.Column{Head: w.Say("col.mark"), Share: 1.6})
	}
	var cells [][]string
	for i := range n {
		row := make([]string, 2*columns)
		for c := range columns {
			if j := c*n + i; j < len(k.Marks) {
				row[2*c], row[2*c+1] = mm(k.Marks[j].At), markIn(w, k.Marks[j])
			}
		}
		cells = append(cells, row)
	}
	return paper.Table(heads, cells, width)
}

func markIn(w words.Words, m stick.Mark) string {
	if m.Heat > 0 {
		return w.Say("mark."+m.Kind, m.Heat)
	}
	return w.Say("mark." + m.Kind)
}

// ends tells both electrodes.
func ends(p pattern.Pattern, u pattern.Unit, w words.Words, width float64) []paper.Row {
	var rows []paper.Row
	for _, e := range u.Electrodes {
		way := w.Say("electrode.back")
		if e.Direction.Z > -0.9 {
			way = w.Say("electrode.side")
		}
		rows = append(rows, paper.Entry(w.Say("electrode", e.End), w.Say("electrode.line", mm(e.At.X), mm(e.At.Y), mm(p.Spec.Rules.Leg), way), nameColumn, width))
	}
	return append(rows, paper.Entry(w.Say("tubulation"), "", nameColumn+24, width))
}

// Span is a stretch of hidden glass to be painted, developed mm from electrode A.
type Span struct{ From, To float64 }

// BlockOut returns the hidden stretches of a unit, in order from A.
func BlockOut(t tube.Tube) []Span {
	var out []Span
	at := 0.0
	for i, p := range t {
		n := p.Seg.Length()
		if p.Role == tube.Hidden {
			if i > 0 && t[i-1].Role == tube.Hidden {
				out[len(out)-1].To = at + n
			} else {
				out = append(out, Span{at, at + n})
			}
		}
		at += n
	}
	return out
}

func blockOut(u pattern.Unit, w words.Words, width float64) []paper.Row {
	rows := []paper.Row{paper.Heading(w.Say("spans"), width)}
	spans := BlockOut(u.Tube)
	if len(spans) == 0 {
		return append(rows, paper.Paragraph(w.Say("spans.none"), 0, width, sheet.Regular)...)
	}
	rows = append(rows, paper.Paragraph(w.Say("spans.words"), 0, width, sheet.Regular)...)
	for i, s := range spans {
		rows = append(rows, paper.Item(fmt.Sprint(i+1), w.Say("span", mm(s.From), mm(s.To), mm(s.To-s.From)), width)...)
	}
	return rows
}

// findings lists what a unit, or the job, breaks: one line a kind, numbered as on the
// drawing of p.
func findings(p pattern.Pattern, w words.Words, width float64) []paper.Row {
	rows := []paper.Row{paper.Heading(w.Say("findings"), width)}
	for _, t := range pattern.TellFindings(p, w) {
		text := w.Say("severity."+t.Severity.String()) + ": " + t.Text + "."
		if t.Remedy != "" {
			text += " " + w.Say("remedy", t.Remedy)
		}
		mark := t.Mark()
		if mark == "" {
			mark = "-"
		}
		rows = append(rows, paper.Item(mark, text, width)...)
		rows = append(rows, paper.Row{Height: 0.8})
	}
	if len(p.Findings) == 0 {
		rows = append(rows, paper.Paragraph(w.Say("findings.none"), 0, width, sheet.Regular)...)
	}
	return rows
}
