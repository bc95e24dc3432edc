package grade_test

import (
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
)

// bars returns an outline of upright and level bars.
func bars(boxes ...[4]float64) geom.Outline {
	var out geom.Outline
	for _, b := range boxes {
		c := geom.Contour{Start: geom.Point{X: b[0], Y: b[1]}}
		for _, p := range []geom.Point{{X: b[2], Y: b[1]}, {X: b[2], Y: b[3]}, {X: b[0], Y: b[3]}} {
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: p})
		}
		out = append(out, c)
	}
	return out
}

// The pattern of a heavy face is made, and a warning says that the face is too
// heavy, why, and what would serve; that of a light one says nothing of the
// face.
func TestJobsAreToldOfTheirFace(t *testing.T) {
	for _, tc := range []struct {
		name  string
		width float64
		code  string
	}{{"light", 16, ""}, {"heavy", 50, "face-heavy"}} {
		w := tc.width
		p, err := pattern.Make(pattern.Spec{
			Name: "test", Text: []string{"TI"}, Font: "bars", Height: 200, Rules: glass.Default(10),
			Letters: []pattern.Letter{
				{Text: "T", Outline: bars([4]float64{75 - w/2, 0, 75 + w/2, 200}, [4]float64{0, 200 - w, 150, 200})},
				{Text: "I", Index: 1, Outline: bars([4]float64{220, 0, 220 + w, 200})},
			},
		})
		if err != nil {
			t.Fatal(err)
		}
		var of []finding.Finding
		for _, f := range p.Findings {
			if strings.HasPrefix(f.Code, "face-") {
				of = append(of, f)
			}
		}
		switch {
		case tc.code == "" && len(of) > 0:
			t.Errorf("%s: %+v", tc.name, of)
		case tc.code != "" && (len(of) != 1 || of[0].Code != tc.code || of[0].Letter != "T" || of[0].Severity != finding.Warning):
			t.Errorf("%s: %+v, want one %s", tc.name, of, tc.code)
		}
	}
}
