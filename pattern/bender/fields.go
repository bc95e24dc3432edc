package bender

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/tube"
)

// Fact fills in one field, for one unit or, with Unit "", for all.
type Fact struct {
	Field int // its number, 1 to 45
	Unit  string
	Text  string
}

// need says whether a bender must know a field.
type need int

const (
	required need = iota
	applies       // required where it applies
	optional
)

// field is one thing a remote bender needs to know, numbered as in trade notes 2,
// section 11.
type field struct {
	number int
	key    string // in the job's order
	group  string
	need   need
}

func fields() []field {
	return []field{
		{1, "order-number", "job", required}, {2, "buyer", "job", required}, {3, "exposure", "job", required},
		{4, "place", "job", required}, {5, "kind", "job", required}, {6, "sets", "job", required},
		{7, "sheets", "pattern", required}, {8, "view", "pattern", required}, {9, "bars", "pattern", required},
		{10, "tolerance", "pattern", required}, {11, "lines", "pattern", required}, {12, "datum", "pattern", applies},
		{13, "unit", "unit", required}, {14, "tube", "unit", required}, {15, "glass-class", "unit", required},
		{16, "glass-code", "unit", required}, {17, "lit-colour", "unit", required}, {18, "gas", "unit", required},
		{19, "mercury", "unit", applies}, {20, "colour-changes", "unit", applies}, {21, "start", "unit", required},
		{22, "run-order", "unit", required}, {23, "raises", "unit", required}, {24, "double-backs", "unit", required},
		{25, "radius", "unit", required}, {26, "lengths", "unit", required}, {27, "split", "unit", required},
		{28, "painter", "unit", required},
		{29, "electrodes", "ends", required}, {30, "ends", "ends", required}, {31, "tubulation", "ends", required},
		{32, "housings", "ends", applies}, {33, "supports", "ends", required}, {34, "room", "ends", applies},
		{35, "supply", "supply", required},
		{36, "old-tube", "remake", applies}, {37, "old-figures", "remake", applies}, {38, "photo", "remake", applies},
		{39, "pumping", "delivery", required}, {40, "test-record", "delivery", optional}, {41, "mounted", "delivery", required},
		{42, "packing", "delivery", required}, {43, "breakage", "delivery", required}, {44, "price-basis", "delivery", required},
		{45, "approved", "delivery", required},
	}
}

// ParseFacts reads what a job says to its bender: "buyer = Rye & Salt, Kiln Lane 3;
// U2 painter = bender; 41 = loose glass". A field goes by its key or its number.
func ParseFacts(text string) ([]Fact, error) {
	var out []Fact
	for _, part := range strings.Split(text, ";") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		left, right, ok := strings.Cut(part, "=")
		key, value := strings.TrimSpace(left), strings.TrimSpace(right)
		if !ok || key == "" || value == "" {
			return nil, fmt.Errorf("%q: write a field and its value, as in buyer = Rye & Salt; mounted = loose glass", strings.TrimSpace(part))
		}
		var f Fact
		if unit, rest, two := strings.Cut(key, " "); two {
			f.Unit, key = unit, strings.TrimSpace(rest)
		}
		i := slices.IndexFunc(fields(), func(d field) bool { return d.key == key || strconv.Itoa(d.number) == key })
		if i < 0 {
			var keys []string
			for _, d := range fields() {
				keys = append(keys, d.key)
			}
			return nil, fmt.Errorf("unknown field %q; write one of %s, or its number from 1 to 45", key, strings.Join(keys, ", "))
		}
		f.Field, f.Text = fields()[i].number, value
		out = append(out, f)
	}
	return out, nil
}

// Options say how the documents are made.
type Options struct {
	Format  paper.Format // of the pages; its Frame and Job are set here
	Overlap float64      // of tiles, mm
	Tiled   bool         // unit drawings as tiles, not each on one sheet
	Strips  bool         // also each stick at true size
	Facts   []Fact       // later ones hold
	Hole    float64      // diameter of a housing's hole that the job gives, mm; 0 for none
}

// given returns what the job says of a field of a unit.
func (o Options) given(number int, unit string) string {
	text := ""
	for _, f := range o.Facts {
		if f.Field == number && (f.Unit == "" || f.Unit == unit) {
			text = f.Text
		}
	}
	return text
}

// value returns what a field holds: what the job says, else what the pattern knows.
// u is nil for fields of the job.
func (o Options) value(f field, p pattern.Pattern, u *pattern.Unit) string {
	id := ""
	if u != nil {
		id = u.ID
	}
	if text := o.given(f.number, id); text != "" {
		return text
	}
	if u != nil {
		return o.ofUnit(f.number, p, *u)
	}
	w := o.Format.Words
	switch f.number {
	case 7:
		return w.Say("say.sheets")
	case 8:
		return w.Say("say.view")
	case 10:
		return w.Say("say.tolerance")
	case 11:
		return w.Say("say.lines")
	}
	return ""
}

// ofUnit returns what the pattern knows of a unit.
func (o Options) ofUnit(number int, p pattern.Pattern, u pattern.Unit) string {
	w, r := o.Format.Words, p.Spec.Rules
	mm := func(v float64) string { return w.Number(v, 1) }
	count := func(kind string) int {
		n := 0
		for _, h := range u.Heats {
			if h.Kind == kind {
				n++
			}
		}
		return n
	}
	switch number {
	case 13:
		sets := o.given(6, "")
		if sets == "" {
			sets = "1"
		}
		return w.Say("say.quantity", u.ID, pattern.LettersOf(p, u), sets)
	case 14:
		return mm(r.Diameter) + " mm"
	case 20:
		return w.Say("say.none")
	case 21:
		return w.Say("say.startend")
	case 22:
		return w.Say("say.run")
	case 23:
		return w.Say("say.raises", count(bend.Raise), count(bend.Drop), mm(r.Clearance))
	case 24:
		return w.Say("say.doubles", count(bend.DoubleBack), mm(2*r.DoubleBackRadius))
	case 25:
		return w.Say("say.radius", mm(r.MinRadius))
	case 26:
		return w.Say("say.lengths", mm(u.Tube.Length()), mm(u.Tube.LengthOf(tube.Lit)), mm(u.Tube.LengthOf(tube.Hidden)), mm(u.Tube.LengthOf(tube.Leg)))
	case 27:
		x, y, z := envelope(u.Tube, r.Diameter)
		return w.Say("say.size", geom.FormatNumber(x, 0), geom.FormatNumber(y, 0), geom.FormatNumber(z, 0))
	case 30:
		return w.Say("say.ends", mm(r.Leg))
	}
	return ""
}

// envelope returns the box of a unit's glass, mm.
func envelope(t tube.Tube, d float64) (x, y, z float64) {
	box, lo, hi := geom.EmptyRect(), 0.0, 0.0
	for _, p := range t {
		n := max(1, int(p.Seg.Length()))
		for k := range n + 1 {
			q := p.Seg.PointAt(p.Seg.Length() * float64(k) / float64(n))
			box, lo, hi = box.Including(q.Plan()), min(lo, q.Z), max(hi, q.Z)
		}
	}
	return box.Width() + d, box.Height() + d, hi - lo + d
}
