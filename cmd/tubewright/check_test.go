package main

import (
	"testing"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
)

// The least height can be bent, and a millimetre less cannot, whether the job
// starts above it or below.
func TestLeastHeight(t *testing.T) {
	for _, start := range []string{"400mm", "60mm"} {
		j := jobOf(t, "text", "E", "font", "futural", "height", start, "tube", "12mm")
		p, err := makePattern(j)
		if err != nil {
			t.Fatal(err)
		}
		least, found := leastHeight(j, p)
		if !found {
			t.Fatalf("from %s: none found", start)
		}
		// The design's sizes served: letters from about 7 to 9 D; 12 D is far off.
		if d := j.Rules.Diameter; least < geom.Length(4*d) || least > geom.Length(12*d) {
			t.Errorf("from %s: an E of %s in a tube of %v mm", start, least, d)
		}
		if !canBend(j, float64(least), p) {
			t.Errorf("from %s: %s cannot be bent", start, least)
		}
		if below := least - leastStep; below > job.MinHeight && canBend(j, float64(below), p) {
			t.Errorf("from %s: %s can be bent as well as %s", start, below, least)
		}
	}
}

// canBend scales the wording as a whole and leaves the job as it is.
func TestCanBendLeavesTheJobAlone(t *testing.T) {
	j := jobOf(t, "text", "I", "line-spacing", "300mm")
	before := j.LineSpacing
	p, err := makePattern(j)
	if err != nil {
		t.Fatal(err)
	}
	canBend(j, 500, p)
	if j.LineSpacing != before || j.Height != 150*geom.Millimetre {
		t.Errorf("the job is now %+v", j)
	}
}
