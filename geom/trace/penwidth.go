package trace

import (
	"cmp"
	"math"
	"slices"

	"tubewright/geom/medial"
)

// bit is a radius and the length of axis that has it.
type bit struct{ r, n float64 }

// quantileOf returns the radius that a share q of the length stays under, of
// bits in rising order.
func quantileOf(all []bit, q float64) float64 {
	total, sum := 0.0, 0.0
	for _, b := range all {
		total += b.n
	}
	for _, b := range all {
		if sum += b.n; sum >= q*total {
			return b.r
		}
	}
	return 0
}

// share returns how much of the length has a radius in [lo, hi].
func share(all []bit, lo, hi float64) float64 {
	total, sum := 0.0, 0.0
	for _, b := range all {
		total += b.n
		if b.r >= lo && b.r <= hi {
			sum += b.n
		}
	}
	if total == 0 {
		return 0
	}
	return sum / total
}

// bitsOf lists the radii of the axis in rising order: of all of it, and of
// the part with nearly parallel walls.
func bitsOf(bs []medial.Branch) (all, parallel []bit) {
	for _, b := range bs {
		for i := 1; i < len(b.Samples); i++ {
			p, q := b.Samples[i-1], b.Samples[i]
			x := bit{(p.Radius + q.Radius) / 2, q.At.Dist(p.At)}
			all = append(all, x)
			if math.Abs(p.Radius-q.Radius) <= parallelSlope*x.n {
				parallel = append(parallel, x)
			}
		}
	}
	byRadius := func(a, b bit) int { return cmp.Compare(a.r, b.r) }
	slices.SortFunc(all, byRadius)
	slices.SortFunc(parallel, byRadius)
	return all, parallel
}

// Limits from which a shape is remarked on. They are this program's own
// judgement, not published figures: at uneven 0.2 the thick is half as wide
// again as the thin; at heavy 0.11 of the cap height a bowl's counter is about
// as wide as its stroke.
const (
	unevenLimit = 0.2
	heavyLimit  = 0.11
)

// noteBulk remarks on a shape too uneven or too heavy for one line.
func (t *tracer) noteBulk(all []bit) {
	w := quantileOf(all, 0.5)
	if w == 0 {
		return
	}
	at := t.branches[0].Samples[0].At
	if v := (quantileOf(all, 0.85) - quantileOf(all, 0.15)) / (2 * w); v > unevenLimit {
		t.res.Notes = append(t.res.Notes, Note{Uneven, at, v, unevenLimit, "thick and thin strokes: one width of tube cannot show them; choose an even face"})
	}
	if v := w / t.opt.CapHeight; v > heavyLimit {
		t.res.Notes = append(t.res.Notes, Note{TooHeavy, at, v, heavyLimit, "strokes so heavy that their path is in doubt; choose a lighter weight, or trace the outline instead"})
	}
}

// measurePen finds the typical half-width, and how wide a single stroke gets
// if the shape is drawn with one even pen.
func (t *tracer) measurePen() {
	all, parallel := bitsOf(t.branches)
	t.noteBulk(all)
	t.w, t.widest = quantileOf(all, 0.5), math.Inf(1)
	if t.w == 0 {
		return
	}
	if spread := (quantileOf(all, 0.75) - quantileOf(all, 0.25)) / (2 * t.w); spread < evenSpread {
		t.widest = t.w * (1 + max(evenLeast, 4*spread))
	}
	best, mode := 0.0, 0.0
	for i, b := range parallel {
		if i > 0 && b.r < parallel[i-1].r*1.001 {
			continue
		}
		if s := share(parallel, b.r*(1-1e-9), b.r*1.015); s > best {
			best, mode = s, b.r*1.0075
		}
	}
	if best >= 0.5 && share(parallel, mode*(1+evenLeast), mode*1.2) < 0.08 {
		t.w, t.widest = mode, mode*(1+evenLeast)
	}
}
