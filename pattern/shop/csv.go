package shop

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	q "tubewright/pattern/shop/quantity"
)

// Header is the first line of shop.csv, by which the file is known.
func Header() []string {
	return []string{"sheet", "section", "unit", "name", "value", "measure", "rule", "source", "grade"}
}

// WriteCSV writes every figure of the plan, one a line, in the order of the
// sheets; amounts of money are in the plan's currency. The rows of a grid are
// named by their first cell and the head of the column.
func (p Plan) WriteCSV(w io.Writer) error { return p.writeCSV(w, func(Section) bool { return true }) }

// WriteUnitCSV writes the figures of one unit alone.
func (p Plan) WriteUnitCSV(w io.Writer, unit string) error {
	return p.writeCSV(w, func(s Section) bool { return s.Unit == unit })
}

func (p Plan) writeCSV(w io.Writer, wanted func(Section) bool) error {
	c := csv.NewWriter(w)
	c.Write(Header()) // the writer keeps its first error for Error
	for _, s := range p.Sections {
		if !wanted(s) {
			continue
		}
		for _, f := range s.Figures {
			p.line(c, s, f.Name, f)
		}
		if s.Grid != nil {
			for _, row := range s.Grid.Rows {
				p.gridRow(c, s, row)
			}
			if s.Grid.Total != nil {
				p.gridRow(c, s, s.Grid.Total)
			}
		}
		for _, n := range s.Notes {
			c.Write([]string{s.Sheet, s.ID, s.Unit, n.Severity.String(), n.Text, "", n.Remedy, "", n.Cite})
		}
	}
	c.Flush()
	return c.Error()
}

func (p Plan) gridRow(c *csv.Writer, s Section, row []q.Figure) {
	for i, f := range row[1:] {
		if f.String() != "" {
			p.line(c, s, fmt.Sprintf("%s: %s", row[0], s.Grid.Heads[i+1]), s.Grid.Cell(f, i+1))
		}
	}
}

func (p Plan) line(c *csv.Writer, s Section, name string, f q.Figure) {
	value, measure := f.Text, ""
	if f.Text == "" {
		value, measure = f.Value.Number(f.Unit, f.Decimals), f.Unit.Symbol()
		if f.To != nil {
			value += " to " + f.To.Number(f.Unit, f.Decimals)
		}
		if f.Unit == q.Money {
			measure = p.Spec.Currency
		}
	}
	c.Write([]string{s.Sheet, s.ID, s.Unit, harmless(name), harmless(value), harmless(measure), harmless(f.Rule), f.Source, f.Grade})
}

// harmless marks as text what a spreadsheet would take for a formula: the words of
// a job may come from anybody. A number stays a number.
func harmless(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@", rune(cell[0])) {
		return cell
	}
	if _, err := q.Parse(cell, q.One); err == nil {
		return cell
	}
	return "'" + cell
}

// CutsHeader is the first line of cuts.csv, by which the file is known.
func CutsHeader() []string {
	return []string{"colour", "glass", "stick", "unit", "length_mm", "off_cut_mm", "from_off_cut_mm"}
}

// WriteCuts writes the cut list, one piece a line: of which stick of its colour and
// glass, counted from 1, and what is left of that stick in the end. A piece of stick
// 0 is cut from an off-cut of the rack, whose length stands last.
func (p Plan) WriteCuts(w io.Writer) error {
	c := csv.NewWriter(w)
	c.Write(CutsHeader())
	for _, k := range p.Cuts {
		rack := ""
		if k.Stick == 0 {
			rack = k.Rack.Number(q.Millimetre, 1)
		}
		c.Write([]string{k.Colour, k.Glass, fmt.Sprint(k.Stick), k.Unit, k.Length.Number(q.Millimetre, 1), k.OffCut.Number(q.Millimetre, 1), rack})
	}
	c.Flush()
	return c.Error()
}
