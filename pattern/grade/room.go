package grade

import (
	"math"

	"tubewright/geom"
	"tubewright/geom/trace"
	"tubewright/pattern/condition"
	"tubewright/pattern/glass"
)

// Room is the least height of the capitals at which a tube has room in a
// letter, with what stands in the way below it.
type Room struct {
	Height float64 // mm; 0 where none was found
	Reason string  // of the least height, in words
	Gap    float64 // between the middles of the nearest two stretches side by side, as a share of the capitals; 0 for none
}

// The heights tried, in tube diameters: from the least that a tube allows at
// all (7 to 9 in the trade notes, glass included), in steps that a half step
// back makes finer, to one for which a thicker tube would be taken.
const (
	leastTubes = 6.5
	mostTubes  = 60.0
	ladder     = 1.25
)

// mostOff is how far, as a share of the height, the glass may leave the
// drawing, as in pattern.Make.
const mostOff = 0.15

// RoomIn returns the room for a tube in strokes whose capitals are cap mm
// high. Two things are asked: stretches of glass side by side need the tube
// and its clearance from middle to middle; and every stroke, made fit for the
// glass by itself, must keep to its drawing without a warning. Crossings, ends
// that meet and the way of the glass through the letter are not looked at:
// that is for check, with the words as they will stand.
func RoomIn(r trace.Result, cap float64, rules glass.Rules, coarse bool) Room {
	if len(r.Strokes) == 0 {
		return Room{Reason: "it has no strokes"}
	}
	room := Room{Gap: sideBySide(r, cap) / cap}
	low := leastTubes * rules.Diameter
	if room.Gap > 0 {
		if h := rules.Need() / room.Gap; h > low {
			low, room.Reason = h, "two runs of glass side by side"
		}
	}
	most := mostTubes * rules.Diameter
	for h := low; h <= most; h *= ladder {
		why := inTheWay(r, cap, h, rules, coarse)
		if why == "" {
			room.Height = h
			if half := h / math.Sqrt(ladder); half > low && inTheWay(r, cap, half, rules, coarse) == "" {
				room.Height = half
			}
			return room
		}
		room.Reason = why
	}
	if low > most {
		room.Reason = "two runs of glass nearly touch"
	}
	return room
}

// inTheWay returns why glass cannot follow the strokes at height h, "" if it
// can.
func inTheWay(r trace.Result, cap, h float64, rules glass.Rules, coarse bool) string {
	lim := condition.Limits{Diameter: rules.Diameter, MinRadius: rules.MinRadius, CornerRadius: rules.CornerRadius, Smooth: coarse}
	scale := geom.SimilarityMap{Scale: h / cap}
	for _, s := range r.Strokes {
		if s.Dot || len(s.Path.Segments) == 0 {
			continue
		}
		got := condition.Stroke(s.Path.Map(scale), lim)
		for _, p := range got.Problems {
			if !p.Kind.IsNote() {
				return p.Kind.Words()
			}
		}
		if got.Deviation > mostOff*h {
			return "rounded for the glass, it leaves the drawing too far"
		}
	}
	return ""
}

// Sampling of sideBySide, as shares of the height of the capitals.
const (
	sampleStep = 0.01
	meetZone   = 0.2 // about an end or a crossing, where strokes come near each other because they meet
	widestGap  = 0.6 // further apart they do not matter
)

// level is how near to square to both strokes the way between two stretches
// is that lie side by side: the sine of 10 degrees.
const level = 0.17364817766693033

type place struct {
	at     geom.Point
	dir    geom.Vec
	stroke int
	along  float64
}

// sideBySide returns the least distance in mm between the middles of two
// stretches of stroke that run side by side, 0 where none do. On a bend it is
// up to 2 % short, as chords a little off the diameter count.
func sideBySide(r trace.Result, cap float64) float64 {
	places := placesOf(r, cap)
	best := math.Inf(1)
	for i, p := range places {
		for _, q := range places[:i] {
			if runsBeside(r, p, q, min(best, widestGap*cap)) {
				best = q.at.Dist(p.at)
			}
		}
	}
	if math.IsInf(best, 1) {
		return 0
	}
	return best
}

// shareBeside returns which share of the strokes of letters runs beside others
// at most far mm away.
func shareBeside(letters []Letter, far, cap float64) float64 {
	all, beside := 0, 0
	for _, l := range letters {
		places := placesOf(l.Trace, cap)
		for i, p := range places {
			all++
			for k, q := range places {
				if k != i && runsBeside(l.Trace, p, q, far) {
					beside++
					break
				}
			}
		}
	}
	return float64(beside) / float64(max(all, 1))
}

// runsBeside reports whether two places are at most far apart on stretches of
// stroke that run side by side.
func runsBeside(r trace.Result, p, q place, far float64) bool {
	v := q.at.Sub(p.at)
	d := v.Norm()
	return d > 0 && d <= far && math.Abs(v.Dot(p.dir)) <= level*d && math.Abs(v.Dot(q.dir)) <= level*d &&
		(p.stroke != q.stroke || apart(r.Strokes[p.stroke].Path, p.along, q.along) >= 1.3*d)
}

// apart is the way along a path between two of its places.
func apart(p geom.Path, a, b float64) float64 {
	d := math.Abs(a - b)
	if p.Closed {
		d = min(d, p.Length()-d)
	}
	return d
}

// placesOf samples the strokes, leaving out the zones about meetings.
func placesOf(r trace.Result, cap float64) []place {
	var meets []geom.Point
	for _, j := range r.Junctions {
		meets = append(meets, j.At)
	}
	var out []place
	for i, s := range r.Strokes {
		n := s.Path.Length()
		if s.Dot || n == 0 {
			continue
		}
		steps := int(min(1000, max(2, math.Ceil(n/(sampleStep*cap)))))
		for k := range steps + 1 {
			along := n * float64(k) / float64(steps)
			at := s.Path.PointAt(along)
			near := false
			for _, m := range meets {
				near = near || m.Dist(at) < meetZone*cap
			}
			if !near {
				out = append(out, place{at, s.Path.DirAt(along), i, along})
			}
		}
	}
	return out
}
