package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/export"

	"github.com/spf13/pflag"
)

// make carries out the whole job into a folder, or the sheets of one unit of it.
func (c *console) make(args []string) (int, error) {
	o, err := parse("make", args, makeSettings(), func(fs *pflag.FlagSet, o *options) {
		fs.StringVar(&o.unit, "unit", "", "")
		fs.BoolVar(&o.force, "force", false, "")
		fs.BoolVar(&c.quiet, "quiet", false, "")
	})
	if err != nil {
		return 0, err
	}
	if isRecord(o) {
		return c.remake(o)
	}
	j, err := c.readJob(o)
	if err != nil {
		return 0, err
	}
	side, err := reckon(j)
	if err != nil {
		return 0, err
	}
	if o.unit != "" {
		return c.makeUnit(j, side, o)
	}
	files, err := wholeJob(j, side)
	if err != nil {
		return 0, err
	}
	if err := writeFiles(j.Out, files, o.force); err != nil {
		return 0, err
	}
	status := c.report(side.findings())
	c.say("%s", summary(side.p))
	c.sayWritten(j.Out, files)
	return status, nil
}

// reckon carries out a job up to the pattern and the shop's side of it, nothing drawn:
// all that findings come from.
func reckon(j job.Job) (shopSide, error) {
	set, err := readTables(j.Shop.Tables)
	if err != nil {
		return shopSide{}, err
	}
	spec, err := shopSpec(j, set)
	if err != nil {
		return shopSide{}, err
	}
	print, err := paperOptions(j.Paper, j.Shop.Place)
	if err != nil {
		return shopSide{}, err
	}
	p, err := makePattern(j)
	if err != nil {
		return shopSide{}, err
	}
	side, err := makeShop(p, spec)
	side.print = print
	return side, err
}

// wholeJob makes all files of a job, the record last: it holds the hashes of
// the others.
func wholeJob(j job.Job, side shopSide) ([]file, error) {
	files, err := encode(side)
	if err != nil {
		return nil, err
	}
	drawn, err := drawAll(side.p, side)
	if err != nil {
		return nil, err
	}
	print, err := printedFiles(j, drawn, side.print)
	if err != nil {
		return nil, err
	}
	seen, err := side.seenFiles(j.Proof)
	if err != nil {
		return nil, err
	}
	sheets, err := side.files()
	if err != nil {
		return nil, err
	}
	files = slices.Concat(print, files, seen, sheets)
	kept, err := side.record(j, files)
	if err != nil {
		return nil, err
	}
	return append(files, kept...), nil
}

// makePattern carries out a job up to the pattern.
func makePattern(j job.Job) (pattern.Pattern, error) {
	face, err := openFace(j.Font)
	if err != nil {
		return pattern.Pattern{}, err
	}
	spec, err := layout(j, face)
	if err != nil {
		return pattern.Pattern{}, err
	}
	return pattern.Make(spec)
}

// encode makes the files for other programs, in memory. Each file of a job has a
// mark by which it is known as ours when it is to be replaced.
func encode(s shopSide) ([]file, error) {
	return encodeAll([]output{
		depthView(s.p),
		{"bends.csv", bendsHeader(), func(w io.Writer) error { return export.WriteBends(w, s.p) }},
		{"heats.csv", heatsHeader(), func(w io.Writer) error { return export.WriteHeats(w, s.p) }},
		{"result.json", export.Format, s.result},
	})
}

// bendsHeader and heatsHeader are the first lines by which these files are known.
func bendsHeader() string { return headerOf(export.WriteBends) }

func heatsHeader() string { return headerOf(export.WriteHeats) }

// headerOf is what a table has for a job without units.
func headerOf(write func(io.Writer, pattern.Pattern) error) string {
	var b strings.Builder
	if err := write(&b, pattern.Pattern{}); err != nil {
		panic(err) // a strings.Builder takes everything
	}
	return b.String()
}

// summary says in one line what was made.
func summary(p pattern.Pattern) string {
	glass, heats := 0.0, 0
	for _, u := range p.Units {
		glass += u.Tube.Length()
		heats += len(u.Heats)
	}
	return fmt.Sprintf("%s, %s, %s m of glass in a tube of %s mm",
		count(len(p.Units), "unit"), count(heats, "heat"), geom.FormatNumber(glass/1000, 2), geom.FormatNumber(p.Spec.Rules.Diameter, 3))
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
