package card

import (
	"strconv"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/plan"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/stick"
	"tubewright/pattern/words"
)

const (
	pictureWide = 38.0
	pictureHigh = 28.0
	pictureGap  = 2.0
	ring        = 5.2 // radius of the circle about a heat's number
	ringColumn  = 12.5
	wordsAt     = ringColumn + 2*(pictureWide+pictureGap) + 1
)

// Heats returns one row a heat, in the order of making, under a line that explains
// the pictures.
func Heats(p pattern.Pattern, u pattern.Unit, w words.Words, width float64) []paper.Row {
	told := u.Plan.Tell(u.Heats, bend.Strains(u.Heats, p.Spec.Rules), Messages(w))
	if len(told) == 0 {
		return nil
	}
	out := paper.Paragraph(w.Say("card.pictures"), 0, width, sheet.Regular)
	head := paper.Row{Height: 6, Keep: true, Items: []sheet.Item{
		line(ringColumn+pictureWide/2, -4.5, w.Say("card.before"), small, sheet.Bold, sheet.Middle),
		line(ringColumn+pictureWide*1.5+pictureGap, -4.5, w.Say("card.after"), small, sheet.Bold, sheet.Middle),
	}}
	out = append(out, head)
	v := newView(u)
	for _, t := range told {
		r := heatRow(u, t, v, w, width)
		r.Under = []paper.Row{head}
		out = append(out, r)
	}
	return out
}

func heatRow(u pattern.Unit, t plan.Told, v view, w words.Words, width float64) paper.Row {
	var r paper.Row
	centre := geom.Point{X: ring + 0.3, Y: -ring - 1}
	r.Items = append(r.Items, sheet.Shape{Paths: []geom.Path{sheet.Circle(centre, ring)}, Pen: black(wideLine)},
		line(centre.X, centre.Y-sheet.CapHeight(6)/2, strconv.Itoa(t.Heat.Number), 6, sheet.Bold, sheet.Middle))
	number, from, to := stick.Zone(u.Plan.Pieces, t.Heat.Number)
	sentences := []say{{t.Bend, large, sheet.Bold},
		{plan.Capital(w.Say("card.zone", t.Fire, whole(from), whole(to), number)), text, sheet.Regular}}
	for _, s := range [2]string{t.How, t.Why} {
		sentences = append(sentences, say{s, text, sheet.Regular})
	}
	for _, s := range t.Watch {
		sentences = append(sentences, say{"! " + s, text, sheet.Bold})
	}
	r.Height = max(13, block(&r, wordsAt, width-wordsAt, sentences))
	if t.Step >= 0 {
		r.Items = append(r.Items, pictures(u, t, v)...)
		r.Height = max(r.Height, pictureHigh)
	}
	r.Items = append(r.Items, rule(0, -r.Height-1.2, width, -r.Height-1.2, thinLine))
	r.Height += 2.4
	return r
}

func pictures(u pattern.Unit, t plan.Told, v view) []sheet.Item {
	before, after := u.Plan.Sections[t.Section].Pictures(t.Step)
	var out []sheet.Item
	for i, strands := range [2]picture{before, after} {
		x := ringColumn + float64(i)*(pictureWide+pictureGap)
		out = append(out, v.draw(geom.Rect{Min: geom.Point{X: x, Y: -pictureHigh}, Max: geom.Point{X: x + pictureWide}}, strands)...)
	}
	return out
}
