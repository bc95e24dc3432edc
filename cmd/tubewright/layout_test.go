package main

import (
	"errors"
	"math"
	"strings"
	"testing"

	"tubewright/cmd/tubewright/job"
	"tubewright/fonts"
	"tubewright/geom"
	"tubewright/pattern"
)

// jobOf completes a job from flags, written as key and value in turn.
func jobOf(t testing.TB, settings ...string) job.Job {
	t.Helper()
	vs := job.Values{}
	for i := 0; i < len(settings); i += 2 {
		vs[settings[i]] = job.Value{Text: settings[i+1], Place: job.Place{Flag: settings[i]}}
	}
	j, err := job.Complete(vs)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func specOf(t testing.TB, j job.Job) pattern.Spec {
	t.Helper()
	face, err := openFace(j.Font)
	if err != nil {
		t.Fatal(err)
	}
	spec, err := layout(j, face)
	if err != nil {
		t.Fatal(err)
	}
	return spec
}

// A finished capital H is as high as asked, glass and all: its centreline and
// one tube. In every face that has an H, and whatever the tube.
func TestFinishedCapitalHasTheHeightAskedFor(t *testing.T) {
	for _, info := range fonts.Builtin() {
		for _, tube := range []string{"8mm", "15mm"} {
			j := jobOf(t, "text", "H", "font", info.Name, "height", "180mm", "tube", tube)
			face, err := openFace(j.Font)
			if err != nil {
				t.Fatal(err)
			}
			spec, err := layout(j, face)
			var missing *fonts.MissingCharacter
			if errors.As(err, &missing) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			line, err := pattern.CapLine(spec.Letters[0])
			if err != nil {
				t.Fatal(err)
			}
			if got := line + j.Rules.Diameter; math.Abs(got-180) > 0.2 {
				t.Errorf("%s in a tube of %s: the H is %.2f mm high, want 180", info.Name, tube, got)
			}
		}
	}
}

func ink(ls []pattern.Letter) geom.Rect {
	r := geom.EmptyRect()
	for _, l := range ls {
		r = r.Union(l.Outline.ControlBox())
		for _, s := range l.Strokes {
			r = r.Union(s.Bounds())
		}
	}
	return r
}

// Lines are aligned by ink and stand one line spacing apart; the sign starts
// at x = 0.
func TestLinesStandUnderEachOther(t *testing.T) {
	for _, tc := range []struct {
		align string
		place func(r geom.Rect) float64 // what both lines share
	}{
		{job.Left, func(r geom.Rect) float64 { return r.Min.X }},
		{job.Centre, func(r geom.Rect) float64 { return r.Centre().X }},
		{job.Right, func(r geom.Rect) float64 { return r.Max.X }},
	} {
		for _, font := range []string{"jura-light", "futural"} {
			spec := specOf(t, jobOf(t, "text", "HI\nHELL", "font", font, "align", tc.align, "line-spacing", "240mm"))
			upper, lower := ink(spec.Letters[:2]), ink(spec.Letters[2:])
			if a, b := tc.place(upper), tc.place(lower); math.Abs(a-b) > 1e-9 {
				t.Errorf("%s, %s: lines at %v and %v", font, tc.align, a, b)
			}
			if d := upper.Min.Y - lower.Min.Y; math.Abs(d-240) > 1e-9 {
				t.Errorf("%s, %s: lines %v mm apart, want 240", font, tc.align, d)
			}
			if x := min(upper.Min.X, lower.Min.X); math.Abs(x) > 1e-9 {
				t.Errorf("%s, %s: the sign starts at x = %v", font, tc.align, x)
			}
		}
	}
}

// A letter's index counts the characters before it, spaces too, over all lines.
func TestLettersKnowTheirPlaceInTheText(t *testing.T) {
	spec := specOf(t, jobOf(t, "text", "A B\n\n C", "font", "futural"))
	type place struct {
		text        string
		index, line int
	}
	want := []place{{"A", 0, 0}, {"B", 2, 0}, {"C", 4, 2}}
	for i, l := range spec.Letters {
		if got := (place{l.Text, l.Index, l.Line}); i >= len(want) || got != want[i] {
			t.Errorf("letter %d is %+v", i, got)
		}
	}
	if len(spec.Letters) != len(want) {
		t.Errorf("%d letters, want %d", len(spec.Letters), len(want))
	}
}

// Letter spacing widens the gaps between letters and nothing else.
func TestLetterSpacing(t *testing.T) {
	plain := specOf(t, jobOf(t, "text", "HIH", "font", "futural"))
	wide := specOf(t, jobOf(t, "text", "HIH", "font", "futural", "letter-spacing", "12mm"))
	for i := range plain.Letters {
		p, w := ink(plain.Letters[i:i+1]), ink(wide.Letters[i:i+1])
		if d := w.Min.X - p.Min.X; math.Abs(d-12*float64(i)) > 1e-9 {
			t.Errorf("letter %d moved by %v mm, want %d", i, d, 12*i)
		}
		if math.Abs(w.Width()-p.Width()) > 1e-9 {
			t.Errorf("letter %d is %v mm wide, was %v", i, w.Width(), p.Width())
		}
	}
}

// What the face draws nothing of cannot be bent, though it is no plain space.
func TestTextOfBlanksOnlyIsRefused(t *testing.T) {
	j := jobOf(t, "text", "A")
	j.Text = []string{"\u00a0"}
	face, err := openFace(j.Font)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := layout(j, face); err == nil || !strings.Contains(err.Error(), "nothing to bend") {
		t.Errorf("got %v", err)
	}
}
