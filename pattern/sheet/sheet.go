package sheet

import "tubewright/geom"

// Frame says from where a sheet is seen.
type Frame int

const (
	Bench Frame = iota // glass lying face down, seen by the bender: mirrored
	Front              // the sign as it is read
)

func (f Frame) String() string { return [...]string{"bench", "front"}[f] }

// Sheet is one drawing at full size: one unit of length is one millimetre of
// paper. Later layers lie over earlier ones.
type Sheet struct {
	Width, Height float64 // of the paper, mm
	Title         string  // one line, for the file's own title
	Description   string  // what a program or a blind reader is told
	Language      string  // of the words, as in "de"; "" is English
	Frame         Frame
	Layers        []Layer
}

// Layer is a part of the drawing that a reader may switch off as a whole. IDs
// are unique in the sheet and made of letters, digits, '-' and '_'.
type Layer struct {
	ID, Name string
	Groups   []Group
}

// Group is a part of a layer that belongs together, usually all of one unit.
type Group struct {
	ID, Title string
	Items     []Item
}

// Item is a Shape or a Text, nothing else.
type Item interface {
	// Bounds returns a box that holds all the item marks on the paper.
	Bounds() geom.Rect
	item()
}

// Colour is opaque where Set; the zero value leaves no mark.
type Colour struct {
	Set     bool
	R, G, B uint8
}

// Grey returns a neutral colour: 0 is black, 255 white.
func Grey(v uint8) Colour { return Colour{true, v, v, v} }

// RGB returns an opaque colour.
func RGB(r, g, b uint8) Colour { return Colour{true, r, g, b} }

// Pen is how a line is drawn. Dash is mm on, mm off, and so on; empty is solid.
// Ends are butt and joints round.
type Pen struct {
	Width  float64 // mm
	Dash   []float64
	Colour Colour
}

// Shape is one or more paths with one look. Fill holds inside as the non-zero
// winding rule has it.
type Shape struct {
	Paths []geom.Path
	Pen   Pen
	Fill  Colour
}

// Anchor says which point of a text stands at its place.
type Anchor int

const (
	Start Anchor = iota
	Middle
	End
)

// Font is one of the three faces all encoders have.
type Font int

const (
	Regular Font = iota
	Bold
	Mono
)

// Text is one line of lettering; At is on the baseline. Turn is
// counter-clockwise about At. Characters that the fonts lack must be replaced
// first: see Printable.
type Text struct {
	At     geom.Point
	Text   string
	Size   float64 // of the em, mm; capitals are CapHeight(Size) high
	Anchor Anchor
	Turn   geom.Angle
	Font   Font
	Colour Colour
}

func (Shape) item() {}
func (Text) item()  {}

// Bounds returns the box of all paths, grown by half the pen.
func (s Shape) Bounds() geom.Rect {
	r := geom.EmptyRect()
	for _, p := range s.Paths {
		r = r.Union(p.Bounds())
	}
	if s.Pen.Colour.Set && !r.IsEmpty() {
		r = r.Grown(s.Pen.Width / 2)
	}
	return r
}

// Bounds returns the upright box of the text.
func (t Text) Bounds() geom.Rect {
	r := geom.EmptyRect()
	for _, p := range t.Box() {
		r = r.Including(p)
	}
	return r
}

// Box returns the corners of the text's own box, counter-clockwise from the
// start of its lower edge: as wide as its advances and their Room, from descender
// to ascender.
func (t Text) Box() [4]geom.Point {
	w := Width(t.Text, t.Size, t.Font) * Room
	x := [...]float64{0, -w / 2, -w}[t.Anchor]
	lo, hi := -descent*t.Size, ascent*t.Size
	var box [4]geom.Point
	for i, v := range [4]geom.Vec{{X: x, Y: lo}, {X: x + w, Y: lo}, {X: x + w, Y: hi}, {X: x, Y: hi}} {
		box[i] = t.At.Add(v.Turned(t.Turn))
	}
	return box
}

// Polyline returns the path through points.
func Polyline(pts ...geom.Point) geom.Path {
	var p geom.Path
	for i := 1; i < len(pts); i++ {
		p.Segments = append(p.Segments, geom.Line{A: pts[i-1], B: pts[i]})
	}
	return p
}

// Polygon returns the closed path through points.
func Polygon(pts ...geom.Point) geom.Path {
	p := Polyline(append(pts[:len(pts):len(pts)], pts[0])...)
	p.Closed = true
	return p
}

// Rectangle returns the border of a box.
func Rectangle(r geom.Rect) geom.Path {
	return Polygon(r.Min, geom.Point{X: r.Max.X, Y: r.Min.Y}, r.Max, geom.Point{X: r.Min.X, Y: r.Max.Y})
}

// Circle returns a full circle.
func Circle(centre geom.Point, radius float64) geom.Path {
	return geom.Path{Segments: []geom.Segment{geom.Arc{Centre: centre, Radius: radius, Sweep: 360 * geom.Degree}}, Closed: true}
}

// Layer returns the layer with an id, and false where there is none.
func (s *Sheet) Layer(id string) (Layer, bool) {
	for _, l := range s.Layers {
		if l.ID == id {
			return l, true
		}
	}
	return Layer{}, false
}
