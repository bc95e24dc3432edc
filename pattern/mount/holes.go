package mount

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/support"
)

// Options are the sizes of what is not in the pattern, mm; the zero value takes the
// defaults.
type Options struct {
	// Jacket is the outside diameter of an electrode's jacket; default 14, that of
	// small ones to 30 mA (M-low; table electrodes).
	Jacket float64
	// HousingGap is a housing hole over the jacket on each side; default 1.5 (M-low;
	// no maker's drawing read). Hole is the diameter of the hole itself where the
	// housing in hand has its own; default Jacket + 2 HousingGap, or where the tube
	// is wider than the jacket the tube's.
	HousingGap, Hole float64
	// KeepOut is what live ends keep from each other and from metal; default 38
	// (P, S32b).
	KeepOut float64
	// Surface is what tube keeps from all but its supports; default 6 (P, S33g).
	Surface float64
	// Spacing is the most between supports; default 450 (C). FromEnd is the most
	// from a support to an electrode, default 150 (M, NEC 600.41(B)).
	Spacing, FromEnd float64
	// Cite names source and grade of a figure by its table's key, "[S32b, P]", where
	// the shop has its own; nil cites the defaults.
	Cite func(key string) string
	// Correction is told where the print is stretched for its printer.
	Correction string
}

// Keys of the shop's tables that Cite is asked for.
const (
	CiteJacket, CiteGap, CiteKeepOut       = "electrodes", "housing-clearance", "end-gap"
	CiteSurface, CiteSpacing, CiteFromEnds = "surface-gap", "support-spacing", "support-electrode"
)

func citeDefaults(key string) string {
	switch key {
	case CiteJacket, CiteGap:
		return "[M-low]"
	case CiteKeepOut:
		return "[S32b, P]"
	case CiteSurface:
		return "[S33g, P]"
	case CiteSpacing:
		return "[C]"
	}
	return "[M]"
}

func (o Options) settled() Options {
	for _, p := range []struct {
		field  *float64
		preset float64
	}{{&o.Jacket, 14}, {&o.HousingGap, 1.5}, {&o.KeepOut, 38}, {&o.Surface, 6}, {&o.Spacing, 450}, {&o.FromEnd, 150}} {
		if *p.field == 0 {
			*p.field = p.preset
		}
	}
	if o.Cite == nil {
		o.Cite = citeDefaults
	}
	return o
}

// hole returns the diameter of a hole for the end of a tube of diameter d.
func (o Options) hole(d float64) float64 {
	if o.Hole != 0 {
		return o.Hole
	}
	return max(o.Jacket, d) + 2*o.HousingGap
}

// Hole is one hole to drill, in the front frame.
type Hole struct {
	Name     string // "U1 A"
	At       geom.Point
	Diameter float64
}

// Support is a place to hold a unit, in the front frame. Under is set where the glass
// there is not straight and level, as supports should have it: no better place was
// found.
type Support struct {
	Name  string // "S3"
	Unit  string
	At    geom.Point
	Depth float64 // of the tube's centre behind the face
	Under bool
}

// Holes returns the holes of all electrodes whose legs go back through the panel;
// aside names the ends whose legs do not.
func Holes(p pattern.Pattern, o Options) (holes []Hole, aside []string) {
	o = o.settled()
	for _, u := range p.Units {
		for _, e := range u.Electrodes {
			name := u.ID + " " + e.End
			if e.Direction.Z > -0.9 {
				aside = append(aside, name)
				continue
			}
			holes = append(holes, Hole{name, e.At.Plan(), o.hole(p.Spec.Rules.Diameter)})
		}
	}
	return holes, aside
}

// Datum is where x and y of the table are 0: a whole number of millimetres left of
// and below all glass and holes.
func Datum(p pattern.Pattern) geom.Point {
	b := p.Bounds()
	return geom.Point{X: 10 * math.Floor((b.Min.X-20)/10), Y: 10 * math.Floor((b.Min.Y-20)/10)}
}

// Supports returns places to hold each unit, by the rule of package support.
func Supports(p pattern.Pattern, o Options) []Support {
	o = o.settled()
	var out []Support
	for i, s := range support.Places(p, support.Rule{Spacing: o.Spacing, FromEnd: o.FromEnd}) {
		out = append(out, Support{Name: fmt.Sprintf("S%d", i+1), Unit: s.Unit, At: s.At.Plan(), Depth: -s.At.Z, Under: s.Under})
	}
	return out
}
