package main

import (
	"bytes"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/finding"
)

// Errors and warnings break a rule, notes do not.
func TestStatusOfFindings(t *testing.T) {
	note, warning, fault := finding.Finding{}, finding.Finding{Severity: finding.Warning}, finding.Finding{Severity: finding.Error}
	for _, tc := range []struct {
		fs   []finding.Finding
		want int
	}{
		{nil, 0}, {[]finding.Finding{note}, 0}, {[]finding.Finding{note, warning}, 3}, {[]finding.Finding{fault, note}, 3},
	} {
		if got := statusOf(tc.fs); got != tc.want {
			t.Errorf("%v: status %d, want %d", tc.fs, got, tc.want)
		}
	}
}

// Of many findings of one kind the first are told in full and the others
// counted; another kind is told whatever came before.
func TestReportCountsWhatIsAlike(t *testing.T) {
	var fs []finding.Finding
	for i := range 40 {
		fs = append(fs, finding.Finding{Code: "strain", What: "strain stays in the glass", At: geom.Point3{X: float64(i)}, Remedy: "anneal"})
	}
	fs = append(fs, finding.Finding{Code: "edge", What: "work at the table's edge"})
	var out bytes.Buffer
	c := &console{err: &out}
	c.report(fs)
	want := `note: at (0, 0): strain stays in the glass
  remedy: anneal
note: at (1, 0): strain stays in the glass
  remedy: anneal
note: at (2, 0): strain stays in the glass
  remedy: anneal
note: at (0, 0): work at the table's edge
note: and 37 more: strain stays in the glass
`
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
	}
	out.Reset()
	c.quiet = true
	if c.report(fs); strings.TrimSpace(out.String()) != "" {
		t.Errorf("a quiet console says\n%s", out.String())
	}
}

// Every command has a help of its own that names its flags.
func TestEveryCommandHasItsHelp(t *testing.T) {
	for _, cmd := range commands() {
		if help := usage(cmd.name); !strings.HasPrefix(help, "usage: tubewright "+cmd.name+" ") {
			t.Errorf("the help of %s begins %q", cmd.name, strings.SplitN(help, "\n", 2)[0])
		}
	}
}
