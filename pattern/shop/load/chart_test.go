package load

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
)

func chart(t *testing.T, id string) Chart {
	t.Helper()
	c, err := Find(table.Embedded(), id)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func demand(gas string, mm int, metres string, pairs int) Demand {
	return Demand{Gas: gas, Diameter: q.Int(mm, q.Millimetre), Glass: q.Of(metres, q.Metre), Pairs: pairs}
}

func TestPublishedLoadings(t *testing.T) {
	for _, tc := range []struct {
		name, source      string
		chart             string
		d                 Demand
		electrical, exact string
		kv                int
	}{
		{"O1", "S20, worked example printed with chart B", "B", demand("argon", 16, "4.8", 4), "5.60", "3.6400", 4},
		{"O4 one unit, 15 mm", "S21, derived", "A", demand("argon", 15, "4.5", 1), "5.00", "", 4},
		{"O4 three units, 15 mm, at the limit itself", "S21, derived", "A", demand("argon", 15, "4.5", 3), "6.00", "", 4},
		{"O4 one unit, 12 mm", "S21, derived", "A", demand("argon", 12, "4.5", 1), "5.00", "", 5},
		{"O4 three units, 12 mm", "S21, derived", "A", demand("argon", 12, "4.5", 3), "6.00", "", 6},
		{"O5", "S21, derived", "A", demand("argon", 15, "4.8", 4), "6.80", "", 5},
		{"N2 by chart A", "S21, derived", "A", demand("argon", 12, "6", 6), "9.00", "", 8},
		{"N2 by chart B, the tie", "S20, derived", "B", demand("argon", 12, "6", 6), "7.20", "5.4000", 6},
		{"N3 by chart A", "S21, derived", "A", demand("argon", 10, "4.8", 4), "6.80", "", 7},
		{"N3 by chart B", "S20, derived", "B", demand("argon", 10, "4.8", 4), "5.60", "5.0400", 5},
		{"N4 by chart A", "S21, derived", "A", demand("neon", 10, "1", 1), "1.50", "", 3},
		{"N4 by chart B", "S20, derived", "B", demand("neon", 10, "1", 1), "1.20", "1.5600", 2},
	} {
		t.Run(tc.name, func(t *testing.T) {
			a, err := chart(t, tc.chart).Answer(tc.d)
			if err != nil {
				t.Fatal(err)
			}
			if got := a.Electrical.Number(q.Metre, 2); got != tc.electrical {
				t.Errorf("electrical length %s m, want %s (%s)", got, tc.electrical, tc.source)
			}
			if got := a.Exact; tc.exact != "" && got.Number(q.Kilovolt, 4) != tc.exact {
				t.Errorf("%s kV before rounding, want %s (%s)", got.Number(q.Kilovolt, 4), tc.exact, tc.source)
			}
			if a.Rating.Cmp(q.Int(tc.kv, q.Kilovolt)) != 0 {
				t.Errorf("rating %s, want %d kV (%s)", a.Rating.Format(q.Kilovolt, 1), tc.kv, tc.source)
			}
			if one := q.Int(1, q.One); !q.Int(0, q.One).Less(a.Share) || one.Less(a.Share) && tc.chart == "A" {
				t.Errorf("share %s", a.Share.Format(q.Percent, 1))
			}
		})
	}
}

// The table of trade2 1.2 (D): how far the two charts lie apart.
func TestChartsSideBySide(t *testing.T) {
	for _, tc := range []struct {
		metres    string
		pairs, mm int
		neon, arg [2]int
	}{
		{"1", 1, 10, [2]int{3, 2}, [2]int{2, 1}},
		{"3", 1, 10, [2]int{5, 4}, [2]int{4, 3}},
		{"4.8", 4, 10, [2]int{8, 7}, [2]int{7, 5}},
		{"6", 2, 12, [2]int{7, 7}, [2]int{6, 5}},
		{"6", 6, 12, [2]int{8, 8}, [2]int{8, 6}},
		{"9", 3, 12, [2]int{9, 11}, [2]int{9, 7}},
	} {
		for gas, want := range map[string][2]int{"neon": tc.neon, "argon": tc.arg} {
			for i, id := range []string{"A", "B"} {
				a, err := chart(t, id).Answer(demand(gas, tc.mm, tc.metres, tc.pairs))
				if err != nil || a.Rating.Cmp(q.Int(want[i], q.Kilovolt)) != 0 {
					t.Errorf("%s m, %d pairs, %d mm, %s, chart %s: %v %v, want %d kV", tc.metres, tc.pairs, tc.mm, gas, id, a.Rating.Format(q.Kilovolt, 0), err, want[i])
				}
			}
		}
	}
}

// O2 (S20, P): 4.1, 4.2, 4.3 kV go down to 4; 4.4 and 4.5 up to 5.
func TestO2Rounding(t *testing.T) {
	for _, tc := range []struct {
		kv   string
		want int
	}{
		{"4.1", 4}, {"4.2", 4}, {"4.3", 4}, {"4.4", 5}, {"4.5", 5},
		{"4.3999999999", 4}, {"4", 4}, {"0.2", 1}, {"1.4", 2}, {"5.40", 6},
	} {
		if got := RoundKV(q.Of(tc.kv, q.Kilovolt)); got.Cmp(q.Int(tc.want, q.Kilovolt)) != 0 {
			t.Errorf("%s kV goes to %s, want %d", tc.kv, got.Format(q.Kilovolt, 2), tc.want)
		}
	}
}

// O6 (S19, P): a chart limit of F feet leaves F − n feet of glass with n pairs.
func TestO6FeetOffTheLimit(t *testing.T) {
	us := chart(t, "US")
	for n := range 30 {
		if got := us.UsableGlass(q.Of("40", q.Foot), n); got.Cmp(q.Int(40-n, q.Foot)) != 0 {
			t.Errorf("%d pairs leave %s", n, got.Format(q.Foot, 4))
		}
	}
	_, err := us.Answer(demand("neon", 12, "3", 1))
	if err == nil || !strings.Contains(err.Error(), "chart US has a rule but no figures; enter the chart of the supply in hand") {
		t.Errorf("the empty US chart says %v", err)
	}
	own := "chart,gas,diameter_mm,kv,most,least,source,grade\nUS,neon,12,6,20,8,,own\nUS,neon,12,9,30,12,,own\n"
	set, err := table.Embedded().Override("chart-limits", "own.csv", []byte(own))
	if err != nil {
		t.Fatal(err)
	}
	us, err = Find(set, "US")
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		feet  string
		pairs int
		kv    int
		under bool
	}{{"18", 2, 6, false}, {"18.01", 2, 9, false}, {"6", 1, 6, true}, {"7", 1, 6, false}, {"28", 2, 9, false}} {
		d := demand("neon", 12, "1", tc.pairs)
		d.Glass = q.Of(tc.feet, q.Foot)
		a, err := us.Answer(d)
		if err != nil || a.Rating.Cmp(q.Int(tc.kv, q.Kilovolt)) != 0 || a.IsUnder() != tc.under {
			t.Errorf("%s ft and %d pairs: %+v, %v; want %d kV", tc.feet, tc.pairs, a.Rating.Format(q.Kilovolt, 0), err, tc.kv)
		}
	}
}

// N10 and the table of trade2 1.2 (D): the lines through chart A, which show a
// mistyped cell.
func TestN10Lines(t *testing.T) {
	a := chart(t, "A")
	for _, tc := range []struct {
		gas        string
		mm         int
		a, b, miss string
	}{
		{"neon", 8, "2.01", "1.43", "0.44"}, {"neon", 10, "1.81", "0.83", "0.34"}, {"neon", 12, "1.36", "0.68", "0.26"}, {"neon", 15, "0.88", "0.64", "0.17"},
		{"argon", 8, "0.99", "0.86", "0.14"}, {"argon", 10, "0.91", "0.76", "0.18"}, {"argon", 12, "1.09", "0.65", "0.31"}, {"argon", 15, "0.56", "0.58", "0.15"},
	} {
		f, ok := a.FitLine(tc.gas, q.Int(tc.mm, q.Millimetre))
		if !ok {
			t.Fatal("no line")
		}
		if got := f.A.Number(q.Kilovolt, 2); got != tc.a {
			t.Errorf("%s %d: a = %s, want %s", tc.gas, tc.mm, got, tc.a)
		}
		if got := f.B.Number(q.KilovoltPerMetre, 2); got != tc.b {
			t.Errorf("%s %d: b = %s, want %s", tc.gas, tc.mm, got, tc.b)
		}
		if got := f.Miss.Number(q.Kilovolt, 2); got != tc.miss {
			t.Errorf("%s %d: worst miss %s, want %s", tc.gas, tc.mm, got, tc.miss)
		}
	}
	f, _ := a.FitLine("neon", q.Int(12, q.Millimetre))
	// N10 reckons with the printed coefficients, 1.36 + 0.681 × 6.5.
	a2, b3 := f.A.Round(q.Kilovolt, 2), f.B.Round(q.KilovoltPerMetre, 3)
	if got := a2.Add(b3.Mul(q.Of("6.5", q.Metre))).Number(q.Kilovolt, 2); got != "5.79" {
		t.Errorf("the line of neon 12 mm at 6.5 m: %s kV, want 5.79", got)
	}
}

func TestRefusals(t *testing.T) {
	for _, tc := range []struct {
		name, chart string
		d           Demand
		want        string
	}{
		{"between columns", "A", demand("neon", 11, "1", 1), "no column for a tube of 11.0 mm: it lies between 10 mm and 12 mm"},
		{"outside", "A", demand("neon", 18, "1", 1), "chart A has neon for 8, 10, 12, 15 mm only"},
		{"outside below", "B", demand("argon", 8, "1", 1), "chart B has argon for 10, 12"},
		{"gas", "A", demand("helium", 12, "1", 1), "chart A has no column for helium"},
		{"too long", "A", demand("neon", 12, "12.6", 1), "no rating up to 10.0 kV carries 13.10 m"},
		{"over the kind's limit", "B", Demand{"neon", q.Int(12, q.Millimetre), q.Of("9", q.Metre), 3, false, q.Of("7.5", q.Kilovolt)}, "no rating up to 7.5 kV carries 9.60 m"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := chart(t, tc.chart).Answer(tc.d)
			var r *Refusal
			if !errors.As(err, &r) || !strings.Contains(err.Error(), tc.want) || r.Remedy == "" {
				t.Errorf("got %v, want …%s…", err, tc.want)
			}
		})
	}
}

func TestInterpolationIsOpen(t *testing.T) {
	d := demand("neon", 11, "3", 1)
	d.Interpolate = true
	a, err := chart(t, "A").Answer(d)
	if err != nil {
		t.Fatal(err)
	}
	// Half way between 10 and 12 mm: 4 kV carries (2.7 + 4.0)/2 = 3.35 m, 5 kV (3.7 + 5.2)/2 = 4.45 m.
	if a.Rating.Cmp(q.Int(5, q.Kilovolt)) != 0 || a.Carries.Number(q.Metre, 2) != "4.45" || !strings.Contains(a.How, "between the columns of 10 and 12 mm") {
		t.Errorf("%s carries %s, %q", a.Rating.Format(q.Kilovolt, 0), a.Carries.Format(q.Metre, 3), a.How)
	}
	b, err := chart(t, "B").Answer(d)
	if err != nil || b.Exact.Number(q.Kilovolt, 2) != "3.84" { // 3.2 × (1.30 + 1.10)/2
		t.Errorf("chart B: %s, %v", b.Exact.Format(q.Kilovolt, 3), err)
	}
}

// More glass, more pairs or a thinner tube never need fewer volts, and each
// chart counts its own allowance only.
func FuzzMoreNeedsMore(f *testing.F) {
	f.Add(uint16(450), uint8(3), uint8(1), true)
	f.Fuzz(func(t *testing.T, cm uint16, pairs, more uint8, neon bool) {
		gas := "argon"
		if neon {
			gas = "neon"
		}
		metres := func(n int) string { return fmt.Sprintf("%d.%02d", n/100, n%100) }
		for _, c := range []struct{ id, allowance string }{{"A", "0.5"}, {"B", "0.2"}} {
			one, err1 := chart(t, c.id).Answer(demand(gas, 12, metres(int(cm)), int(pairs)))
			two, err2 := chart(t, c.id).Answer(demand(gas, 12, metres(int(cm)+int(more)), int(pairs)+int(more%3)))
			want := q.Of(metres(int(cm)), q.Metre).Add(q.Of(c.allowance, q.Metre).Times(int64(pairs), 1))
			if one.Electrical.Cmp(want) != 0 {
				t.Errorf("chart %s: electrical %s", c.id, one.Electrical.Format(q.Metre, 4))
			}
			if err1 != nil && err2 == nil {
				t.Errorf("chart %s refuses the less: %v", c.id, err1)
			}
			if err1 == nil && err2 == nil && two.Rating.Less(one.Rating) {
				t.Errorf("chart %s: %s for less, %s for more", c.id, one.Rating.Format(q.Kilovolt, 1), two.Rating.Format(q.Kilovolt, 1))
			}
		}
	})
}
