package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/export"

	"github.com/spf13/pflag"
)

// checkFormat is the name and version of what check --format json writes.
const checkFormat = "tubewright.check/1"

// check makes the pattern, writes none of its files, and tells what is wrong
// with it and how small the wording could be made.
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
	p, err := makePattern(j)
	if err != nil {
		return 0, err
	}
	least, found := leastHeight(j, p)
	if o.format == "json" {
		err = c.writeCheck(p, least, found)
	} else {
		_, err = fmt.Fprintln(c.out, leastLine(j, least, found))
	}
	return c.report(p.Findings), err
}

func leastLine(j job.Job, least geom.Length, found bool) string {
	tube := geom.Length(j.Rules.Diameter)
	if !found {
		return fmt.Sprintf("no height up to %s was found at which this wording can be bent in a tube of %s", job.MaxHeight, tube)
	}
	return fmt.Sprintf("least height at which this wording can be bent in a tube of %s: %s", tube, least)
}

// writeCheck writes the findings as they stand in result.json, and the least height.
func (c *console) writeCheck(p pattern.Pattern, least geom.Length, found bool) error {
	var b bytes.Buffer
	if err := export.WriteResult(&b, p); err != nil {
		return err
	}
	out := struct {
		Format      string          `json:"format"`
		LengthUnit  string          `json:"length_unit"`
		Job         json.RawMessage `json:"job"`
		Findings    json.RawMessage `json:"findings"`
		LeastHeight *float64        `json:"least_height"` // null: none found
	}{Format: checkFormat, LengthUnit: "mm"}
	if err := json.Unmarshal(b.Bytes(), &out); err != nil {
		return fmt.Errorf("result.json: %w", err)
	}
	out.Format = checkFormat
	if found {
		h := float64(least)
		out.LeastHeight = &h
	}
	enc := json.NewEncoder(c.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}

// leastStep is how near the least height is found, mm.
const leastStep = 1.0

// leastHeight returns the least height at which the job breaks no rule of
// bending, and false where none was found up to the largest height served. The
// whole wording is scaled, spacing and all; tube and rules stay.
//
// From the job's height it goes down by a fifth at a time until the wording
// cannot be bent, or up by a quarter until it can, and then halves the step
// between. Whether a wording can be bent need not follow its height strictly:
// the answer is a height that can be bent, with one within a millimetre below
// that cannot.
func leastHeight(j job.Job, made pattern.Pattern) (geom.Length, bool) {
	lowest := math.Ceil(max(float64(job.MinHeight), 2*j.Rules.Diameter))
	highest := float64(job.MaxHeight)
	good, bad := 0.0, 0.0 // 0: none known yet
	for h := float64(j.Height); good == 0 || bad == 0; {
		if canBend(j, h, made) {
			good, h = h, max(lowest, math.Floor(h*0.8))
		} else {
			bad, h = h, min(highest, math.Ceil(h*1.25))
		}
		switch {
		case bad == 0 && good <= lowest:
			return geom.Length(good), true
		case good == 0 && bad >= highest:
			return 0, false
		}
	}
	for good-bad > leastStep {
		if mid := math.Floor((good + bad) / 2); canBend(j, mid, made) {
			good = mid
		} else {
			bad = mid
		}
	}
	return geom.Length(good), true
}

// canBend reports whether the wording can be bent at height h; made is the
// pattern at the job's own. What cannot even be made cannot be bent.
func canBend(j job.Job, h float64, made pattern.Pattern) bool {
	if h != float64(j.Height) {
		j.LineSpacing *= geom.Length(h) / j.Height
		j.LetterSpacing *= geom.Length(h) / j.Height
		j.Height = geom.Length(h)
		p, err := makePattern(j)
		return err == nil && statusOf(p.Findings) == statusClean
	}
	return statusOf(made.Findings) == statusClean
}
