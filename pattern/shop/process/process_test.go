package process

import (
	"testing"

	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
)

func mm(n int) q.Quantity { return q.Int(n, q.Millimetre) }

// O12 (S21, P; the law D): 14, 12, 10 and 8 Torr at 8, 10, 12 and 15 mm. The law
// 120/D gives the same but for 15 at 8 mm.
func TestO12FillPressure(t *testing.T) {
	set := table.Embedded()
	for _, tc := range []struct{ d, torr, law int }{{8, 14, 15}, {10, 12, 12}, {12, 10, 10}, {15, 8, 8}} {
		p := FillPressure(set, mm(tc.d))
		if !p.Printed || p.Value.Cmp(q.Int(tc.torr, q.Torr)) != 0 {
			t.Errorf("%d mm: %s, printed %v", tc.d, p.Value.Format(q.Torr, 2), p.Printed)
		}
		law := set.Cell("settings", "pressure-law", q.TorrMillimetre).Div(mm(tc.d))
		if law.Cmp(q.Int(tc.law, q.Torr)) != 0 {
			t.Errorf("%d mm: the law gives %s", tc.d, law.Format(q.Torr, 2))
		}
	}
	if p := FillPressure(set, mm(20)); p.Printed || p.Value.Cmp(q.Int(6, q.Torr)) != 0 || p.Grade != "D" {
		t.Errorf("20 mm: %s by %s", p.Value.Format(q.Torr, 2), p.Grade)
	}
}

// O7 and N6 (S36, S108, P; figures D).
func TestO7Mercury(t *testing.T) {
	set := table.Embedded()
	for _, tc := range []struct {
		name     string
		cm       string
		outdoors bool
		mg       string
		capped   bool
	}{
		{"O7 outdoor", "120", true, "56.0", false},
		{"O7 indoor", "120", false, "43.8", false},
		{"O7 outdoor, at the cap", "200", true, "80.0", false},
		{"O7 outdoor, over it", "200.1", true, "80.0", true},
		{"O7 indoor, under the cap", "270.8", false, "80.0", false},
		{"O7 indoor, over it", "270.9", false, "80.0", true},
		{"N6 outdoor", "30", true, "29.0", false},
		{"N6 indoor", "30", false, "22.2", false},
	} {
		got := MercuryCeiling(set, q.Of(tc.cm, q.Centimetre), 1, tc.outdoors)
		if got.Ceiling.Number(q.Milligram, 1) != tc.mg || got.Capped != tc.capped {
			t.Errorf("%s: %s, capped %v", tc.name, got.Ceiling.Format(q.Milligram, 3), got.Capped)
		}
	}
}

// 80 mg are 5.9 µl, a bead of 2.2 mm (trade 4, D).
func TestBead(t *testing.T) {
	density := table.Embedded().Cell("settings", "mercury-density", q.GramPerCubicCentimetre)
	cap := q.Int(80, q.Milligram)
	if got := cap.Div(density).Format(q.Microlitre, 1); got != "5.9 µl" {
		t.Errorf("80 mg are %s", got)
	}
	if got := Bead(cap, density).Format(q.Millimetre, 1); got != "2.2 mm" {
		t.Errorf("a bead of %s", got)
	}
}

// N5: 86.4 g/m of soda-lime at 12 mm; borosilicate 77.1, which a maker's list
// confirms with 116 g a stick of 1,500 mm (S107, P). The table of trade2 5 (D)
// gives the other sizes.
func TestN5MassOfGlass(t *testing.T) {
	for _, tc := range []struct {
		d                   int
		wall, density, want string
		decimals            int
	}{
		{12, "1.0", "2.50", "86.4", 1}, {12, "1.0", "2.23", "77.1", 1},
		{8, "1.0", "2.50", "55", 0}, {10, "1.0", "2.50", "71", 0}, {15, "1.2", "2.50", "130", 0}, {18, "1.2", "2.50", "158", 0},
		{8, "1.0", "3.05", "67", 0}, {10, "1.0", "3.05", "86", 0}, {12, "1.0", "3.05", "105", 0}, {15, "1.2", "3.05", "159", 0}, {18, "1.2", "3.05", "193", 0},
	} {
		got := MassPerMetre(mm(tc.d), q.Of(tc.wall, q.Millimetre), q.Of(tc.density, q.GramPerCubicCentimetre))
		if got.Number(q.GramPerMetre, tc.decimals) != tc.want {
			t.Errorf("%d mm at %s: %s, want %s", tc.d, tc.density, got.Format(q.GramPerMetre, 2), tc.want)
		}
	}
	stick := MassPerMetre(mm(12), q.Of("1.0", q.Millimetre), q.Of("2.23", q.GramPerCubicCentimetre)).Mul(mm(1500))
	if off := stick.Float(q.Gram) - 116; off < -1 || off > 1 {
		t.Errorf("a stick of 1,500 mm weighs %s; the maker's list says 116 g", stick.Format(q.Gram, 1))
	}
}

// A tube cut in two holds in all what it held, and its wall is as large.
func FuzzCutTube(f *testing.F) {
	f.Add(uint16(2400), uint16(700))
	f.Fuzz(func(t *testing.T, whole, at uint16) {
		if at > whole {
			t.Skip()
		}
		bore := Bore(mm(12), mm(1))
		if sum := Volume(bore, mm(int(at))).Add(Volume(bore, mm(int(whole-at)))); sum.Cmp(Volume(bore, mm(int(whole)))) != 0 {
			t.Error("volume was lost")
		}
		if sum := Surface(bore, mm(int(at))).Add(Surface(bore, mm(int(whole-at)))); sum.Cmp(Surface(bore, mm(int(whole)))) != 0 {
			t.Error("surface was lost")
		}
	})
}

// One metre of bore 10 mm: π/4·100·1000 mm³ = 78.5398 ml; wall π·10·1000 = 314.159 cm².
func TestVolumeInClosedForm(t *testing.T) {
	if got := Volume(mm(10), mm(1000)).Format(q.Millilitre, 4); got != "78.5398 ml" {
		t.Error(got)
	}
	if got := Surface(mm(10), mm(1000)).Format(q.SquareCentimetre, 3); got != "314.159 cm²" {
		t.Error(got)
	}
}
