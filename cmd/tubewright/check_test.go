package main

import (
	"testing"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/finding"
)

// The least height holds, and a millimetre less does not, whether the job starts
// above it or below; it is not higher without an error than without a warning.
func TestLeastHeight(t *testing.T) {
	for _, start := range []string{"400mm", "60mm"} {
		j := jobOf(t, "text", "E", "font", "futural", "height", start, "tube", "12mm")
		p, err := makePattern(j)
		if err != nil {
			t.Fatal(err)
		}
		tr := newTrials(j, p)
		var last geom.Length
		for _, worst := range []finding.Severity{finding.Warning, finding.Note} {
			least, found := tr.least(worst)
			if !found {
				t.Fatalf("from %s, no worse than a %s: none found", start, worst)
			}
			if !tr.holds(float64(least), worst) {
				t.Errorf("from %s, no worse than a %s: %s does not hold", start, worst, least)
			}
			if below := least - leastStep; below > job.MinHeight && tr.holds(float64(below), worst) {
				t.Errorf("from %s, no worse than a %s: %s holds as well as %s", start, worst, below, least)
			}
			if least < last {
				t.Errorf("from %s: without a warning from %s, without an error only from %s", start, least, last)
			}
			last = least
		}
		// The design's sizes served: letters from about 7 to 9 D; 12 D is far off.
		if d := j.Rules.Diameter; last < geom.Length(4*d) || last > geom.Length(12*d) {
			t.Errorf("from %s: an E of %s in a tube of %v mm", start, last, d)
		}
	}
}

// A trial scales the wording as a whole and leaves the job as it is.
func TestTrialsScaleTheWholeWording(t *testing.T) {
	j := jobOf(t, "text", "I", "line-spacing", "300mm", "letter-spacing", "6mm")
	tr := newTrials(j, pattern.Pattern{})
	got := tr.at(450)
	if got.Height != 450 || got.LineSpacing != 900 || got.LetterSpacing != 18 || got.Rules != j.Rules {
		t.Errorf("scaled threefold: %+v", got)
	}
	if tr.job.Height != 150 || tr.job.LineSpacing != 300 {
		t.Errorf("the job is now %+v", tr.job)
	}
}
