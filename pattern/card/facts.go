package card

import (
	"math"

	"tubewright/pattern"
	"tubewright/pattern/order"
	"tubewright/pattern/plan"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/words"
)

// Facts tells what holds for the whole unit: its glass, how it is made, where it is
// blown and held.
func Facts(p pattern.Pattern, u pattern.Unit, w words.Words, width float64) []paper.Row {
	msg := Messages(w)
	parts := len(u.Plan.Sections)
	how := w.Say("card.parts", parts)
	if parts == 1 {
		how = w.Say("card.made", msg.Ways[u.Plan.Sections[0].Order.Way])
	}
	for _, s := range u.Plan.Sections {
		if s.Block != nil {
			how = w.Say("card.noorder")
		}
	}
	if said := swing(u.Plan, w); said != "" {
		how += " " + said
	}
	out := paper.Paragraph(w.Say("card.glass", whole(u.Tube.Length()), len(u.Heats), len(u.Plan.Pieces), u.Plan.Welds())+" "+how, 0, width, sheet.Regular)
	if end, ok := blowEnd(u.Plan); ok {
		out = append(out, paper.Paragraph(w.Say("card.hold", end, other(end), whole(p.Spec.Rules.Hold)), 0, width, sheet.Bold)...)
	}
	return out
}

// swing tells the largest swing of a unit, and what is proved of it; nothing where
// nothing swings or a part has no order.
func swing(p plan.Plan, w words.Words) string {
	largest, bound := 0.0, 0.0
	for _, s := range p.Sections {
		if s.Block != nil {
			return ""
		}
		largest, bound = max(largest, s.Order.LargestTravel()), max(bound, s.Order.Bound)
		if s.Order.Exact {
			bound = max(bound, s.Order.LargestTravel())
		}
	}
	switch {
	case largest == 0:
		return ""
	case bound >= largest:
		return w.Say("card.least", whole(largest))
	}
	return w.Say("card.bound", whole(largest), whole(math.Floor(bound)))
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
