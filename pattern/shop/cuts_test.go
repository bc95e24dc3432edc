package shop_test

import (
	"bytes"
	"encoding/csv"
	"math"
	"strings"
	"testing"

	"tubewright/pattern/shop"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
)

// source is a stick, by its number, or an off-cut of the rack, by its length in mm.
type source struct {
	stick int
	rack  float64
}

// What is left of a stick or of an off-cut is its length less the pieces and less
// what each cut loses, by addition; where the last cut has no glass left to lose, 0.
func TestOffCutIsWhatTheCutsLeave(t *testing.T) {
	kerf := table.Embedded().Cell("settings", "cut-waste", q.Millimetre).Float(q.Millimetre)
	p := word("HEHESX")
	left, said, pieces := map[source]float64{}, map[source]float64{}, map[source]int{}
	for _, c := range plan(t, p, shop.Spec{OffCuts: []shop.OffCut{{Length: 5000}}}).Cuts {
		from, long := source{stick: c.Stick}, p.Spec.Rules.Stick
		if c.Stick == 0 {
			from.rack = c.Rack.Float(q.Millimetre)
			long = from.rack
		}
		if pieces[from]++; pieces[from] == 1 {
			left[from] = long
		}
		left[from] -= c.Length.Float(q.Millimetre) + kerf
		said[from] = c.OffCut.Float(q.Millimetre)
	}
	shared := 0
	for from, n := range pieces {
		if n > 1 {
			shared++
		}
		if want := max(0, left[from]); math.Abs(said[from]-want) > 1e-6 {
			t.Errorf("%+v: %g mm are left, by addition %g", from, said[from], want)
		}
	}
	if shared == 0 {
		t.Error("no stick gives two pieces")
	}
}

// In cuts.csv the last column tells the length of the off-cut of the rack, and is
// empty for a stick.
func TestCutsFileTellsTheRack(t *testing.T) {
	var b bytes.Buffer
	if err := plan(t, word("HEHE"), shop.Spec{OffCuts: []shop.OffCut{{Length: 1100}}}).WriteCuts(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	racked := 0
	for _, r := range rows[1:] {
		want := map[bool]string{true: "1100.0", false: ""}[r[2] == "0"]
		if r[6] != want {
			t.Errorf("stick %s: rack %q, want %q", r[2], r[6], want)
		}
		if want != "" {
			racked++
		}
	}
	if racked == 0 {
		t.Error("nothing is cut from the rack")
	}
}

// What is in the rack is of the job's own glass: a unit of another is not cut from it.
func TestOffCutsAreOfTheGlassOfTheJob(t *testing.T) {
	pl := plan(t, word("HE"), shop.Spec{OffCuts: []shop.OffCut{{Length: 1100}, {Length: 1110}, {Length: 1120}},
		Changes: []shop.Change{{Unit: "U2", Colour: "clear-red", Glass: "lead-0010"}}})
	other := 0
	for _, c := range pl.Cuts {
		if c.Glass != "lead-0010" {
			continue
		}
		if other++; c.Stick == 0 {
			t.Errorf("unit %s, of %s, is cut from an off-cut of the job's glass", c.Unit, c.Glass)
		}
	}
	if other == 0 {
		t.Error("no piece is of the other glass")
	}
}

// A change of glass in a heated zone or within 2 D of one is warned of, whichever side
// of the zone it is on; one in the middle of a long straight is not.
func TestChangeOfGlassInABend(t *testing.T) {
	p := word("HEHE")
	u := p.Units[1]
	near := 2 * p.Spec.Rules.Diameter
	isNear := func(at float64) bool {
		for _, h := range u.Heats {
			if at > h.Start-near && at < h.End+near {
				return true
			}
		}
		return false
	}
	tried := map[bool]int{}
	for _, h := range u.Heats {
		for _, at := range []float64{h.Start - near - 2, h.Start - near + 2, (h.Start + h.End) / 2, h.End + near - 2, h.End + near + 2} {
			if at < 30 || at > u.Tube.Length()-30 {
				continue
			}
			want := isNear(at)
			tried[want]++
			got := notes(plan(t, p, shop.Spec{Changes: []shop.Change{{Unit: u.ID, At: at, Colour: "ruby-red"}}}))
			if strings.Contains(got, "lies in a bend") != want {
				t.Errorf("a change at %.1f mm: warned of %v, want %v", at, !want, want)
			}
		}
	}
	if tried[true] == 0 || tried[false] == 0 {
		t.Errorf("changes near a bend and clear of one: %v", tried)
	}
}

// The share that result.json tells of a circuit is the one on the sheet.
func TestShareOfACircuitInTheSums(t *testing.T) {
	pl := plan(t, word("HESX"), shop.Spec{})
	printed := figure(t, section(t, pl, "loading-C1"), "share of its rating").Value.Float(q.One)
	if got := pl.Sums().Circuits[0].Share; math.Abs(got-printed) > 1e-12 || got <= 0 || got > 1 {
		t.Errorf("%g in the sums, %g on the sheet", got, printed)
	}
}
