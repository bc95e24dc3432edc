package export_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"tubewright/pattern/export"
	"tubewright/pattern/finding"
	"tubewright/pattern/patterntest"
)

func shopSums() export.Shop {
	return export.Shop{Colour: "blue", Glass: "soda-lime", Place: "FR", Chart: "A", Lit: 900, Blocked: 80, Legs: 120, Developed: 1100,
		Electrical: 1600, Cable: 700, Paint: 92, Bends: 9, Sticks: 1, Welds: 2, Supports: 3, Electrodes: 2, Mercury: 53,
		Circuits: []export.Circuit{{ID: "C1", Chart: "A", Units: []string{"U1"}, Developed: 1100, Electrical: 1600, KV: 2, VoltAmperes: 60, Share: 0.67}, {ID: "C2", Chart: "US", Units: []string{"U2"}, Developed: 1, Electrical: 2}},
		Findings: []finding.Finding{{Code: "shop-cold", Severity: finding.Warning, Sheet: "process", What: "cold climate", Remedy: "take neon"}}}
}

// With the shop's sums the file meets its schema, tells a circuit without a rating
// by leaving it out, and puts the sheets' warnings among the findings.
func TestJobMeetsItsSchema(t *testing.T) {
	var b bytes.Buffer
	if err := export.WriteJob(&b, patterntest.Word("HE", 30, 1), shopSums()); err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if err := compiled(t).Validate(v); err != nil {
		t.Error(err)
	}
	text := b.String()
	for _, want := range []string{`"electrical_length":1600`, `"supply_kv":2,"supply_va":60,"share_of_rating":0.67`, `shop sheet process: cold climate`, `{"id":"C2","units":["U2"],"chart":"US","developed_length":1,"electrical_length":2}`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in the file", want)
		}
	}
	for _, bad := range []struct{ name, from, to string }{
		{"a sum that is no number", `"cable_length":700`, `"cable_length":"700"`}, {"half a weld", `"welds":2`, `"welds":2.5`}, {"a circuit without units", `"units":["U1"]`, `"units":[]`},
	} {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(strings.Replace(text, bad.from, bad.to, 1)))
		if err != nil {
			t.Fatal(err)
		}
		if compiled(t).Validate(v) == nil {
			t.Errorf("the schema takes %s", bad.name)
		}
	}
}
