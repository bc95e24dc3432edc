package bender

import (
	"fmt"

	"tubewright/pattern"
	"tubewright/pattern/card"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/tube"
	"tubewright/pattern/words"
)

// bendCard is what is pinned up beside the fire, on pages of its own after the sticks
// with their marks: the heats in the order of making, the bend table.
func (b *binder) bendCard(u pattern.Unit, title string, f *paper.Flow) {
	p, w, width := b.p, b.o.Format.Words, f.Width()
	f.Add(card.Sticks(u, w, width)...)
	f.Start(title, w.Say("card"), 1)
	f.Add(card.Facts(p, u, w, width)...)
	f.Gap(3)
	f.Add(paper.Heading(w.Say("card"), width))
	f.Add(paper.Paragraph(w.Say("card.words"), 0, width, sheet.Regular)...)
	f.Add(card.Heats(p, u, w, width)...)
	f.Gap(3)
	f.Add(card.Table(u, w, width)...)
}

// strips adds each stick at true size: a page of its own length, or stretches on
// the pages of the job.
func (b *binder) strips(u pattern.Unit, title string) {
	w, d := b.o.Format.Words, b.p.Spec.Rules.Diameter
	for _, k := range u.Plan.Pieces {
		name := w.Say("strip", k.Number)
		format := b.o.Format
		if !b.o.Tiled && k.Length <= longestSheet {
			format = format.Holding(k.Length+2*stripRoom, card.StripHigh(d)+3*stripRoom)
		}
		f := &paper.Flow{Format: format}
		f.Start(title+": "+name, name, 1)
		f.Add(paper.Paragraph(w.Say("strip.words"), 0, f.Width(), sheet.Regular)...)
		f.Gap(2)
		f.Add(card.Strip(k, d, w, f.Width())...)
		b.take(f, paper.Numbers(fmt.Sprintf("%s-S%d-", u.ID, k.Number), 1))
	}
}

// stripRoom is left about a stick drawn at true size, mm.
const stripRoom = 6.0

// ends tells both electrodes.
func ends(p pattern.Pattern, u pattern.Unit, w words.Words, width float64) []paper.Row {
	var rows []paper.Row
	for _, e := range u.Electrodes {
		way := w.Say("electrode.back")
		if e.Direction.Z > -0.9 {
			way = w.Say("electrode.side")
		}
		rows = append(rows, paper.Entry(w.Say("electrode", e.End), w.Say("electrode.line", w.Number(e.At.X, 1), w.Number(e.At.Y, 1), w.Number(p.Spec.Rules.Leg, 1), way), nameColumn, width))
	}
	return rows
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
		rows = append(rows, paper.Item(fmt.Sprint(i+1), w.Say("span", w.Number(s.From, 1), w.Number(s.To, 1), w.Number(s.To-s.From, 1)), width)...)
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
