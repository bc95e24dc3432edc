package shop

import (
	"tubewright/pattern/finding"
	q "tubewright/pattern/shop/quantity"
)

// Note is something the shop must know: a refusal, a warning, a reminder.
type Note struct {
	Code     string // short, stable, for programs: "load-light"
	Severity finding.Severity
	Section  string // id of the section it belongs to
	Unit     string // "" for the job
	Text     string
	Remedy   string // what to do, "" where the text says all
	Cite     string
}

// Section is one block of a sheet: figures one below the other, a grid, lines
// of text, and room for what is written by hand.
type Section struct {
	ID, Title string
	Sheet     string // which sheet it is for: loading, materials, process, light, price, quote, record
	Unit      string // "U1" where it belongs to one unit
	Figures   []q.Figure
	Grid      *Grid
	Lines     []string // paragraphs
	Notes     []Note
	Own       []string // the shop's own word beside each figure; of the stages only
	Blanks    []string // names of what is written by hand
}

// Grid is a table of figures, one row each, under column heads. A column is
// aligned to the right where Right says so; Widths are shares of the sheet.
type Grid struct {
	Heads  []string
	Rows   [][]q.Figure
	Total  []q.Figure // nil for none
	Right  []bool
	Widths []float64
	By     []Rule // how the figures of a column are reckoned; a cell's own rule comes before it
}

// Rule says how figures are reckoned, by which source, and its grade; the zero value
// is for a column of words.
type Rule struct{ Rule, Source, Grade string }

// Cell returns a cell with its rule, source and grade.
func (g *Grid) Cell(f q.Figure, column int) q.Figure {
	if f.Text != "" || f.IsBlank() || f.Grade != "" {
		return f
	}
	r := g.By[column]
	return by(f, r.Rule, r.Source, r.Grade)
}

// measured is what is counted or measured on the pattern and its plan.
var measured = Rule{"of the pattern", "", "D"}

// ByJob is the source of a figure that the job says.
const ByJob = "job"

func told(f q.Figure) q.Figure { return by(f, "setting", ByJob, "") }

// word is a figure of text in a grid.
func word(s string) q.Figure { return q.Figure{Text: s} }

// fig is a computed figure in a grid or list.
func fig(name string, v q.Quantity, u q.Unit, decimals int) q.Figure {
	return q.Figure{Name: name, Value: v, Unit: u, Decimals: decimals}
}

// span is a range of computed figures.
func span(name string, least, most q.Quantity, u q.Unit, decimals int) q.Figure {
	f := fig(name, least, u, decimals)
	f.To = &most
	return f
}

// by adds rule, source and grade.
func by(f q.Figure, rule, source, grade string) q.Figure {
	f.Rule, f.Source, f.Grade = rule, source, grade
	return f
}

// said is a figure in words.
func said(name, text string) q.Figure { return q.Figure{Name: name, Text: text} }

func (s *Section) add(fs ...q.Figure) { s.Figures = append(s.Figures, fs...) }

// note adds a note; the remedy may be empty.
func (s *Section) note(code string, sev finding.Severity, text, remedy, cite string) {
	s.Notes = append(s.Notes, Note{code, sev, s.ID, s.Unit, text, remedy, cite})
}
