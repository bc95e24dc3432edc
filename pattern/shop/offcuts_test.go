package shop_test

import (
	"slices"
	"testing"

	"tubewright/pattern/shop"
	q "tubewright/pattern/shop/quantity"
)

func TestParseOffCuts(t *testing.T) {
	got, err := shop.ParseOffCuts("640mm; 412mm x 2;ruby-red 1ft")
	want := []shop.OffCut{{"", 640}, {"", 412}, {"", 412}, {"ruby-red", 304.8}}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%v, %v", got, err)
	}
	for _, bad := range []string{"640", "x 2", "412mm x 0", "412mm x 1000", "-3mm", "blue", "11m", "1mm x 150; 2mm x 150"} {
		if got, err := shop.ParseOffCuts(bad); err == nil {
			t.Errorf("%q gives %v", bad, got)
		}
	}
}

// With what one job leaves in the rack another buys less; no off-cut gives more
// glass than it has, and glass of another colour stays where it is.
func TestOffCutsAreCutFirst(t *testing.T) {
	p := word("HEHE")
	sticks := func(plan shop.Plan) int {
		n := 0
		for _, c := range plan.Cuts {
			n = max(n, c.Stick)
		}
		return n
	}
	before := plan(t, p, shop.Spec{})
	var rack []shop.OffCut
	for range 4 {
		rack = append(rack, shop.OffCut{Length: 1100})
	}
	after := plan(t, p, shop.Spec{OffCuts: rack})
	if sticks(after) >= sticks(before) {
		t.Errorf("%d sticks with off-cuts, %d without", sticks(after), sticks(before))
	}
	if len(after.Cuts) != len(before.Cuts) {
		t.Errorf("%d cuts with off-cuts, %d without", len(after.Cuts), len(before.Cuts))
	}
	used := 0
	for _, c := range after.Cuts {
		if c.Stick > 0 {
			continue
		}
		used++
		if c.Rack.Float(q.Millimetre) != 1100 || c.Length.Add(c.OffCut).Float(q.Millimetre) > 1100 {
			t.Errorf("an off-cut of %v gives %v and leaves %v", c.Rack, c.Length, c.OffCut)
		}
	}
	if used == 0 {
		t.Error("no off-cut is used")
	}
	for i := range rack {
		rack[i].Colour = "ruby-red"
	}
	if other := plan(t, p, shop.Spec{OffCuts: rack}); sticks(other) != sticks(before) || other.Cuts[0].Stick != 1 {
		t.Error("off-cuts of another colour are used")
	}
}
