package tile

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// Joint is where two pages are glued together: the middle of the strip both show.
type Joint struct {
	Number int // from 1
	A, B   int // indexes of the tiles: left and right, or upper and lower
	Line   geom.Line
	Marks  []Mark
}

// Mark is one match mark: a cross in a sign, with its name beside it, or, where glass
// covers the strip that both pages show, with a name beyond the strip on each of them.
type Mark struct {
	Name  string // "7a"
	At    geom.Point
	Sign  int
	Names []geom.Vec // from the mark to the middles of its names
}

// Sizes of a match mark, mm.
const (
	markRadius = 2.6
	markArm    = 4.2
	nameSize   = sheet.MinSize
)

// signs of match marks; neighbouring joints have different ones.
const signs = 4

// join finds the joints and places their marks.
func (l *Layout) join(k ink) {
	taken := ink{} // what the marks themselves cover
	for i, t := range l.Tiles {
		if t.Blank {
			continue
		}
		for _, d := range [2][2]int{{0, 1}, {1, 0}} {
			u, ok := l.at(t.Row+d[0], t.Column+d[1])
			if !ok {
				continue
			}
			j := Joint{Number: len(l.Joints) + 1, A: i, B: u.Row*l.Columns + u.Column}
			both := geom.Rect{
				Min: geom.Point{X: max(t.Window.Min.X, u.Window.Min.X), Y: max(t.Window.Min.Y, u.Window.Min.Y)},
				Max: geom.Point{X: min(t.Window.Max.X, u.Window.Max.X), Y: min(t.Window.Max.Y, u.Window.Max.Y)},
			}
			c := both.Centre()
			j.Line = geom.Line{A: geom.Point{X: c.X, Y: both.Min.Y}, B: geom.Point{X: c.X, Y: both.Max.Y}}
			if d[0] == 1 {
				j.Line = geom.Line{A: geom.Point{X: both.Min.X, Y: c.Y}, B: geom.Point{X: both.Max.X, Y: c.Y}}
			}
			j.place(k, taken, l.Options.Overlap)
			l.Joints = append(l.Joints, j)
		}
	}
}

// apart is the least distance between the two marks of a joint, mm, if it is long
// enough and has the room: the nearer they are, the worse they tell a turn.
const apart = 60.0

// nearest is the least distance at which names clear of ink are worth it, mm: a joint
// along which glass runs has room at one end only.
const nearest = 20.0

// seat is a place for a mark on a joint: how far along, where its name is.
type seat struct {
	at    float64
	names []geom.Vec
	over  bool    // the cross lies over the ink, only the names do not
	aside float64 // how far the name is from its best place, mm
}

// place puts two marks on the joint, as near to its ends as there is room clear of
// ink, each with its name along the joint beside it. Where there is no such room the
// cross lies over the ink, and its name does not; where the strip has no room for a
// name either, each page has it on its own side.
func (j *Joint) place(k, taken ink, overlap float64) {
	n := j.Line.Length()
	all := func(seat) bool { return true }
	seats, asides := j.seats(k, taken, overlap), j.asides(k, taken, overlap)
	choose := func(end float64, do func(seat) bool, preset float64) seat {
		for _, from := range [2][]seat{seats, asides} {
			if len(from) > 0 {
				if s := nearestSeat(from, end, do); do(s) {
					return s
				}
			}
		}
		return seat{at: preset} // under glass on both sides: the cross alone
	}
	a := choose(0, all, overlap+markArm+2)
	b := choose(n, func(s seat) bool { return s.at-a.at > apart }, -1)
	if b.at < 0 { // none so far: the farthest there is
		b = choose(2*n, func(s seat) bool { return s.at-a.at > nearest }, max(n-overlap-markArm-2, a.at+nearest))
	}
	half := nameHalf(j.Number)
	for i, s := range [2]seat{a, b} {
		m := Mark{Name: fmt.Sprintf("%d%c", j.Number, 'a'+i), At: j.Line.PointAt(s.at), Sign: j.Number % signs, Names: s.names}
		j.Marks = append(j.Marks, m)
		taken.box(geom.EmptyRect().Including(m.At).Grown(markArm))
		for _, v := range m.Names {
			c := m.At.Add(v)
			taken.box(geom.Rect{Min: c.Add(half.Neg()), Max: c.Add(half)})
		}
	}
}

// nameHalf is half the room for the name of a mark.
func nameHalf(number int) geom.Vec {
	return geom.Vec{X: nameWide(number)/2 + 0.5, Y: nameSize/2 + 0.5}
}

// overInk is how much farther from its end, mm, a mark goes to be clear of ink.
const overInk = 60.0

// nearestSeat returns the seat nearest to an end of the joint of those that will do,
// or where none will of all.
func nearestSeat(seats []seat, end float64, do func(seat) bool) seat {
	best, cost := seat{}, math.Inf(1)
	for _, s := range seats {
		c := math.Abs(s.at-end) + 2*s.aside
		if s.over {
			c += overInk
		}
		if !do(s) {
			c += 1e6
		}
		if c < cost {
			best, cost = s, c
		}
	}
	return best
}

// seats lists the places along a joint whose name is clear of ink.
func (j *Joint) seats(k, taken ink, overlap float64) []seat {
	n, dir := j.Line.Length(), j.Line.DirAt(0)
	end := overlap + markArm + 2 // clear of the joints that cross
	half := nameHalf(j.Number)
	names := nameOffsets(dir, j.Number, overlap)
	var out []seat
	for at := end; at <= n-end; at += 1.5 {
		p := j.Line.PointAt(at)
		for _, name := range names {
			c := p.Add(name)
			along, reach := at+name.Dot(dir), math.Abs(half.X*dir.X)+math.Abs(half.Y*dir.Y)
			if along < overlap+reach || along > n-overlap-reach {
				continue // cut off on the pages beyond
			}
			cross, box := geom.EmptyRect().Including(p).Grown(markArm), geom.Rect{Min: c.Add(half.Neg()), Max: c.Add(half)}
			if k.free(box) && taken.free(box) && taken.free(cross) {
				out = append(out, seat{at, []geom.Vec{name}, !k.free(cross), name.Norm() - names[0].Norm()})
			}
		}
	}
	return out
}

// asides lists the places along a joint for a mark over ink that has a name beyond the
// strip on both sides: each page shows the one on its own.
func (j *Joint) asides(k, taken ink, overlap float64) []seat {
	n, dir := j.Line.Length(), j.Line.DirAt(0)
	across, half := dir.Left(), nameHalf(j.Number)
	off := overlap/2 + 1 + math.Abs(half.X*across.X) + math.Abs(half.Y*across.Y)
	var out []seat
	for at := overlap + markArm + 2; at <= n-overlap-markArm-2; at += 1.5 {
		p := j.Line.PointAt(at)
		if !taken.free(geom.EmptyRect().Including(p).Grown(markArm)) {
			continue
		}
		s := seat{at: at, over: true}
		for _, side := range [2]float64{1, -1} {
			for _, far := range [3]float64{0, 6, 12} {
				v := across.Mul(side * (off + far))
				box := geom.Rect{Min: p.Add(v).Add(half.Neg()), Max: p.Add(v).Add(half)}
				if k.free(box) && taken.free(box) {
					s.names, s.aside = append(s.names, v), s.aside+far
					break
				}
			}
		}
		if len(s.names) == 2 {
			out = append(out, s)
		}
	}
	return out
}

// nameWide is room for the name of a mark along a joint.
func nameWide(number int) float64 {
	return sheet.Room*sheet.Width(fmt.Sprintf("%da", number), nameSize, sheet.Regular) + 1
}

// nameOffsets lists where the name of a mark may stand from the mark, best first:
// straight along the joint, then farther or aside, still within the strip that both
// pages show.
func nameOffsets(dir geom.Vec, number int, overlap float64) []geom.Vec {
	upright := math.Abs(dir.Y) > 0.5
	start, room := markArm+0.8+nameWide(number)/2, overlap/2-nameSize/2-0.5
	if upright {
		start, room = markArm+2.2, overlap/2-nameWide(number)/2-0.5
	}
	var out []geom.Vec
	for _, far := range [3]float64{0, 3, 6} {
		for _, aside := range [3]float64{0, room, -room} {
			for _, along := range [2]float64{start + far, -start - far} {
				v := geom.Vec{X: along, Y: aside}
				if upright {
					v = geom.Vec{X: aside, Y: along}
				}
				out = append(out, v)
			}
		}
	}
	return out
}

// draw returns the mark: a cross that tells to a tenth of a mm, in a sign.
func (m Mark) draw() []sheet.Item {
	arm := func(dx, dy float64) geom.Path {
		return sheet.Polyline(m.At.Add(geom.Vec{X: -dx, Y: -dy}), m.At.Add(geom.Vec{X: dx, Y: dy}))
	}
	out := []sheet.Item{sheet.Shape{Pen: pen(thinLine), Paths: []geom.Path{arm(markArm, 0), arm(0, markArm)}}}
	r := markRadius
	p := func(x, y float64) geom.Point { return m.At.Add(geom.Vec{X: x * r, Y: y * r}) }
	s := sheet.Shape{Pen: pen(markLine)}
	switch m.Sign {
	case 0:
		s.Paths = []geom.Path{sheet.Circle(m.At, r)}
	case 1:
		s.Paths = []geom.Path{sheet.Rectangle(geom.Rect{Min: p(-0.85, -0.85), Max: p(0.85, 0.85)})}
	case 2:
		s.Paths = []geom.Path{sheet.Polygon(p(0, -1.15), p(1.15, 0), p(0, 1.15), p(-1.15, 0))}
	default:
		s.Paths = []geom.Path{sheet.Polygon(p(-1.1, -0.7), p(1.1, -0.7), p(0, 1.2))}
	}
	out = append(out, s)
	for _, v := range m.Names {
		at := m.At.Add(v)
		if len(m.Names) > 1 { // beyond the strip: a line leads there
			u := v.Unit()
			end := (sheet.Width(m.Name, nameSize, sheet.Regular)/2+0.8)*math.Abs(u.X) + nameSize/2*math.Abs(u.Y)
			lead := sheet.Polyline(m.At.Add(u.Mul(markArm)), at.Add(u.Mul(-end)))
			out = append(out, sheet.Shape{Pen: pen(thinLine), Paths: []geom.Path{lead}})
		}
		out = append(out, sheet.Text{At: at.Add(geom.Vec{Y: -sheet.CapHeight(nameSize) / 2}), Text: m.Name, Size: nameSize, Anchor: sheet.Middle, Colour: sheet.Grey(0)})
	}
	return out
}

const (
	thinLine = 0.2 // the least that a photocopy keeps, in black
	markLine = 0.25
	ruleLine = 0.35
)

func pen(width float64) sheet.Pen { return sheet.Pen{Width: width, Colour: sheet.Grey(0)} }

// long finds places for the four marks of the long check, as near to the corners of
// the region as there is a page with room.
func (l *Layout) long(k ink) {
	if l.Pages() == 0 {
		return
	}
	r := l.Region
	for _, corner := range [4]geom.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}} {
		if p, ok := l.spot(corner, k); ok {
			l.Corners = append(l.Corners, p)
		}
	}
	if len(l.Corners) < 4 {
		l.Corners = nil
	}
}

// spot returns the free place nearest to a corner on the page nearest to it, clear
// of the other marks.
func (l *Layout) spot(corner geom.Point, k ink) (geom.Point, bool) {
	order := l.byDistance(corner)
	for _, t := range order {
		w := t.Window.Grown(-10)
		best, found := geom.Point{}, false
		for x := w.Min.X; x <= w.Max.X; x += 4 {
			for y := w.Min.Y; y <= w.Max.Y; y += 4 {
				p := geom.Point{X: x, Y: y}
				box := geom.Rect{Min: p.Add(geom.Vec{X: -6, Y: -6}), Max: p.Add(geom.Vec{X: 13, Y: 6})}
				if (!found || p.Dist(corner) < best.Dist(corner)) && k.free(box) && l.clearOfMarks(p) {
					best, found = p, true
				}
			}
		}
		if found {
			return best, true
		}
	}
	return geom.Point{}, false
}

func (l *Layout) clearOfMarks(p geom.Point) bool {
	for _, j := range l.Joints {
		for _, m := range j.Marks {
			if m.At.Dist(p) < 26 {
				return false
			}
		}
	}
	for _, c := range l.Corners {
		if c.Dist(p) < 30 {
			return false
		}
	}
	return true
}

// byDistance returns the printed tiles, nearest to a point first.
func (l *Layout) byDistance(p geom.Point) []Tile {
	var out []Tile
	for _, t := range l.Tiles {
		if !t.Blank {
			out = append(out, t)
		}
	}
	sortTiles(out, func(t Tile) float64 { return t.Window.Centre().Dist(p) })
	return out
}

// drawMarks draws all marks on a sheet of their own, as large as all tiles together:
// they reach beyond the drawing, and what lies outside a sheet is not printed.
func (l *Layout) drawMarks() {
	all := l.all()
	s := &sheet.Sheet{Width: all.Width(), Height: all.Height(), Frame: l.Of.Frame}
	put := func(g sheet.Group, items []sheet.Item) sheet.Group {
		for _, i := range items {
			g.Items = append(g.Items, sheet.Moved(i, all.Min.Sub(geom.Point{}).Neg()))
		}
		return g
	}
	layer := sheet.Layer{ID: "joints", Name: "Joints"}
	for _, j := range l.Joints {
		g := sheet.Group{ID: fmt.Sprintf("joint-%d", j.Number)}
		for _, m := range j.Marks {
			g = put(g, m.draw())
		}
		layer.Groups = append(layer.Groups, g)
	}
	for i, c := range l.Corners {
		layer.Groups = append(layer.Groups, put(sheet.Group{ID: fmt.Sprintf("long-%d", i+1)}, longMark(c, fmt.Sprintf("D%d", i+1))))
	}
	s.Layers = []sheet.Layer{layer}
	l.marks = s
}

// all is what the tiles show together.
func (l Layout) all() geom.Rect {
	return l.Tiles[0].Window.Union(l.Tiles[len(l.Tiles)-1].Window)
}

// longMark is a target: quarters of a disc, whose centre is sharp to measure to.
func longMark(c geom.Point, name string) []sheet.Item {
	const r = 3.0
	quarter := func(from geom.Angle) geom.Path {
		a := geom.Arc{Centre: c, Radius: r, From: from, Sweep: 90 * geom.Degree}
		return geom.Path{Closed: true, Segments: []geom.Segment{geom.Line{A: c, B: a.PointAt(0)}, a, geom.Line{A: a.PointAt(a.Length()), B: c}}}
	}
	return []sheet.Item{
		sheet.Shape{Fill: sheet.Grey(0), Paths: []geom.Path{quarter(0), quarter(180 * geom.Degree)}},
		sheet.Shape{Pen: pen(markLine), Paths: []geom.Path{sheet.Circle(c, r)}},
		sheet.Text{At: c.Add(geom.Vec{X: r + 1.2, Y: -1.3}), Text: name, Size: nameSize, Font: sheet.Bold, Colour: sheet.Grey(0)},
	}
}
