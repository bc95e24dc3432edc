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
	// Stick is the length of a stick as bought: 1,219 (4 ft, P, S40b) or 1,500
	// (P, S17) by region.
	Stick float64
	// HeatLength is the most curve that is heated at once on a ribbon fire:
	// 150 mm (P, S41c: 75 to 150).
	HeatLength float64
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
		Stick:            1219,
		HeatLength:       150,
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
	} {
		if !(c.got >= c.low-1e-9 && c.got <= c.high+1e-9) {
			return fmt.Errorf("%s of %.4g mm: with a tube of %g mm it must be from %.4g to %.4g mm", c.name, c.got, d, c.low, c.high)
		}
	}
	return nil
}
