package main

import (
	"bytes"
	"encoding/json"
	"fmt"

	"tubewright/geom"
	"tubewright/pattern/finding"

	"github.com/spf13/pflag"
)

// checkFormat is the name and version of what check --format json writes.
const checkFormat = "tubewright.check/1"

// check makes the pattern and the shop's side of it, writes none of the files, and tells
// what is wrong with them and how small the wording could be made.
func (c *console) check(args []string) (int, error) {
	o, err := parse("check", args, checkSettings(), func(fs *pflag.FlagSet, o *options) {
		fs.StringVar(&o.format, "format", "text", "")
		fs.BoolVar(&c.quiet, "quiet", false, "")
	})
	if err != nil {
		return 0, err
	}
	if err := oneOf("format", o.format, "text", "json"); err != nil {
		return 0, err
	}
	j, err := c.readJob(o)
	if err != nil {
		return 0, err
	}
	side, err := reckon(j)
	if err != nil {
		return 0, err
	}
	t := newTrials(j, side.p)
	if o.format == "json" {
		err = c.writeCheck(side, t)
	} else {
		_, err = fmt.Fprintf(c.out, "%s\n%s\n",
			t.line("can be bent", finding.Warning), t.line("can be bent without a warning", finding.Note))
	}
	return c.report(side.findings()), err
}

// line says from which height the wording holds.
func (t *trials) line(what string, worst finding.Severity) string {
	tube := geom.Length(t.job.Rules.Diameter)
	if h, found := t.least(worst); found {
		return fmt.Sprintf("least height at which this wording %s in a tube of %s: %s", what, tube, h)
	}
	return fmt.Sprintf("no height up to %d times the job's was found at which this wording %s in a tube of %s", mostRise, what, tube)
}

// writeCheck writes the findings as they stand in result.json, and the least heights.
func (c *console) writeCheck(side shopSide, t *trials) error {
	var b bytes.Buffer
	if err := side.result(&b); err != nil {
		return err
	}
	out := struct {
		Format      string          `json:"format"`
		LengthUnit  string          `json:"length_unit"`
		Job         json.RawMessage `json:"job"`
		Findings    json.RawMessage `json:"findings"`
		LeastHeight *float64        `json:"least_height"`       // without an error; null: none found
		CleanHeight *float64        `json:"least_clean_height"` // without a warning either
	}{Format: checkFormat, LengthUnit: "mm"}
	if err := json.Unmarshal(b.Bytes(), &out); err != nil {
		return fmt.Errorf("result.json: %w", err)
	}
	out.Format = checkFormat
	for _, l := range []struct {
		worst finding.Severity
		to    **float64
	}{{finding.Warning, &out.LeastHeight}, {finding.Note, &out.CleanHeight}} {
		if h, found := t.least(l.worst); found {
			mm := float64(h)
			*l.to = &mm
		}
	}
	enc := json.NewEncoder(c.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}
