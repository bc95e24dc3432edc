package pattern

import (
	"fmt"
	"math"
	"strings"

	"tubewright/geom"
	"tubewright/geom/region"
	"tubewright/geom/trace"
	"tubewright/pattern/finding"
)

// drawn is one stroke as the face draws it, before it is made fit for glass.
type drawn struct {
	letter int // index in Spec.Letters
	path   geom.Path
	dot    bool
}

// dotShare is how small, as a share of the height, a single-line stroke must
// be in both directions to count as a dot.
const dotShare = 0.12

// meetShare is how near, as a share of the height, two stroke ends of a
// single-line face must lie to be one corner: a little under one unit of the
// coarse grid the data was drawn on, whose capitals are 21 units high.
const meetShare = 0.045

// flattenShare is the flattening tolerance of outlines as a share of the height.
const flattenShare = 1e-4

// TraceLetters finds the centrelines of placed letters as the face draws
// them: letters whose ink touches are traced together, one result for each
// group, in reading order. Height is the height of the capital H in mm, tol how
// far a fitted line or arc may leave the centre, mm; 0 for a small share of it.
// Letters of a single-line face give their strokes as they are.
func TraceLetters(letters []Letter, height, tol float64) ([]Traced, error) {
	var out []Traced
	for _, group := range inkGroups(letters, height) {
		t := Traced{Letters: group}
		var outlines []geom.Outline
		for _, i := range group {
			outlines = append(outlines, letters[i].Outline)
			for _, s := range letters[i].Strokes {
				t.Trace.Strokes = append(t.Trace.Strokes, trace.Stroke{Path: s})
			}
		}
		if len(t.Trace.Strokes) == 0 {
			r, err := region.Union(outlines, flattenShare*height)
			if err == nil {
				t.Trace, err = trace.Region(r, trace.Options{CapHeight: height, Tol: tol})
			}
			if err != nil {
				return nil, fmt.Errorf("letter %q (character %d): %w", textOf(letters, group), letters[group[0]].Index+1, err)
			}
		}
		out = append(out, t)
	}
	return out, nil
}

// Traced is the centreline of one group of letters whose ink touches.
type Traced struct {
	Letters []int // indices of the letters
	Trace   trace.Result
}

func textOf(letters []Letter, group []int) string {
	var b strings.Builder
	for _, i := range group {
		b.WriteString(letters[i].Text)
	}
	return b.String()
}

// inkGroups returns the letters that have ink, those that touch together, in
// reading order. Letters of different lines are never one group.
func inkGroups(letters []Letter, height float64) [][]int {
	var out [][]int
	for start := 0; start < len(letters); {
		end := start
		for end < len(letters) && letters[end].Line == letters[start].Line {
			end++
		}
		var outlines []geom.Outline
		var index []int
		for i := start; i < end; i++ {
			if len(letters[i].Strokes) > 0 {
				out = append(out, []int{i})
			} else if len(letters[i].Outline) > 0 {
				outlines = append(outlines, letters[i].Outline)
				index = append(index, i)
			}
		}
		for _, g := range region.Connected(outlines, flattenShare*height) {
			group := make([]int, len(g))
			for k, i := range g {
				group[k] = index[i]
			}
			out = append(out, group)
		}
		start = end
	}
	return out
}

// CapLine returns the height of the centreline of a capital H, given as a
// letter at any size, in the same units: what height − D must be scaled to so
// that the finished glass is as high as asked. It is an error if the letter
// has no ink.
func CapLine(h Letter) (float64, error) {
	size := h.Outline.ControlBox().Height()
	traced, err := TraceLetters([]Letter{h}, max(size, 1e-3), 0)
	if err != nil {
		return 0, err
	}
	box := geom.EmptyRect()
	for _, t := range traced {
		for _, s := range t.Trace.Strokes {
			box = box.Union(pulledBack(s).Bounds())
		}
	}
	if box.IsEmpty() || box.Height() <= 0 {
		return 0, fmt.Errorf("the capital %q of the face has no strokes to measure", h.Text)
	}
	return box.Height(), nil
}

// pulledBack returns a traced stroke with its flat ends moved from the outline
// to where the middle of a round pen would have stopped, half a width inside.
func pulledBack(s trace.Stroke) geom.Path {
	if s.Path.Closed || len(s.Path.Segments) == 0 {
		return s.Path
	}
	n := s.Path.Length()
	var pull [2]float64
	for side, e := range s.Ends {
		if e.Kind == trace.EndFlat || e.Kind == trace.EndSlanted {
			pull[side] = min(e.Radius, n/3)
		}
	}
	if pull == [2]float64{} {
		return s.Path
	}
	return s.Path.Cut(pull[0], n-pull[1])
}

// drawnStrokes turns traces into the strokes to be made in glass, letter by
// letter in reading order, and files what the tracing had to say.
func (m *maker) drawnStrokes(traced []Traced) []drawn {
	var out []drawn
	for _, t := range traced {
		for _, n := range t.Trace.Notes {
			m.note(t.Letters[0], n)
		}
		byLetter := make([][]drawn, len(t.Letters))
		for _, s := range t.Trace.Strokes {
			if len(s.Path.Segments) == 0 {
				continue
			}
			if !s.Dot && s.Path.Length() < stubMost*m.spec.Rules.Diameter && len(t.Trace.Strokes) > 1 && touchesOther(t.Trace.Strokes, s) {
				continue // no glass is this short; what it drew lies under its neighbour's
			}
			k := m.ownerOf(t.Letters, s.Path)
			d := drawn{letter: t.Letters[k], path: pulledBack(s), dot: s.Dot}
			byLetter[k] = append(byLetter[k], d)
		}
		for _, ds := range byLetter {
			out = append(out, ds...)
		}
	}
	if m.spec.Coarse {
		out = m.joinEnds(out)
	}
	out = m.straightenStems(out)
	for i := range out {
		box := out[i].path.Bounds()
		if m.spec.Coarse && max(box.Width(), box.Height()) < dotShare*m.spec.Height {
			out[i].dot = true
		}
		if out[i].dot {
			out[i].path = m.dotPath(box.Centre())
		}
	}
	return out
}

// stubMost, in D, is the length under which a stroke that hangs on another is
// left out: it lies within the thickness of the other's glass.
const stubMost = 0.6

// touchesOther reports whether a stroke starts or ends on another one.
func touchesOther(strokes []trace.Stroke, s trace.Stroke) bool {
	for _, o := range strokes {
		if len(o.Path.Segments) == 0 || o.Path.Start() == s.Path.Start() && o.Path.End() == s.Path.End() {
			continue
		}
		for _, q := range [2]geom.Point{s.Path.Start(), s.Path.End()} {
			if _, d := o.Path.Nearest(q); d < 1e-3*max(s.Path.Length(), 1) {
				return true
			}
		}
	}
	return false
}

// dotPath is the shortest lit glass there is, standing for a dot: a short
// straight whose ends turn back.
func (m *maker) dotPath(c geom.Point) geom.Path {
	half := geom.Vec{X: m.spec.Rules.DoubleBackRadius}
	return geom.Path{Segments: []geom.Segment{geom.Line{A: c.Add(half.Neg()), B: c.Add(half)}}}
}

// ownerOf returns which letter of a group a stroke mostly lies in, by the
// boxes of the letters.
func (m *maker) ownerOf(group []int, p geom.Path) int {
	if len(group) == 1 {
		return 0
	}
	best, most := 0, -1
	samples := p.Samples(max(p.Length()/32, 1e-6))
	for k, i := range group {
		box := m.spec.Letters[i].Outline.ControlBox()
		n := 0
		for _, q := range samples {
			if box.Contains(q) {
				n++
			}
		}
		if n > most {
			best, most = k, n
		}
	}
	return best
}

// note files a remark of the tracing as a finding.
func (m *maker) note(letter int, n trace.Note) {
	l := m.spec.Letters[letter]
	m.findings = append(m.findings, finding.Finding{
		Code: string(n.Kind), Severity: finding.Note, Letter: l.Text, Index: l.Index, At: n.At.At(0), What: n.Explanation,
	})
}

// joinEnds makes one stroke of two whose ends meet where no third stroke does:
// the data of single-line faces draws the sides of an M one by one, and joins
// script letters end to end.
func (m *maker) joinEnds(strokes []drawn) []drawn {
	tol := meetShare * m.spec.Height
	for {
		i, j, ok := meetingPair(strokes, tol)
		if !ok {
			return strokes
		}
		if i == j {
			strokes[i].path = closePath(strokes[i].path)
			continue
		}
		strokes[i].path = joinPaths(strokes[i].path, strokes[j].path)
		strokes = append(strokes[:j], strokes[j+1:]...)
	}
}

// meetingPair finds two strokes (or the two ends of one) that meet end to end
// with no other stroke near.
func meetingPair(strokes []drawn, tol float64) (int, int, bool) {
	for i := range strokes {
		a := strokes[i].path
		if a.Closed {
			continue
		}
		if a.Start().Dist(a.End()) < tol/8 && a.Length() > 8*tol && !othersNear(strokes, a.End(), tol, i, i) {
			return i, i, true
		}
		for j := i + 1; j < len(strokes); j++ {
			b := strokes[j].path
			if b.Closed {
				continue
			}
			for _, p := range [2]geom.Point{a.Start(), a.End()} {
				for _, q := range [2]geom.Point{b.Start(), b.End()} {
					if p.Dist(q) < tol && !othersNear(strokes, p, tol, i, j) && !ownInside(a, p, tol) && !ownInside(b, q, tol) {
						return i, j, true
					}
				}
			}
		}
	}
	return 0, 0, false
}

func othersNear(strokes []drawn, p geom.Point, tol float64, i, j int) bool {
	for k, s := range strokes {
		if k == i || k == j {
			continue
		}
		if box := s.path.Bounds().Grown(tol); !box.Contains(p) {
			continue
		}
		if _, d := s.path.Nearest(p); d < tol {
			return true
		}
	}
	return false
}

// ownInside reports whether a stroke passes its own end again.
func ownInside(a geom.Path, p geom.Point, tol float64) bool {
	n := a.Length()
	if n < 8*tol {
		return false
	}
	from, to := 4*tol, n
	if a.End().Dist(p) < a.Start().Dist(p) {
		from, to = 0, n-4*tol
	}
	_, d := a.Cut(from, to).Nearest(p)
	return d < tol
}

// joinPaths turns the two paths so that they meet and makes one of them; the
// gap between the ends, if any, is bridged by moving both to its middle.
func joinPaths(a, b geom.Path) geom.Path {
	best := math.Inf(1)
	var first, second geom.Path
	for _, p := range []geom.Path{a, a.Reversed()} {
		for _, q := range []geom.Path{b, b.Reversed()} {
			if d := p.End().Dist(q.Start()); d < best-1e-12 {
				best, first, second = d, p, q
			}
		}
	}
	mid := first.End().Lerp(second.Start(), 0.5)
	segs := append([]geom.Segment(nil), first.Segments...)
	segs[len(segs)-1] = endingAt(segs[len(segs)-1], mid)
	more := append([]geom.Segment(nil), second.Segments...)
	more[0] = endingAt(more[0].Reversed(), mid).Reversed()
	return geom.Path{Segments: append(segs, more...)}
}

// endingAt moves the end of a straight segment; single-line data has no other.
func endingAt(s geom.Segment, p geom.Point) geom.Segment {
	return geom.Line{A: s.Start(), B: p}
}

func closePath(p geom.Path) geom.Path {
	segs := append([]geom.Segment(nil), p.Segments...)
	last := len(segs) - 1
	segs[last] = endingAt(segs[last], p.Start())
	return geom.Path{Segments: segs, Closed: true}
}
