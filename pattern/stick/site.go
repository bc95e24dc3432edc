package stick

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// Span is a stretch of a unit, developed mm from seal A.
type Span struct{ From, To float64 }

// Site is a stretch of straight glass where a weld may stand.
type Site struct {
	Span
	Hidden bool // on glass that is painted out
}

// Sites returns where welds may stand in a unit: on straight glass that is no
// electrode's leg, not between the bends of one heat, clear mm outside every heated
// zone, and off the spans of avoid (supports). In the order of travel.
func Sites(t tube.Tube, heats []bend.Heat, clear float64, avoid []Span) []Site {
	var bars []Span
	for _, h := range heats {
		bars = append(bars, Span{h.From - clear, h.To + clear})
	}
	bars = append(bars, avoid...)
	slices.SortStableFunc(bars, func(a, b Span) int {
		switch {
		case a.From < b.From:
			return -1
		case a.From > b.From:
			return 1
		}
		return 0
	})
	var out []Site
	at := 0.0
	for i, p := range t {
		n := p.Seg.Length()
		within := func(h bend.Heat) bool { return h.First < i && i < h.Last }
		if _, ok := p.Seg.(geom.Line3); ok && p.Role != tube.Leg && !slices.ContainsFunc(heats, within) {
			for _, s := range without(Span{at, at + n}, bars) {
				out = append(out, Site{s, p.Role == tube.Hidden})
			}
		}
		at += n
	}
	return out
}

// without returns what is left of s between the bars, which are sorted.
func without(s Span, bars []Span) []Span {
	var out []Span
	for _, b := range bars {
		if b.To <= s.From || b.From >= s.To {
			continue
		}
		if b.From > s.From {
			out = append(out, Span{s.From, b.From})
		}
		s.From = max(s.From, b.To)
	}
	if s.From < s.To {
		out = append(out, s)
	}
	return out
}

// Allowed maps developed mm to mm of stick: each bend's allowance is spread over
// its heated zone.
func Allowed(heats []bend.Heat, a glass.Allowance) func(s float64) float64 {
	return func(s float64) float64 {
		out := s
		for _, h := range heats {
			if v := allowance(h.Kind, a); v != 0 && h.To > h.From {
				out += v * math.Max(0, math.Min(1, (s-h.From)/(h.To-h.From)))
			}
		}
		return out
	}
}

func allowance(kind string, a glass.Allowance) float64 {
	switch kind {
	case bend.Corner:
		return a.Corner
	case bend.Curve:
		return a.Curve
	case bend.DoubleBack:
		return a.DoubleBack
	case bend.DropBack:
		return a.DropBack
	case bend.Raise:
		return a.Raise
	case bend.Drop:
		return a.Drop
	}
	panic("stick: unknown kind of heat " + kind)
}

// siteStep is how close the places tried within a site stand, mm.
const siteStep = 10.0

// Welds places the welds of one piece of a unit that is bent as one, from a to
// b, held by head and tail more at its ends: as few as sticks of the given
// length allow, of those with the fewest on lit glass, of those with the sticks
// before the last as long as can be, for the rest of a stick is of use only
// whole. length maps developed mm to stick mm. False where the sites are too far
// apart.
func Welds(sites []Site, a, b, head, tail, stick float64, length func(float64) float64) ([]float64, bool) {
	if length(b)-length(a)+head+tail <= stick+1e-9 {
		return nil, true
	}
	type place struct {
		at   float64 // developed
		len  float64 // on the stick
		lit  int
		best [3]float64 // pieces, lit welds, minus the squares of lengths
		from int
	}
	places := []place{{at: a, len: length(a) - head}}
	for _, s := range sites {
		lit := 1
		if s.Hidden {
			lit = 0
		}
		lo, hi := max(s.From, a), min(s.To, b)
		n := int(math.Ceil((hi - lo) / siteStep))
		for k := 0; lo <= hi && k <= n; k++ {
			at := lo + (hi-lo)*float64(k)/float64(max(n, 1))
			places = append(places, place{at: at, len: length(at), lit: lit})
		}
	}
	places = append(places, place{at: b, len: length(b) + tail})
	for j := 1; j < len(places); j++ {
		places[j].from = -1
		for i := range j {
			p, n := places[i], places[j].len-places[i].len
			if i > 0 && p.from < 0 || n > stick+1e-9 || n <= 0 {
				continue
			}
			c := [3]float64{p.best[0] + 1, p.best[1] + float64(places[j].lit), p.best[2] - float64(n*n)}
			if places[j].from < 0 || slices.Compare(c[:], places[j].best[:]) < 0 {
				places[j].best, places[j].from = c, i
			}
		}
	}
	last := len(places) - 1
	if places[last].from < 0 {
		return nil, false
	}
	var out []float64
	for i := places[last].from; i > 0; i = places[i].from {
		out = append(out, places[i].at)
	}
	slices.Reverse(out)
	return out, true
}
