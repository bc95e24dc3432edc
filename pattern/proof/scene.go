package proof

import (
	"fmt"
	"image"
	"math"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/look"
	"tubewright/pattern/support"
	"tubewright/pattern/tube"
)

// Wall is what the sign hangs on.
type Wall string

// Walls to choose from; PictureWall is the user's own.
const (
	DarkWall    Wall = "dark"
	BrickWall   Wall = "brick"
	LightWall   Wall = "light"
	PictureWall Wall = "picture"
)

// Walls lists the built-in walls.
func Walls() []Wall { return []Wall{DarkWall, BrickWall, LightWall} }

// Time is the time of day.
type Time string

// Times to choose from. By day the sky lights the wall, and the glow is faint.
const (
	Night Time = "night"
	Day   Time = "day"
)

// Span gives the glass of a unit from At mm on, counted from seal A, a light.
type Span struct {
	Unit  string
	At    float64
	Light look.Light
}

// Options say how the proof looks. The zero value of each field takes the default
// in its comment.
type Options struct {
	Width   int  // pixels, MinWidth to MaxWidth; default 2000
	Wall    Wall // default DarkWall
	Picture image.Image
	Time    Time // default Night
	NoScale bool // leave the person out
	Support support.Rule
	Gap     float64 // mm of air between glass and wall; default 6
}

// The range of widths, in pixels, and the most pixels of a picture.
const (
	MinWidth  = 200
	MaxWidth  = 8000
	maxPixels = 64 << 20
)

// Scene is a sign on its wall, ready to be drawn. Millimetres, front frame.
type Scene struct {
	opt      Options
	name     string
	text     []string
	diameter float64
	wallZ    float64
	frame    geom.Rect // what the picture shows
	bounds   geom.Rect // of the glass
	runs     []run
	supports []support.Place
	figure   *geom.Point // where the person's feet stand; nil for none
}

// run is a stretch of one unit with one role, light and side of the half depth: what
// is drawn as one.
type run struct {
	unit  string
	role  tube.Role
	light look.Light
	pts   []geom.Point3
	z     float64 // of its middle
}

// chordTol is how far the drawn glass may be from the true centreline, mm.
const chordTol = 0.1

// NewScene sets the sign up. Each unit needs a span at 0 that gives its light.
func NewScene(p pattern.Pattern, spans []Span, opt Options) (*Scene, error) {
	opt = opt.filled()
	if err := opt.check(); err != nil {
		return nil, err
	}
	if len(p.Units) == 0 {
		return nil, fmt.Errorf("proof: the pattern has no glass")
	}
	s := &Scene{opt: opt, name: p.Spec.Name, text: p.Spec.Text, diameter: p.Spec.Rules.Diameter,
		wallZ: look.WallZ(p, opt.Gap), supports: support.Places(p, opt.Support)}
	for _, u := range p.Units {
		runs, err := runsOf(u, spans, s.diameter)
		if err != nil {
			return nil, err
		}
		s.runs = append(s.runs, runs...)
	}
	s.arrange()
	if w, h := s.opt.Width, s.height(); w*h > maxPixels {
		return nil, fmt.Errorf("proof: a picture of %d × %d pixels is more than %d million; make the width at most %d",
			w, h, maxPixels>>20, int(math.Sqrt(float64(maxPixels)*s.frame.Width()/s.frame.Height())))
	}
	return s, nil
}

func (o Options) filled() Options {
	if o.Width == 0 {
		o.Width = 2000
	}
	if o.Wall == "" {
		o.Wall = DarkWall
	}
	if o.Time == "" {
		o.Time = Night
	}
	if o.Gap == 0 {
		o.Gap = 6
	}
	return o
}

func (o Options) check() error {
	switch {
	case o.Width < MinWidth || o.Width > MaxWidth:
		return fmt.Errorf("proof: a width of %d pixels; it must be from %d to %d", o.Width, MinWidth, MaxWidth)
	case o.Wall != DarkWall && o.Wall != BrickWall && o.Wall != LightWall && o.Wall != PictureWall:
		return fmt.Errorf("proof: unknown wall %q; write dark, brick, light, or a picture", o.Wall)
	case (o.Wall == PictureWall) != (o.Picture != nil):
		return fmt.Errorf("proof: the wall is %q, and the picture is %v", o.Wall, o.Picture != nil)
	case o.Time != Night && o.Time != Day:
		return fmt.Errorf("proof: unknown time %q; write night or day", o.Time)
	}
	return nil
}

// runsOf cuts a unit into runs.
func runsOf(u pattern.Unit, spans []Span, diameter float64) ([]run, error) {
	lightAt := func(s float64) (look.Light, bool) {
		var l look.Light
		found := false
		for _, sp := range spans {
			if sp.Unit == u.ID && sp.At <= s+1e-9 {
				l, found = sp.Light, true
			}
		}
		return l, found
	}
	var out []run
	var last look.Sample
	for i, p := range look.Samples(u, chordTol) {
		l, ok := lightAt(p.S)
		if !ok {
			return nil, fmt.Errorf("proof: unit %s has no light", u.ID)
		}
		n := len(out) - 1
		deep := func(z float64) bool { return z < -diameter/2 }
		if i == 0 || out[n].role != p.Role || out[n].light.Colour != l.Colour || deep(last.At.Z) != deep(p.At.Z) {
			r := run{unit: u.ID, role: p.Role, light: l}
			if i > 0 && last.Role == p.Role {
				r.pts = append(r.pts, last.At)
			}
			out = append(out, r)
			n++
		}
		out[n].pts = append(out[n].pts, p.At)
		last = p
	}
	for i := range out {
		for _, p := range out[i].pts {
			out[i].z += p.Z / float64(len(out[i].pts))
		}
	}
	return out, nil
}

// Measures of the picture about the sign, as shares of the sign's greater side.
const (
	marginShare = 0.30
	leastMargin = 120.0 // mm
)

// The person who shows the size: 1,700 mm tall, a round figure for a grown person
// (C), with the eye at the middle of the sign where the sign is
// not taller than that.
const (
	personHeight = 1700.0
	personWidth  = 520.0
	personEye    = 1600.0
	bustBelow    = 320.0 // least of the person that is seen under the eye
	headroom     = 90.0
)

// arrange sets the frame, and the person beside the sign.
func (s *Scene) arrange() {
	b := geom.Rect{}
	for i, r := range s.runs {
		for k, p := range r.pts {
			if i == 0 && k == 0 {
				b = geom.Rect{Min: p.Plan(), Max: p.Plan()}
			}
			b = b.Including(p.Plan())
		}
	}
	b = b.Grown(s.diameter / 2)
	s.bounds = b
	m := max(leastMargin, marginShare*min(max(b.Width(), b.Height()), 2*min(b.Width(), b.Height())+200))
	s.frame = b.Grown(m)
	if s.opt.NoScale {
		return
	}
	middle := (b.Min.Y + b.Max.Y) / 2
	floor := min(middle-personEye, b.Min.Y-m)
	if b.Height() < 0.7*personHeight {
		floor = middle - personEye // the person is cut off by the lower edge
	}
	x := b.Max.X + max(m, 0.3*personWidth) + personWidth/2
	s.figure = &geom.Point{X: x, Y: floor}
	s.frame.Max.X = x + personWidth/2 + m/2
	s.frame.Min.Y = min(s.frame.Min.Y, middle-bustBelow)
	s.frame.Max.Y = max(s.frame.Max.Y, floor+personHeight+headroom)
}

// height returns the height of the picture in pixels.
func (s *Scene) height() int {
	return max(1, int(math.Round(float64(s.opt.Width)*s.frame.Height()/s.frame.Width())))
}

// Size returns the size of the picture in pixels.
func (s *Scene) Size() (width, height int) { return s.opt.Width, s.height() }

// Pixel returns where a place of the front frame is in the picture, in pixels from
// its upper left corner.
func (s *Scene) Pixel(p geom.Point) (x, y float64) {
	k := s.scale()
	return (p.X - s.frame.Min.X) * k, (s.frame.Max.Y - p.Y) * k
}

// scale returns pixels a millimetre.
func (s *Scene) scale() float64 { return float64(s.opt.Width) / s.frame.Width() }
