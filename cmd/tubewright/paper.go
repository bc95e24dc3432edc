package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bender"
	"tubewright/pattern/finding"
	"tubewright/pattern/mount"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/dxf"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/sheet/pdf"
	"tubewright/pattern/sheet/svg"
	"tubewright/pattern/shop"
	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/tile"
	"tubewright/pattern/words"
)

// paperOptions turns the words of a job into how its pages are printed.
func paperOptions(p job.Paper, place string) (bender.Options, error) {
	o := bender.Options{Tiled: p.UnitPages == "tiles", Strips: p.Strips == "yes"}
	f := &o.Format
	name := p.Size
	if name == "" {
		name = "A4"
		if strings.HasPrefix(place, "US") || place == "CA" {
			name = "Letter"
		}
	}
	var err error
	fail := func(key string) (bender.Options, error) { return o, fmt.Errorf("%s: %w", key, err) }
	if f.Size, err = paper.ParseSize(name); err != nil {
		return fail("paper")
	}
	if f.Margin, err = lengthOr(p.Margin, paper.Margin); err != nil {
		return fail("margin")
	}
	if o.Overlap, err = lengthOr(p.Overlap, tile.Overlap); err != nil {
		return fail("overlap")
	}
	if o.Overlap < 10 || o.Overlap > 50 {
		return o, fmt.Errorf("overlap: %g mm; overlaps from 10 to 50 mm are served", o.Overlap)
	}
	if f.Readings.X, err = paper.ParseReading(p.MeasuredX); err != nil {
		return fail("measured-x")
	}
	if f.Readings.Y, err = paper.ParseReading(p.MeasuredY); err != nil {
		return fail("measured-y")
	}
	if o.Hole, err = lengthOr(p.HousingHole, 0); err != nil {
		return fail("housing-hole")
	}
	if p.HousingHole != "" && !(o.Hole >= 5 && o.Hole <= 100) {
		return o, fmt.Errorf("housing-hole: %g mm; holes from 5 to 100 mm are served", o.Hole)
	}
	if f.Words, err = words.In(p.Language); err != nil {
		return fail("language")
	}
	if o.Facts, err = bender.ParseFacts(p.Order); err != nil {
		return fail("order")
	}
	if err = f.Check(); err != nil {
		return fail("paper")
	}
	return o, nil
}

func lengthOr(word string, preset float64) (float64, error) {
	if word == "" {
		return preset, nil
	}
	l, err := geom.ParseLength(word)
	return float64(l), err
}

// printed are the drawings and documents of a job.
type printed struct {
	bench, front *sheet.Sheet
	machine      *sheet.Sheet // front, for a file that goes to no printer
	tiles, book  sheet.Book
}

// drawAll draws all that is printed of a pattern.
func drawAll(p pattern.Pattern, side shopSide) (printed, error) {
	o := side.bookOptions()
	out := printed{bench: pattern.DrawFor(p, benchPrint(side.print, side.plan))}
	var err error
	if out.tiles, err = bender.Tiles(p, out.bench, o); err != nil {
		return out, fmt.Errorf("tiles.pdf: %w", err)
	}
	if out.book, err = bender.Book(p, out.bench, o); err != nil {
		return out, err
	}
	sizes := side.mountOptions()
	out.machine = mount.Draw(p, sizes, o.Format.Words)
	out.front = out.machine
	if sizes.Correction = o.Format.Correction(); sizes.Correction != "" {
		out.front = mount.Draw(p, sizes, o.Format.Words)
	}
	return out, nil
}

// printedFiles are the files for the printer, in memory.
func printedFiles(j job.Job, d printed, o bender.Options) ([]file, error) {
	long := rollOptions(j, o)
	return encodeAll([]output{
		{"pattern.svg", `data-frame="bench"`, func(w io.Writer) error { return svg.EncodeStretched(w, d.bench, long.Stretch) }},
		{"pattern.pdf", "tubewright", func(w io.Writer) error { return pdf.EncodeWith(w, d.bench, long) }},
		{"tiles.pdf", "tubewright", func(w io.Writer) error { return pdf.EncodePages(w, d.tiles) }},
		{"bender.pdf", "tubewright", func(w io.Writer) error { return pdf.EncodePages(w, d.book) }},
		{"mount.svg", `data-frame="front"`, func(w io.Writer) error { return svg.EncodeStretched(w, d.front, long.Stretch) }},
		{"mount.pdf", "tubewright", func(w io.Writer) error { return pdf.EncodeWith(w, d.front, long) }},
		{"mount.dxf", "AC1009", func(w io.Writer) error { return dxf.Encode(w, d.machine) }},
	})
}

// rollOptions say how a drawing for a roll plotter is put on its pages.
func rollOptions(j job.Job, o bender.Options) pdf.Options {
	return pdf.Options{Stretch: o.Format.Readings.Stretch(), OnePage: j.Paper.OnePage == "yes", Words: o.Format.Words}
}

// blanks are the findings of bender.pdf.
func (s shopSide) blanks() []finding.Finding {
	return s.bookOptions().Findings(s.p)
}

// bookOptions are those of bender.pdf, with all that the program knows for it.
func (s shopSide) bookOptions() bender.Options {
	o := withShopFacts(s.print, s.plan)
	o.Facts = append(s.supportFacts(), o.Facts...)
	return o
}

// withShopFacts adds what the shop's side of the job knows; what the job says holds.
func withShopFacts(o bender.Options, plan shop.Plan) bender.Options {
	facts, w := shopFacts(plan, o.Format.Words), o.Format.Words
	if e, ok := electrodeOf(plan); ok {
		jacket := e.Number("jacket_mm", quantity.Millimetre).Format(quantity.Millimetre, 1)
		facts = append(facts, bender.Fact{Field: 29, Text: w.Say("say.electrodes", w.Term(e.Text("name")), strings.TrimSuffix(jacket, " mm"), fmt.Sprint(plan.Spec.Current))})
	}
	if o.Hole != 0 {
		facts = append(facts, bender.Fact{Field: 32, Text: w.Say("say.housings", w.Number(o.Hole, 1))})
	}
	o.Facts = append(facts, o.Facts...)
	return o
}

// benchPrint says what stands on the bench drawings beside the pattern: the words,
// the job's colour, gas, order and approval where it says them, the correction.
func benchPrint(o bender.Options, plan shop.Plan) pattern.Print {
	out := pattern.Print{Words: o.Format.Words, Correction: o.Format.Correction()}
	facts := withShopFacts(o, plan).Facts
	for _, k := range []struct {
		field int
		name  string
	}{{17, "pattern.colour"}, {18, "pattern.gas"}, {1, "pattern.order"}, {45, "pattern.approved"}} {
		var values []string
		for _, f := range facts {
			if f.Field == k.field && !slices.Contains(values, f.Text) {
				values = append(values, f.Text)
			}
		}
		if len(values) > 0 {
			out.Facts = append(out.Facts, pattern.Fact{Name: out.Words.Say(k.name), Value: strings.Join(values, "; ")})
		}
	}
	return out
}

// shopFacts are the bender's fields that the shop's side of the job knows.
func shopFacts(plan shop.Plan, w words.Words) []bender.Fact {
	s := plan.Spec
	exposure := w.Say("say.outdoors")
	if s.Indoors {
		exposure = w.Say("say.indoors")
	}
	if s.Ambient != "" {
		exposure += ", ≥ " + s.Ambient + " °C"
	}
	out := []bender.Fact{{Field: 3, Text: exposure}, {Field: 6, Text: fmt.Sprint(s.Sets)},
		{Field: 35, Text: w.Say("say.supply", w.Term(fmt.Sprint(s.Supply)), s.Current, s.Chart)}}
	if s.Place != "unstated" {
		out = append(out, bender.Fact{Field: 4, Text: s.Place})
	}
	for _, u := range plan.Units {
		fact := func(field int, text string) { out = append(out, bender.Fact{Field: field, Unit: u.ID, Text: text}) }
		row := func(table, key string) func(string) string {
			r, ok := plan.Tables.Table(table).Find(key)
			return func(column string) string {
				if !ok {
					return ""
				}
				return r.Text(column)
			}
		}
		glass, colour := row("glasses", u.Spans[0].Glass), row("colours", u.Spans[0].Colour)
		fact(15, w.Term(glass("class"))+": "+w.Term(glass("name")))
		fact(17, u.Spans[0].Colour+": "+w.Term(colour("seen")))
		fact(18, w.Term(row("gases", u.Gas)("name")))
		if len(u.Spans) > 1 {
			var spans []string
			for _, k := range u.Spans {
				spans = append(spans, fmt.Sprintf("%s, %s: %s", k.Colour, k.Glass, k.Length.Format(quantity.Millimetre, 1)))
			}
			fact(20, "A → "+strings.Join(spans, "; "))
		}
		for _, sec := range plan.Sections {
			if sec.Unit != u.ID {
				continue
			}
			for _, f := range sec.Figures {
				if strings.HasPrefix(f.Name, "CONTAINS Hg") {
					fact(19, f.String())
				}
			}
		}
	}
	return out
}
