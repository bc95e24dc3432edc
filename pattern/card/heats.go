package card

import (
	"fmt"
	"strconv"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/plan"
	"tubewright/pattern/sheet"
	"tubewright/pattern/stick"
)

const (
	pictureWide = 42.0
	pictureHigh = 30.0
	ringColumn  = 12.5
	wordsAt     = margin + ringColumn + 2*(pictureWide+2) + 2
)

// heats writes one row a heat, in the order of making.
func (w *writer) heats() {
	told := w.u.Plan.Tell(w.u.Heats, bend.Strains(w.u.Heats, w.p.Spec.Rules), plan.English())
	if len(told) == 0 {
		return
	}
	w.heading("Heats in order", pictureHigh+8)
	w.add(line(margin+ringColumn+pictureWide/2, w.y-3, "before", small, sheet.Regular, sheet.Middle),
		line(margin+ringColumn+pictureWide*1.5+2, w.y-3, "after", small, sheet.Regular, sheet.Middle),
		line(wordsAt, w.y-3, "black stays, hollow swings, thick: hot", small, sheet.Regular, sheet.Start))
	w.y -= 5
	v := newView(w.u)
	for _, t := range told {
		w.heat(t, v)
	}
}

func (w *writer) heat(t plan.Told, v view) {
	width := pageWide - margin - wordsAt
	type part struct {
		s    string
		size float64
		font sheet.Font
	}
	parts := []part{{t.Bend, 4.6, sheet.Bold}, {w.where(t), text, sheet.Regular}, {t.How, text, sheet.Regular}, {t.Why, small, sheet.Regular}}
	for _, s := range t.Watch {
		parts = append(parts, part{"! " + s, text, sheet.Bold})
	}
	high := 2.0
	for _, p := range parts {
		high += float64(len(sheet.Wrap(sheet.Printable(p.s), p.size, p.font, width))) * p.size * lineGap
	}
	if t.Step >= 0 {
		high = max(high, pictureHigh)
	}
	high = max(high, 13) + 2.5
	w.room(high)
	top := w.y
	const ring = 5.2
	centre := geom.Point{X: margin + ring + 0.3, Y: top - ring - 1}
	w.add(sheet.Shape{Paths: []geom.Path{sheet.Circle(centre, ring)}, Pen: black(wideLine)},
		line(centre.X, centre.Y-sheet.CapHeight(6.4)/2, strconv.Itoa(t.Heat.Number), 6.4, sheet.Bold, sheet.Middle))
	if t.Step >= 0 {
		w.pictures(t, v, top)
	}
	y := top + 0.8
	for _, p := range parts {
		y = w.lines(wordsAt, y, width, p.s, p.size, p.font)
	}
	w.y -= high
	w.add(rule(margin, w.y+1, pageWide-margin, w.y+1, thinLine))
}

func (w *writer) pictures(t plan.Told, v view, top float64) {
	before, after := w.u.Plan.Sections[t.Section].Pictures(t.Step)
	for i, strands := range [2]picture{before, after} {
		x := margin + ringColumn + float64(i)*(pictureWide+2)
		w.add(v.draw(geom.Rect{Min: geom.Point{X: x, Y: top - pictureHigh}, Max: geom.Point{X: x + pictureWide, Y: top}}, strands)...)
	}
}

// where tells the fire, and the heated zone on its stick.
func (w *writer) where(t plan.Told) string {
	from, to, number := 0.0, 0.0, 0
	for _, p := range w.u.Plan.Pieces {
		for _, m := range p.Marks {
			if m.Heat != t.Heat.Number {
				continue
			}
			switch m.Kind {
			case stick.HeatsAt:
				from, number = m.At, p.Number
			case stick.HeatsTo:
				to = m.At
			}
		}
	}
	fire := []rune(t.Fire)
	return fmt.Sprintf("%s on %s to %s mm of stick %d.", string(fire[0]-'a'+'A')+string(fire[1:]), mm(from, 0), mm(to, 0), number)
}
