package pattern

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/sheet"
)

const (
	maxFindings = 20    // marked and listed one by one; more are counted
	findingHigh = 120.0 // mm: a list higher than this goes on in another block
)

// serious returns the errors and warnings in order: they are numbered from F1,
// marked on the glass and listed one by one. Notes are told by their heats.
func (d *drawing) serious() []finding.Finding {
	var out []finding.Finding
	for _, f := range d.p.Findings {
		if f.Severity > finding.Note {
			out = append(out, f)
		}
	}
	return out
}

// findingNotes marks the places of errors and warnings.
func (d *drawing) findingNotes() []note {
	var out []note
	for k, f := range d.serious() {
		if k == maxFindings {
			break
		}
		n := note{group: d.unitIndex(f.Unit), text: fmt.Sprintf("F%d", k+1), size: endSize, font: sheet.Bold, frame: heavyBox}
		n.label.Anchor, n.label.Reach = benchPoint(f.At), d.d/2
		out = append(out, n.sized())
	}
	return out
}

// unitIndex returns the index of the unit with an id, -1 for none.
func (d *drawing) unitIndex(id string) int {
	return slices.IndexFunc(d.p.Units, func(u Unit) bool { return u.ID == id })
}

// findingBlocks list the findings, in as many blocks as they need.
func (d *drawing) findingBlocks() []*block {
	blocks := []*block{newBlock("notes-findings-1", "Findings")}
	room := func() *block {
		last := blocks[len(blocks)-1]
		if last.height > findingHigh {
			last = newBlock(fmt.Sprintf("notes-findings-%d", len(blocks)+1), "Findings, continued")
			blocks = append(blocks, last)
		}
		return last
	}
	serious := d.serious()
	for k, f := range serious {
		b := room()
		if k == maxFindings {
			b.paragraph(0, fmt.Sprintf("… and %d more: see result.json.", len(serious)-k), sheet.Bold)
			break
		}
		weight := sheet.Regular
		if f.Severity == finding.Error {
			weight = sheet.Bold
		}
		b.finding(fmt.Sprintf("F%d", k+1), f.Severity.String()+": "+f.Message(), f.Remedy, weight)
	}
	for _, n := range d.notesByKind() {
		room().finding("note", n.text, n.remedy, sheet.Regular)
	}
	if len(d.p.Findings) == 0 {
		blocks[0].paragraph(0, "None.", sheet.Regular)
	}
	return blocks
}

func (b *block) finding(name, text, remedy string, weight sheet.Font) {
	top := b.height
	b.height += bodyLine
	b.text(0, name, bodySize, sheet.Bold, sheet.Start)
	b.height = top
	b.paragraph(12, text, weight)
	if remedy != "" {
		b.paragraph(12, "Remedy: "+remedy+".", sheet.Regular)
	}
	b.height += 1.5
}

// A kind is all notes that say the same, with the heats they stand nearest to, by
// unit, or their places where a note names no unit with heats.
type kind struct {
	what, remedy string
	text         string
	heats        [][]int
	places       []string
}

// notesByKind gathers the notes that say the same, in order of the first of each.
func (d *drawing) notesByKind() []kind {
	var out []kind
	for _, f := range d.p.Findings {
		if f.Severity > finding.Note {
			continue
		}
		i := slices.IndexFunc(out, func(k kind) bool { return k.what == f.What && k.remedy == f.Remedy })
		if i < 0 {
			i = len(out)
			out = append(out, kind{what: f.What, remedy: f.Remedy, heats: make([][]int, len(d.p.Units))})
		}
		u, number := d.nearestHeat(f)
		if number == 0 {
			out[i].places = append(out[i].places, fmt.Sprintf("(%s, %s)", geom.FormatNumber(f.At.X, 0), geom.FormatNumber(f.At.Y, 0)))
		} else if !slices.Contains(out[i].heats[u], number) {
			out[i].heats[u] = append(out[i].heats[u], number)
		}
	}
	for i := range out {
		out[i].text = out[i].what + ": " + d.where(out[i]) + "."
	}
	return out
}

// where says the places of a kind: "U1 heats 2, 5; U2 heat 1".
func (d *drawing) where(k kind) string {
	parts := k.places
	for u, heats := range k.heats {
		if len(heats) == 0 {
			continue
		}
		slices.Sort(heats)
		numbers := make([]string, len(heats))
		for i, n := range heats {
			numbers[i] = strconv.Itoa(n)
		}
		parts = append(parts, d.p.Units[u].ID+" "+plural(len(heats), "heat ", "heats ")+strings.Join(numbers, ", "))
	}
	return strings.Join(parts, "; ")
}

// nearestHeat returns the index of a finding's unit and the number of its heat that
// is nearest to the finding's place, 0 where it names no unit with heats.
func (d *drawing) nearestHeat(f finding.Finding) (unit, number int) {
	unit = d.unitIndex(f.Unit)
	if unit < 0 {
		return unit, 0
	}
	best := math.Inf(1)
	for _, h := range d.p.Units[unit].Heats {
		if dist := h.At.Dist(f.At); dist < best {
			best, number = dist, h.Number
		}
	}
	return unit, number
}
