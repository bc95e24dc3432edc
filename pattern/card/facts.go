package card

import (
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
	out := paper.Paragraph(w.Say("card.glass", whole(u.Tube.Length()), len(u.Heats), len(u.Plan.Pieces), u.Plan.Welds())+" "+how, 0, width, sheet.Regular)
	if end, ok := blowEnd(u.Plan); ok {
		out = append(out, paper.Paragraph(w.Say("card.hold", end, other(end), whole(p.Spec.Rules.Hold)), 0, width, sheet.Bold)...)
	}
	return out
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
