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
	how := fmt.Sprintf("Made in %d parts that are welded in the end; each is bent by itself.", parts)
	if parts == 1 {
		how = "Made " + msg.Ways[u.Plan.Sections[0].Order.Way] + "."
	}
	for _, s := range u.Plan.Sections {
		if s.Block != nil {
			how = "For " + map[bool]string{true: "this unit", false: "part of this unit"}[parts == 1] + " no order of bending was found: see the findings."
		}
	}
	w.y = w.lines(margin, w.y, inner, fmt.Sprintf("%s mm of glass from seal A to seal B, %s, %s, %d welds with the electrodes. %s",
		mm(u.Tube.Length(), 0), count(len(u.Heats), "heat"), count(len(u.Plan.Pieces), "stick"), u.Plan.Welds(), how), text, sheet.Regular)
	if end, ok := blowEnd(u.Plan); ok {
		w.y = w.lines(margin, w.y, inner, fmt.Sprintf("Blow hose on end %s, cork in end %s. Hold at least %s mm of cold glass each side.",
			end, other(end), mm(w.p.Spec.Rules.Hold, 0)), text, sheet.Bold)
	}
	w.y -= 1.5
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
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
