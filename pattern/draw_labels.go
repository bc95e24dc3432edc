package pattern

import (
	"strconv"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/sheet"
)

// Room around labels, mm.
const (
	labelGap  = 1.2 // least distance of a label from glass, text and leaders
	labelRoom = 1.2 // from the text of a label to its border
)

// labelSizes are the ems of labels, mm.
type labelSizes struct{ heat, end, unit float64 }

// sizesFor grow with the tube, as far as a photocopy of a reduced print asks for:
// lettering in a thick tube has room for them.
func sizesFor(d float64) labelSizes {
	heat := min(max(0.35*d, sheet.MinSize), 5)
	return labelSizes{heat, 1.25 * heat, 1.8 * heat}
}

// A note is one label to be placed: what stands in it and where it points.
type note struct {
	label sheet.Label
	group int // of the unit
	text  string
	size  float64
	font  sheet.Font
	frame frameKind
}

type frameKind int

const (
	noFrame frameKind = iota
	ring
	box
	heavyBox
)

// labels places the names of units and ends, the numbers of findings and of heats,
// and returns them one group a unit.
func (d *drawing) labels() []sheet.Group {
	var notes []note
	for i := range d.p.Units {
		notes = append(notes, d.heatNotes(i)...)
	}
	for i := range d.p.Units {
		notes = append(notes, d.endNotes(i)...)
	}
	notes = append(notes, d.findingNotes()...)
	for i := range d.p.Units {
		notes = append(notes, d.unitNote(i))
	}
	placer := sheet.NewPlacer(labelGap)
	for _, strips := range d.strips {
		for _, s := range strips {
			pts := s.path.Samples(max(2, d.d/3))
			for k := 1; k < len(pts); k++ {
				placer.Block(pts[k-1], pts[k], d.d/2)
			}
		}
	}
	for i, u := range d.p.Units {
		for _, t := range d.ticks(i) {
			placer.Block(t.Start(), t.End(), markLine/2)
		}
		for _, e := range u.Electrodes {
			placer.Block(benchPoint(e.At), benchPoint(e.At), d.d/2)
		}
	}
	labels := make([]sheet.Label, len(notes))
	for i, n := range notes {
		labels[i] = n.label
	}
	spots := placer.Place(labels)
	groups := make([]sheet.Group, len(d.p.Units))
	for i, u := range d.p.Units {
		groups[i] = sheet.Group{ID: "labels-" + u.ID, Title: "Unit " + u.ID + ": labels"}
	}
	loose := sheet.Group{ID: "labels-sheet", Title: "Findings of no unit"}
	for i, n := range notes {
		g := &loose
		if n.group >= 0 {
			g = &groups[n.group]
		}
		g.Items = append(g.Items, n.draw(spots[i])...)
	}
	if len(loose.Items) > 0 {
		groups = append(groups, loose)
	}
	return groups
}

// sized fills in the room a note takes.
func (n note) sized() note {
	w, h := sheet.Room*sheet.Width(n.text, n.size, n.font), sheet.CapHeight(n.size)
	n.label.Width, n.label.Height = w+2*labelRoom, h+2*labelRoom
	if n.frame == noFrame {
		n.label.Width, n.label.Height = w+2*labelRoom, 1.05*n.size
	}
	if n.frame == ring {
		n.label.Round = true
		n.label.Width = max(6.4, w+2.4)
		n.label.Height = n.label.Width
	}
	return n
}

// draw returns the label with its leader, which ends in a dot on the glass.
func (n note) draw(s sheet.Spot) []sheet.Item {
	var out []sheet.Item
	if n.frame != noFrame || s.Leader.Dist(n.label.Anchor) > n.label.Reach+3 { // a name beside its end needs no leader, which would look like a dash
		out = append(out,
			sheet.Shape{Paths: []geom.Path{sheet.Polyline(n.label.Anchor, s.Leader)}, Pen: solid(thinLine)},
			sheet.Shape{Paths: []geom.Path{sheet.Circle(n.label.Anchor, 0.6)}, Fill: sheet.Grey(0)})
	}
	half := geom.Vec{X: n.label.Width / 2, Y: n.label.Height / 2}
	border := geom.Rect{Min: s.Centre.Add(half.Neg()), Max: s.Centre.Add(half)}
	switch n.frame {
	case ring:
		out = append(out, sheet.Shape{Paths: []geom.Path{sheet.Circle(s.Centre, n.label.Width/2)}, Pen: solid(markLine), Fill: sheet.Grey(255)})
	case box:
		out = append(out, sheet.Shape{Paths: []geom.Path{sheet.Rectangle(border)}, Pen: solid(markLine)})
	case heavyBox:
		out = append(out, sheet.Shape{Paths: []geom.Path{sheet.Rectangle(border.Grown(-0.2))}, Pen: solid(2 * wideLine)})
	}
	base := s.Centre.Add(geom.Vec{Y: -sheet.CapHeight(n.size) / 2})
	return append(out, sheet.Text{At: base, Text: n.text, Size: n.size, Anchor: sheet.Middle, Font: n.font, Colour: sheet.Grey(0)})
}

func (d *drawing) heatNotes(i int) []note {
	var out []note
	u := d.p.Units[i]
	for _, h := range u.Heats {
		n := note{group: i, text: strconv.Itoa(h.Number), size: d.size.heat, frame: ring}
		n.label.Anchor, n.label.Reach = d.heatAnchor(i, h), d.d/2
		n.label.Prefer = d.outward(i, h.Start, h.End)
		out = append(out, n.sized())
	}
	return out
}

// heatAnchor returns the middle of a heat, or the nearest place in it that is not
// under the filled end of the unit.
func (d *drawing) heatAnchor(unit int, h bend.Heat) geom.Point {
	const steps = 16
	for k := range steps {
		for _, sign := range [2]float64{1, -1} {
			q := d.placeAt(unit, (h.Start+h.End)/2+sign*float64(k)/(2*steps)*(h.End-h.Start))
			clear := true
			for _, e := range d.p.Units[unit].Electrodes {
				clear = clear && benchPoint(e.At).Dist(q) > d.d/2+1.2
			}
			if clear {
				return q
			}
		}
	}
	return benchPoint(h.At)
}

// placeAt returns the place at a developed distance along a unit.
func (d *drawing) placeAt(unit int, at float64) geom.Point {
	t := d.p.Units[unit].Tube
	for _, p := range t {
		n := p.Seg.Length()
		if at <= n {
			return benchPoint(p.Seg.PointAt(max(at, 0)))
		}
		at -= n
	}
	return benchPoint(t.End())
}

// outward returns the direction from the chord of a stretch of tube to its
// middle: the outer side of a bend, where there is room; zero where it is straight.
func (d *drawing) outward(unit int, from, to float64) geom.Vec {
	v := d.placeAt(unit, (from+to)/2).Sub(d.placeAt(unit, from).Lerp(d.placeAt(unit, to), 0.5))
	if v.Norm() < 0.1 {
		return geom.Vec{}
	}
	return v.Unit()
}

func (d *drawing) endNotes(i int) []note {
	var out []note
	u := d.p.Units[i]
	for _, e := range u.Electrodes {
		n := note{group: i, text: u.ID + " " + e.End, size: d.size.end, font: sheet.Bold}
		n.label.Anchor, n.label.Reach = benchPoint(e.At), d.d/2
		out = append(out, n.sized())
	}
	return out
}

// unitNote names a unit and its letters from the highest place of its lit glass.
func (d *drawing) unitNote(i int) note {
	u := d.p.Units[i]
	top := benchPoint(u.Tube.Start())
	for _, s := range d.samples[i] {
		if !s.dark && s.p.Y > top.Y+1e-6 {
			top = s.p
		}
	}
	n := note{group: i, text: u.ID, size: d.size.unit, font: sheet.Bold, frame: box}
	if letters := sheet.Printable(LettersOf(d.p, u)); letters != "" {
		n.text += " " + letters
	}
	if sheet.Width(n.text, n.size, n.font) > 80 {
		n.text = u.ID
	}
	n.label.Anchor, n.label.Reach, n.label.Prefer = top, d.d/2, geom.Vec{Y: 1}
	return n.sized()
}
