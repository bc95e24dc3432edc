package main

import (
	"bytes"
	"fmt"
	"io"
	"os/exec"
	"path/filepath"
	"runtime"

	"tubewright/cmd/tubewright/job"
	"tubewright/pattern/look"
	"tubewright/pattern/preview"
	"tubewright/pattern/proof"
	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/support"

	"github.com/spf13/pflag"
)

// lookAt carries out a job as far as it can be looked at.
func (c *console) lookAt(o *options) (job.Job, shopSide, error) {
	var side shopSide
	j, err := c.readJob(o)
	if err != nil {
		return j, side, err
	}
	set, err := readTables(j.Shop.Tables)
	if err != nil {
		return j, side, err
	}
	spec, err := shopSpec(j, set)
	if err != nil {
		return j, side, err
	}
	print, err := paperOptions(j.Paper, j.Shop.Place)
	if err != nil {
		return j, side, err
	}
	p, err := makePattern(j)
	if err != nil {
		return j, side, err
	}
	side, err = makeShop(p, spec)
	side.print = print
	return j, side, err
}

// seenFiles are the files to look at: the proof for the customer, and the page.
func (s shopSide) seenFiles(p job.Proof) ([]file, error) {
	files, err := s.proofFiles(p)
	if err != nil {
		return nil, err
	}
	page, err := s.page()
	return append(files, page), err
}

// spans returns the light of each stretch of each unit.
func (s shopSide) spans() ([]proof.Span, error) {
	var out []proof.Span
	for _, u := range s.plan.Units {
		at := 0.0
		for _, sp := range u.Spans {
			l, err := look.Find(s.plan.Tables, sp.Colour)
			if err != nil {
				return nil, err
			}
			out = append(out, proof.Span{Unit: u.ID, At: at, Light: l})
			at += sp.Length.Float(quantity.Millimetre)
		}
	}
	return out, nil
}

// supportRule is the shop's rule of where supports go.
func (s shopSide) supportRule() support.Rule {
	cell := func(name string) float64 {
		return s.plan.Tables.Cell("supports", name, quantity.Millimetre).Float(quantity.Millimetre)
	}
	return support.Rule{Spacing: cell("support-spacing"), FromEnd: cell("support-electrode")}
}

// preview writes preview.html: the glass in three dimensions.
func (c *console) preview(args []string) (int, error) {
	open := false
	o, err := parse("preview", args, makeSettings(), func(fs *pflag.FlagSet, o *options) {
		fs.BoolVar(&open, "open", false, "")
		fs.BoolVar(&o.force, "force", false, "")
		fs.BoolVar(&c.quiet, "quiet", false, "")
	})
	if err != nil {
		return 0, err
	}
	j, side, err := c.lookAt(o)
	if err != nil {
		return 0, err
	}
	page, err := side.page()
	if err != nil {
		return 0, err
	}
	if err := writeFiles(j.Out, []file{page}, o.force); err != nil {
		return 0, err
	}
	c.sayWritten(j.Out, []file{page})
	if open {
		return statusClean, openPage(filepath.Join(j.Out, page.name))
	}
	return statusClean, nil
}

// page makes preview.html.
func (s shopSide) page() (file, error) {
	spans, err := s.spans()
	if err != nil {
		return file{}, err
	}
	var result bytes.Buffer
	if err := s.result(&result); err != nil {
		return file{}, err
	}
	job := preview.Job{Pattern: s.p, Result: result.Bytes(), Findings: s.findings(), Support: s.supportRule(), Gap: s.gap(), Words: s.print.Format.Words}
	for _, sp := range spans {
		job.Spans = append(job.Spans, preview.Span(sp))
	}
	files, err := encodeAll([]output{{"preview.html", `<meta name="generator" content="tubewright">`, func(w io.Writer) error { return preview.Write(w, job) }}})
	if err != nil {
		return file{}, err
	}
	return files[0], nil
}

// gap returns the air between glass and wall that the shop keeps.
func (s shopSide) gap() float64 {
	return s.plan.Tables.Cell("supports", "surface-gap", quantity.Millimetre).Float(quantity.Millimetre)
}

// openPage asks the desktop to show a file.
func openPage(path string) error {
	name, args := "xdg-open", []string{path}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", path}
	}
	if err := exec.Command(name, args...).Start(); err != nil {
		return fmt.Errorf("cannot open %s: %w; open it in a browser by hand", path, err)
	}
	return nil
}
