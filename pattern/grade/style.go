package grade

import (
	"math"

	"tubewright/geom"
	"tubewright/geom/region"
)

// Style says what kind of strokes a face has.
type Style int

const (
	Unknown  Style = iota // nothing to judge by
	Single                // single lines, bent as they are
	Even                  // one width of stroke
	Modelled              // a little thick and thin, as a pen gives
	Uneven                // thick and thin: one width of tube cannot show it
	Heavy                 // strokes so wide that one line in their middle does not show them
	Inline                // strokes with light lines within, or made of several lines
	Outlined              // only the edges of strokes are drawn
)

var styleWords = [...]string{
	Unknown: "not known", Single: "single lines, bent as they are", Even: "even strokes of one width",
	Modelled: "strokes a little thick and thin", Uneven: "thick and thin strokes", Heavy: "heavy strokes",
	Inline: "inline: strokes with light lines within", Outlined: "outline: only the edges of the strokes are drawn",
}

func (s Style) String() string { return styleWords[s] }

// SuitsOneLine reports whether one line of tube can show such a face.
func (s Style) SuitsOneLine() bool { return s == Single || s == Even || s == Modelled }

// The limits between styles. A bold sans has a contrast of about 1.3 and
// strokes of 0.25 of the capitals; a book face, contrast 2 and more.
const (
	evenMost     = 1.35  // contrast of a face that still looks even
	modelledMost = 2.0   // contrast that a tube may leave out
	heavyLeast   = 0.175 // typical width of a heavy face: a book face has 0.12, its bold 0.19
	edgesLeast   = 0.6   // share of the letters that are edges, in an outline or inline face
	ringReach    = 0.85  // share of a letter's width and height that the ring about it has
	lightLine    = 1.2   // a light line is narrower than so many widths of the ink beside it
	besideMost   = 3.0   // lines of one stroke are nearer to each other, middle to middle, than so many of their widths
	besideLeast  = 0.5   // share of the strokes that runs so
)

// StyleOf tells the style from the widths and the letters, whose capitals are
// cap mm high.
func StyleOf(letters []Letter, w Widths, cap float64) Style {
	if w.Typical == 0 {
		for _, l := range letters {
			if len(l.Trace.Strokes) > 0 {
				return Single
			}
		}
		return Unknown
	}
	if s := edges(letters); s != Unknown {
		return s
	}
	if w.Typical < heavyLeast && shareBeside(letters, besideMost*w.Typical*cap, cap) > besideLeast {
		return Inline
	}
	switch c := w.Contrast(); {
	case w.Typical >= heavyLeast:
		return Heavy
	case c > modelledMost:
		return Uneven
	case c > evenMost:
		return Modelled
	}
	return Even
}

// edges tells outline and inline faces: a ring of ink runs round the whole
// letter, and the letter has more closed strokes than counters. A light line
// within heavy strokes leaves wide rings about narrow holes; an outline,
// narrow rings about wide ones.
func edges(letters []Letter) Style {
	known, rings, light := 0, 0, 0
	for _, l := range letters {
		counters, ok := countersOf(l.Text)
		if !ok || len(l.Trace.Strokes) == 0 {
			continue
		}
		known++
		if !isRinged(l, counters) {
			continue
		}
		rings++
		if lineWithin(l) < lightLine {
			light++
		}
	}
	switch {
	case known == 0 || float64(rings) < edgesLeast*float64(known):
		return Unknown
	case 2*light > rings:
		return Inline
	}
	return Outlined
}

// isRinged reports whether a closed stroke runs round all of a letter and there
// are more closed strokes than the letter has counters.
func isRinged(l Letter, counters int) bool {
	all, closed, number := geom.EmptyRect(), 0.0, 0
	total, round := 0.0, false
	for _, s := range l.Trace.Strokes {
		all = all.Union(s.Path.Bounds())
	}
	for _, s := range l.Trace.Strokes {
		n := s.Path.Length()
		if total += n; !s.Path.Closed || s.Dot {
			continue
		}
		closed += n
		number++
		box := s.Path.Bounds()
		round = round || box.Width() >= ringReach*all.Width() && box.Height() >= ringReach*all.Height()
	}
	return round && number > counters && closed > total/2
}

// lineWithin returns how wide the narrowest hole of a letter is, in widths of
// its ink. A hole's width is twice its area over its edge.
func lineWithin(l Letter) float64 {
	const share = 1e-3
	box := l.Outline.ControlBox()
	r, err := region.FromOutline(l.Outline, share*max(box.Width(), box.Height(), 1e-9))
	if err != nil {
		return math.Inf(1)
	}
	ink, edge, hole := 0.0, 0.0, math.Inf(1)
	for _, loop := range r.Loops {
		n := 0.0
		for i := range loop {
			n += loop[i].Dist(loop[(i+1)%len(loop)])
		}
		area := region.Region{Loops: [][]geom.Point{loop}}.Area()
		ink += area
		edge += n
		if area < 0 {
			hole = min(hole, -2*area/n)
		}
	}
	return hole / (2 * ink / edge)
}
