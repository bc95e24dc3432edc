package finding

import (
	"testing"

	"tubewright/geom"
)

// A finding on the glass names its place; one of the shop's sheets names the sheet,
// one about a file the file.
func TestMessageSaysWhere(t *testing.T) {
	at := geom.Point3{X: 61, Y: 42.5}
	for _, tc := range []struct {
		f    Finding
		want string
	}{
		{Finding{Letter: "S", Stroke: "s2", At: at, Got: 8.1, Want: 9, What: "too tight"}, `letter "S" stroke s2 at (61, 42.5): too tight: 8.1 mm, limit 9 mm`},
		{Finding{Sheet: "loading", At: at, What: "no rating"}, "shop sheet loading: no rating"},
		{Finding{File: "bender.pdf", At: at, What: "blank"}, "bender.pdf: blank"},
		{Finding{Sheet: "process", Unit: "U2", At: at, What: "cold"}, "shop sheet process unit U2: cold"},
	} {
		if got := tc.f.Message(); got != tc.want {
			t.Errorf("got  %s\nwant %s", got, tc.want)
		}
	}
}
