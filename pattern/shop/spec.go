package shop

import (
	"fmt"
	"slices"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/shop/load"
	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/words"
)

// Spec is what the shop decides. The zero value of each field takes the default
// in its comment.
type Spec struct {
	// Tables are the reference tables, a shop's own rows laid over; default
	// table.Embedded.
	Tables *table.Set
	// Colour and Glass are keys of the tables colours and glasses; default
	// clear-red and soda-lime.
	Colour, Glass string
	// Changes are other colours or glasses, from a place in a unit on.
	Changes []Change
	// OffCuts is glass left from other jobs, used before sticks are bought.
	OffCuts []OffCut
	// Place is a key of the table places; default unstated.
	Place string
	// Indoors says that the sign hangs in a heated room; default outdoors.
	Indoors bool
	// Ambient is the least temperature in °C where it hangs, "" for not stated.
	Ambient string
	// Chart is a key of the table charts; default the place's.
	Chart string
	// Interpolate allows straight lines between the diameters of a chart.
	Interpolate bool
	// Supply is the kind of supply; default midpoint.
	Supply load.Kind
	// Current is the rated secondary current in mA, 5 to 300; default 30.
	Current int
	// MainsVolts and MainsAmperes are the branch circuit; default 120 V and 20 A
	// in the USA and Canada, 230 V and 16 A elsewhere.
	MainsVolts, MainsAmperes int
	// SupplyAt is where the supply stands behind the sign, mm, front frame;
	// default behind the middle of the sign.
	SupplyAt *geom.Point
	// SupplyIn is indoors or outdoors; default where the sign is.
	SupplyIn string
	// Conduit is what the leads run in, a word of Conduits; default unstated.
	Conduit string
	// Leads are measured leads, in the place of those reckoned from the straight way.
	Leads []Lead
	// Sets is how many identical signs are made; default 1.
	Sets int
	// Class is the class of bends for the price by length: straight, block or
	// script; default block.
	Class string
	// Words are those of the customer's quote; default English.
	Words words.Words
	// Currency is printed after amounts; default "demo money".
	Currency string
}

// Change says that from At mm of glass, counted from electrode A, a unit has
// another colour or glass; an empty word keeps what was before.
type Change struct {
	Unit          string
	At            float64
	Colour, Glass string
}

// Classes lists the classes of bends of the price by length.
func Classes() []string { return []string{"straight", "block", "script"} }

// Check reports the first thing in the spec that no job can be made with.
func (s Spec) Check() error {
	_, err := settle(s)
	return err
}

// settled is a Spec with its defaults filled in and its words looked up.
type settled struct {
	Spec
	tables  table.Set
	place   table.Row
	chart   load.Chart
	current quantity.Quantity
	ambient *quantity.Quantity
}

// unknown reports a word that is no key of a table.
func unknown(what, word string, t table.Table) error {
	return fmt.Errorf("unknown %s %q; write one of %s", what, word, strings.Join(t.Keys(), ", "))
}

func settle(s Spec) (settled, error) {
	out := settled{Spec: s}
	if s.Tables != nil {
		out.tables = *s.Tables
	} else {
		out.tables = table.Embedded()
	}
	preset := func(field *string, word string) {
		if *field == "" {
			*field = word
		}
	}
	preset(&out.Colour, "clear-red")
	preset(&out.Glass, "soda-lime")
	preset(&out.Place, "unstated")
	preset(&out.Class, "block")
	preset(&out.Conduit, Conduits()[0])
	preset(&out.SupplyIn, [...]string{"outdoors", "indoors"}[b2i(s.Indoors)])
	preset(&out.Currency, "demo money")
	var ok bool
	if out.place, ok = out.tables.Table("places").Find(out.Place); !ok {
		return out, unknown("place", out.Place, out.tables.Table("places"))
	}
	for _, o := range out.OffCuts {
		if _, ok := out.tables.Table("colours").Find(o.Colour); o.Colour != "" && !ok {
			return out, unknown("colour", o.Colour, out.tables.Table("colours"))
		}
	}
	if _, ok := out.tables.Table("colours").Find(out.Colour); !ok {
		return out, unknown("colour", out.Colour, out.tables.Table("colours"))
	}
	if _, ok := out.tables.Table("glasses").Find(out.Glass); !ok {
		return out, unknown("glass", out.Glass, out.tables.Table("glasses"))
	}
	preset(&out.Chart, out.place.Text("chart"))
	var err error
	if out.chart, err = load.Find(out.tables, out.Chart); err != nil {
		return out, err
	}
	out.presetNumbers()
	return out, out.check()
}

func (s *settled) presetNumbers() {
	volts, amperes := 230, 16
	if strings.HasPrefix(s.Place, "US") || s.Place == "CA" {
		volts, amperes = 120, 20
	}
	for _, p := range []struct {
		field *int
		value int
	}{{&s.Current, 30}, {&s.MainsVolts, volts}, {&s.MainsAmperes, amperes}, {&s.Sets, 1}} {
		if *p.field == 0 {
			*p.field = p.value
		}
	}
	s.current = quantity.Int(s.Current, quantity.Milliampere)
}

func (s *settled) check() error {
	for _, c := range []struct {
		what      string
		got       int
		low, high int
	}{
		{"secondary current in mA", s.Current, 5, 300}, {"mains voltage", s.MainsVolts, 90, 480},
		{"branch circuit in A", s.MainsAmperes, 5, 63}, {"number of sets", s.Sets, 1, 100000}, {"kind of supply", int(s.Supply), 0, len(load.Kinds()) - 1},
	} {
		if c.got < c.low || c.got > c.high {
			return fmt.Errorf("%s of %d: it must be from %d to %d", c.what, c.got, c.low, c.high)
		}
	}
	if s.Ambient != "" {
		q, err := quantity.Parse(s.Ambient, quantity.Celsius)
		if err != nil {
			return fmt.Errorf("least ambient temperature: %w", err)
		}
		if v := q.Float(quantity.Celsius); v < -60 || v > 60 {
			return fmt.Errorf("least ambient temperature of %s °C: it must be from -60 to 60", s.Ambient)
		}
		s.ambient = &q
	}
	for _, w := range []struct {
		what, word string
		known      []string
	}{
		{"class of bends", s.Class, Classes()}, {"conduit", s.Conduit, Conduits()}, {"place of the supply", s.SupplyIn, []string{"indoors", "outdoors"}},
	} {
		if !slices.Contains(w.known, w.word) {
			return fmt.Errorf("unknown %s %q; write %s", w.what, w.word, strings.Join(w.known, ", "))
		}
	}
	return nil
}

// ParseChanges reads "U2 = blue; U3 @ 640 = ruby-red, lead-0010": other colours,
// and glasses after a comma, for whole units or from so many mm on.
func ParseChanges(text string) ([]Change, error) {
	var out []Change
	for _, part := range strings.Split(text, ";") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		left, right, ok := strings.Cut(part, "=")
		bad := fmt.Errorf("colour change %q: write it as in U2 = blue, or U3 @ 640 = ruby-red, lead-0010", strings.TrimSpace(part))
		if !ok {
			return nil, bad
		}
		unit, at, placed := strings.Cut(left, "@")
		c := Change{Unit: strings.TrimSpace(unit)}
		if placed {
			n, err := quantity.Parse(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(at), "mm")), quantity.Millimetre)
			if err != nil {
				return nil, fmt.Errorf("%w: %w", bad, err)
			}
			c.At = n.Float(quantity.Millimetre)
		}
		colour, glass, _ := strings.Cut(right, ",")
		c.Colour, c.Glass = strings.TrimSpace(colour), strings.TrimSpace(glass)
		if c.Unit == "" || c.Colour == "" && c.Glass == "" {
			return nil, bad
		}
		out = append(out, c)
	}
	return out, nil
}
