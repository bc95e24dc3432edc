package pattern

import (
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/words"
)

// Line widths in mm, thick to thin, and the greys that go with them: black for
// what is glass or must be read, grey for what must not compete with it.
const (
	wideLine   = 0.5
	glassLine  = 0.35
	markLine   = 0.25
	thinLine   = 0.2 // the least that a photocopy keeps, in black
	centreLine = 0.18
)

func solid(width float64) sheet.Pen { return sheet.Pen{Width: width, Colour: sheet.Grey(0)} }

// dashed is the line of what lies behind the face.
func dashed() sheet.Pen {
	return sheet.Pen{Width: glassLine, Dash: []float64{3, 1.5}, Colour: sheet.Grey(0)}
}

// Draw returns the bench drawing of a pattern on one sheet at full size: the
// glass as it lies face down in front of the bender, so the lettering is
// mirrored, with every heat numbered beside it, then a title block, the frame in
// words, scale bars, a legend, the list of units, the findings and a caution.
//
// Front (x, y) stands on the sheet at (X0 − x, Y0 + y), X0 and Y0 whole
// millimetres that the sheet's Description tells. Text is nowhere under 2.5 mm
// high and nowhere over glass or other text. The layers are, from the bottom:
//
//	border       edge of the sheet
//	hidden       runs behind the face: dashed edges, hatched: to be painted out
//	glass        lit glass: two edges, one D apart, broken where it passes under
//	centreline   one path a unit from electrode A to B, unbroken
//	electrodes   filled ends
//	marks        arrows of travel, ticks at the tangent points of each heat
//	labels       numbers of heats, ends, units and findings, with leaders
//	scale        bars of 100 mm and 4 in, both ways
//	notes        all words
//
// Words are in English; DrawFor has others.
func Draw(p Pattern) *sheet.Sheet { return DrawFor(p, Print{}) }

// Print says what stands on a bench drawing beside the pattern itself.
type Print struct {
	Words      words.Words // the language
	Facts      []Fact      // of the job: colour, order, date; lines of the title block
	Correction string      // told where the print is stretched for its printer
}

// Fact is a line of a title block.
type Fact struct{ Name, Value string }

// DrawFor is Draw for a print of its own.
func DrawFor(p Pattern, print Print) *sheet.Sheet {
	d := newDrawing(p)
	d.print, d.w = print, print.Words.OrEnglish()
	d.told = TellFindings(p, d.w)
	layers := []sheet.Layer{
		{ID: "hidden", Name: "Hidden runs", Groups: d.units("hidden", "hidden runs", d.hidden)},
		{ID: "glass", Name: "Glass", Groups: d.units("glass", "lit glass", d.glass)},
		{ID: "centreline", Name: "Centrelines", Groups: d.units("centreline", "centreline from A to B", d.centreline)},
		{ID: "electrodes", Name: "Electrodes", Groups: d.units("electrodes", "electrodes", d.electrodes)},
		{ID: "marks", Name: "Marks", Groups: d.units("marks", "arrows and tangent points", d.marks)},
		{ID: "labels", Name: "Labels", Groups: d.labels()},
	}
	return d.compose(layers)
}

type drawing struct {
	p         Pattern
	print     Print
	w         words.Words
	told      []Told
	size      labelSizes
	d         float64
	strips    [][]strip
	samples   [][]sample
	crossings []crossing
}

func newDrawing(p Pattern) *drawing {
	d := &drawing{p: p, d: p.Spec.Rules.Diameter, size: sizesFor(p.Spec.Rules.Diameter)}
	for i, u := range p.Units {
		d.strips = append(d.strips, stripsOf(i, u.Tube))
		d.samples = append(d.samples, samplesOf(i, u.Tube, min(2, d.d/4)))
	}
	d.crossings = crossingsOf(d.samples, d.d)
	return d
}

func (d *drawing) say(key string, figures ...any) string { return d.w.Say(key, figures...) }

// units makes one group a unit.
func (d *drawing) units(id, title string, items func(i int) []sheet.Item) []sheet.Group {
	var out []sheet.Group
	for i, u := range d.p.Units {
		out = append(out, sheet.Group{ID: id + "-" + u.ID, Title: "Unit " + u.ID + ": " + title, Items: items(i)})
	}
	return out
}

func broken(paths []geom.Path, gaps []gap) []geom.Path {
	if len(gaps) == 0 {
		return paths
	}
	return cutWhere(paths, func(q geom.Point) bool {
		return slices.ContainsFunc(gaps, func(g gap) bool { return g.holds(q) })
	})
}

func (d *drawing) glass(i int) []sheet.Item {
	var edges []geom.Path
	for _, s := range d.strips[i] {
		if s.dark {
			continue
		}
		for _, p := range d.parts(s, func(c crossing) bool { return c.under.dark == c.over.dark }) {
			edges = append(edges, broken(edgesOf(p.strip, d.d), p.gaps)...)
		}
	}
	return []sheet.Item{sheet.Shape{Paths: edges, Pen: solid(glassLine)}}
}

// hidden draws runs behind the face. Where one passes behind lit glass its edges
// stay, for they are dashed; only its hatching gives way.
func (d *drawing) hidden(i int) []sheet.Item {
	var edges, hatch []geom.Path
	for _, s := range d.strips[i] {
		if !s.dark {
			continue
		}
		for _, p := range d.parts(s, func(c crossing) bool { return c.over.dark }) {
			edges = append(edges, broken(edgesOf(p.strip, d.d), p.gaps)...)
		}
		for _, p := range d.parts(s, func(crossing) bool { return true }) {
			hatch = append(hatch, broken(hatchOf(p.strip, d.d), p.gaps)...)
		}
	}
	return []sheet.Item{
		sheet.Shape{Paths: hatch, Pen: solid(thinLine)},
		sheet.Shape{Paths: edges, Pen: dashed()},
	}
}

func (d *drawing) centreline(i int) []sheet.Item {
	var paths []geom.Path
	for _, s := range d.strips[i] {
		if n := len(paths); n > 0 && paths[n-1].End().Dist(s.path.Start()) < 1e-6 {
			paths[n-1].Segments = append(paths[n-1].Segments, s.path.Segments...)
			continue
		}
		paths = append(paths, geom.Path{Segments: append([]geom.Segment{}, s.path.Segments...)})
	}
	return []sheet.Item{sheet.Shape{Paths: paths, Pen: solid(centreLine)}}
}

// electrodes are filled discs at both ends; the upright legs are seen end on.
func (d *drawing) electrodes(i int) []sheet.Item {
	var out []sheet.Item
	for _, e := range d.p.Units[i].Electrodes {
		out = append(out, sheet.Shape{Paths: []geom.Path{sheet.Circle(benchPoint(e.At), d.d/2)}, Fill: sheet.Grey(0)})
	}
	return out
}

func (d *drawing) marks(i int) []sheet.Item {
	var filled, open []geom.Path
	var taken []geom.Point
	for _, h := range d.p.Units[i].Heats { // keep arrows off the dots of heats
		taken = append(taken, d.heatAnchor(i, h))
	}
	for _, s := range d.strips[i] {
		for _, a := range d.arrows(s, &taken) {
			if s.dark {
				open = append(open, a)
			} else {
				filled = append(filled, a)
			}
		}
	}
	return []sheet.Item{
		sheet.Shape{Paths: filled, Fill: sheet.Grey(0)},
		sheet.Shape{Paths: open, Fill: sheet.Grey(255), Pen: solid(thinLine)},
		sheet.Shape{Paths: d.ticks(i), Pen: solid(markLine)},
	}
}

// arrows returns the heads that show the way of travel along a strip, one in about
// 150 mm, each at the first of five places that is clear of crossings and of what
// is taken, if there is one; it adds theirs to taken.
func (d *drawing) arrows(s strip, taken *[]geom.Point) []geom.Path {
	long := s.path.Length()
	size := min(0.6*d.d, 7)
	if long < 3*size {
		return nil
	}
	n := max(1, int(math.Round(long/150)))
	var out []geom.Path
	for k := range n {
		for _, share := range [5]float64{0.5, 0.35, 0.65, 0.2, 0.8} {
			at := (float64(k) + share) * long / float64(n)
			c := s.path.PointAt(at)
			if at < size || at > long-size || !d.clearOfCrossings(c) || !clearOf(c, *taken, 1.3*size) {
				continue
			}
			*taken = append(*taken, c)
			tip, back := s.path.PointAt(at+size/2), s.path.PointAt(at-size/2)
			side := tip.Sub(back).Unit().Left().Mul(0.36 * size)
			out = append(out, sheet.Polygon(tip, back.Add(side), back.Add(side.Neg())))
			break
		}
	}
	return out
}

func clearOf(q geom.Point, taken []geom.Point, by float64) bool {
	for _, p := range taken {
		if p.Dist(q) < by {
			return false
		}
	}
	return true
}

func (d *drawing) clearOfCrossings(q geom.Point) bool {
	for _, c := range d.crossings {
		if c.at.Dist(q) < d.d/c.sine {
			return false
		}
	}
	return true
}

// ticks returns the marks across both edges where the bend of a heat starts or ends,
// its tangent points. A tube seen end on has none, nor has one where it
// passes under another strand of the unit's own look and is not drawn.
func (d *drawing) ticks(i int) []geom.Path {
	u := d.p.Units[i]
	var gaps []gap
	for _, c := range d.crossings {
		if c.under.unit == i && c.under.dark == c.over.dark {
			gaps = append(gaps, gapAt(c, d.samples[c.over.unit], d.d))
		}
	}
	var at []float64
	for _, h := range u.Heats {
		if n := len(at); n == 0 || h.Start-at[n-1] > 1e-6 {
			at = append(at, h.Start)
		}
		at = append(at, h.End)
	}
	var out []geom.Path
	pos, k := 0.0, 0
	for _, p := range u.Tube {
		n := p.Seg.Length()
		for ; k < len(at) && at[k] <= pos+n+1e-9; k++ {
			s := min(max(at[k]-pos, 0), n)
			dir := p.Seg.DirAt(s)
			if math.Abs(dir.Z) > 0.95 {
				continue
			}
			c := benchPoint(p.Seg.PointAt(s))
			side := geom.Vec{X: -dir.X, Y: dir.Y}.Unit().Left()
			for _, w := range [2]geom.Vec{side, side.Neg()} {
				edge := c.Add(w.Mul(d.d / 2))
				if !slices.ContainsFunc(gaps, func(g gap) bool { return g.at.Dist(c) < g.reach && g.holds(edge) }) {
					out = append(out, sheet.Polyline(edge.Add(w.Mul(-0.6)), edge.Add(w.Mul(2))))
				}
			}
		}
		pos += n
	}
	return out
}

// describe says in words what the sheet shows, for the file's own description.
func (d *drawing) describe(origin geom.Vec) string {
	return fmt.Sprintf("Bending pattern, bench side (mirrored), full size, mm. Front (x, y) of result.json is at (%s - x, %s + y) from the lower left corner of the sheet.",
		geom.FormatNumber(origin.X, 3), geom.FormatNumber(origin.Y, 3))
}
