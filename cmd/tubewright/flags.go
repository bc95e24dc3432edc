package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"tubewright/cmd/tubewright/job"
	"tubewright/fonts/nearest"

	"github.com/spf13/pflag"
)

// The settings each command takes as flags.
func makeSettings() []job.Setting { return job.Settings() }
func newSettings() []job.Setting  { return job.Settings() }
func checkSettings() []job.Setting {
	return slices.DeleteFunc(job.Settings(), func(s job.Setting) bool { return s.Key == "out" })
}
func traceSettings() []job.Setting {
	return slices.DeleteFunc(job.Settings(), func(s job.Setting) bool {
		return !slices.Contains([]string{"text", "font", "height", "align", "letter-spacing", "line-spacing", "tolerance"}, s.Key)
	})
}

// options is a command line, read.
type options struct {
	values  job.Values // of the flags
	force   bool
	licence bool
	format  string
	outFile string
	unit    string // make: the one unit whose sheets are wanted
	args    []string
}

// settingValue is the flag of one setting. Its text is read with the job as a
// whole, so that a wrong flag and a wrong line are told in the same words.
type settingValue struct {
	setting job.Setting
	values  job.Values
}

func (v settingValue) String() string { return "" }
func (v settingValue) Type() string   { return v.setting.ValueName() }

func (v settingValue) Set(s string) error {
	key := v.setting.Key
	if v.setting.Kind == job.Text {
		s = strings.ReplaceAll(s, `\n`, "\n")
		if before, again := v.values[key]; again {
			s = before.Text + "\n" + s
		}
	}
	v.values[key] = job.Value{Text: s, Place: job.Place{Flag: key}}
	return nil
}

// parse reads the arguments of a command that takes the given settings and
// whatever more adds to the set.
func parse(name string, args []string, settings []job.Setting, more func(*pflag.FlagSet, *options)) (*options, error) {
	o := &options{values: job.Values{}}
	fs := pflag.NewFlagSet(name, pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.Usage = func() {}
	for _, s := range settings {
		fs.Var(settingValue{s, o.values}, s.Key, s.Help)
	}
	more(fs, o)
	if err := singleDash(fs, args); err != nil {
		return nil, err
	}
	if err := fs.Parse(args); err != nil {
		return nil, flagError(fs, err)
	}
	o.args = fs.Args()
	return o, nil
}

// singleDash catches a flag written with one hyphen, which would else be read
// as a row of one-letter flags.
func singleDash(fs *pflag.FlagSet, args []string) error {
	for _, a := range args {
		if a == "--" {
			return nil
		}
		name, _, _ := strings.Cut(strings.TrimPrefix(a, "-"), "=")
		if strings.HasPrefix(a, "-") && !strings.HasPrefix(a, "--") && fs.Lookup(name) != nil {
			return usagef("flags take two hyphens: write --%s", name)
		}
	}
	return nil
}

// flagError puts a flag library's error into our words, with the remedy.
func flagError(fs *pflag.FlagSet, err error) error {
	if errors.Is(err, pflag.ErrHelp) {
		return err
	}
	var unknown *pflag.NotExistError
	var empty *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		var names []string
		fs.VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		name := unknown.GetSpecifiedName()
		if unknown.GetSpecifiedShortnames() != "" {
			name = unknown.GetSpecifiedShortnames()
		}
		if near := nearest.Word(name, names); near != "" {
			return usagef("unknown flag --%s; did you mean --%s?", name, near)
		}
		return usagef("unknown flag --%s; see tubewright help %s", name, fs.Name())
	case errors.As(err, &empty):
		return usagef("--%s needs a value; see tubewright help %s", empty.GetSpecifiedName(), fs.Name())
	case errors.As(err, &invalid):
		return usagef("--%s takes no value but true or false, not %q", invalid.GetFlag().Name, invalid.GetValue())
	}
	return usagef("%v; see tubewright help %s", err, fs.Name())
}

// oneOf checks the value of a flag with a short list of choices.
func oneOf(flag, got string, choices ...string) error {
	if slices.Contains(choices, got) {
		return nil
	}
	if near := nearest.Word(got, choices); near != "" {
		return usagef("--%s %q: did you mean %q?", flag, got, near)
	}
	return usagef("--%s %q: write %s", flag, got, strings.Join(choices, " or "))
}

// readJob completes the job of a command line: the file, if one is named, with
// the flags over it.
func (c *console) readJob(o *options) (job.Job, error) {
	switch len(o.args) {
	case 0:
		j, err := job.Complete(o.values)
		if err != nil {
			return job.Job{}, usageError{err.Error()}
		}
		return j, nil
	case 1:
	default:
		return job.Job{}, usagef("one job file is taken, not %d (%s); put words in quotes after --text", len(o.args), strings.Join(o.args, ", "))
	}
	if isArtwork(o.args[0]) {
		return job.Job{}, usagef("%s is an artwork, not a job file; its centrelines are found by tubewright trace %s", o.args[0], o.args[0])
	}
	data, err := c.readInput(o.args[0])
	if err != nil {
		return job.Job{}, err
	}
	file, err := job.Parse(o.args[0], data)
	if err != nil {
		return job.Job{}, err
	}
	return job.Complete(o.values.Over(file))
}

func (c *console) readInput(name string) ([]byte, error) {
	if name == "-" {
		return readBounded(c.in, "standard input", job.MaxFile)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("job file: %w; to make one, run tubewright new %s; for words without a file, write --text", err, name)
	}
	defer f.Close()
	return readBounded(f, name, job.MaxFile)
}

// readBounded reads all of r, and refuses more than limit bytes of it.
func readBounded(r io.Reader, name string, limit int64) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", name, err)
	}
	if int64(len(data)) > limit {
		return nil, fmt.Errorf("%s is longer than %d bytes, more than such a file ever needs", name, limit)
	}
	return data, nil
}
