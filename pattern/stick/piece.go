package stick

import (
	"slices"

	"tubewright/pattern/bend"
)

// Kinds of mark.
const (
	Trim    = "trim"   // cut here when everything is bent
	Weld    = "weld"   // the end that is welded to the next stick, or the cut for it
	HeatsAt = "from"   // a heated zone begins
	HeatsTo = "to"     // a heated zone ends
	Middle  = "middle" // the middle of a heat
	End     = "end"    // of the stick
)

// Mark is a line on the straight stick.
type Mark struct {
	At   float64 // mm from the marked end
	Kind string
	Heat int // number of the heat, 0 for other marks
}

// Piece is a stretch of one stick of a unit.
type Piece struct {
	Unit       string
	Number     int     // within the unit, from 1, from electrode A
	Section    int     // index of the part of the unit that is bent as one
	From, To   float64 // of the unit, developed mm from seal A
	Head, Tail float64 // to hold, trimmed off in the end
	Length     float64 // to cut
	Marks      []Mark  // ascending
}

// Section is a part of a unit that is bent as one: its ends, what is held beyond
// them, and the welds that join its sticks.
type Section struct {
	Span
	Head, Tail float64
	Welds      []float64
}

// Pieces cuts a section into the pieces of its sticks, marked. length maps
// developed mm to stick mm; index is the section's, first the number of the first piece.
func (s Section) Pieces(unit string, index, first int, heats []bend.Heat, length func(float64) float64) []Piece {
	cuts := append(append([]float64{s.From}, s.Welds...), s.To)
	var out []Piece
	for i := range len(cuts) - 1 {
		p := Piece{Unit: unit, Number: first + i, Section: index, From: cuts[i], To: cuts[i+1]}
		if i == 0 {
			p.Head = s.Head
		}
		if i == len(cuts)-2 {
			p.Tail = s.Tail
		}
		p.Length = p.Head + length(p.To) - length(p.From) + p.Tail
		p.mark(heats, length, i == 0, i == len(cuts)-2)
		out = append(out, p)
	}
	return out
}

func (p *Piece) mark(heats []bend.Heat, length func(float64) float64, first, last bool) {
	at := func(s float64) float64 { return p.Head + length(s) - length(p.From) }
	add := func(v float64, kind string, heat int) { p.Marks = append(p.Marks, Mark{v, kind, heat}) }
	if p.Head > 0 {
		add(p.Head, Trim, 0)
	} else if !first {
		add(0, Weld, 0)
	}
	for _, h := range heats {
		for _, m := range []struct {
			s    float64
			kind string
		}{{h.From, HeatsAt}, {(h.Start + h.End) / 2, Middle}, {h.To, HeatsTo}} {
			if p.From < m.s && m.s < p.To {
				add(at(m.s), m.kind, h.Number)
			}
		}
	}
	if p.Tail > 0 {
		add(p.Length-p.Tail, Trim, 0)
	}
	if last {
		add(p.Length, End, 0)
	} else {
		add(p.Length, Weld, 0)
	}
	slices.SortStableFunc(p.Marks, func(a, b Mark) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
}

// Zone returns the heated zone of a heat on the straight stick: the number of the
// piece that the heat is on, and from where to where, mm from its marked end. The
// number is 0 where no piece has the heat.
func Zone(pieces []Piece, heat int) (number int, from, to float64) {
	for _, p := range pieces {
		if !p.has(heat) {
			continue
		}
		from, to = 0, p.Length
		for _, m := range p.Marks {
			switch {
			case m.Heat == heat && m.Kind == HeatsAt:
				from = m.At
			case m.Heat == heat && m.Kind == HeatsTo:
				to = m.At
			}
		}
		return p.Number, from, to
	}
	return 0, 0, 0
}

func (p Piece) has(heat int) bool {
	return slices.ContainsFunc(p.Marks, func(m Mark) bool { return m.Heat == heat && m.Kind == Middle })
}
