package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"tubewright/cmd/tubewright/job"
	"tubewright/pattern/shop/record"
)

// isRecord reports whether the argument of make is the record of a job.
func isRecord(o *options) bool {
	return len(o.args) == 1 && strings.EqualFold(filepath.Ext(o.args[0]), ".json")
}

// remake makes one unit again from the record of its job, and says where it is
// not what it was.
func (c *console) remake(o *options) (int, error) {
	path := o.args[0]
	if o.unit == "" {
		return 0, usagef("%s is a record: say which unit to make again, as in tubewright make %s --unit U1", path, path)
	}
	for _, s := range makeSettings() {
		if _, given := o.values[s.Key]; given && s.Key != "out" {
			return 0, usagef("--%s: the record says everything of the job; only --out can be given", s.Key)
		}
	}
	r, j, err := readRecord(path)
	if err != nil {
		return 0, err
	}
	want, ok := r.UnitFiles(o.unit)
	if !ok {
		return 0, usagef("there is no unit %q in %s; it has U1 to U%d", o.unit, path, len(r.Units))
	}
	set, err := r.Restore()
	if err != nil {
		return 0, fmt.Errorf("%s: %w", path, err)
	}
	spec, err := shopSpec(j, set)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", path, err)
	}
	p, err := makePattern(j)
	if err != nil {
		return 0, err
	}
	side, err := makeShop(p, spec)
	if err != nil {
		return 0, err
	}
	if side.print, err = paperOptions(j.Paper, j.Shop.Place); err != nil {
		return 0, fmt.Errorf("%s: %w", path, err)
	}
	c.tellChanged(filepath.Dir(path), r.Files)
	if r.Program != version() {
		c.say("the job was made by version %s, this is %s", r.Program, version())
	}
	files, err := side.unitFiles(o.unit)
	if err != nil {
		return 0, err
	}
	out := filepath.Join(filepath.Dir(path), o.unit)
	if v, given := o.values["out"]; given {
		out = v.Text
	}
	if err := writeFiles(out, files, o.force); err != nil {
		return 0, err
	}
	c.sayWritten(out, files)
	mismatch := record.Compare(want, madeOf(files))
	for _, m := range mismatch {
		// Said even when asked to be quiet: it is glass that will not fit.
		fmt.Fprintf(c.err, "tubewright: %s\n", m)
	}
	if len(mismatch) > 0 {
		return statusFindings, nil
	}
	c.say("%s is what it was", o.unit)
	return statusClean, nil
}

// tellChanged says which files of the job, beside its record, are not what they
// were. A file that is gone is no longer needed, and nothing is said of it.
func (c *console) tellChanged(dir string, files []record.Hash) {
	for _, want := range files {
		data, err := readWhole(filepath.Join(dir, filepath.Base(want.Name)))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			fmt.Fprintf(c.err, "tubewright: %s cannot be held against the record: %v\n", want.Name, err)
		case want.Again(data) != want.SHA256:
			fmt.Fprintf(c.err, "tubewright: %s in %s was changed since the job was made\n", want.Name, dir)
		}
	}
}

func readWhole(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readBounded(f, path, maxMade)
}

// readRecord reads a record and the job in it, and proves the font.
func readRecord(path string) (record.Record, job.Job, error) {
	f, err := os.Open(path)
	if err != nil {
		return record.Record{}, job.Job{}, fmt.Errorf("record: %w", err)
	}
	defer f.Close()
	data, err := readBounded(f, path, record.MaxBytes)
	if err != nil {
		return record.Record{}, job.Job{}, err
	}
	r, err := record.Read(data)
	if err != nil {
		return r, job.Job{}, fmt.Errorf("%s: %w", path, err)
	}
	vs, err := job.Parse(path, []byte(r.Job))
	if err != nil {
		return r, job.Job{}, err
	}
	j, err := job.Complete(vs)
	if err != nil {
		return r, j, err
	}
	face, err := openFace(j.Font)
	if err != nil {
		return r, j, err
	}
	if face.SHA256() != r.Font.SHA256 {
		return r, j, fmt.Errorf("%s: the face %s is not the one the job was made with: its hash is %.12s…, the record has %.12s…; put the old font file back", path, r.Font.Name, face.SHA256(), r.Font.SHA256)
	}
	return r, j, nil
}

// makeUnit makes the sheets of one unit of a job that has no record yet.
func (c *console) makeUnit(j job.Job, side shopSide, o *options) (int, error) {
	files, err := side.unitFiles(o.unit)
	if err != nil {
		return 0, err
	}
	if err := writeFiles(j.Out, files, o.force); err != nil {
		return 0, err
	}
	one, err := side.unit(o.unit)
	if err != nil {
		return 0, err
	}
	status := c.report(one.Findings)
	c.sayWritten(j.Out, files)
	return status, nil
}

func (c *console) sayWritten(dir string, files []file) {
	for _, f := range files {
		c.say("wrote %s", filepath.Join(dir, f.name))
	}
}
