package main

import (
	"os"
	"path/filepath"
	"strings"

	"tubewright/cmd/tubewright/job"

	"github.com/spf13/pflag"
)

// sampleText stands in a new job that was given no words (invented).
const sampleText = "RYE & SALT"

// newJob writes a commented job file.
func (c *console) newJob(args []string) (int, error) {
	o, err := parse("new", args, newSettings(), func(fs *pflag.FlagSet, o *options) {
		fs.BoolVar(&o.force, "force", false, "")
		fs.BoolVar(&c.quiet, "quiet", false, "")
	})
	if err != nil {
		return 0, err
	}
	if len(o.args) != 1 {
		return 0, usagef("new takes the name of the job file to write, as in tubewright new rye.toml")
	}
	path := o.args[0]
	base := filepath.Base(path)
	defaults := job.Values{
		"text": {Text: sampleText},
		"name": {Text: strings.TrimSuffix(base, filepath.Ext(base))},
	}
	j, err := job.Complete(o.values.Over(defaults))
	if err != nil {
		return 0, usageError{err.Error()}
	}
	if job.IsFontFile(j.Font) {
		j.Font = relativeTo(filepath.Dir(path), j.Font)
	}
	if j.Shop.Tables != "" {
		j.Shop.Tables = relativeTo(filepath.Dir(path), j.Shop.Tables)
	}
	if _, err := os.Lstat(path); err == nil && !o.force {
		return 0, usagef("%s exists already; choose another name, or write --force to replace it", path)
	}
	if err := writeFiles(filepath.Dir(path), []file{{name: base, data: job.Write(j)}}, true); err != nil {
		return 0, err
	}
	c.say("wrote %s", path)
	return statusClean, nil
}

// relativeTo returns path as it is written in a file of folder dir.
func relativeTo(dir, path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	if rel, err := filepath.Rel(dir, path); err == nil {
		return rel
	}
	return path
}
