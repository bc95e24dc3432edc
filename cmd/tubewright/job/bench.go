package job

import (
	"fmt"
	"strings"

	"tubewright/fonts/nearest"
	"tubewright/geom"
	"tubewright/pattern/glass"
)

// benchSettings are how the shop heats, holds and welds: what the plan of bends
// is made by. Each starts from the tube's own figure (glass.Default).
func benchSettings() []Setting {
	rule := func(key, help, word string, field func(*glass.Rules) *float64) Setting {
		return Setting{Key: key, Kind: Length, Help: help, Default: word,
			field:  func(j *Job) *geom.Length { return (*geom.Length)(field(&j.Rules)) },
			preset: func(j *Job) geom.Length { return geom.Length(*field(&j.Rules)) }}
	}
	return []Setting{
		rule("hold", "cold glass to hold on each side of a heat", "150mm", func(r *glass.Rules) *float64 { return &r.Hold }),
		rule("weld-clear", "from a weld to any heated zone", "2 D", func(r *glass.Rules) *float64 { return &r.WeldClear }),
		rule("strain-gap", "heated zones nearer than this are told: strain stays between them", "1 D", func(r *glass.Rules) *float64 { return &r.StrainGap }),
		rule("fire-gap", "from the glass in the fire to any other, centre to centre", "1.5 D", func(r *glass.Rules) *float64 { return &r.FireGap }),
		rule("tight-radius", "bends under this are told: gather glass", "1.25 D", func(r *glass.Rules) *float64 { return &r.TightRadius }),
		rule("ribbon", "most curve that is heated at once", "150mm", func(r *glass.Rules) *float64 { return &r.HeatLength }),
		rule("corner-heat", "glass heated for a right angle", "2 D", func(r *glass.Rules) *float64 { return &r.CornerZone }),
		rule("double-back-heat", "glass heated for a double-back", "2.5 D", func(r *glass.Rules) *float64 { return &r.DoubleBackZone }),
		rule("drop-heat", "glass heated for each bend of a drop or raise", "1.5 D", func(r *glass.Rules) *float64 { return &r.DropZone }),
		rule("curve-heat", "heated beyond each end of a curve", "0.5 D", func(r *glass.Rules) *float64 { return &r.CurveMargin }),
		{Key: "allowance", Kind: Name, Default: noAllowance,
			Help: "glass to add to the stick for a bend of a kind, as the shop has measured it: corner 3mm, double-back -4mm"},
	}
}

// noAllowance is the word for glass that neither stretches nor gathers.
const noAllowance = "none"

// allowances are the kinds of bend with their allowances, as they are written.
func allowances(a *glass.Allowance) []struct {
	kind string
	mm   *float64
} {
	return []struct {
		kind string
		mm   *float64
	}{{"corner", &a.Corner}, {"curve", &a.Curve}, {"double-back", &a.DoubleBack}, {"drop-back", &a.DropBack}, {"raise", &a.Raise}, {"drop", &a.Drop}}
}

// setAllowance reads "corner 3mm, double-back -4mm".
func (j *Job) setAllowance(word string) *Error {
	if word == noAllowance {
		return nil
	}
	seen := map[string]bool{}
	for _, part := range strings.Split(word, ",") {
		kind, length, _ := strings.Cut(strings.TrimSpace(part), " ")
		mm, kinds := (*float64)(nil), []string{}
		for _, a := range allowances(&j.Rules.Allowance) {
			kinds = append(kinds, a.kind)
			if a.kind == kind {
				mm = a.mm
			}
		}
		if mm == nil {
			e := &Error{Message: fmt.Sprintf("allowance: unknown kind of bend %q", clip(kind)), Remedy: "write " + strings.Join(kinds, ", ")}
			if near := nearest.Word(kind, kinds); near != "" {
				e.Remedy = fmt.Sprintf("did you mean %q?", near)
			}
			return e
		}
		if seen[kind] {
			return &Error{Message: fmt.Sprintf("allowance: %s is there twice", kind), Remedy: "take one out"}
		}
		n, err := readPlace(length, true)
		if err != nil {
			return &Error{Message: fmt.Sprintf("allowance for %s: %v", kind, err), Remedy: `write kinds and lengths, as in allowance = "corner 3mm, double-back -4mm"`}
		}
		seen[kind], *mm = true, float64(n)
	}
	return nil
}

// allowanceText is the allowance as it is written.
func (j Job) allowanceText() string {
	var out []string
	for _, a := range allowances(&j.Rules.Allowance) {
		if *a.mm != 0 {
			out = append(out, a.kind+" "+exact(geom.Length(*a.mm)))
		}
	}
	if len(out) == 0 {
		return noAllowance
	}
	return strings.Join(out, ", ")
}
