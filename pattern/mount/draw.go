package mount

import (
	"fmt"
	"math"
	"strings"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/words"
)

// The strips about the drawing, mm.
const (
	edge     = 6.0
	inside   = 10.0 // from the edge of the paper to what the border holds
	headHigh = 26.0
	rulerLow = 14.0
	tableHas = 30 // rows in one column of a table
	tableFar = 8.0

	wordsWide = 118.0 // a column of words

	thinLine  = 0.2 // the least that a photocopy keeps, in black
	crossLine = 0.25
)

func pen(width float64) sheet.Pen { return sheet.Pen{Width: width, Colour: sheet.Grey(0)} }

func text(x, y float64, s string, size float64, f sheet.Font, a sheet.Anchor) sheet.Text {
	return sheet.Text{At: geom.Point{X: x, Y: y}, Text: s, Size: size, Font: f, Anchor: a, Colour: sheet.Grey(0)}
}

// Draw returns the sheet at full size. Front (x, y) of the pattern stands on it at
// (X0 + x, Y0 + y); its Description tells X0 and Y0.
func Draw(p pattern.Pattern, o Options, w words.Words) *sheet.Sheet {
	m := &drawing{p: p, o: o.settled(), w: w.OrEnglish()}
	m.holes, m.aside = Holes(p, o)
	m.supports = Supports(p, o)
	m.datum = Datum(p)
	layers := m.layers()
	box := geom.EmptyRect()
	for _, l := range layers {
		for _, g := range l.Groups {
			box = box.Union(g.Bounds())
		}
	}
	return m.compose(layers, box)
}

type drawing struct {
	p        pattern.Pattern
	o        Options
	w        words.Words
	holes    []Hole
	aside    []string
	supports []Support
	datum    geom.Point
}

// layers draws all at its place in the front frame.
func (m *drawing) layers() []sheet.Layer {
	glass := pattern.FrontGlass(m.p)
	for _, l := range glass {
		for _, g := range l.Groups {
			for k, i := range g.Items {
				s := i.(sheet.Shape)
				s.Pen.Width = thinLine
				g.Items[k] = s
			}
		}
	}
	glass[0].Groups = withoutHatch(glass[0].Groups)
	holes := sheet.Layer{ID: "holes", Name: "Holes"}
	keep := sheet.Layer{ID: "keep-out", Name: "Keep-outs"}
	for _, h := range m.holes {
		id := strings.ReplaceAll(h.Name, " ", "-")
		arm := h.Diameter/2 + 3
		holes.Groups = append(holes.Groups, sheet.Group{ID: "hole-" + id, Title: "hole " + h.Name, Items: []sheet.Item{
			sheet.Shape{Pen: pen(0.5), Paths: []geom.Path{sheet.Circle(h.At, h.Diameter/2)}},
			sheet.Shape{Pen: pen(crossLine), Paths: []geom.Path{
				sheet.Polyline(h.At.Add(geom.Vec{X: -arm}), h.At.Add(geom.Vec{X: arm})), sheet.Polyline(h.At.Add(geom.Vec{Y: -arm}), h.At.Add(geom.Vec{Y: arm}))}},
		}})
		keep.Groups = append(keep.Groups, sheet.Group{ID: "keep-" + id, Title: "keep-out of " + h.Name, Items: []sheet.Item{
			sheet.Shape{Pen: sheet.Pen{Width: crossLine, Dash: []float64{2, 1.5}, Colour: sheet.Grey(0)}, Paths: []geom.Path{sheet.Circle(h.At, m.o.KeepOut)}}}})
	}
	supports := sheet.Layer{ID: "supports", Name: "Supports"}
	for _, s := range m.supports {
		const r = 3.4
		at := func(x, y float64) geom.Point { return s.At.Add(geom.Vec{X: x * r, Y: y * r}) }
		supports.Groups = append(supports.Groups, sheet.Group{ID: "support-" + s.Name, Title: "support " + s.Name + " of " + s.Unit, Items: []sheet.Item{
			sheet.Shape{Pen: pen(0.35), Paths: []geom.Path{sheet.Polygon(at(-0.87, -0.5), at(0.87, -0.5), at(0, 1))}}}})
	}
	datum := sheet.Layer{ID: "datum", Name: "Datum", Groups: []sheet.Group{{ID: "datum-target", Title: "datum", Items: m.target()}}}
	return append(append(glass, m.wall()...), keep, holes, supports, datum, m.labels(glass))
}

// withoutHatch leaves the edges of hidden runs: on the wall nothing is painted.
func withoutHatch(groups []sheet.Group) []sheet.Group {
	for i, g := range groups {
		var kept []sheet.Item
		for _, item := range g.Items {
			if len(item.(sheet.Shape).Pen.Dash) > 0 {
				kept = append(kept, item)
			}
		}
		groups[i].Items = kept
	}
	return groups
}

// target marks the datum with its two axes.
func (m *drawing) target() []sheet.Item {
	d := m.datum
	at := func(x, y float64) geom.Point { return d.Add(geom.Vec{X: x, Y: y}) }
	arrow := func(tip, a, b geom.Point) geom.Path { return sheet.Polygon(tip, a, b) }
	return []sheet.Item{
		sheet.Shape{Pen: pen(0.35), Paths: []geom.Path{sheet.Circle(d, 2.5), sheet.Polyline(at(-4, 0), at(20, 0)), sheet.Polyline(at(0, -4), at(0, 20))}},
		sheet.Shape{Fill: sheet.Grey(0), Paths: []geom.Path{arrow(at(23, 0), at(19, 1.1), at(19, -1.1)), arrow(at(0, 23), at(-1.1, 19), at(1.1, 19))}},
		text(d.X+25, d.Y-1.3, "x", sheet.MinSize, sheet.Bold, sheet.Start),
		text(d.X-1.0, d.Y+25, "y", sheet.MinSize, sheet.Bold, sheet.Start),
		text(d.X+3.5, d.Y-5.2, "0, 0", sheet.MinSize, sheet.Bold, sheet.Start),
	}
}

// labels places the names of holes, supports and letters clear of glass and holes.
func (m *drawing) labels(glass []sheet.Layer) sheet.Layer {
	pl := sheet.NewPlacer(1)
	for _, l := range glass {
		if l.ID != "centreline" {
			continue
		}
		for _, g := range l.Groups {
			for _, i := range g.Items {
				for _, path := range i.(sheet.Shape).Paths {
					pts := path.Samples(4)
					for k := 1; k < len(pts); k++ {
						pl.Block(pts[k-1], pts[k], m.p.Spec.Rules.Diameter/2+0.2)
					}
				}
			}
		}
	}
	size := min(max(0.35*m.p.Spec.Rules.Diameter, sheet.MinSize), 5) // as on the bench drawing
	var names []string
	var labels []sheet.Label
	add := func(s string, at geom.Point, reach float64) {
		names = append(names, s)
		labels = append(labels, sheet.Label{Anchor: at, Reach: reach, Height: sheet.CapHeight(size) + 1.6, Width: sheet.Room*sheet.Width(s, size, sheet.Bold) + 1.6})
	}
	for _, h := range m.holes {
		pl.Block(h.At.Add(geom.Vec{X: -h.Diameter/2 - 3}), h.At.Add(geom.Vec{X: h.Diameter/2 + 3}), 0.4)
		pl.Block(h.At.Add(geom.Vec{Y: -h.Diameter/2 - 3}), h.At.Add(geom.Vec{Y: h.Diameter/2 + 3}), 0.4)
		pl.Block(h.At, h.At, h.Diameter/2)
		add(h.Name, h.At, h.Diameter/2)
	}
	for _, s := range m.supports {
		pl.Block(s.At, s.At, 3.6)
		add(s.Name, s.At, m.p.Spec.Rules.Diameter/2)
	}
	for _, k := range m.p.Spec.Routing.KeepOuts {
		for i := 1; i < len(k.Points); i++ {
			pl.Block(k.Points[i-1], k.Points[i], 0.4)
		}
		if k.Filled {
			pl.Block(k.Points[len(k.Points)-1], k.Points[0], 0.4)
		}
		if k.Name != "" && m.p.Bounds().Grown(300).Contains(k.Points[0]) {
			add(sheet.Printable(k.Name), k.Points[0], 0.5)
		}
	}
	pl.BlockBox(geom.Rect{Min: m.datum.Add(geom.Vec{X: -5, Y: -7}), Max: m.datum.Add(geom.Vec{X: 30, Y: 30})})
	out := sheet.Layer{ID: "names", Name: "Names"}
	g := sheet.Group{ID: "names-all", Title: "names of holes and supports"}
	for i, s := range pl.Place(labels) {
		if s.Leader.Dist(labels[i].Anchor) > labels[i].Reach+3 {
			g.Items = append(g.Items, sheet.Shape{Pen: pen(0.13), Paths: []geom.Path{sheet.Polyline(labels[i].Anchor, s.Leader)}})
		}
		g.Items = append(g.Items, text(s.Centre.X, s.Centre.Y-sheet.CapHeight(size)/2, names[i], size, sheet.Bold, sheet.Middle))
	}
	out.Groups = []sheet.Group{g}
	return out
}

// tables returns the rows of both tables, each in columns of at most tableHas rows,
// and the width of each column.
func (m *drawing) tables() (columns [][]paper.Row, wide float64) {
	wide = 88
	var holes, supports [][]string
	num := func(v float64) string { return m.w.Fixed(v, 2) }
	for _, h := range m.holes {
		holes = append(holes, []string{h.Name, num(h.At.X - m.datum.X), num(h.At.Y - m.datum.Y), m.w.Number(h.Diameter, 1)})
	}
	for _, s := range m.supports {
		mark := s.Name + " " + s.Unit
		if s.Under {
			mark += " *"
		}
		supports = append(supports, []string{mark, num(s.At.X - m.datum.X), num(s.At.Y - m.datum.Y), m.w.Number(s.Depth, 1)})
	}
	for _, t := range []struct {
		title, first, last string
		rows               [][]string
	}{{m.w.Say("mount.holes"), m.w.Say("mount.hole"), m.w.Say("mount.dia"), holes}, {m.w.Say("mount.supports"), m.w.Say("mount.support"), m.w.Say("mount.depth"), supports}} {
		heads := []paper.Column{{Head: t.first, Share: 3}, {Head: m.w.Say("mount.x"), Share: 2.6, Right: true}, {Head: m.w.Say("mount.y"), Share: 2.4, Right: true}, {Head: t.last, Share: 2, Right: true}}
		for from := 0; from < len(t.rows); from += tableHas {
			column := []paper.Row{paper.Heading(t.title, wide)}
			column = append(column, paper.Table(heads, t.rows[from:min(from+tableHas, len(t.rows))], wide)...)
			columns = append(columns, column)
		}
	}
	return columns, wide
}

// notes are the words of the sheet.
func (m *drawing) notes(wide float64) []paper.Row {
	o, w := m.o, m.w
	n := func(v float64) string { return w.Number(v, 1) }
	rows := []paper.Row{paper.Heading(w.Say("mount.words"), wide)}
	add := func(s string) {
		rows = append(rows, paper.Paragraph(s, 0, wide, sheet.Regular)...)
		rows = append(rows, paper.Row{Height: 1.2})
	}
	add(fmt.Sprintf("%s  “%s”  D %s mm", m.p.Spec.Name, strings.Join(m.p.Spec.Text, " / "), n(m.p.Spec.Rules.Diameter)))
	add(w.Say("mount.datum", n(m.datum.X), n(m.datum.Y)))
	if o.Correction != "" {
		add(o.Correction)
	}
	if o.Hole != 0 {
		add(w.Say("mount.ownhole", n(o.Hole)))
	} else {
		add(w.Say("mount.holeof", n(o.hole(m.p.Spec.Rules.Diameter)), n(max(o.Jacket, m.p.Spec.Rules.Diameter)), o.Cite(CiteJacket), n(o.HousingGap), o.Cite(CiteGap)))
	}
	add(w.Say("mount.signs", n(o.KeepOut), o.Cite(CiteKeepOut), n(o.Spacing), o.Cite(CiteSpacing), n(o.FromEnd), o.Cite(CiteFromEnds), n(o.Surface), o.Cite(CiteSurface)))
	panel := m.p.Spec.Routing
	if len(panel.KeepOuts) > 0 || panel.Grid.Pitch > 0 {
		add(w.Say("mount.wallsigns"))
	}
	add(w.Say("mount.sources"))
	for _, s := range m.supports {
		if s.Under {
			add(w.Say("mount.under"))
			break
		}
	}
	for _, a := range m.aside {
		add(w.Say("mount.aside", a))
	}
	for i, a := range m.holes {
		for _, b := range m.holes[:i] {
			if gap := a.At.Dist(b.At); gap < o.KeepOut {
				add(w.Say("mount.near", b.Name, a.Name, n(gap), n(o.KeepOut)))
			}
		}
	}
	return rows
}

// cautions stand in a column of their own.
func (m *drawing) cautions(wide float64) []paper.Row {
	w := m.w
	rows := []paper.Row{paper.Heading(w.Say("caution"), wide)}
	panel := "mount.panel"
	if len(m.p.Spec.Routing.KeepOuts) > 0 {
		panel = "mount.panelsome"
	}
	for _, k := range []string{panel, "caution.voltage", "caution.code", "ruler.check"} {
		rows = append(rows, paper.Item("!", w.Say(k), wide)...)
	}
	return rows
}

// compose puts the drawing over the tables and words, within a double border.
func (m *drawing) compose(layers []sheet.Layer, box geom.Rect) *sheet.Sheet {
	columns, wide := m.tables()
	columns = append([][]paper.Row{m.notes(wordsWide), m.cautions(wordsWide)}, columns...)
	widths := make([]float64, len(columns))
	for i := range widths {
		widths[i] = wide
	}
	widths[0], widths[1] = wordsWide, wordsWide
	within := max(box.Width()+rulerLow, 2*wordsWide+tableFar)
	at, under := shelve(columns, widths, within)
	s := &sheet.Sheet{Frame: sheet.Front, Title: m.title(), Language: m.w.Language()}
	s.Width = math.Ceil(within + 2*inside)
	drawn := max(box.Height(), 125)
	s.Height = math.Ceil(headHigh + drawn + 8 + rulerLow + under + 2*inside)
	origin := geom.Vec{X: math.Round(inside + rulerLow + (within-rulerLow-box.Width())/2 - box.Min.X), Y: math.Round(inside + under + rulerLow + 4 + (drawn-box.Height())/2 - box.Min.Y)}
	s.Description = fmt.Sprintf("Drilling and mounting, front (right-reading), full size, mm. Front (x, y) of result.json is at (%s + x, %s + y) from the lower left corner of the sheet.",
		geom.FormatNumber(origin.X, 3), geom.FormatNumber(origin.Y, 3))
	notes := sheet.Group{ID: "notes-tables", Title: "tables and words"}
	for i, c := range columns {
		down := 0.0
		for _, r := range c {
			for _, item := range r.Items {
				notes.Items = append(notes.Items, sheet.Moved(item, geom.Vec{X: inside + at[i].X, Y: inside + under + at[i].Y - down}))
			}
			down += r.Height
		}
	}
	rule := geom.Point{X: inside + 4, Y: inside + under + rulerLow}
	s.Layers = []sheet.Layer{
		{ID: "border", Name: "Border", Groups: []sheet.Group{{ID: "border-line", Items: m.border(s)}}},
		{ID: "scale", Name: "Scale bars", Groups: []sheet.Group{
			{ID: "ruler-x", Items: paper.RulerAcross(geom.Point{X: inside + rulerLow, Y: inside + under + 6})}, {ID: "ruler-y", Items: paper.RulerUp(rule)}}},
	}
	s.Layers[1].Groups = append(s.Layers[1].Groups, moreRulers(at, widths, within, under)...)
	for _, l := range layers {
		for gi, g := range l.Groups {
			for i, item := range g.Items {
				l.Groups[gi].Items[i] = sheet.Moved(item, origin)
			}
		}
	}
	s.Layers = append(append(s.Layers, layers...), sheet.Layer{ID: "notes", Name: "Notes", Groups: []sheet.Group{notes}})
	return s
}

// title names the job and the sheet.
func (m *drawing) title() string {
	name := m.p.Spec.Name
	if name == "" {
		name = strings.Join(m.p.Spec.Text, " / ")
	}
	return sheet.Printable(name) + ": " + m.w.Say("mount.title")
}

// rulerEvery is how often rulers stand along a wide sheet, mm, so that each part of
// one cut for printing has a pair.
const rulerEvery = 2200

// moreRulers repeats both rulers along a wide sheet, right of the tables.
func moreRulers(at []geom.Vec, widths []float64, within, under float64) []sheet.Group {
	tables := 0.0
	for i, v := range at {
		tables = max(tables, v.X+widths[i])
	}
	var out []sheet.Group
	for x := float64(rulerEvery); x < within-130; x += rulerEvery {
		if x < tables+tableFar || under < 112 {
			continue
		}
		n := len(out)/2 + 2
		out = append(out,
			sheet.Group{ID: fmt.Sprintf("ruler-x-%d", n), Items: paper.RulerAcross(geom.Point{X: inside + x, Y: inside + under + 6})},
			sheet.Group{ID: fmt.Sprintf("ruler-y-%d", n), Items: paper.RulerUp(geom.Point{X: inside + x + 4, Y: inside + under - 110})})
	}
	return out
}

// shelve puts columns side by side, in as many shelves as they need, and returns
// the upper left corner of each from that of all, and the height of all.
func shelve(columns [][]paper.Row, widths []float64, within float64) ([]geom.Vec, float64) {
	at := make([]geom.Vec, len(columns))
	x, y, high := 0.0, 0.0, 0.0
	for i, c := range columns {
		h := 0.0
		for _, r := range c {
			h += r.Height
		}
		if x > 0 && x+widths[i] > within+1e-9 {
			x, y, high = 0, y+high+tableFar, 0
		}
		at[i] = geom.Vec{X: x, Y: -y}
		x, high = x+widths[i]+tableFar, max(high, h)
	}
	return at, y + high
}

// border is a double line with a headline; the bench's is a single one.
func (m *drawing) border(s *sheet.Sheet) []sheet.Item {
	frame := func(in float64) geom.Path {
		return sheet.Rectangle(geom.Rect{Min: geom.Point{X: in, Y: in}, Max: geom.Point{X: s.Width - in, Y: s.Height - in}})
	}
	top := s.Height - inside
	title := m.w.Say("frame.front")
	size := 8.0
	if w := sheet.Room * sheet.Width(title, size, sheet.Bold); w > s.Width-2*inside {
		size *= (s.Width - 2*inside) / w
	}
	return []sheet.Item{
		sheet.Shape{Pen: pen(0.7), Paths: []geom.Path{frame(edge)}},
		sheet.Shape{Pen: pen(0.25), Paths: []geom.Path{frame(edge + 1.8)}},
		text(inside, top-8, title, size, sheet.Bold, sheet.Start),
		text(inside, top-14.5, m.w.Say("mount.title"), 4.5, sheet.Bold, sheet.Start),
		text(inside, top-20, m.w.Say("mount.notbench"), sheet.MinSize, sheet.Regular, sheet.Start),
	}
}
