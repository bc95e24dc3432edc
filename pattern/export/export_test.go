package export_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/export"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/plan"
)

func fixtures() map[string]pattern.Pattern {
	return map[string]pattern.Pattern{
		"hexs":     patterntest.Word("HEXS", 40, 1),
		"small":    patterntest.Word("X", 40, 0.5),
		"planned":  planned(patterntest.Word("HE", 40, 1)),
		"findings": patterntest.WithFindings(patterntest.Word("HE", 40, 1)),
		"empty":    {Spec: pattern.Spec{Text: []string{"H"}, Height: 150, Rules: patterntest.Word("H", 40, 1).Spec.Rules}},
	}
}

func result(t *testing.T, p pattern.Pattern) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := export.WriteResult(&buf, p); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(export.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	const url = "urn:tubewright:result:1"
	if err := c.AddResource(url, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(url)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestResultMeetsItsSchema(t *testing.T) {
	s := compiled(t)
	for name, p := range fixtures() {
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(result(t, p)))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := s.Validate(v); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestSchemaRefuses spoils one thing at a time, so that the schema is known to
// look at it.
func TestSchemaRefuses(t *testing.T) {
	s := compiled(t)
	good := string(result(t, fixtures()["findings"]))
	for _, tc := range []struct{ name, from, to string }{
		{"another format", `"tubewright.result/1"`, `"tubewright.result/2"`},
		{"an unknown role", `"role":"hidden"`, `"role":"back"`},
		{"a lit piece without stroke", `"role":"lit","stroke":"s1"`, `"role":"lit"`},
		{"a hidden piece with stroke", `"role":"hidden"`, `"role":"hidden","stroke":"s1"`},
		{"an arc without radius", `"radius":15.24,`, ``},
		{"no height", `,"height":150`, ``},
		{"a third electrode name", `"end":"B"`, `"end":"C"`},
		{"an error without remedy", `,"remedy":"split the unit"`, ``},
	} {
		bad := strings.Replace(good, tc.from, tc.to, 1)
		if bad == good {
			t.Errorf("%s: nothing to spoil: %q is not in the file", tc.name, tc.from)
			continue
		}
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(bad))
		if err != nil {
			t.Fatalf("%s: %v", tc.name, err)
		}
		if s.Validate(v) == nil {
			t.Errorf("the schema takes %s", tc.name)
		}
	}
}

func TestSameResultEveryTime(t *testing.T) {
	for name := range fixtures() {
		if !bytes.Equal(result(t, fixtures()[name]), result(t, fixtures()[name])) {
			t.Errorf("%s: two runs differ", name)
		}
	}
}

type decoded struct {
	Units []struct {
		ID   string
		Path []struct {
			Kind     string
			From, To [3]json.Number
			Radius   float64
			Angle    float64
		}
		Developed float64 `json:"developed_length"`
		Lit       float64 `json:"lit_length"`
		Blocked   float64 `json:"blocked_length"`
		Legs      float64 `json:"leg_length"`
	}
}

func decode(t *testing.T, b []byte) decoded {
	t.Helper()
	var d decoded
	if err := json.Unmarshal(b, &d); err != nil {
		t.Fatal(err)
	}
	return d
}

func TestNeighboursMeetToTheLastDigit(t *testing.T) {
	for _, u := range decode(t, result(t, fixtures()["hexs"])).Units {
		for i := 1; i < len(u.Path); i++ {
			if u.Path[i].From != u.Path[i-1].To {
				t.Errorf("unit %s: segment %d ends at %v, the next starts at %v", u.ID, i-1, u.Path[i-1].To, u.Path[i].From)
			}
		}
		if sum := u.Lit + u.Blocked + u.Legs; math.Abs(sum-u.Developed) > 1e-5 {
			t.Errorf("unit %s: lit, blocked and legs sum to %v of %v", u.ID, sum, u.Developed)
		}
	}
}

// The letters H, E and X of the geometry notes were also built and measured by
// another program; their developed lengths are of that build (double-backs 0.8 D).
func TestDevelopedLengthsOfKnownLetters(t *testing.T) {
	want := map[string]float64{"U1": 672.2486466310437, "U2": 560.2000673969387, "U3": 644.9872380367033}
	for _, u := range decode(t, result(t, patterntest.Word("HEX", 40, 1))).Units {
		if math.Abs(u.Developed-want[u.ID]) > 1e-4 {
			t.Errorf("unit %s is %v mm long, by the other program %v", u.ID, u.Developed, want[u.ID])
		}
	}
}

func TestResultRefusesABrokenTube(t *testing.T) {
	p := patterntest.Word("H", 40, 1)
	l := p.Units[0].Tube[2].Seg.(geom.Line3)
	l.A.X += 0.01
	p.Units[0].Tube[2].Seg = l
	var buf bytes.Buffer
	if err := export.WriteResult(&buf, p); err == nil || !strings.Contains(err.Error(), "unit U1") || buf.Len() > 0 {
		t.Errorf("a gap of 0.01 mm: error %v, %d bytes written", err, buf.Len())
	}
	p = patterntest.Word("H", 40, 1)
	p.Units[0].Heats[0].At.Z = math.NaN()
	if err := export.WriteResult(&buf, p); err == nil || buf.Len() > 0 {
		t.Errorf("a NaN: error %v, %d bytes written", err, buf.Len())
	}
}

func TestTextStaysReadable(t *testing.T) {
	p := patterntest.Word("H", 40, 1)
	p.Spec.Name, p.Spec.Text = "Rye & Salt", []string{"Rye & Salt <1>", "Über \"Brot\""}
	if b := result(t, p); !bytes.Contains(b, []byte(`"text":["Rye & Salt <1>","Über \"Brot\""]`)) {
		t.Errorf("text is not written as typed: %s", b[:400])
	}
}

// records returns the lines of a table after its header, by column.
func records(t *testing.T, write func(io.Writer, pattern.Pattern) error, p pattern.Pattern) []map[string]string {
	t.Helper()
	var buf bytes.Buffer
	if err := write(&buf, p); err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(&buf).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, l := range lines[1:] {
		m := map[string]string{}
		for i, name := range lines[0] {
			m[name] = l[i]
		}
		out = append(out, m)
	}
	return out
}

// One line an arc and one for the end of each unit, and the running totals from
// both ends and the arc between them are the whole unit.
func TestBendsAreTheArcs(t *testing.T) {
	p := fixtures()["hexs"]
	lines := records(t, export.WriteBends, p)
	for _, u := range p.Units {
		for i, r := range u.Table.Rows {
			l := lines[0]
			lines = lines[1:]
			if l["unit"] != u.ID || l["row"] != strconv.Itoa(i+1) || l["heat"] != strconv.Itoa(r.Bend) {
				t.Errorf("line %v for row %d of %s", l, i+1, u.ID)
			}
			whole := num(t, l["from_a_mm"]) + num(t, l["to_b_mm"]) + r.ArcLength()
			if math.Abs(whole-u.Tube.Length()) > 0.01 {
				t.Errorf("unit %s row %d: totals of %.4f mm, the unit has %.4f", u.ID, i+1, whole, u.Tube.Length())
			}
		}
		if l := lines[0]; l["row"] != "end" || math.Abs(num(t, l["feed_mm"])-u.Table.StraightAfter) > 1e-3 {
			t.Errorf("unit %s ends with %v", u.ID, l)
		}
		lines = lines[1:]
	}
	if len(lines) > 0 {
		t.Errorf("%d lines too many", len(lines))
	}
}

// planned plans the units of a pattern.
func planned(p pattern.Pattern) pattern.Pattern {
	for i := range p.Units {
		u := &p.Units[i]
		u.Plan, _ = plan.Make(plan.Unit{ID: u.ID, Tube: u.Tube, Table: &u.Table, Heats: u.Heats}, p.Spec.Rules)
	}
	return p
}

// One line a heat, in the order of making, with its zone on the stick as long as
// along the tube (the shop's allowances are none).
func TestHeatsInTheOrderOfMaking(t *testing.T) {
	p := planned(fixtures()["hexs"])
	lines := records(t, export.WriteHeats, p)
	for _, u := range p.Units {
		for n := range u.Heats {
			l := lines[0]
			lines = lines[1:]
			if l["unit"] != u.ID || l["heat"] != strconv.Itoa(n+1) {
				t.Fatalf("unit %s, line %d: %v", u.ID, n+1, l)
			}
			i := slices.IndexFunc(u.Heats, func(h bend.Heat) bool { return h.Number == n+1 })
			h := u.Heats[i]
			if l["kind"] != h.Kind || l["fire"] != h.Fire || math.Abs(num(t, l["heated_from_mm"])-h.From) > 0.01 {
				t.Errorf("heat %d: %v", n+1, l)
			}
			along, on := h.To-h.From, num(t, l["stick_to_mm"])-num(t, l["stick_from_mm"])
			if l["stick"] == "0" || math.Abs(along-on) > 0.02 {
				t.Errorf("heat %d: zone of %.2f mm, on stick %s of %.2f", n+1, along, l["stick"], on)
			}
		}
	}
	if len(lines) > 0 {
		t.Errorf("%d lines too many", len(lines))
	}
}

// The parts of a unit lie end to end, and their largest swing and number of heats are
// those of heats.csv; what is proved of the swing hangs together.
func TestPartsAgreeWithTheHeats(t *testing.T) {
	p := planned(fixtures()["hexs"])
	var d struct {
		Units []struct {
			ID        string
			Developed float64 `json:"developed_length"`
			Parts     []struct {
				From, To, Bound, Gap float64
				Heats                int
				Way                  string
				Largest              float64 `json:"largest_swing"`
				Exact                bool
			}
		}
	}
	if err := json.Unmarshal(result(t, p), &d); err != nil {
		t.Fatal(err)
	}
	lines := records(t, export.WriteHeats, p)
	looked := 0
	for _, u := range d.Units {
		at := 0.0
		for i, q := range u.Parts {
			heats, largest := 0, 0.0
			for _, l := range lines {
				if l["unit"] == u.ID && l["part"] == strconv.Itoa(i+1) {
					heats++
					largest = max(largest, num(t, l["travel_mm"]))
				}
			}
			looked += heats
			if q.From != at || heats != q.Heats || math.Abs(largest-q.Largest) > 0.051 {
				t.Errorf("unit %s, part %d: %+v, heats.csv has %d heats and a swing of %.1f mm", u.ID, i+1, q, heats, largest)
			}
			if math.Abs(q.Gap*q.Largest-(q.Largest-q.Bound)) > 1e-4 || q.Exact != (q.Gap == 0) || q.Way == "none" {
				t.Errorf("unit %s, part %d: %+v", u.ID, i+1, q)
			}
			at = q.To
		}
		if at != u.Developed {
			t.Errorf("unit %s: its parts end at %g of %g mm", u.ID, at, u.Developed)
		}
	}
	if looked != len(lines) || looked == 0 {
		t.Errorf("%d of %d heats are in a part", looked, len(lines))
	}
}

func num(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
