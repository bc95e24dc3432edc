package pattern

import (
	"fmt"

	"tubewright/pattern/finding"
	"tubewright/pattern/sheet"
)

const (
	maxFindings = 40    // marked on the glass; more are only told
	findingHigh = 120.0 // mm: a list higher than this goes on in another block
)

// findingNotes marks the places of errors and warnings, numbered as the list tells
// them.
func (d *drawing) findingNotes() []note {
	var out []note
	for _, t := range d.told {
		for k, f := range t.Findings {
			if t.First == 0 || t.First+k > maxFindings {
				continue
			}
			n := note{group: UnitOf(d.p, f), text: fmt.Sprintf("F%d", t.First+k), size: d.size.end, font: sheet.Bold, frame: heavyBox}
			n.label.Anchor, n.label.Reach = benchPoint(f.At), d.d/2
			out = append(out, n.sized())
		}
	}
	return out
}

// findingBlocks list the findings by kind, in as many blocks as they need.
func (d *drawing) findingBlocks() []*block {
	blocks := []*block{newBlock("notes-findings-1", d.say("findings"))}
	for _, t := range d.told {
		last := blocks[len(blocks)-1]
		if last.height > findingHigh {
			last = newBlock(fmt.Sprintf("notes-findings-%d", len(blocks)+1), d.say("continued", d.say("findings")))
			blocks = append(blocks, last)
		}
		last.told(t, d.w.Say)
	}
	if len(d.told) == 0 {
		blocks[0].paragraph(0, d.say("findings.none"), sheet.Regular)
	}
	return blocks
}

// told writes one kind of finding: its mark and severity, then what, where, remedy.
func (b *block) told(t Told, say func(string, ...any) string) {
	weight := sheet.Regular
	if t.Severity == finding.Error {
		weight = sheet.Bold
	}
	name := say("severity." + t.Severity.String())
	if m := t.Mark(); m != "" {
		name = m + "  " + name
	}
	b.height += bodyLine
	b.text(0, name, bodySize, sheet.Bold, sheet.Start)
	text := t.Text
	if t.Remedy != "" {
		text += ". " + say("remedy", t.Remedy)
	} else {
		text += "."
	}
	b.paragraph(0, text, weight)
	b.height += 1.5
}
