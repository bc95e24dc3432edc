package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// sums is the name of the file that holds the SHA-256 sums of an example's
// outputs. The PDF is left out: its bytes hang on the compressor of the Go
// release.
const sums = "SHA256SUMS"

// Every example gives, byte for byte, what stands beside its job: the sums of
// all outputs, and those outputs that are small enough to keep for people to
// read. With -update they are written anew.
func TestExamplesGiveWhatStandsBesideThem(t *testing.T) {
	jobs, err := filepath.Glob("../../examples/*/job.toml")
	if err != nil || len(jobs) < 4 {
		t.Fatalf("%d examples found (%v), at least 4 are wanted", len(jobs), err)
	}
	for _, path := range jobs {
		dir := filepath.Dir(path)
		t.Run(filepath.Base(dir), func(t *testing.T) {
			out := t.TempDir()
			var stderr bytes.Buffer
			got := run([]string{"make", path, "--out", out, "--quiet"}, strings.NewReader(""), &stderr, &stderr)
			if got != statusClean && got != statusFindings {
				t.Fatalf("exit status %d\n%s", got, stderr.Bytes())
			}
			// A warning may stand in an example, as it does in many real jobs; an
			// error says that the glass cannot be bent as drawn.
			if n := strings.Count(content(t, filepath.Join(out, "result.json")), `"severity":"error"`); n > 0 {
				t.Errorf("%d errors among the findings", n)
			}
			compareExample(t, dir, out)
		})
	}
}

func compareExample(t *testing.T, dir, out string) {
	t.Helper()
	var lines strings.Builder
	for _, name := range []string{"bends.csv", "pattern.svg", "depth.svg", "result.json"} {
		got := content(t, filepath.Join(out, name))
		fmt.Fprintf(&lines, "%x  %s\n", sha256.Sum256([]byte(got)), name)
		kept := filepath.Join(dir, name)
		if _, err := os.Stat(kept); err != nil {
			continue // not kept: the sum will do
		}
		if *update {
			write(t, kept, got)
		}
		if want := content(t, kept); got != want {
			t.Errorf("%s has changed from line %d on; if that is meant, run go test ./cmd/tubewright -run Examples -update and look at it", kept, firstDifference(got, want))
		}
	}
	if *update {
		write(t, filepath.Join(dir, sums), lines.String())
	}
	if want := content(t, filepath.Join(dir, sums)); lines.String() != want {
		t.Errorf("%s: the outputs are\n%swant\n%s", dir, lines.String(), want)
	}
}

// firstDifference returns the number of the first line in which two texts differ.
func firstDifference(a, b string) int {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return i + 1
		}
	}
	return min(len(x), len(y)) + 1
}
