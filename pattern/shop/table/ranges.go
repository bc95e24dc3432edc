package table

import (
	"fmt"

	"tubewright/pattern/shop/quantity"
)

// span is what a setting may be, both ends included, in its own unit.
type span struct{ low, high float64 }

// ranges are the spans of settings that not every number makes sense for: a share
// of over 100 %, a density of nothing, a cut as long as the stick.
func ranges() map[string]map[string]span {
	share := span{0, 100}
	return map[string]map[string]span{
		"settings": {
			"cold": {0, 40}, "weld-expansion": {0, 100}, "least-share": share, "running-share": {1, 100}, "pass-low": {1, 100}, "pass-high": {1, 100},
			"fall-neon": {0, 5000}, "fall-argon-low": {0, 5000}, "fall-argon-high": {0, 5000}, "paint-overlap": {0, 5}, "cut-waste": {0, 50},
			"hold": {0, 500}, "lead-slack": {0, 5000}, "lead-metal": {0.1, 1000}, "lead-nonmetallic": {0.1, 1000}, "lead-electronic": {0.1, 1000},
			"watts-low": {0.1, 1000}, "watts-high": {0.1, 1000}, "continuous": {1, 100}, "mercury-density": {13, 14}, "pressure-law": {1, 10000},
			"mercury-cap": {0, 1000}, "mercury-outdoor-pair": {0, 1000}, "mercury-indoor-pair": {0, 1000}, "mercury-outdoor-length": {0, 100}, "mercury-indoor-length": {0, 100},
		},
		"supports": {
			"support-spacing": {50, 2000}, "support-electrode": {10, 1000}, "surface-gap": {0, 500}, "surface-gap-electronic": {0, 500},
			"end-gap": {0, 500}, "housing-clearance": {0, 50},
		},
		"prices": {"scrap": share, "discount": share, "fudge": {0, 1000}, "margin": {0, 1000}, "discount-from": {1, 1e6}},
	}
}

// order are pairs of settings of which the first may not be over the second.
func order() [][2]string {
	return [][2]string{{"pass-low", "pass-high"}, {"fall-argon-low", "fall-argon-high"}, {"watts-low", "watts-high"}, {"lead-metal", "lead-nonmetallic"}}
}

// checkRanges refuses settings that cannot be, and rows that contradict themselves.
func (s Set) checkRanges(file string) Errors {
	var wrong Errors
	num := func(r Row, c string) float64 { return r.Number(c, quantity.One).Float(quantity.One) }
	refuse := func(r Row, remedy, format string, args ...any) {
		wrong = append(wrong, Error{r.File, r.Line, fmt.Sprintf(format, args...), remedy})
	}
	spans := ranges()
	for _, name := range []string{"supports", "settings", "prices"} {
		for _, r := range s.Table(name).Rows {
			if to, ok := spans[name][r.cells[0]]; ok && r.File == file && (num(r, "value") < to.low || num(r, "value") > to.high) {
				refuse(r, fmt.Sprintf("it must be from %g to %g", to.low, to.high), "%s: %s %s is out of range", r.cells[0], r.Text("value"), r.Text("unit"))
			}
		}
	}
	for _, o := range order() {
		a, okA := s.Table("settings").Find(o[0])
		b, okB := s.Table("settings").Find(o[1])
		if okA && okB && (a.File == file || b.File == file) && num(a, "value") > num(b, "value") {
			r := a
			if r.File != file {
				r = b
			}
			refuse(r, "put the lesser one first", "%s of %s is over %s of %s", o[0], a.Text("value"), o[1], b.Text("value"))
		}
	}
	for _, r := range s.Table("tubes").Rows {
		if r.File == file && 2*num(r, "wall_mm") >= num(r, "diameter_mm") {
			refuse(r, "measure the wall again", "a wall of %s mm leaves no bore in a tube of %s mm", r.Text("wall_mm"), r.Text("diameter_mm"))
		}
	}
	for _, r := range s.Table("electrodes").Rows {
		if r.File == file && (num(r, "least_ma") > num(r, "most_ma") || num(r, "length_least_mm") > num(r, "length_most_mm")) {
			refuse(r, "put the lesser figure first", "electrode %s: a least figure is over the most", r.cells[0])
		}
	}
	return wrong
}
