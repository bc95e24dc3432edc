package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"tubewright/fonts/nearest"

	"github.com/spf13/pflag"
)

// command is one thing the program does. Its run gives the exit status, or an
// error, which the caller tells.
type command struct {
	name, summary string
	run           func(*console, []string) (int, error)
}

func commands() []command {
	return []command{
		{"make", "the whole job into a folder: patterns, sheets, tables, the record", (*console).make},
		{"proof", "the lit sign on its wall as a picture, for the customer", (*console).proof},
		{"preview", "the glass in 3-D and heat by heat, as a page for any browser", (*console).preview},
		{"check", "the findings, and the least height at which the words can be bent", (*console).check},
		{"trace", "the centrelines alone, of words or of an SVG artwork", (*console).trace},
		{"fonts", "the built-in faces, or how well a face suits a tube", (*console).fonts},
		{"tables", "the shop's reference tables with their sources", (*console).tables},
		{"new", "a commented job file to start from", (*console).newJob},
	}
}

// run carries out one command line. It returns 0 for a clean pattern, 1 where
// no pattern could be made, 2 for wrong usage, and 3 where a pattern was
// written and has an error or a warning among its findings.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	c := &console{in: stdin, out: stdout, err: stderr}
	if len(args) == 0 {
		fmt.Fprint(stderr, overview())
		return statusUsage
	}
	name, rest := args[0], args[1:]
	switch name {
	case "help", "--help", "-h":
		return c.help(rest)
	case "version", "--version":
		fmt.Fprintln(stdout, "tubewright", version())
		return statusClean
	}
	cmd, err := find(name)
	if err != nil {
		return c.fail(err)
	}
	status, err := cmd.run(c, rest)
	if errors.Is(err, pflag.ErrHelp) {
		return c.help([]string{name})
	}
	if err != nil {
		return c.fail(err)
	}
	return status
}

func find(name string) (command, error) {
	var names []string
	for _, cmd := range commands() {
		if cmd.name == name {
			return cmd, nil
		}
		names = append(names, cmd.name)
	}
	names = append(names, "help", "version")
	if near := nearest.Word(name, names); near != "" {
		return command{}, usagef("unknown command %q; did you mean %q?", name, near)
	}
	return command{}, usagef("unknown command %q; the commands are %s", name, strings.Join(names, ", "))
}

func (c *console) help(args []string) int {
	if len(args) == 0 {
		fmt.Fprint(c.out, overview())
		return statusClean
	}
	cmd, err := find(args[0])
	if err != nil {
		return c.fail(err)
	}
	fmt.Fprint(c.out, usage(cmd.name))
	return statusClean
}

// version returns what the Go tool recorded of the source the program was
// built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}
