package grade

import (
	"fmt"
	"slices"

	"tubewright/geom"
	"tubewright/geom/trace"
	"tubewright/pattern/glass"
)

// Spec is a face to be graded: its letters, traced each by itself.
type Spec struct {
	Face    string
	Rules   glass.Rules
	Height  float64 // mm, of a finished capital H, glass included
	Cap     float64 // mm, of the drawn capitals of Letters
	Line    float64 // height of the centreline of a capital H as a share of Cap
	Letters []Letter
	Coarse  bool // a single-line face of coarse polylines
}

// finished returns the outside height of the glass where drawn capitals are
// cap mm high; 0 stays 0.
func (s Spec) finished(cap float64) float64 {
	if cap == 0 {
		return 0
	}
	return cap*s.Line + s.Rules.Diameter
}

// Grade is what a face is worth for tube.
type Grade struct {
	Spec    Spec
	Widths  Widths
	Style   Style
	Letters []LetterGrade // as in Spec
	// Least is the height in mm from which the tube has room in every letter
	// that it has room in at all; LeastMost, in nine letters of ten.
	Least, LeastMost float64
	Verdict          Verdict
	Why, Serve       string // of a verdict that is not Good
}

// LetterGrade is what one letter is worth.
type LetterGrade struct {
	Text            string
	Coverage, Spill float64 // of the pen swept along the strokes; 0 in a single-line face
	Room            Room    // its Height that of a finished capital H
	Care            []Care  // why it needs care; empty if it does not
}

// Care is one reason why a letter needs care, with the figure for that letter,
// as "from 338 mm", or "".
type Care struct{ Why, Figure string }

// Verdict is the grade in one word.
type Verdict int

const (
	Good     Verdict = iota // every letter but a few can be bent as it is drawn
	WithCare                // several letters need a bender's judgement
	Unsuited                // one line of tube cannot show the face
)

func (v Verdict) String() string {
	return [...]string{"good", "with care", "not for one line"}[v]
}

// careMost is the share of letters that may need care in a good face.
const careMost = 0.15

// Of grades a face.
func Of(s Spec) Grade {
	g := Grade{Spec: s, Widths: MeasureWidths(s.Letters, s.Cap)}
	g.Style = StyleOf(s.Letters, g.Widths, s.Cap)
	var heights []float64
	for _, l := range s.Letters {
		one := LetterGrade{Text: l.Text, Coverage: l.Trace.Coverage, Spill: l.Trace.Spill}
		one.Room = RoomIn(l.Trace, s.Cap, s.Rules, s.Coarse)
		one.Room.Height = s.finished(one.Room.Height)
		one.Care = careOf(l, one.Room, s)
		if one.Room.Height > 0 {
			heights = append(heights, one.Room.Height)
		}
		g.Letters = append(g.Letters, one)
	}
	slices.Sort(heights)
	if n := len(heights); n > 0 {
		g.Least, g.LeastMost = heights[n-1], heights[(9*n+9)/10-1]
	}
	g.judge()
	return g
}

// careOf lists why a letter needs care at the height of the spec.
func careOf(l Letter, room Room, s Spec) []Care {
	if len(l.Trace.Strokes) == 0 {
		return []Care{{Why: "it has no strokes"}}
	}
	var care []Care
	for _, n := range l.Trace.Notes {
		if c := careOfNote(n); !slices.ContainsFunc(care, func(o Care) bool { return o.Why == c.Why }) {
			care = append(care, c)
		}
	}
	switch {
	case room.Height == 0:
		care = append(care, Care{"no height up to " + mm(s.finished(mostTubes*s.Rules.Diameter)) + " was found: " + room.Reason, ""})
	case room.Height > s.Height:
		care = append(care, Care{"too small: " + room.Reason, "from " + mm(room.Height)})
	}
	return care
}

func careOfNote(n trace.Note) Care {
	percent := geom.FormatNumber(100*n.Value, 1) + " %"
	switch {
	case n.Kind == trace.TooHeavy:
		return Care{Why: "strokes so heavy that their path is in doubt"}
	case n.Kind == trace.Uneven:
		return Care{Why: "thick and thin strokes"}
	case n.Kind == trace.Raw:
		return Care{Why: "a junction is left as the raw axis has it"}
	case n.Kind == trace.Imprecise && n.Limit > 0.5:
		return Care{"the strokes cover too little of the ink", percent}
	case n.Kind == trace.Imprecise:
		return Care{"the strokes leave the ink", percent}
	}
	return Care{Why: n.Explanation}
}

func mm(v float64) string { return geom.FormatNumber(v, 0) + " mm" }

// judge gives the verdict.
func (g *Grade) judge() {
	g.Why, g.Serve = Advice(g.Spec.Letters, g.Style, g.Widths, g.Spec.Rules, g.Spec.Cap)
	careful := g.Careful()
	switch {
	case g.Why != "":
		g.Verdict = Unsuited
	case len(careful) == len(g.Letters):
		g.Verdict = Unsuited
		g.Why = "every letter needs care: the tube is too thick for letters of this height, or the face too intricate"
		g.Serve = "make the letters higher, use a thinner tube, or take another face"
	case float64(len(careful)) > careMost*float64(len(g.Letters)):
		g.Verdict = WithCare
		g.Why = fmt.Sprintf("%d of %d letters need care at this height", len(careful), len(g.Letters))
		g.Serve = "make the letters higher or use a thinner tube, and look at the letters named"
	}
}

// Careful returns the letters that need care, in their order.
func (g Grade) Careful() []LetterGrade {
	var out []LetterGrade
	for _, l := range g.Letters {
		if len(l.Care) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// Sweep returns the least coverage and the most spill of the letters, with the
// letters that have them; "" in a single-line face.
func (g Grade) Sweep() (cover float64, coverOf string, spill float64, spillOf string) {
	cover = 1
	for i, l := range g.Letters {
		if len(g.Spec.Letters[i].Trace.Strokes) == 0 || l.Coverage == 0 {
			continue
		}
		if coverOf == "" || l.Coverage < cover {
			cover, coverOf = l.Coverage, l.Text
		}
		if spillOf == "" || l.Spill > spill {
			spill, spillOf = l.Spill, l.Text
		}
	}
	return cover, coverOf, spill, spillOf
}

// Reason is why some letters need care.
type Reason struct {
	Why     string
	Letters []string // with their figures, as "B (from 338 mm)"
}

// Reasons gathers the letters that need care for the same reason, in the order
// in which the reasons first come up.
func (g Grade) Reasons() []Reason {
	var out []Reason
	for _, l := range g.Careful() {
		for _, c := range l.Care {
			i := slices.IndexFunc(out, func(r Reason) bool { return r.Why == c.Why })
			if i < 0 {
				out = append(out, Reason{Why: c.Why})
				i = len(out) - 1
			}
			text := l.Text
			if c.Figure != "" {
				text += " (" + c.Figure + ")"
			}
			out[i].Letters = append(out[i].Letters, text)
		}
	}
	return out
}
