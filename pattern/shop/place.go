package shop

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"tubewright/geom"
	q "tubewright/pattern/shop/quantity"
)

// Lead says how long the leads of a circuit are measured to be: from the supply to
// its first electrode and from the last one back, mm.
type Lead struct {
	Circuit     string
	First, Last float64
}

// farthestSupply is how far from the lettering a supply may stand, mm.
const farthestSupply = 100000.0

// ParsePlace reads where the supply stands: "300mm, -500mm" is 300 right of the
// left of the lettering and 500 under the baseline of the last line.
func ParsePlace(text string) (*geom.Point, error) {
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	bad := func(why error) (*geom.Point, error) {
		return nil, fmt.Errorf("place of the supply %q: %w; write it as in 300mm, -500mm: right of the left of the lettering, and up from its baseline", text, why)
	}
	parts := strings.Split(text, ",")
	if len(parts) != 2 {
		return bad(fmt.Errorf("%d figures where two are wanted", len(parts)))
	}
	var xy [2]float64
	for i, p := range parts {
		word, under := strings.CutPrefix(strings.TrimSpace(p), "-")
		l, err := geom.ParseLength(word)
		if err != nil {
			return bad(err)
		}
		if xy[i] = float64(l); under {
			xy[i] = -xy[i]
		}
		if math.Abs(xy[i]) > farthestSupply {
			return bad(fmt.Errorf("%s is over 100 m away", strings.TrimSpace(p)))
		}
	}
	return &geom.Point{X: xy[0], Y: xy[1]}, nil
}

var circuitID = regexp.MustCompile(`^C[1-9][0-9]{0,3}$`)

// ParseLeads reads measured leads: "C1 = 2.4m, 2.6m; C2 = 3m, 3m".
func ParseLeads(text string) ([]Lead, error) {
	var out []Lead
	for _, part := range strings.Split(text, ";") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		name, lengths, _ := strings.Cut(part, "=")
		l := Lead{Circuit: strings.TrimSpace(name)}
		bad := fmt.Errorf("leads %q: write them as in C1 = 2.4m, 2.6m; C2 = 3m, 3m", strings.TrimSpace(part))
		first, last, two := strings.Cut(lengths, ",")
		if !two || !circuitID.MatchString(l.Circuit) {
			return nil, bad
		}
		for _, f := range []struct {
			word string
			to   *float64
		}{{first, &l.First}, {last, &l.Last}} {
			v, err := geom.ParseLength(f.word)
			if err != nil {
				return nil, fmt.Errorf("%w: %w", bad, err)
			}
			*f.to = float64(v)
		}
		for _, o := range out {
			if o.Circuit == l.Circuit {
				return nil, fmt.Errorf("leads: circuit %s stands twice", l.Circuit)
			}
		}
		out = append(out, l)
	}
	return out, nil
}

// Conduits lists the words for what the leads run in.
func Conduits() []string { return []string{"unstated", "metal", "non-metallic", "none"} }

// measuredLeads puts the measured leads in the place of the reckoned ones.
func (m *maker) measuredLeads() error {
	for _, l := range m.Leads {
		var c *Circuit
		for i := range m.circuits {
			if circuitName(i) == l.Circuit {
				c = &m.circuits[i]
			}
		}
		if c == nil {
			return fmt.Errorf("leads: there is no circuit %s; the job has C1 to %s", l.Circuit, circuitName(len(m.circuits)-1))
		}
		first, last := &c.Stops[0].Lead, &c.Stops[len(c.Stops)-1].LeadAfter
		c.Wire = c.Wire.Sub(*first).Sub(*last)
		*first, *last = q.FromFloat(l.First, q.Millimetre, 0), q.FromFloat(l.Last, q.Millimetre, 0)
		c.Wire = c.Wire.Add(*first).Add(*last)
		c.IsMeasured = true
	}
	return nil
}

// supplyWords say where the supply stands and what its leads run in.
func (m *maker) supplyWords() string {
	where := "behind each circuit"
	if m.SupplyAt != nil {
		where = fmt.Sprintf("at x %s, y %s mm", geom.FormatNumber(m.SupplyAt.X, 0), geom.FormatNumber(m.SupplyAt.Y, 0))
	}
	switch m.SupplyIn {
	case "outdoors":
		where += ", outdoors: wet-place supply and caps"
	case "indoors":
		where += ", indoors"
	}
	if m.Conduit == Conduits()[0] {
		return where
	}
	return where + ", conduit " + m.Conduit
}
