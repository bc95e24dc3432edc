package glass

import "fmt"

// Rules are the limits one job is bent to. All lengths are mm; radii are of
// the centreline. Rules from Default are consistent; after changing a field
// call Validate.
type Rules struct {
	// Diameter D is the outside diameter of the tube, 3 to 25.
	Diameter float64
	// MinRadius is the least radius of any bend; under 0.75 D glass is refused.
	// Source: derived from heated lengths (D, S13); limit C.
	MinRadius float64
	// CornerRadius is the usual radius of a corner: 1.27 D, whose quarter turn
	// takes the 2 D of heated glass the trade gives a right angle (D, S13).
	CornerRadius float64
	// DoubleBackRadius is the radius of a turn that brings the run back
	// behind itself: 1.0 D, so that a gap of 1 D is left (C; 0.80 D is the
	// tightest the trade's 2.5 D of heated glass gives: D, S13).
	DoubleBackRadius float64
	// Clearance is the least gap from glass to glass: 0.5 D (C).
	Clearance float64
	// BackPlane is how far the centres of the first hidden plane lie behind
	// the face: 2 D, the double-back's own depth (D).
	BackPlane float64
	// PlaneStep is the distance from one hidden plane to the next: 1.5 D (C).
	PlaneStep float64
	// DipDepth, DipRun and DipFlat shape a crossing: the strand that dips goes
	// 1.5 D deep over ramps of 3 D with a flat bottom of 1 D (C).
	DipDepth, DipRun, DipFlat float64
	// Leg is the straight glass before an electrode: 60 mm clear of any bend
	// (C, 50 to 75 in use). At least 50.
	Leg float64
	// MaxUnit is the longest unit, in mm of glass: 2,400 (P, S42: shops quote
	// up to 8 ft).
	MaxUnit float64
	// MaxBends is the most bends out of the face and changes of hand in one unit:
	// 56 (common practice, no source: each is a chance to lose all the work before
	// it).
	MaxBends int
	// Stick is the length of a stick as bought: 1,219 (4 ft, P, S40b) or 1,500
	// (P, S17) by region.
	Stick float64
	// HeatLength is the most curve that is heated at once on a ribbon fire:
	// 150 mm (P, S41c: 75 to 150).
	HeatLength float64
	// Hold is the cold glass the bender needs on each side of a heat, straight or
	// already formed, tails that are trimmed off later included: 150 mm
	// (D, between the 100 and 180 of S41 and S61).
	Hold float64
	// WeldClear is how far a weld keeps from any heated zone: 2 D (C, S11).
	WeldClear float64
	// StrainGap is how near two heated zones, or a zone and a weld, may come
	// before the glass between them holds strain: 1 D (D, from S15).
	StrainGap float64
	// FireGap is the least distance from the centreline of the glass being
	// heated to that of any other glass: 1.5 D, a gap of D/2 (C).
	FireGap float64
	// TightRadius is where a bend is tight and glass must be gathered: 1.25 D (C).
	TightRadius float64
	// CornerZone, DoubleBackZone and DropZone are the lengths heated for a
	// corner (2 D: P, S13), a double-back (2.5 D: P, S13) and each bend of a drop or
	// raise (1.5 D: C). A longer bend is heated over its whole length.
	CornerZone, DoubleBackZone, DropZone float64
	// CurveMargin is heated beyond each end of a curve: 0.5 D (C; S13 has "a
	// little").
	CurveMargin float64
	// Allowance is the glass to add for each bend of a kind, as the shop has
	// measured it. Default none: glass is lost where it is gathered and won where
	// it is stretched, by about 1 D a bend either way (C).
	Allowance Allowance
}

// Allowance is the glass in mm to add to the stick for one bend of each kind;
// negative where the shop's bends stretch the glass.
type Allowance struct {
	Corner, Curve, DoubleBack, DropBack, Raise, Drop float64
}

// The range of tubes served; the trade bends 6 to 25 mm (P, S1, S41b).
const (
	MinDiameter = 3.0
	MaxDiameter = 40.0
)

// Default returns the rules for a tube of outside diameter d mm.
func Default(d float64) Rules {
	return Rules{
		Diameter:         d,
		MinRadius:        0.75 * d,
		CornerRadius:     1.27 * d,
		DoubleBackRadius: 1.0 * d,
		Clearance:        0.5 * d,
		BackPlane:        2 * d,
		PlaneStep:        1.5 * d,
		DipDepth:         1.5 * d,
		DipRun:           3 * d,
		DipFlat:          1 * d,
		Leg:              60,
		MaxUnit:          2400,
		MaxBends:         56,
		Stick:            1219,
		HeatLength:       150,
		Hold:             150,
		WeldClear:        2 * d,
		StrainGap:        1 * d,
		FireGap:          1.5 * d,
		TightRadius:      1.25 * d,
		CornerZone:       2 * d,
		DoubleBackZone:   2.5 * d,
		DropZone:         1.5 * d,
		CurveMargin:      0.5 * d,
	}
}

// Need returns the least distance between two centrelines: D + clearance.
func (r Rules) Need() float64 { return r.Diameter + r.Clearance }

// Validate reports the first rule that no glass can be bent to.
func (r Rules) Validate() error {
	d := r.Diameter
	if !(d >= MinDiameter && d <= MaxDiameter) {
		return fmt.Errorf("tube of %g mm: outside diameters from %g to %g mm are served", d, MinDiameter, MaxDiameter)
	}
	for _, c := range []struct {
		name      string
		got       float64
		low, high float64
	}{
		{"least radius", r.MinRadius, 0.75 * d, 10 * d},
		{"corner radius", r.CornerRadius, r.MinRadius, 20 * d},
		{"double-back radius", r.DoubleBackRadius, r.MinRadius, 5 * d},
		{"clearance", r.Clearance, 0.25 * d, 5 * d},
		{"back plane", r.BackPlane, 2 * r.DoubleBackRadius, 20 * d},
		{"plane step", r.PlaneStep, r.Need(), 20 * d},
		{"dip depth", r.DipDepth, r.Need(), 2.5 * d},
		{"straight before an electrode", r.Leg, 50, 1000},
		{"longest unit", r.MaxUnit, 10 * d, 20000},
		{"stick length", r.Stick, 300, 5000},
		{"most curve in one heat", r.HeatLength, d, 1000},
		{"cold glass to hold", r.Hold, 0, 500},
		{"distance from a weld to a heat", r.WeldClear, 0, 20 * d},
		{"strain distance", r.StrainGap, 0, 20 * d},
		{"distance from the fire", r.FireGap, d, 20 * d},
		{"radius of a tight bend", r.TightRadius, 0, 20 * d},
		{"heated length of a corner", r.CornerZone, 0, 20 * d},
		{"heated length of a double-back", r.DoubleBackZone, 0, 20 * d},
		{"heated length of a drop", r.DropZone, 0, 20 * d},
		{"heated margin of a curve", r.CurveMargin, 0, 5 * d},
		{"allowance for a corner", r.Allowance.Corner, -5 * d, 5 * d},
		{"allowance for a curve", r.Allowance.Curve, -5 * d, 5 * d},
		{"allowance for a double-back", r.Allowance.DoubleBack, -5 * d, 5 * d},
		{"allowance for a drop-back", r.Allowance.DropBack, -5 * d, 5 * d},
		{"allowance for a raise", r.Allowance.Raise, -5 * d, 5 * d},
		{"allowance for a drop", r.Allowance.Drop, -5 * d, 5 * d},
	} {
		if !(c.got >= c.low-1e-9 && c.got <= c.high+1e-9) {
			return fmt.Errorf("%s of %.4g mm: with a tube of %g mm it must be from %.4g to %.4g mm", c.name, c.got, d, c.low, c.high)
		}
	}
	return nil
}
