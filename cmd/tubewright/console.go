package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"tubewright/cmd/tubewright/job"
	"tubewright/pattern/finding"
)

// Exit statuses.
const (
	statusClean    = 0 // a clean pattern, or what else was asked for
	statusFailed   = 1 // no pattern could be made
	statusUsage    = 2 // wrong usage
	statusFindings = 3 // all was written, and an error or a warning was told
)

// console is where a command reads and speaks: results on out, everything
// else on err.
type console struct {
	in       io.Reader
	out, err io.Writer
	quiet    bool
}

// say tells of progress, unless asked to be quiet.
func (c *console) say(format string, args ...any) {
	if !c.quiet {
		fmt.Fprintf(c.err, format+"\n", args...)
	}
}

// fail tells an error, one line for each thing wrong, and returns its status.
func (c *console) fail(err error) int {
	for _, line := range strings.Split(err.Error(), "\n") {
		fmt.Fprintf(c.err, "tubewright: %s\n", line)
	}
	var u usageError
	if errors.As(err, &u) {
		return statusUsage
	}
	var wrong job.Errors
	if errors.As(err, &wrong) && wrong.AllFlags() {
		return statusUsage
	}
	return statusFailed
}

// mostAlike is how many findings of one kind are told in full; a long sign has
// many that differ only in their place, and all of them are in result.json.
const mostAlike = 3

// report tells the findings, worst first, and returns the status they give. Of
// many of one kind it tells the first, and how many more there are.
func (c *console) report(fs []finding.Finding) int {
	told := map[string]int{}
	for _, f := range fs {
		if told[f.Code]++; told[f.Code] > mostAlike {
			continue
		}
		c.say("%s: %s", f.Severity, f.Message())
		if f.Remedy != "" {
			c.say("  remedy: %s", f.Remedy)
		}
	}
	for _, f := range fs {
		if more := told[f.Code] - mostAlike; more > 0 {
			c.say("%s: and %d more: %s", f.Severity, more, f.What)
			told[f.Code] = 0
		}
	}
	return statusOf(fs)
}

// statusOf returns the status that findings give: an error or a warning breaks
// a rule of bending, a note does not.
func statusOf(fs []finding.Finding) int {
	worst, _ := finding.Worst(fs) // a note where there are none
	return statusFor(worst)
}

// statusFor returns the status of a command whose worst word is of this severity.
func statusFor(worst finding.Severity) int {
	if worst > finding.Note {
		return statusFindings
	}
	return statusClean
}

// usageError is a command line that cannot be understood.
type usageError struct{ message string }

func (e usageError) Error() string { return e.message }

func usagef(format string, args ...any) error {
	return usageError{fmt.Sprintf(format, args...)}
}
