package shop_test

import (
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/shop"
	"tubewright/pattern/shop/load"
	q "tubewright/pattern/shop/quantity"
)

func TestParsePlace(t *testing.T) {
	if at, err := shop.ParsePlace("1ft, -500mm"); err != nil || *at != (geom.Point{X: 304.8, Y: -500}) {
		t.Errorf("%v, %v", at, err)
	}
	if at, err := shop.ParsePlace(" "); at != nil || err != nil {
		t.Errorf("nothing said: %v, %v", at, err)
	}
	for _, bad := range []string{"1m", "1m,2m,3m", "1,2", "--1m,2m", "101m, 0mm", "left, 1m", "1e9m, 1m"} {
		if at, err := shop.ParsePlace(bad); err == nil || !strings.Contains(err.Error(), "write it as in 300mm, -500mm") {
			t.Errorf("%q: %v, %v", bad, at, err)
		}
	}
}

func TestParseLeads(t *testing.T) {
	got, err := shop.ParseLeads("C1 = 2.4m, 2.6m; C12=1ft,1m;")
	if err != nil || len(got) != 2 || got[0] != (shop.Lead{Circuit: "C1", First: 2400, Last: 2600}) || got[1] != (shop.Lead{Circuit: "C12", First: 304.8, Last: 1000}) {
		t.Errorf("%+v, %v", got, err)
	}
	for _, bad := range []string{"C1", "C1 = 2m", "U1 = 1m, 1m", "C0 = 1m, 1m", "C1 = 1, 1m", "C1 = 1m, 1m; C1 = 2m, 2m"} {
		if got, err := shop.ParseLeads(bad); err == nil {
			t.Errorf("%q was read as %+v", bad, got)
		}
	}
}

// Measured leads take the place of the reckoned ones, in the sum of the cable too,
// and are held against the limits of what they run in.
func TestMeasuredLeads(t *testing.T) {
	reckoned := plan(t, word("HE"), shop.Spec{})
	for _, tc := range []struct {
		conduit, want string
	}{{"metal", "over 6 m in metal conduit"}, {"unstated", "over 6 m in metal conduit"}, {"non-metallic", ""}} {
		pl := plan(t, word("HE"), shop.Spec{Conduit: tc.conduit, Leads: []shop.Lead{{Circuit: "C1", First: 9000, Last: 700}}})
		c, was := pl.Circuits[0], reckoned.Circuits[0]
		last := len(c.Stops) - 1
		want := was.Wire.Sub(was.Stops[0].Lead).Sub(was.Stops[last].LeadAfter).Add(q.Int(9700, q.Millimetre))
		if c.Wire.Cmp(want) != 0 {
			t.Errorf("%s: cable %s, want %s", tc.conduit, c.Wire.Format(q.Millimetre, 0), want.Format(q.Millimetre, 0))
		}
		if got := notes(pl); strings.Contains(got, "a lead to a first electrode") != (tc.want != "") || !strings.Contains(got, tc.want) {
			t.Errorf("%s: %q expected in\n%s", tc.conduit, tc.want, got)
		}
	}
	if _, err := shop.Make(word("HE"), shop.Spec{Leads: []shop.Lead{{Circuit: "C7"}}}); err == nil || !strings.Contains(err.Error(), "no circuit C7; the job has C1 to C1") {
		t.Errorf("C7: %v", err)
	}
	if got := notes(plan(t, word("HE"), shop.Spec{Supply: load.Electronic, Conduit: "metal"})); !strings.Contains(got, "never run in metal conduit") {
		t.Errorf("electronic in metal: %s", got)
	}
	for _, bad := range []shop.Spec{{Conduit: "string"}, {SupplyIn: "orbit"}} {
		if _, err := shop.Make(word("HE"), bad); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

// Warnings and errors of the sheets are findings with a sheet, a code and no unit
// that would excuse its glass; notes are none.
func TestFindings(t *testing.T) {
	pl := plan(t, word("HESX"), shop.Spec{Colour: "blue", Ambient: "-10", Current: 200})
	fs := pl.Findings()
	seen := map[string]bool{}
	for _, f := range fs {
		seen[f.Code] = true
		if strings.HasPrefix(f.What, "circuit C1: ") && f.At != pl.Circuits[0].At {
			t.Errorf("%s is at %v, its supply at %v", f.Code, f.At, pl.Circuits[0].At)
		}
		if f.Sheet == "" || f.Unit != "" || f.Severity < 1 || f.Remedy == "" || !strings.HasPrefix(f.Message(), "shop sheet "+f.Sheet) {
			t.Errorf("%+v", f)
		}
	}
	for _, want := range []string{"shop-cold", "shop-no-electrode", "shop-volts-between"} {
		if !seen[want] {
			t.Errorf("no %s among %v", want, seen)
		}
	}
	if seen["shop-charts-apart"] || !strings.Contains(notes(pl), "charts A and B differ") {
		t.Errorf("that two charts differ is a remark on the sheet, and no finding: %v", seen)
	}
	if fs[0].Code != "shop-no-electrode" {
		t.Errorf("the error is not first: %s", fs[0].Code)
	}
}
