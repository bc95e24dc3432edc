package preview_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"slices"
	"strings"
	"testing"

	"tubewright/pattern"
	"tubewright/pattern/export"
	"tubewright/pattern/finding"
	"tubewright/pattern/look"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/preview"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/words"
)

func job(t testing.TB, p pattern.Pattern) preview.Job {
	t.Helper()
	var b bytes.Buffer
	if err := export.WriteResult(&b, p); err != nil {
		t.Fatal(err)
	}
	l, err := look.Find(table.Embedded(), "clear-red")
	if err != nil {
		t.Fatal(err)
	}
	j := preview.Job{Pattern: p, Result: b.Bytes(), Findings: p.Findings, Gap: 6}
	for _, u := range p.Units {
		j.Spans = append(j.Spans, preview.Span{Unit: u.ID, Light: l})
	}
	return j
}

func page(t *testing.T, p pattern.Pattern) string {
	t.Helper()
	var b bytes.Buffer
	if err := preview.Write(&b, job(t, p)); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// part returns what stands in the element of an id, as a browser would end it: at the
// first "</script".
func part(t *testing.T, html, id string) string {
	t.Helper()
	_, rest, ok := strings.Cut(html, `id="`+id+`">`)
	if !ok {
		t.Fatalf("no element %s", id)
	}
	text, _, _ := strings.Cut(rest, "</script")
	return text
}

// The page holds result.json as it is.
func TestResultIsInThePage(t *testing.T) {
	p := patterntest.WithFindings(patterntest.Word("HE", 40, 1))
	j := job(t, p)
	var want, got bytes.Buffer
	if err := json.Compact(&want, j.Result); err != nil {
		t.Fatal(err)
	}
	var v json.RawMessage
	if err := json.Unmarshal([]byte(part(t, page(t, p), "result")), &v); err != nil {
		t.Fatal(err)
	}
	if err := json.Compact(&got, v); err != nil {
		t.Fatal(err)
	}
	var a, b any
	if err := errors.Join(json.Unmarshal(want.Bytes(), &a), json.Unmarshal(got.Bytes(), &b)); err != nil {
		t.Fatal(err)
	}
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	if !bytes.Equal(x, y) {
		t.Error("the result in the page is another")
	}
}

// The page tells each finding of result.json in its own language, by the heats that it
// shows; what has no place on the glass by its file.
func TestFindingsAreToldInTheLanguage(t *testing.T) {
	p := patterntest.WithFindings(patterntest.Word("HE", 40, 1))
	p.Findings[len(p.Findings)-1].What = "a tight bend: gather glass before bending"
	j := job(t, p)
	j.Findings = append(slices.Clone(p.Findings), finding.Finding{Code: "blank-fields", File: "bender.pdf",
		What: "fields that a remote bender needs are blank: 2 buyer", Remedy: "let a bender judge, or allow shorter units"})
	var err error
	if j.Words, err = words.In("de"); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := preview.Write(&b, j); err != nil {
		t.Fatal(err)
	}
	var x struct{ Findings [][2]string }
	if err := json.Unmarshal([]byte(part(t, b.String(), "extra")), &x); err != nil {
		t.Fatal(err)
	}
	if len(x.Findings) != len(j.Findings) {
		t.Fatalf("%d findings told of %d", len(x.Findings), len(j.Findings))
	}
	last, blank := x.Findings[len(p.Findings)-1][0], x.Findings[len(p.Findings)]
	if want := "Eine enge Biegung: vorher Glas stauchen: U1 Hitzen 2"; last != want {
		t.Errorf("%q, want %q", last, want)
	}
	if want := [2]string{"bender.pdf: Angaben, die ein auswärtiger Glasbieger braucht, fehlen: 2 buyer", "einen Bieger entscheiden lassen oder kürzere Röhren zulassen"}; blank != want {
		t.Errorf("%q, want %q", blank, want)
	}
}

// A hostile text ends no element: the page has as many tags as that of a harmless one,
// and its data reads back as what was put in.
func TestHostileTextIsText(t *testing.T) {
	harmless := patterntest.WithFindings(patterntest.Word("HE", 40, 1))
	want := strings.Count(page(t, harmless), "<")
	const bad = "</script><script>alert(1)</script><!--\u2028\u2029<img src=x onerror=alert(1)>{{script}}{{result}}\"'&"
	p := harmless
	p.Spec.Name, p.Spec.Font, p.Spec.Text = bad, bad, []string{bad}
	p.Strokes[0].Text = bad
	p.Findings[0].What, p.Findings[0].Remedy, p.Findings[0].Letter = bad, bad, bad
	html := page(t, p)
	if got := strings.Count(html, "<"); got != want {
		t.Errorf("%d times <, %d in a harmless page", got, want)
	}
	if n := strings.Count(html, "\u2028") + strings.Count(html, "\u2029"); n != 2 { // in the title, as text
		t.Errorf("%d line ends of JavaScript, 2 wanted", n)
	}
	var r struct {
		Job struct {
			Text []string
			Font string
		}
	}
	if err := json.Unmarshal([]byte(part(t, html, "result")), &r); err != nil {
		t.Fatal(err)
	}
	if r.Job.Font != bad || r.Job.Text[0] != bad {
		t.Errorf("the text comes back as %q", r.Job.Text)
	}
}

func TestPageIsSmallAndTheSameTwice(t *testing.T) {
	p := patterntest.Word("HESXHESXHE", 40, 1)
	a, b := page(t, p), page(t, p)
	if a != b {
		t.Error("two pages differ")
	}
	if len(a) >= 1_500_000 {
		t.Errorf("%d bytes for ten letters; under 1,500,000 wanted", len(a))
	}
	for _, outside := range []string{"src=\"http", "href=\"http", "@import", "url(http", "{{"} {
		head, _, _ := strings.Cut(a, `id="result"`)
		if strings.Contains(head, outside) {
			t.Errorf("the page has %s", outside)
		}
	}
}

// The licence of three.js goes with it.
func TestLicenceIsInThePage(t *testing.T) {
	html := page(t, patterntest.Word("H", 40, 1))
	for _, words := range []string{"The MIT License", "Copyright", "three.js authors", "Permission is hereby granted"} {
		if !strings.Contains(html, words) {
			t.Errorf("the page does not say %q", words)
		}
	}
}

// The versions that the bundle is made from are exact, and locked.
func TestVersionsAreExact(t *testing.T) {
	data, err := os.ReadFile("page/package.json")
	if err != nil {
		t.Fatal(err)
	}
	var pkg struct{ DevDependencies map[string]string }
	if err := json.Unmarshal(data, &pkg); err != nil {
		t.Fatal(err)
	}
	lock, err := os.ReadFile("page/package-lock.json")
	if err != nil {
		t.Fatal(err)
	}
	if len(pkg.DevDependencies) == 0 {
		t.Fatal("no dependencies read")
	}
	for name, version := range pkg.DevDependencies {
		if strings.ContainsAny(version, "^~*x<>") || !bytes.Contains(lock, []byte(`"`+name+`": "`+version+`"`)) {
			t.Errorf("%s %s is not an exact, locked version", name, version)
		}
	}
}

func TestWrongJobs(t *testing.T) {
	j := job(t, patterntest.Word("H", 40, 1))
	j.Spans = nil
	if err := preview.Write(io.Discard, j); err == nil || !strings.Contains(err.Error(), "U1 has no light") {
		t.Errorf("no light: %v", err)
	}
	j = job(t, patterntest.Word("H", 40, 1))
	j.Result = []byte("{")
	if err := preview.Write(io.Discard, j); err == nil {
		t.Error("a broken result is no error")
	}
}

func BenchmarkWriteTenLetters(b *testing.B) {
	j := job(b, patterntest.Word("HESXHESXHE", 40, 1))
	for b.Loop() {
		if err := preview.Write(io.Discard, j); err != nil {
			b.Fatal(err)
		}
	}
}
