package shop

import (
	"tubewright/pattern/finding"
	"tubewright/pattern/shop/quantity"
)

// Note is something the shop must know: a refusal, a warning, a reminder.
type Note struct {
	Severity finding.Severity
	Section  string // id of the section it belongs to
	Unit     string // "" for the job
	Text     string
	Cite     string
}

// Section is one block of a sheet: figures one below the other, a grid, lines
// of text, and room for what is written by hand.
type Section struct {
	ID, Title string
	Sheet     string // which sheet it is for: loading, materials, process, light, price, quote, record
	Unit      string // "U1" where it belongs to one unit
	Figures   []quantity.Figure
	Grid      *Grid
	Lines     []string // paragraphs
	Notes     []Note
	Blanks    []string // names of what is written by hand
}

// Grid is a table of figures, one row each, under column heads. A column is
// aligned to the right where Right says so; Widths are shares of the sheet.
type Grid struct {
	Heads  []string
	Rows   [][]quantity.Figure
	Total  []quantity.Figure // nil for none
	Right  []bool
	Widths []float64
}

// word is a figure of text in a grid.
func word(s string) quantity.Figure { return quantity.Figure{Text: s} }

// fig is a computed figure in a grid or list.
func fig(name string, v quantity.Quantity, u quantity.Unit, decimals int) quantity.Figure {
	return quantity.Figure{Name: name, Value: v, Unit: u, Decimals: decimals}
}

// by adds rule, source and grade.
func by(f quantity.Figure, rule, source, grade string) quantity.Figure {
	f.Rule, f.Source, f.Grade = rule, source, grade
	return f
}

// said is a figure in words.
func said(name, text string) quantity.Figure { return quantity.Figure{Name: name, Text: text} }

func (s *Section) add(fs ...quantity.Figure) { s.Figures = append(s.Figures, fs...) }

func (s *Section) note(sev finding.Severity, text, cite string) {
	s.Notes = append(s.Notes, Note{sev, s.ID, s.Unit, text, cite})
}
