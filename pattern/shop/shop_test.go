package shop_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/export"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/shop"
	"tubewright/pattern/shop/load"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/support"
	"tubewright/pattern/tube"
	"tubewright/pattern/words"
)

func word(text string) pattern.Pattern { return patterntest.Word(text, 30, 1) }

func plan(t *testing.T, p pattern.Pattern, s shop.Spec) shop.Plan {
	t.Helper()
	out, err := shop.Make(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// specs are the ways a plan can turn out: every kind of supply, with and without
// a rating, mercury or not, one unit of two colours.
func specs() map[string]shop.Spec {
	return map[string]shop.Spec{
		"zero value":   {},
		"blue, France": {Colour: "blue", Place: "FR", Ambient: "-10", Sets: 6},
		"USA":          {Place: "US", Colour: "green", Current: 60},
		"Canada, own":  {Place: "CA", Chart: "B", Supply: load.Isolated},
		"electronic":   {Supply: load.Electronic, Colour: "pink", Indoors: true},
		"end grounded": {Supply: load.EndGround, Place: "HR", Class: "script"},
		"helium":       {Colour: "clear-white"},
		"two colours":  {Colour: "clear-red", Changes: []shop.Change{{Unit: "U2", At: 200, Colour: "ruby-red", Glass: "lead-0010"}, {Unit: "U3", Colour: "clear-blue"}}},
		"bright":       {Colour: "pink", Tables: withRow("colours", "colour,seen,gas,tint,coating,glass,lumens_per_metre,source,grade\npink,pink,neon,clear,blue powder,,300,,own\n")},
	}
}

func withRow(name, csv string) *table.Set {
	set, err := table.Embedded().Override(name, name+".csv", []byte(csv))
	if err != nil {
		panic(err)
	}
	return &set
}

// figures lists every printed quantity of a plan with a name.
func figures(p shop.Plan) (names []string, fs []q.Figure) {
	for _, s := range p.Sections {
		for _, f := range s.Figures {
			names, fs = append(names, s.ID+"/"+f.Name), append(fs, f)
		}
		if s.Grid == nil {
			continue
		}
		rows := s.Grid.Rows
		if s.Grid.Total != nil {
			rows = append(slices.Clone(rows), s.Grid.Total)
		}
		for _, r := range rows {
			for i, f := range r {
				names, fs = append(names, s.ID+"/"+s.Grid.Heads[i]), append(fs, f)
			}
		}
	}
	return names, fs
}

// unitOf says, by the words of a figure's name, in which unit it must be printed:
// the first line that fits holds. It knows nothing of how figures are reckoned.
func unitOf(name string) (q.Unit, bool) {
	for _, r := range []struct {
		part string
		unit q.Unit
	}{
		{"price/bench time at", q.Money}, {"price/Count", q.Piece}, {"price/Each", q.MinutePerPiece}, {"price/Time", q.Minute},
		{"quote/height", q.Millimetre}, {"quote/glass tube", q.Millimetre}, {"quote/sets", q.Piece}, {"quote/price", q.Money}, {"price/", q.Money},
		{"light of", q.Lumen}, {"light/power", q.Watt}, {"pressures, 18", q.Torr}, {"and 10 to 30", q.Torr}, {"of it lit", q.Millimetre}, {"/hidden", q.Millimetre}, {"/legs", q.Millimetre}, {"volts, unit", q.Kilovolt}, {"volts, circuit", q.Kilovolt},
		{"light/emitting", q.SquareCentimetre}, {"light/least height", q.Millimetre}, {"light/comfortable", q.Millimetre}, {"light/", q.Metre},
		{"/mass", q.Kilogram}, {"glass, seal", q.Metre}, {"/sticks", q.Piece}, {"spare for scrap", q.Piece}, {"ends held", q.Metre},
		{"pair allowance", q.MetrePerPiece}, {"pairs of", q.Piece}, {"job/sets", q.Piece}, {"job/", q.Millimetre},
		{"least supply", q.Kilovolt}, {"for comparison, chart", q.Kilovolt}, {"kilovolts before", q.Kilovolt}, {"peak", q.Kilovolt}, {"which carries", q.Metre},
		{"electrical", q.Metre}, {"/Length, m", q.Metre}, {"share of its", q.Percent}, {"footage", q.Foot}, {"loading-C1/size", q.VoltAmpere}, {"loading-C2/size", q.VoltAmpere}, {"loading-C3/size", q.VoltAmpere},
		{"differ by", q.Metre}, {"ead", q.Millimetre}, {"midpoint return", q.Millimetre}, {"Gap", q.Millimetre}, {"Volts, V", q.Volt}, {"gradient", q.KilovoltPerMetre},
		{"branch/mains", q.Volt}, {"branch/branch circuit", q.Ampere}, {"branch/carries all day", q.Ampere}, {"branch/", q.VoltAmpere},
		{"units/bends", q.Piece}, {"units/sticks", q.Piece}, {"units/welds", q.Piece}, {"units/supports", q.Piece}, {"units/", q.Millimetre},
		{"Off-cut", q.Millimetre}, {"sticks-", q.Millimetre},
		{"electrodes/electrodes", q.Piece}, {"housings and", q.Piece}, {"current", q.Milliampere}, {"class by", q.Milliampere}, {"housing hole", q.Millimetre}, {"overall", q.Millimetre},
		{"supports/supports", q.Piece}, {"supports/tube centre", q.Piece}, {"supports/", q.Millimetre}, {"paint: area", q.SquareCentimetre}, {"paint", q.Millimetre}, {"cable", q.Metre},
		{"mercury", q.Milligram}, {"Hg", q.Milligram}, {"bead", q.Millimetre}, {"bore", q.Millimetre}, {"law of", q.TorrMillimetre},
		{"volume", q.Millilitre}, {"surface", q.SquareCentimetre}, {"FILL", q.Torr}, {"gas taken", q.TorrMillilitre}, {"/glass", q.Millimetre}, {"loading-C", q.Metre},
	} {
		if strings.Contains(name, r.part) {
			return r.unit, true
		}
	}
	return 0, false
}

// Every printed quantity has the dimension of its unit, and the unit its name
// calls for; grids print the unit their head says.
func TestDimensionsOfEveryPrintedQuantity(t *testing.T) {
	for name, spec := range specs() {
		t.Run(name, func(t *testing.T) {
			checked := 0
			names, fs := figures(plan(t, word("HESX"), spec))
			for i, f := range fs {
				if f.Text != "" || f.IsBlank() {
					continue
				}
				checked++
				if !f.Value.Is(f.Unit) || f.To != nil && (!f.To.Is(f.Unit) || f.To.Less(f.Value)) {
					t.Fatalf("%s: the value is not of the dimension of %q", names[i], f.Unit.Symbol())
				}
				if strings.HasPrefix(names[i], "loading-C") && strings.HasSuffix(names[i], "/glass") {
					names[i] = "loading-C1/length"
				}
				if want, ok := unitOf(names[i]); !ok || want != f.Unit {
					t.Errorf("%s is printed as %s (%q)", names[i], f, f.Unit.Symbol())
				}
				if _, head, ok := strings.Cut(names[i], ", "); ok && (head == "mm" || head == "m" || head == "V") && f.Unit.Symbol() != head {
					t.Errorf("%s: the head says %s, the figure is in %s", names[i], head, f.Unit.Symbol())
				}
			}
			if checked < 80 {
				t.Errorf("%d quantities only", checked)
			}
		})
	}
}

var sourceKey = regexp.MustCompile(`\bS[0-9]+`)

// Every number outside the quote has a grade, in lists, grids and sums alike, or is the
// job's own word; what is published has a source, and every source is spelt out.
func TestEveryNumberHasAGrade(t *testing.T) {
	known := table.Embedded().Table("sources").Keys()
	numbers := 0
	look := func(where string, f q.Figure) {
		if f.Text == "" && !f.IsBlank() {
			numbers++
			if f.Grade == "" && f.Source != "job" {
				t.Errorf("%s = %s has no grade", where, f)
			}
		}
		for _, k := range sourceKey.FindAllString(f.Source+" "+f.Rule+" "+f.Text, -1) {
			if !slices.Contains(known, k) {
				t.Errorf("%s cites %s, which no table spells out", where, k)
			}
		}
		if strings.HasPrefix(f.Grade, "P") && f.Source == "" {
			t.Errorf("%s is graded published, without a source", where)
		}
	}
	for name, spec := range specs() {
		for _, s := range plan(t, word("HESX"), spec).Sections {
			if s.Sheet == "quote" {
				continue
			}
			for _, f := range s.Figures {
				look(name+": "+s.ID+"/"+f.Name, f)
			}
			if s.Grid == nil {
				continue
			}
			for _, row := range append(slices.Clone(s.Grid.Rows), s.Grid.Total) {
				for i, f := range row {
					look(name+": "+s.ID+"/"+s.Grid.Heads[i], s.Grid.Cell(f, i))
				}
			}
		}
	}
	if numbers < 500 {
		t.Errorf("%d numbers: too few to tell", numbers)
	}
}

// A sum is graded as the least sure of what is in it.
func TestASumIsNoSurerThanItsParts(t *testing.T) {
	own := "setting,value,unit,meaning,source,grade\n"
	for _, r := range table.Embedded().Table("prices").Rows {
		own += strings.Join([]string{r.Text("setting"), r.Text("value"), r.Text("unit"), "timed", "", "own"}, ",") + "\n"
	}
	for name, tc := range map[string]struct {
		set       *table.Set
		time, sum string
	}{
		"as built in":        {nil, "M-low", "invented"},
		"all the shop's own": {withRow("prices", own), "own", "own"},
		"one from memory":    {withRow("prices", strings.Replace(own, "timed,,own", "timed,,M", 1)), "own", "M"},
	} {
		price := section(t, plan(t, word("HE"), shop.Spec{Tables: tc.set}), "price")
		if got := price.Grid.Cell(price.Grid.Total[3], 3).Grade; got != tc.time {
			t.Errorf("%s: the bench time is graded %q, want %q", name, got, tc.time)
		}
		if got := figure(t, price, "price of one set").Grade; got != tc.sum {
			t.Errorf("%s: the price is graded %q, want %q", name, got, tc.sum)
		}
	}
}

func section(t *testing.T, p shop.Plan, id string) shop.Section {
	t.Helper()
	i := slices.IndexFunc(p.Sections, func(s shop.Section) bool { return s.ID == id })
	if i < 0 {
		t.Fatalf("no section %s", id)
	}
	return p.Sections[i]
}

func figure(t *testing.T, s shop.Section, name string) q.Figure {
	t.Helper()
	i := slices.IndexFunc(s.Figures, func(f q.Figure) bool { return f.Name == name })
	if i < 0 {
		t.Fatalf("section %s has no figure %q", s.ID, name)
	}
	return s.Figures[i]
}

// The sums on the sheets are those of what is printed above them, and those of
// result.json to the rounding of each unit to a tenth of a millimetre.
func TestSumsAreThoseOfResultJSON(t *testing.T) {
	p := word("HESXSEH")
	var b bytes.Buffer
	if err := export.WriteResult(&b, p); err != nil {
		t.Fatal(err)
	}
	var result struct {
		Units []struct {
			ID        string
			Developed float64 `json:"developed_length"`
			Lit       float64 `json:"lit_length"`
			Blocked   float64 `json:"blocked_length"`
			Leg       float64 `json:"leg_length"`
			Bends     []any
		}
	}
	if err := json.Unmarshal(b.Bytes(), &result); err != nil {
		t.Fatal(err)
	}
	pl := plan(t, p, shop.Spec{})
	units := section(t, pl, "units").Grid
	want := make([]float64, 5)
	sum := make([]q.Quantity, 5)
	for i, u := range result.Units {
		row := units.Rows[i]
		if row[0].Text != u.ID {
			t.Errorf("row %d is of %s, not %s", i, row[0].Text, u.ID)
		}
		for k, v := range []float64{u.Lit, u.Blocked, u.Leg, u.Developed, float64(len(u.Bends))} {
			printed := row[2+k].Value.Float(row[2+k].Unit)
			if tol := 0.05 + 0.1*float64(k/3); math.Abs(printed-v) > tol {
				t.Errorf("%s: %s is printed as %g, result.json has %g", u.ID, units.Heads[2+k], printed, v)
			}
			want[k] += v
			if i == 0 {
				sum[k] = row[2+k].Value
			} else {
				sum[k] = sum[k].Add(row[2+k].Value)
			}
		}
		if row[2].Value.Add(row[3].Value).Add(row[4].Value).Cmp(row[5].Value) != 0 {
			t.Errorf("%s: lit, hidden and legs do not make up the glass", u.ID)
		}
	}
	for k := range sum {
		total := units.Total[2+k]
		if total.Value.Cmp(sum[k]) != 0 {
			t.Errorf("%s: the total %s is not the sum of the rows, %s", units.Heads[2+k], total, sum[k].Format(total.Unit, 1))
		}
		if math.Abs(total.Value.Float(total.Unit)-want[k]) > 0.15*float64(len(result.Units)) {
			t.Errorf("%s: total %s, result.json %g", units.Heads[2+k], total, want[k])
		}
	}
	glass := q.Int(0, q.Millimetre)
	for _, c := range pl.Circuits {
		glass = glass.Add(c.Glass)
	}
	if glass.Cmp(units.Total[5].Value) != 0 {
		t.Errorf("the circuits hold %s, the units %s", glass.Format(q.Metre, 4), units.Total[5])
	}
}

// What the mercury of the job is said to be is the sum of the cards; the price is
// that of its lines; the cable is the sum of the leads.
func TestSumsOfTheSheets(t *testing.T) {
	pl := plan(t, word("HESX"), shop.Spec{Colour: "blue"})
	hg := q.Int(0, q.Milligram)
	for _, u := range pl.Units {
		hg = hg.Add(figure(t, section(t, pl, "card-"+u.ID), "CONTAINS Hg, at most").Value)
	}
	if got := figure(t, section(t, pl, "manifold"), "mercury, all units, at most"); got.Value.Cmp(hg) != 0 {
		t.Errorf("mercury %s, the cards have %s", got, hg.Format(q.Milligram, 1))
	}
	cable := q.Int(0, q.Millimetre)
	for i, c := range pl.Circuits {
		s := section(t, pl, fmt.Sprintf("wiring-C%d", i+1))
		sum := figure(t, s, "midpoint return").Value.Add(c.Stops[len(c.Stops)-1].LeadAfter)
		for _, r := range s.Grid.Rows {
			sum = sum.Add(r[5].Value)
		}
		if s.Grid.Total[5].Value.Cmp(sum) != 0 {
			t.Errorf("circuit %d: cable %s, the leads make %s", i+1, s.Grid.Total[5], sum.Format(q.Millimetre, 0))
		}
		cable = cable.Add(sum)
	}
	if got := figure(t, section(t, pl, "sundries"), "high-voltage cable"); got.Value.Cmp(cable) != 0 {
		t.Errorf("cable %s, the leads make %s", got, cable.Format(q.Metre, 3))
	}
	price := section(t, pl, "price")
	sum := q.Int(0, q.Money)
	for _, f := range price.Figures {
		if f.Name == "cost of one set" {
			if f.Value.Cmp(sum) != 0 {
				t.Errorf("cost %s, the lines make %s", f, sum.Format(q.Money, 2))
			}
			break
		}
		sum = sum.Add(f.Value.Round(q.Money, f.Decimals))
	}
	minutes := q.Int(0, q.Minute)
	for _, r := range price.Grid.Rows {
		minutes = minutes.Add(r[3].Value)
	}
	if price.Grid.Total[3].Value.Cmp(minutes) != 0 {
		t.Errorf("bench time %s, the rows make %s", price.Grid.Total[3], minutes.Format(q.Minute, 1))
	}
}

// The customer's quote has one amount, the price, and no word of how it came about.
func TestQuoteKeepsTheShopsSecrets(t *testing.T) {
	pl := plan(t, word("HESX"), shop.Spec{Sets: 6})
	quote, inside := section(t, pl, "quote"), section(t, pl, "price")
	amounts := 0
	for _, f := range quote.Figures {
		if f.Text == "" && f.Unit == q.Money {
			amounts++
			if f.Value.Cmp(figure(t, inside, "price of 6 sets").Value) != 0 {
				t.Errorf("the quote says %s", f)
			}
		}
		for _, secret := range []string{"margin", "hour", "minute", "discount", "cost", "scrap"} {
			if strings.Contains(f.Name+f.Rule+f.String(), secret) {
				t.Errorf("the quote speaks of %s: %s", secret, f.Name)
			}
		}
	}
	if amounts != 1 || quote.Grid != nil {
		t.Errorf("%d amounts", amounts)
	}
	if !strings.Contains(strings.Join(quote.Lines, " "), "invented") {
		t.Error("a quote on invented rates must say so")
	}
}

// O3 (S20, P): classes of 25, 37 and 50 mA at 12, 16 and 18 mm.
func TestO3ElectrodeClasses(t *testing.T) {
	classes := table.Embedded().Table("electrode-classes")
	for d, want := range map[string]string{"12": "25", "16": "37", "18": "50"} {
		if r, ok := classes.Find("sizing sheet", d); !ok || r.Text("class_ma") != want || r.Source() != "S20" {
			t.Errorf("%s mm: %+v", d, r)
		}
	}
	pl := plan(t, word("H"), shop.Spec{})
	if got := figure(t, section(t, pl, "electrodes"), "class by diameter, sizing sheet").String(); got != "25 mA" {
		t.Errorf("12 mm: %s", got)
	}
	// A supply of more current than any electrode carries is an error (S21, P).
	pl = plan(t, word("H"), shop.Spec{Current: 200})
	if w, _ := pl.Worst(); w != finding.Error {
		t.Errorf("200 mA: worst is %v", w)
	}
}

// O8 (S11, P): 8 ft of glass from sticks of 4 ft are two sticks and three welds,
// and anything over one stick has at least three.
func TestO8Welds(t *testing.T) {
	stick, none := q.Int(4, q.Foot), q.Int(0, q.Foot)
	for _, tc := range []struct {
		feet          string
		sticks, welds int
	}{{"8", 2, 3}, {"4", 1, 2}, {"4.01", 2, 3}, {"8.01", 3, 4}} {
		n := shop.SticksFor(q.Of(tc.feet, q.Foot), stick, none)
		if n != tc.sticks || shop.Welds(n) != tc.welds {
			t.Errorf("%s ft: %d sticks, %d welds", tc.feet, n, shop.Welds(n))
		}
	}
}

// The depth stack of trade 2.6 (D): 22.7, 26.9, 31.1 and 37.4 mm for double-backs of
// 1.59 D at 8, 10, 12 and 15 mm, and 6 + D/2 without.
func TestDepthStack(t *testing.T) {
	for d, want := range map[int]string{8: "22.7", 10: "26.9", 12: "31.1", 15: "37.4"} {
		tube, gap := q.Int(d, q.Millimetre), q.Int(6, q.Millimetre)
		if got := shop.SupportHeight(gap, tube, tube.Times(159, 100)).Round(q.Millimetre, 2).Float(q.Millimetre); math.Abs(got-q.Of(want, q.Millimetre).Float(q.Millimetre)) > 0.055 {
			t.Errorf("%d mm: %g, want %s", d, got, want)
		}
	}
	pl := plan(t, word("HS"), shop.Spec{})
	s := section(t, pl, "supports")
	// The fixture doubles back at 0.8 D: its back runs lie 1.6 D behind, 19.2 mm.
	if got := figure(t, s, "front centre above surface").String(); got != "31.2 mm" {
		t.Errorf("height %s", got)
	}
	// S has no back run: its bends into the legs reach back by their radius, 1.27 D.
	if got := pl.Units[1].Deepest.Format(q.Millimetre, 1); got != "15.2 mm" {
		t.Errorf("S lies %s deep", got)
	}
	byHeight := q.Int(0, q.Piece)
	for _, f := range s.Figures {
		if strings.HasPrefix(f.Name, "tube centre at ") {
			byHeight = byHeight.Add(f.Value)
		}
	}
	if all := figure(t, s, "supports").Value; byHeight.Cmp(all) != 0 || len(support.Places(word("HS"), support.Rule{})) != all.Ceil(q.Piece) {
		t.Errorf("%s supports by height, %s in all, %d on the mounting sheet", byHeight.Number(q.Piece, 0), all.Number(q.Piece, 0), len(support.Places(word("HS"), support.Rule{})))
	}
	if len(s.Notes) == 0 || !strings.Contains(s.Notes[0].Text, "differ in depth") {
		t.Error("units of unlike depth go unsaid")
	}
}

func TestGlassesThatDoNotWeldAreRefused(t *testing.T) {
	for _, tc := range []struct {
		name string
		spec shop.Spec
		want string
	}{
		{"borosilicate", shop.Spec{Changes: []shop.Change{{Unit: "U1", At: 200, Glass: "borosilicate"}}}, "unit U1: soda-lime and borosilicate do not weld: one is soft glass, the other hard"},
		{"unknown expansion", shop.Spec{Changes: []shop.Change{{Unit: "U1", At: 200, Glass: "lead-free"}}}, "does not state both expansions"},
		{"expansion", shop.Spec{Tables: withRow("glasses", "glass,name,class,strain_c,anneal_c,soften_c,work_c,expansion_e7,density_g_cm3,habit,source,grade\nodd,odd,soft,,,,,80,,,,own\n"),
			Changes: []shop.Change{{Unit: "U1", At: 200, Glass: "odd"}}}, "expansions differ by 13.5 10⁻⁷/K, at most 6.0"},
		{"two gases", shop.Spec{Changes: []shop.Change{{Unit: "U1", At: 200, Colour: "blue"}}}, "one tube holds one gas"},
		{"no unit", shop.Spec{Changes: []shop.Change{{Unit: "U9", Colour: "blue"}}}, `no unit "U9"; the pattern has U1 to U2`},
		{"past the end", shop.Spec{Changes: []shop.Change{{Unit: "U1", At: 9000, Colour: "pink"}}}, "at 9000.0 mm: the unit has"},
		{"colour", shop.Spec{Colour: "mauve"}, `unknown colour "mauve"; write one of clear-red`},
		{"glass", shop.Spec{Glass: "ice"}, `unknown glass "ice"`},
		{"place", shop.Spec{Place: "XX"}, `unknown place "XX"`},
		{"chart", shop.Spec{Chart: "Z"}, `there is no loading chart "Z"`},
		{"current", shop.Spec{Current: 1000}, "secondary current in mA of 1000: it must be from 5 to 300"},
		{"ambient", shop.Spec{Ambient: "cold"}, `"cold" is not a plain decimal`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := shop.Make(word("HE"), tc.spec)
			if err == nil || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("got %v, want …%s…", err, tc.want)
			}
		})
	}
	// Whole units of other glass are no mixture.
	plan(t, word("HE"), shop.Spec{Changes: []shop.Change{{Unit: "U1", Glass: "borosilicate"}}})
}

func notes(p shop.Plan) string {
	var b strings.Builder
	for _, n := range p.Notes() {
		fmt.Fprintf(&b, "%s: %s %s\n", n.Severity, n.Text, n.Cite)
	}
	return b.String()
}

func TestWarnings(t *testing.T) {
	for _, tc := range []struct {
		name, text string
		spec       shop.Spec
		want       string
		not        string
	}{
		{"cold blue", "HE", shop.Spec{Colour: "blue", Ambient: "-10"}, "cold climate: -10 °C is under the 4 °C", ""},
		{"cold red", "HE", shop.Spec{Ambient: "-10"}, "", "cold climate"},
		{"mild blue", "HE", shop.Spec{Colour: "blue", Ambient: "4"}, "", "cold"},
		{"unknown blue", "HE", shop.Spec{Colour: "blue"}, "states no least temperature", ""},
		{"empty US chart", "HE", shop.Spec{Place: "US"}, "chart US has a rule but no figures", ""},
		{"electronic by a magnetic chart", "HE", shop.Spec{Supply: load.Electronic}, "chart A is for magnetic supplies", ""},
		{"helium", "HE", shop.Spec{Colour: "clear-white"}, "no loading chart read covers this gas", ""},
		{"charts apart", "HESX", shop.Spec{Colour: "blue"}, "charts A and B differ by 2.0 kV", ""},
		{"Louisiana", "HE", shop.Spec{Colour: "blue", Place: "US-LA"}, "10 mg a tube", ""},
		{"much current", "HE", shop.Spec{Current: 60}, "more than the 25 mA that the sizing sheet gives", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got := notes(plan(t, word(tc.text), tc.spec))
			if tc.want != "" && !strings.Contains(got, tc.want) {
				t.Errorf("no %q in\n%s", tc.want, got)
			}
			if tc.not != "" && strings.Contains(got, tc.not) {
				t.Errorf("%q in\n%s", tc.not, got)
			}
		})
	}
}

// A shop's own footage chart, entered as a file, sizes the supply.
func TestOwnChart(t *testing.T) {
	own := withRow("chart-limits", "chart,gas,diameter_mm,kv,most,least,source,grade\nUS,neon,12,4,12,5,maker,own\nUS,neon,12,6,20,8,maker,own\n")
	pl := plan(t, word("HESX"), shop.Spec{Place: "US", Tables: own})
	if len(pl.Circuits) != 1 || pl.Circuits[0].Answer.Rating.Cmp(q.Int(4, q.Kilovolt)) != 0 {
		t.Fatalf("%+v", pl.Circuits)
	}
	// 2.3007 m of glass are 7.548 ft, and four pairs take 4 ft off the 12.
	s := section(t, pl, "loading-C1")
	if got := figure(t, s, "electrical length, chart US").Value.Format(q.Foot, 3); got != "11.548 ft" {
		t.Errorf("electrical %s", got)
	}
	if got := figure(t, s, "share of its rating").String(); got != "94 %" { // 7.548 / 8
		t.Errorf("share %s", got)
	}
}

// A mistyped cell of a chart is shown up by the line through its column.
func TestMistypedChart(t *testing.T) {
	rows := "chart,gas,diameter_mm,kv,most,least,source,grade\n"
	for kv, most := range map[string]string{"3": "10", "4": "14", "5": "18", "6": "18.5", "7": "26", "8": "30"} {
		rows += "US,neon,12," + kv + "," + most + ",,maker,own\n"
	}
	if got := notes(plan(t, word("HE"), shop.Spec{Place: "US", Tables: withRow("chart-limits", rows)})); !strings.Contains(got, "the row of 6.0 kV lies 0.7") {
		t.Errorf("no misprint told in\n%s", got)
	}
}

// An electronic supply goes by its own chart, between its least and its most, and
// its leads are to be short and equal.
func TestElectronicSupply(t *testing.T) {
	set, err := table.Embedded().Override("charts", "charts.csv", []byte("chart,name,kind,unit,pair_allowance_m,applied,supply,most_kv,note,source,grade\nE,own electronic,limit,ft,0.3048,limit,electronic,9,,maker,own\n"))
	if err != nil {
		t.Fatal(err)
	}
	set, err = set.Override("chart-limits", "limits.csv", []byte("chart,gas,diameter_mm,kv,most,least,source,grade\nE,neon,12,9,40,15,maker,own\n"))
	if err != nil {
		t.Fatal(err)
	}
	pl := plan(t, word("HESX"), shop.Spec{Supply: load.Electronic, Chart: "E", Tables: &set, SupplyAt: &geom.Point{X: -3000}})
	got := notes(pl)
	for _, want := range []string{"under the least load of chart E", "over the 1.8 m of an electronic supply", "are to be of equal length"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in\n%s", want, got)
		}
	}
	if gap := figure(t, section(t, pl, "supports"), "tube to surface, least").String(); gap != "25 mm" {
		t.Errorf("tube to surface %s (S47: 1 in)", gap)
	}
	for _, f := range section(t, pl, "limits").Figures {
		if strings.Contains(f.Name, "midpoint") {
			t.Errorf("a magnetic supply's limit is printed: %s", f.Name)
		}
	}
}

// Two straight runs side by side, 30 mm apart, the second unit's entry beside the
// first one's: by hand, gradient × (glass of the first unit) + one fall.
func TestVoltsBetweenNeighbours(t *testing.T) {
	run := func(id string, x, length float64) pattern.Unit {
		a, b := geom.Point3{X: x, Y: 0, Z: -1}, geom.Point3{X: x, Y: length, Z: -1}
		return pattern.Unit{ID: id, Tube: tube.Tube{{Seg: geom.Line3{A: a, B: b}, Role: tube.Lit, Stroke: "s"}},
			Electrodes: [2]pattern.Electrode{{End: "A", At: a}, {End: "B", At: b}}}
	}
	p := pattern.Pattern{Spec: pattern.Spec{Name: "runs", Text: []string{"II"}, Height: 2000, Rules: glass.Default(12)}, Units: []pattern.Unit{run("U1", 0, 1500), run("U2", 30, 1500)}}
	pl := plan(t, p, shop.Spec{Supply: load.EndGround, SupplyAt: &geom.Point{X: 0, Y: -100}})
	g := section(t, pl, "neighbours").Grid
	// The string goes up U1 and down U2: side by side at the foot lie both ends of it,
	// 3 m of glass less one sample step of 15 mm apart, at 0.62 kV/m, and 170 V.
	want := 620*(3.0-0.015) + 170
	if got := g.Rows[0][2].Value.Float(q.Volt); math.Abs(got-want) > 1 {
		t.Errorf("%g V, by hand %g", got, want)
	}
	if gap := g.Rows[0][1].String(); gap != "18 mm" {
		t.Errorf("gap %s", gap)
	}
	if !strings.Contains(notes(pl), "1 pair of runs nearer than 38 mm with more than 1 kV between them: U1 and U2") {
		t.Error("live runs side by side go unsaid")
	}
}

// Whatever the order in which circuits are filled, every unit hangs in one circuit
// and every circuit is within its chart.
func TestLongJobsAreSharedOut(t *testing.T) {
	pl := plan(t, word(strings.Repeat("HESX", 12)), shop.Spec{})
	seen := map[int]int{}
	for _, c := range pl.Circuits {
		if !c.HasRating() || c.Answer.Carries.Less(c.Answer.Electrical) {
			t.Errorf("circuit of %s: %s", c.Answer.Electrical.Format(q.Metre, 2), c.Refusal)
		}
		for _, s := range c.Stops {
			seen[s.Unit]++
		}
		if len(c.Stops) != len(c.Units) {
			t.Errorf("%d stops of %d units", len(c.Stops), len(c.Units))
		}
	}
	if len(pl.Circuits) < 2 || len(seen) != 48 {
		t.Errorf("%d circuits, %d units", len(pl.Circuits), len(seen))
	}
}

func TestSameBytesTwice(t *testing.T) {
	for name, spec := range specs() {
		var a, b bytes.Buffer
		if err := plan(t, word("HESX"), spec).WriteCSV(&a); err != nil {
			t.Fatal(err)
		}
		if err := plan(t, word("HESX"), spec).WriteCSV(&b); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) || a.Len() < 1000 {
			t.Errorf("%s: %d and %d bytes", name, a.Len(), b.Len())
		}
	}
}

func TestParseChanges(t *testing.T) {
	got, err := shop.ParseChanges("U2 = blue; U3 @ 640mm = ruby-red, lead-0010; U4=,borosilicate;")
	want := []shop.Change{{"U2", 0, "blue", ""}, {"U3", 640, "ruby-red", "lead-0010"}, {"U4", 0, "", "borosilicate"}}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("%+v, %v", got, err)
	}
	for _, s := range []string{"U2", "= blue", "U2 =", "U2 @ x = blue", "U2 @ -1e3 = blue"} {
		if got, err := shop.ParseChanges(s); err == nil {
			t.Errorf("%q was read as %+v", s, got)
		}
	}
}

func BenchmarkMake(b *testing.B) {
	p := word(strings.Repeat("HESX", 25))
	for b.Loop() {
		if _, err := shop.Make(p, shop.Spec{}); err != nil {
			b.Fatal(err)
		}
	}
}

// Words of a job cannot become formulas in the shop's spreadsheet, and what a
// negative number is stays one.
func TestCSVHoldsNoFormulas(t *testing.T) {
	p := word("HE")
	p.Spec.Name, p.Spec.Text = `=cmd|' /C calc'!A0`, []string{`@SUM(1)`, "-2+3"}
	var b bytes.Buffer
	if err := plan(t, p, shop.Spec{Currency: `=HYPERLINK("x")`, Ambient: "-10"}).WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	marked := 0
	for _, r := range rows {
		for _, cell := range r {
			if strings.HasPrefix(cell, "'") {
				marked++
			}
			if _, err := q.Parse(cell, q.One); err != nil && cell != "" && strings.ContainsRune("=+-@", rune(cell[0])) {
				t.Errorf("a spreadsheet would reckon %q", cell)
			}
		}
	}
	if marked < 3 {
		t.Errorf("%d cells are marked as text", marked)
	}
}

// The quote speaks the job's language, and shows the same figures in each.
func TestQuoteInEveryLanguage(t *testing.T) {
	for _, l := range words.Languages() {
		w, err := words.In(l)
		if err != nil {
			t.Fatal(err)
		}
		pl := plan(t, word("HE"), shop.Spec{Colour: "blue", Words: w})
		quote := section(t, pl, "quote")
		if got := figure(t, quote, w.Say("quote.price", "demo money")).Value; got.Cmp(figure(t, section(t, pl, "price"), "price of one set").Value) != 0 {
			t.Errorf("%s: price %s", l, got.Number(q.Money, 2))
		}
		if got := figure(t, quote, w.Say("quote.colour")).Text; !strings.Contains(got, w.Say("seen.blue")) {
			t.Errorf("%s: colour %q", l, got)
		}
		if len(quote.Blanks) != 6 || len(quote.Lines) != 4 {
			t.Errorf("%s: %d blanks, %d lines", l, len(quote.Blanks), len(quote.Lines))
		}
	}
}
