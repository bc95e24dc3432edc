package export

import (
	"bytes"
	"fmt"
	"io"
	"slices"

	"tubewright/pattern"
	"tubewright/pattern/finding"
)

// Shop is what the shop's sheets add to result.json: the sums that are printed on
// them, and their warnings among the findings.
type Shop struct {
	Colour, Glass, Place, Chart    string
	Lit, Blocked, Legs, Developed  float64 // mm, sums over the units
	Electrical, Cable, Paint       float64 // mm
	Bends, Sticks, Welds, Supports int
	Electrodes                     int
	Mercury                        float64 // mg at most
	Circuits                       []Circuit
	Findings                       []finding.Finding
}

// Circuit is the units in series on one supply. KV is 0 where the chart gives no rating.
type Circuit struct {
	ID, Chart             string
	Units                 []string
	Developed, Electrical float64 // mm
	KV, VoltAmperes       float64
	Share                 float64 // of the rating
}

type circuitEntry struct {
	ID         string   `json:"id"`
	Units      []string `json:"units"`
	Chart      string   `json:"chart"`
	Developed  mm       `json:"developed_length"`
	Electrical mm       `json:"electrical_length"`
	KV         *ratio   `json:"supply_kv,omitempty"`
	VA         *ratio   `json:"supply_va,omitempty"`
	Share      *ratio   `json:"share_of_rating,omitempty"`
}

type shopEntry struct {
	Colour     string         `json:"colour"`
	Glass      string         `json:"glass"`
	Place      string         `json:"place"`
	Chart      string         `json:"chart"`
	Developed  mm             `json:"developed_length"`
	Lit        mm             `json:"lit_length"`
	Blocked    mm             `json:"blocked_length"`
	Legs       mm             `json:"leg_length"`
	Electrical mm             `json:"electrical_length"`
	Cable      mm             `json:"cable_length"`
	Paint      mm             `json:"paint_length"`
	Bends      int            `json:"bends"`
	Sticks     int            `json:"sticks"`
	Welds      int            `json:"welds"`
	Electrodes int            `json:"electrodes"`
	Supports   int            `json:"supports"`
	Mercury    ratio          `json:"mercury_mg"`
	Circuits   []circuitEntry `json:"circuits"`
}

func shopOf(s Shop) shopEntry {
	out := shopEntry{s.Colour, s.Glass, s.Place, s.Chart, mm(s.Developed), mm(s.Lit), mm(s.Blocked), mm(s.Legs),
		mm(s.Electrical), mm(s.Cable), mm(s.Paint), s.Bends, s.Sticks, s.Welds, s.Electrodes, s.Supports, ratio(s.Mercury), []circuitEntry{}}
	for _, c := range s.Circuits {
		e := circuitEntry{ID: c.ID, Units: c.Units, Chart: c.Chart, Developed: mm(c.Developed), Electrical: mm(c.Electrical)}
		if c.KV > 0 {
			kv, va, share := ratio(c.KV), ratio(c.VoltAmperes), ratio(c.Share)
			e.KV, e.VA, e.Share = &kv, &va, &share
		}
		out.Circuits = append(out.Circuits, e)
	}
	return out
}

// WriteJob writes result.json as WriteResult does, with what the shop's sheets add.
func WriteJob(w io.Writer, p pattern.Pattern, s Shop) error {
	p.Findings = slices.Concat(p.Findings, s.Findings)
	finding.Sort(p.Findings)
	r, err := newResult(p)
	if err != nil {
		return err
	}
	r.head = append(r.head, field{"shop", shopOf(s)})
	var buf bytes.Buffer
	if err := r.write(&buf); err != nil {
		return fmt.Errorf("result.json: %w", err)
	}
	_, err = w.Write(buf.Bytes())
	return err
}
