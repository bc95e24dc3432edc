package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"tubewright/cmd/tubewright/job"
	"tubewright/pattern"
	"tubewright/pattern/bender"
	"tubewright/pattern/export"
	"tubewright/pattern/finding"
	"tubewright/pattern/sheet/pdf"
	"tubewright/pattern/sheet/svg"
	"tubewright/pattern/shop"
	"tubewright/pattern/shop/load"
	"tubewright/pattern/shop/record"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/shopsheet"
	"tubewright/pattern/words"
)

// shopSpec turns the words of a job into what the shop's sheets are made by, and
// checks it before any glass is reckoned.
func shopSpec(j job.Job, set table.Set) (shop.Spec, error) {
	s := j.Shop
	spec := shop.Spec{
		Tables: &set, Colour: s.Colour, Glass: s.Glass, Place: s.Place, Indoors: s.Exposure == "indoors",
		SupplyIn: s.SupplyIn, Conduit: s.Conduit,
		Ambient: s.Ambient, Chart: s.Chart, Interpolate: s.Between == "interpolate", Class: s.Class, Currency: s.Currency,
	}
	if i := slices.Index(load.Kinds(), s.Supply); i >= 0 {
		spec.Supply = load.Kind(i)
	}
	for _, n := range []struct {
		key, word, unit string
		field           *int
	}{
		{"current", s.Current, "mA", &spec.Current}, {"mains-volts", s.MainsVolts, "V", &spec.MainsVolts},
		{"mains-amperes", s.MainsAmperes, "A", &spec.MainsAmperes}, {"sets", s.Sets, "", &spec.Sets},
	} {
		if n.word == "" {
			continue
		}
		v, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(n.word, n.unit)))
		if err != nil || v <= 0 {
			return spec, fmt.Errorf("%s: %q is not a whole number above 0; write it as in %s = \"30%s\"", n.key, n.word, n.key, n.unit)
		}
		*n.field = v
	}
	var err error
	if spec.Words, err = words.In(j.Paper.Language); err != nil {
		return spec, fmt.Errorf("language: %w", err)
	}
	if spec.Changes, err = shop.ParseChanges(s.Changes); err != nil {
		return spec, fmt.Errorf("colour-changes: %w", err)
	}
	if spec.OffCuts, err = shop.ParseOffCuts(s.OffCuts); err != nil {
		return spec, err
	}
	if spec.SupplyAt, err = shop.ParsePlace(s.SupplyAt); err != nil {
		return spec, fmt.Errorf("supply-at: %w", err)
	}
	if spec.Leads, err = shop.ParseLeads(s.Leads); err != nil {
		return spec, err
	}
	return spec, spec.Check()
}

// shopSide is the shop's side of a job, reckoned.
type shopSide struct {
	p     pattern.Pattern
	plan  shop.Plan
	print bender.Options // how the sheets are printed; the zero value is English on paper that is true
}

func makeShop(p pattern.Pattern, spec shop.Spec) (shopSide, error) {
	plan, err := shop.Make(p, spec)
	if err != nil {
		return shopSide{}, fmt.Errorf("shop sheets: %w", err)
	}
	return shopSide{p: p, plan: plan}, nil
}

// output is a file to encode.
type output struct {
	name, mark string
	write      func(io.Writer) error
}

// encodeAll makes files in memory.
func encodeAll(list []output) ([]file, error) {
	var files []file
	for _, o := range list {
		var b bytes.Buffer
		if err := o.write(&b); err != nil {
			return nil, err
		}
		files = append(files, file{o.name, b.Bytes(), o.mark})
	}
	return files, nil
}

func csvMark() string { return strings.Join(shop.Header(), ",") }

// files are the shop's sheets of the whole job.
func (s shopSide) files() ([]file, error) {
	return encodeAll([]output{
		{"shop.pdf", "tubewright", func(w io.Writer) error { return pdf.EncodeBook(w, shopsheet.Draw(s.p, s.plan)) }},
		{"quote.pdf", "tubewright", func(w io.Writer) error { return pdf.EncodeBook(w, shopsheet.DrawQuote(s.plan)) }},
		{"shop.csv", csvMark(), s.plan.WriteCSV},
		{"cuts.csv", strings.Join(shop.CutsHeader(), ","), s.plan.WriteCuts},
	})
}

// unit returns the pattern of one unit alone.
func (s shopSide) unit(id string) (pattern.Pattern, error) {
	i := slices.IndexFunc(s.p.Units, func(u pattern.Unit) bool { return u.ID == id })
	if i < 0 {
		return pattern.Pattern{}, usagef("there is no unit %q; the job has U1 to U%d", id, len(s.p.Units))
	}
	return pattern.Alone(s.p, i), nil
}

// unitFiles are the sheets of one unit alone; the record keeps their hashes.
func (s shopSide) unitFiles(id string) ([]file, error) {
	one, err := s.unit(id)
	if err != nil {
		return nil, err
	}
	drawn, stretch := pattern.DrawFor(one, benchPrint(s.print, s.plan)), s.print.Format.Readings.Stretch()
	list := []output{
		{id + ".svg", `data-frame="bench"`, func(w io.Writer) error { return svg.EncodeStretched(w, drawn, stretch) }},
		{id + "-bends.csv", bendsHeader(), func(w io.Writer) error { return export.WriteBends(w, one) }},
		{id + "-heats.csv", heatsHeader(), func(w io.Writer) error { return export.WriteHeats(w, one) }},
		{id + "-shop.csv", csvMark(), func(w io.Writer) error { return s.plan.WriteUnitCSV(w, id) }},
	}
	card, err := shopsheet.DrawUnit(s.plan, id)
	if err != nil {
		return nil, err
	}
	return encodeAll(append(list,
		output{id + ".pdf", "tubewright", func(w io.Writer) error {
			return pdf.EncodeWith(w, drawn, pdf.Options{Stretch: stretch, Words: s.print.Format.Words})
		}},
		output{id + "-card.pdf", "tubewright", func(w io.Writer) error { return pdf.EncodeBook(w, card) }}))
}

// unitHashes makes the sheets of every unit for their hashes: the units by
// themselves, as many at a time as there are processors.
func (s shopSide) unitHashes() ([]record.Unit, error) {
	out := make([]record.Unit, len(s.p.Units))
	failed := make([]error, len(out))
	var workers sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			for i := range next {
				id := s.p.Units[i].ID
				files, err := s.unitFiles(id)
				out[i], failed[i] = record.Unit{ID: id, Files: hashesOf(files)}, err
			}
		})
	}
	for i := range out {
		next <- i
	}
	close(next)
	workers.Wait()
	return out, errors.Join(failed...)
}

func madeOf(files []file) []record.File {
	var out []record.File
	for _, f := range files {
		out = append(out, record.File{Name: f.name, Data: f.data})
	}
	return out
}

func hashesOf(files []file) []record.Hash {
	var out []record.Hash
	for _, f := range files {
		out = append(out, record.HashOf(f.name, f.data))
	}
	return out
}

// record returns record.json, and the copy of the font file where the face is not
// built in.
func (s shopSide) record(j job.Job, made []file) ([]file, error) {
	r := record.Record{Program: version(), Tables: record.TablesOf(s.plan.Tables), Files: hashesOf(made)}
	face, err := openFace(j.Font)
	if err != nil {
		return nil, err
	}
	r.Font = record.Font{Name: fontName(face), SHA256: face.SHA256()}
	var out []file
	if job.IsFontFile(j.Font) {
		data, err := os.ReadFile(j.Font)
		if err != nil {
			return nil, fmt.Errorf("font file: %w", err)
		}
		r.Font.File = "font" + strings.ToLower(filepath.Ext(j.Font))
		j.Font = "./" + r.Font.File
		out = append(out, file{r.Font.File, data, string(data)})
	}
	j.Out, j.Shop.Tables, j.Proof.Picture = j.Name, "", ""
	r.Job = string(job.Write(j))
	if r.Units, err = s.unitHashes(); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := r.Write(&b); err != nil {
		return nil, err
	}
	return append(out, file{"record.json", b.Bytes(), record.Format}), nil
}

// result writes result.json: the pattern, the sums of the shop's sheets, and all
// findings.
func (s shopSide) result(w io.Writer) error {
	sums, spec := s.plan.Sums(), s.plan.Spec
	out := export.Shop{Colour: spec.Colour, Glass: spec.Glass, Place: spec.Place, Chart: spec.Chart,
		Lit: sums.Lit, Blocked: sums.Hidden, Legs: sums.Legs, Developed: sums.Glass, Electrical: sums.Electrical, Cable: sums.Cable, Paint: sums.Paint,
		Bends: sums.Bends, Sticks: sums.Sticks, Welds: sums.Welds, Electrodes: sums.Electrodes, Supports: sums.Supports, Mercury: sums.Mercury,
		Findings: slices.Concat(s.plan.Findings(), s.blanks())}
	for _, c := range sums.Circuits {
		out.Circuits = append(out.Circuits, export.Circuit{ID: c.ID, Chart: c.Chart, Units: c.Units, Developed: c.Glass, Electrical: c.Electrical,
			KV: c.KV, VoltAmperes: c.VoltAmperes, Share: c.Share})
	}
	return export.WriteJob(w, s.p, out)
}

// findings are those of the glass, the shop's sheets and bender.pdf, worst first.
func (s shopSide) findings() []finding.Finding {
	out := slices.Concat(s.p.Findings, s.plan.Findings(), s.blanks())
	finding.Sort(out)
	return out
}
