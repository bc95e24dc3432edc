package route

import (
	"testing"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
)

// sign is a row of plain letters.
func sign(text string) []Stroke {
	var ss []Stroke
	for i, r := range text {
		for _, s := range moved(letters()[string(r)], geom.SimilarityMap{Scale: 1, Move: geom.Vec{X: 150 * float64(i)}}) {
			s.Letter, s.Text = i, string(r)
			ss = append(ss, s)
		}
	}
	return named(ss...)
}

func total(r Result, term string) float64 {
	var n float64
	for _, unit := range r.Costs {
		for _, t := range unit {
			if t.Name == term {
				n += t.Amount
			}
		}
	}
	return n
}

func TestEachTasteMovesItsOwnTerm(t *testing.T) {
	rules := glass.Default(12)
	rules.MaxUnit = 1800
	plain := Plan(sign("HEATXK"), rules, Options{})
	paint := Plan(sign("HEATXK"), rules, Options{Taste: TasteLeastPaint})
	if a, b := total(paint, "paint"), total(plain, "paint"); a >= b {
		t.Errorf("least paint: %.0f mm painted, %.0f as usual", a, b)
	}
	bends := Plan(sign("HEATXK"), rules, Options{Taste: TasteFewestBends})
	if a, b := total(bends, "bend")+total(bends, "double-back"), total(paint, "bend")+total(paint, "double-back"); a >= b {
		t.Errorf("fewest bends: %.0f hidden bends, %.0f with least paint", a, b)
	}
	electrodes := Plan(sign("HEATXK"), rules, Options{Taste: TasteFewestElectrodes})
	if a, b := total(electrodes, "electrodes"), total(plain, "electrodes"); a > b {
		t.Errorf("fewest electrodes: %.0f pairs, %.0f as usual", a, b)
	}
}

func TestTheReportCountsTheGlass(t *testing.T) {
	r := Plan(sign("HEAT"), glass.Default(12), Options{})
	var hidden float64
	for _, tb := range r.Tubes {
		hidden += tb.LengthOf(1)
	}
	if got := total(r, "hidden"); got < hidden-1e-6 || got > hidden+1e-6 {
		t.Errorf("the report has %.3f mm hidden, the tubes %.3f", got, hidden)
	}
	if got := int(total(r, "electrodes")); got != len(r.Tubes) {
		t.Errorf("%d pairs of electrodes for %d units", got, len(r.Tubes))
	}
}

func TestTheBendersOrderIsKept(t *testing.T) {
	want := []string{"s2", "s3", "s1"}
	r := Plan(sign("H"), glass.Default(12), Options{Wishes: []Wish{{Letter: 0, Order: []int{-2, 3, 1}}}})
	var got []string
	for _, piece := range r.Tubes[0] {
		if id := piece.Stroke; id != "" && (len(got) == 0 || got[len(got)-1] != id) {
			got = append(got, id)
		}
	}
	for i := range want {
		if i >= len(got) || got[i] != want[i] {
			t.Fatalf("strokes bent in the order %v, asked %v", got, want)
		}
	}
	first := r.Tubes[0][1].Seg.Start()
	if first.Y > 69 { // stroke 2 was drawn downward; asked backwards, it starts at the foot
		t.Errorf("the tube starts at %v, asked to start at the foot of stroke 2", first)
	}
}

func TestBreaksAndJoinsAsAsked(t *testing.T) {
	r := Plan(sign("LL"), glass.Default(12), Options{Wishes: []Wish{{Letter: 1, BreakBefore: true}}})
	if len(r.Tubes) != 2 {
		t.Errorf("%d units, a break was asked for", len(r.Tubes))
	}
	rules := glass.Default(12)
	rules.MaxUnit = 500
	r = Plan(sign("LL"), rules, Options{Wishes: []Wish{{Letter: 1, JoinBefore: true}}})
	if !has(r.Findings, "wish-not-possible") {
		t.Errorf("a join that cannot be: findings %v", r.Findings)
	}
}

func TestWishesThatCannotBeReadAreFound(t *testing.T) {
	for _, w := range []Wish{{Letter: 7, BreakBefore: true}, {Letter: 0, Order: []int{1}}, {Letter: 0, Order: []int{1, 1, 2}}, {Letter: 0, Order: []int{1, 2, 4}}} {
		if r := Plan(sign("H"), glass.Default(12), Options{Wishes: []Wish{w}}); !has(r.Findings, "wish-not-possible") {
			t.Errorf("%+v: findings %v", w, r.Findings)
		}
	}
}

func has(fs []finding.Finding, code string) bool {
	for _, f := range fs {
		if f.Code == code {
			return true
		}
	}
	return false
}
