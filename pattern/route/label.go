package route

import (
	"math/bits"
	"slices"

	"tubewright/geom"
)

// label is one way to have laid some runs: the fewest units so far, their
// cost, and the glass in the unit at hand. The steps are read back from prev.
type label struct {
	units  int
	cost   float64
	length float64   // glass of the unit at hand
	left   float64   // lit glass not laid yet
	bends  int       // bends out of the face and changes of hand in the unit at hand
	box    geom.Rect // of the lit glass of the unit at hand, where units must fit a box
	met    uint64    // strokes of the letter at hand that are doubled as asked, by their order in the wish
	at     step
	way    int  // which of the ways to link (see choices) led here; 0 leaves it open
	cut    bool // a new unit starts with this step
	prev   *label
}

// after returns the labels that lay a step after a label: linked, if a link
// may be, and as the start of a new unit.
func (c *chainer) after(l *label, s step) []*label {
	run := c.runs[s.run].len
	var out []*label
	met := l.met
	if l.units > 0 && !c.sameLetter(l.at, s) {
		met = 0
	}
	if l.units > 0 && c.mayLink(l.at, s) {
		key := [3]int{endKey(l.at, true), endKey(s, false)}
		for i, w := range c.p.choices(c.runs, l.at, s) {
			if key[2] = w.number(i); c.forbidden[key] {
				continue
			}
			linked := &label{
				units: l.units, cost: l.cost + w.cost,
				length: l.length + w.length + run, left: l.left - run, at: s, way: key[2], prev: l,
				bends: l.bends + linkBends + len(w.via) + c.runs[s.run].bends, met: met | w.met,
			}
			if c.boxed() {
				linked.box = l.box.Union(c.runs[s.run].box)
			}
			if linked.length <= c.cap && c.fitsBox(linked.box) && linked.bends <= c.p.rules.MaxBends && !c.hopeless(linked) {
				out = append(out, linked)
			}
		}
	}
	fresh := &label{
		units: l.units + 1, cost: l.cost + c.p.costs.Electrodes + c.p.seatCost(s, false),
		length: 2*c.p.legLength() + run, left: l.left - run, at: s, cut: true, prev: l,
		bends: c.runs[s.run].bends, met: met, box: c.runs[s.run].box,
	}
	if l.units > 0 {
		fresh.cost += c.p.seatCost(l.at, true)
	}
	if c.hopeless(fresh) {
		return out
	}
	return append(out, fresh)
}

// boxed reports whether units must fit a box, which they may lie in either way
// round; fitsBox whether glass with this box does, the tube's thickness counted.
func (c *chainer) boxed() bool { return c.p.options.Box != [2]float64{} }

func (c *chainer) fitsBox(b geom.Rect) bool {
	return !c.boxed() || excess(b, c.p.options.Box, c.p.rules.Diameter) <= 1e-6
}

// excess returns by how much glass of diameter d with this box of centrelines is
// larger than a box, laid the better way round; 0 or less where it fits.
func excess(b geom.Rect, box [2]float64, d float64) float64 {
	w, h := b.Width()+d, b.Height()+d
	return min(max(w-box[0], h-box[1]), max(w-box[1], h-box[0]))
}

// within reports whether a box lies within another.
func within(a, b geom.Rect) bool {
	return a.Min.X >= b.Min.X-1e-9 && a.Min.Y >= b.Min.Y-1e-9 && a.Max.X <= b.Max.X+1e-9 && a.Max.Y <= b.Max.Y+1e-9
}

// mayLink reports whether the exit of one step may be linked to the entry of
// the next: not where an electrode is to stand.
func (c *chainer) mayLink(a, b step) bool {
	return !c.p.live[endKey(a, true)] && !c.p.live[endKey(b, false)]
}

func (c *chainer) sameLetter(a, b step) bool {
	return c.p.lanes[c.runs[a.run].lane].Letter == c.p.lanes[c.runs[b.run].lane].Letter
}

// beats reports whether a label makes another that ends at the same place
// needless: it is at least as good in every respect, or it has fewer units
// and could be cut here, for one more pair of electrodes, and still be so.
func (c *chainer) beats(o, l *label) bool {
	const eps = 1e-9
	if o.met&l.met != l.met {
		return false
	}
	shorter := c.free || o.length <= l.length+eps && o.bends <= l.bends && (!c.boxed() || within(o.box, l.box))
	if c.counting {
		return o.units < l.units && !c.joins || o.units <= l.units && shorter
	}
	if (o.units <= l.units || c.byCost) && o.cost <= l.cost+eps && shorter {
		return true
	}
	if c.byCost {
		return !c.joins && o.cost+c.dearestCut <= l.cost+eps
	}
	return o.units < l.units && !c.joins && o.cost+c.dearestCut <= l.cost+eps
}

// keep adds a label to a set unless another beats it, and drops those it beats.
func (c *chainer) keep(set []*label, l *label) []*label {
	for _, o := range set {
		if c.beats(o, l) {
			return set
		}
	}
	return append(slices.DeleteFunc(set, func(o *label) bool { return c.beats(l, o) }), l)
}

// mostMet drops labels that leave more of what was asked undone than others.
func mostMet(labels []*label) []*label {
	most := 0
	for _, l := range labels {
		most = max(most, bits.OnesCount64(l.met))
	}
	return slices.DeleteFunc(labels, func(l *label) bool { return bits.OnesCount64(l.met) < most })
}

// prune drops labels that end at the same place and are beaten there.
func (c *chainer) prune(labels []*label) []*label {
	byExit := map[int][]*label{}
	var keys []int
	for _, l := range mostMet(labels) {
		k := endKey(l.at, true)
		if _, ok := byExit[k]; !ok {
			keys = append(keys, k)
		}
		byExit[k] = c.keep(byExit[k], l)
	}
	slices.Sort(keys)
	var out []*label
	for _, k := range keys {
		out = append(out, byExit[k]...)
	}
	return out
}

// chainOf is a chain of runs, read back from its last label.
type chainOf struct {
	order []step
	ways  []int // how each step is linked to the one before it (see choices)
	cuts  []int // the steps that start units
}

// steps reads the order back from its last label, with the starts of units.
func (l *label) steps() chainOf {
	var out chainOf
	for ; l != nil && l.units > 0; l = l.prev {
		out.order = append(out.order, l.at)
		out.ways = append(out.ways, l.way)
		if l.cut {
			out.cuts = append(out.cuts, len(out.order))
		}
	}
	slices.Reverse(out.order)
	slices.Reverse(out.ways)
	for i := range out.cuts {
		out.cuts[i] = len(out.order) - out.cuts[i]
	}
	slices.Sort(out.cuts)
	return out
}
