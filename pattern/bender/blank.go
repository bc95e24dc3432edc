package bender

import (
	"fmt"
	"strings"

	"tubewright/pattern"
	"tubewright/pattern/finding"
	"tubewright/pattern/words"
)

// Blank is a field that a remote bender needs and that stands empty in bender.pdf.
type Blank struct {
	Number int
	Key    string   // in the job's order: the same in every language
	Units  []string // those that lack it, where others have it
}

// Blanks returns the needed fields that neither the job nor the pattern fills in, by
// number; a field of units once, with the units that lack it.
func (o Options) Blanks(p pattern.Pattern) []Blank {
	var out []Blank
	for _, f := range fields() {
		if f.need != required {
			continue
		}
		b := Blank{Number: f.number, Key: f.key}
		if f.group != "unit" && f.group != "ends" {
			if o.value(f, p, nil) == "" {
				out = append(out, b)
			}
			continue
		}
		for i := range p.Units {
			if o.value(f, p, &p.Units[i]) == "" {
				b.Units = append(b.Units, p.Units[i].ID)
			}
		}
		if len(b.Units) == 0 {
			continue
		}
		if len(b.Units) == len(p.Units) {
			b.Units = nil
		}
		out = append(out, b)
	}
	return out
}

// label names the field as the book does: "28. Block-out: who paints (U2)".
func (b Blank) label(w words.Words) string {
	return fmt.Sprintf("%d. %s", b.Number, w.Say(fmt.Sprintf("field.%d", b.Number))) + b.units()
}

func (b Blank) units() string {
	if len(b.Units) == 0 {
		return ""
	}
	return " (" + strings.Join(b.Units, ", ") + ")"
}

// Findings returns one note that names all blanks by number and key; none where
// nothing is blank. A note, for most jobs are bent in the house and need no bender.pdf.
func (o Options) Findings(p pattern.Pattern) []finding.Finding {
	var names []string
	for _, b := range o.Blanks(p) {
		names = append(names, fmt.Sprintf("%d %s", b.Number, b.Key)+b.units())
	}
	if len(names) == 0 {
		return nil
	}
	return []finding.Finding{{
		Code: "blank-fields", Severity: finding.Note, File: "bender.pdf",
		What:   fmt.Sprintf("fields that a remote bender needs are blank: %s", strings.Join(names, ", ")),
		Remedy: "give them in the setting order, as in buyer = Rye & Salt; mounted = loose glass, or write them in by hand",
	}}
}
