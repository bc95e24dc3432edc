package pattern

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/words"
)

// Told is all findings of one kind as the sheets tell them: in one sentence, with
// their places.
type Told struct {
	Severity finding.Severity
	First    int // number of the first on the drawing, 1 for F1; 0 for notes, which are told by their heats
	Findings []finding.Finding
	Text     string // what is wrong and where
	Remedy   string // without a stop at its end
}

// Mark names the findings as the drawing does: "F3", "F3–F7", "" for notes.
func (t Told) Mark() string {
	if t.First == 0 {
		return ""
	}
	if len(t.Findings) == 1 {
		return fmt.Sprintf("F%d", t.First)
	}
	return fmt.Sprintf("F%d–F%d", t.First, t.First+len(t.Findings)-1)
}

// kind gathers findings that say the same but for their figures.
type kind struct {
	key, remedy string
	severity    finding.Severity
	findings    []finding.Finding
	figures     [][]string // of each
}

// TellFindings gathers the findings of a pattern by kind, worst first, in the order
// of the first of each, and tells them in a language.
func TellFindings(p Pattern, w words.Words) []Told {
	w = w.OrEnglish()
	ks := kindsOf(p.Findings, w)
	slices.SortStableFunc(ks, func(a, b *kind) int { return int(b.severity) - int(a.severity) })
	var out []Told
	next := 1
	for _, k := range ks {
		t := Told{Severity: k.severity, Findings: k.findings, Remedy: w.Tell(k.remedy)}
		if k.severity > finding.Note {
			t.First = next
			next += len(k.findings)
		}
		t.Text = capital(k.what(w)) + limits(k.findings, w)
		if where := places(p, k.findings, w); where != "" {
			t.Text += ": " + where
		}
		out = append(out, t)
	}
	return out
}

// TellFinding tells one finding in a language, with its place. What the shop's sheets
// say has no other language, and is told as they do.
func TellFinding(p Pattern, f finding.Finding, w words.Words) string {
	if f.Sheet != "" {
		return f.Message()
	}
	p.Findings = []finding.Finding{f}
	text := TellFindings(p, w)[0].Text
	if f.File != "" {
		text = f.File + ": " + text
	}
	return text
}

// capital writes the first letter of a sentence large.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func kindsOf(fs []finding.Finding, w words.Words) []*kind {
	var out []*kind
	for _, f := range fs {
		key, figures, ok := w.Sentence(f.What)
		if !ok {
			key = f.What
		}
		if len(figures) > 1 {
			key = f.What // sentences about several things at once are told one by one
		}
		i := slices.IndexFunc(out, func(k *kind) bool { return k.key == key && k.remedy == f.Remedy && k.severity == f.Severity })
		if i < 0 {
			i = len(out)
			out = append(out, &kind{key: key, remedy: f.Remedy, severity: f.Severity})
		}
		out[i].findings = append(out[i].findings, f)
		out[i].figures = append(out[i].figures, figures)
	}
	return out
}

// what says what is wrong; of a figure that differs from place to place all are said.
func (k *kind) what(w words.Words) string {
	if len(k.figures[0]) != 1 {
		return w.Tell(k.findings[0].What)
	}
	var all []string
	for _, f := range k.figures {
		if !slices.Contains(all, f[0]) {
			all = append(all, f[0])
		}
	}
	return w.SayStrings(k.key, []string{strings.Join(all, "; ")})
}

// limits says what was measured and what is allowed, where findings have it.
func limits(fs []finding.Finding, w words.Words) string {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, f := range fs {
		if f.Want == 0 {
			return ""
		}
		lo, hi = min(lo, f.Got), max(hi, f.Got)
	}
	a, b, want := w.Number(lo, 1), w.Number(hi, 1), w.Number(fs[0].Want, 1)
	if a == b {
		return ": " + w.Say("limit", a, want)
	}
	return ": " + w.Say("findings.range", a, b, want)
}

// places says where findings are: "U1 heats 2, 5–7; U2 heats 1", and for those far
// from any heat of a unit the letter or the place itself.
func places(p Pattern, fs []finding.Finding, w words.Words) string {
	heats := make([][]int, len(p.Units))
	var loose []string
	for _, f := range fs {
		u, number := nearestHeat(p, f)
		if f.File != "" {
			continue
		}
		if number == 0 {
			if s := place(f); !slices.Contains(loose, s) {
				loose = append(loose, s)
			}
		} else if !slices.Contains(heats[u], number) {
			heats[u] = append(heats[u], number)
		}
	}
	var parts []string
	for u, hs := range heats {
		if len(hs) > 0 {
			slices.Sort(hs)
			parts = append(parts, p.Units[u].ID+" "+w.Say("findings.heats", ranges(hs)))
		}
	}
	return strings.Join(append(parts, loose...), "; ")
}

func place(f finding.Finding) string {
	at := fmt.Sprintf("(%s, %s)", geom.FormatNumber(f.At.X, 0), geom.FormatNumber(f.At.Y, 0))
	if f.Letter != "" {
		return "“" + f.Letter + "” " + at
	}
	return at
}

// ranges writes ascending numbers, runs of three and more as "2–5".
func ranges(ns []int) string {
	var out []string
	for i := 0; i < len(ns); {
		j := i
		for j+1 < len(ns) && ns[j+1] == ns[j]+1 {
			j++
		}
		if j-i >= 2 {
			out = append(out, fmt.Sprintf("%d–%d", ns[i], ns[j]))
		} else {
			for _, n := range ns[i : j+1] {
				out = append(out, strconv.Itoa(n))
			}
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
}

// UnitOf returns the index of the unit a finding is about, by its name or by the
// stroke it names, -1 where it is about none.
func UnitOf(p Pattern, f finding.Finding) int {
	return slices.IndexFunc(p.Units, func(u Unit) bool {
		if f.Unit != "" || f.Stroke == "" {
			return u.ID == f.Unit
		}
		for _, piece := range u.Tube {
			if piece.Stroke == f.Stroke {
				return true
			}
		}
		return false
	})
}

// nearestHeat returns the index of a finding's unit and the number of its heat that
// is nearest to the finding's place, 0 where it is about no unit with heats.
func nearestHeat(p Pattern, f finding.Finding) (unit, number int) {
	unit = UnitOf(p, f)
	if unit < 0 {
		return unit, 0
	}
	best := math.Inf(1)
	for _, h := range p.Units[unit].Heats {
		if dist := h.At.Dist(f.At); dist < best {
			best, number = dist, h.Number
		}
	}
	return unit, number
}
