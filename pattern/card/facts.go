package card

import (
	"fmt"

	"tubewright/pattern/order"
	"tubewright/pattern/plan"
	"tubewright/pattern/sheet"
)

// facts writes what holds for the whole unit.
func (w *writer) facts() {
	u := w.u
	msg := plan.English()
	w.y -= 1
	parts := len(u.Plan.Sections)
	how := "No order of bending was found: see the findings. Heats are numbered along the tube."
	if parts > 0 && u.Plan.Sections[0].Block == nil {
		how = "Made " + msg.Ways[u.Plan.Sections[0].Order.Way] + "."
		if parts > 1 {
			how = fmt.Sprintf("Made in %d parts that are welded in the end; each is bent by itself.", parts)
		}
	}
	w.y = w.lines(margin, w.y, inner, fmt.Sprintf("%s mm of glass from seal A to seal B, %d heats, %d sticks, %d welds with the electrodes. %s",
		mm(u.Tube.Length(), 0), len(u.Heats), len(u.Plan.Pieces), u.Plan.Welds(), how), text, sheet.Regular)
	if end, ok := blowEnd(u.Plan); ok {
		w.y = w.lines(margin, w.y, inner, fmt.Sprintf("Blow hose on end %s, cork in end %s. Hold at least %s mm of cold glass on each side of the fire.",
			end, other(end), mm(w.p.Spec.Rules.Hold, 0)), text, sheet.Bold)
	}
	w.y -= 1.5
}

// blowEnd returns the end of the side that lies still most often: the hose is
// least in the way there.
func blowEnd(p plan.Plan) (string, bool) {
	stays, steps := [2]int{}, 0
	for _, s := range p.Sections {
		for _, step := range s.Order.Steps {
			stays[1-step.Swings]++
			steps++
		}
	}
	if stays[order.SideB] > stays[order.SideA] {
		return "B", steps > 0
	}
	return "A", steps > 0
}

func other(end string) string {
	if end == "A" {
		return "B"
	}
	return "A"
}
