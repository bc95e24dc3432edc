package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"tubewright": func() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// One script a behaviour, each in a fresh folder. TOP is the top of the
// project, for the examples and the faces.
func TestScripts(t *testing.T) {
	top, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("TOP", top)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"status": status, "empty": empty, "tamper": tamper, "taller": taller, "rehash": rehash},
	})
}

// status N COMMAND ARGS… runs a command and demands its exit status.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command args…")
	}
	got := "0"
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		got = exitCode(err)
	}
	if got != args[0] {
		ts.Fatalf("exit status %s, want %s", got, args[0])
	}
}

// empty FOLDER demands that nothing at all stands in a folder.
func empty(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: empty folder")
	}
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	for _, e := range entries {
		ts.Fatalf("%s was left behind", e.Name())
	}
}

func exitCode(err error) string {
	var exit *exec.ExitError
	if !errors.As(err, &exit) {
		return err.Error()
	}
	return strconv.Itoa(exit.ExitCode())
}

// tamper FILE changes a price in a record, taller FILE its height; rehash FILE
// changes every hash that it keeps of a unit's drawings.
func tamper(ts *testscript.TestScript, neg bool, args []string) {
	edit(ts, args, regexp.MustCompile(`hour,60,`), "hour,61,")
}

func taller(ts *testscript.TestScript, neg bool, args []string) {
	edit(ts, args, regexp.MustCompile(`160mm`), "170mm")
}

func rehash(ts *testscript.TestScript, neg bool, args []string) {
	edit(ts, args, regexp.MustCompile(`("U\d+\.svg",\s*"sha256": ")[0-9a-f]{8}`), "${1}00000000")
}

func edit(ts *testscript.TestScript, args []string, what *regexp.Regexp, by string) {
	path := ts.MkAbs(args[0])
	before := ts.ReadFile(args[0])
	after := what.ReplaceAllString(before, by)
	if after == before {
		ts.Fatalf("%s holds no %s", args[0], what)
	}
	ts.Check(os.WriteFile(path, []byte(after), 0o644))
}
