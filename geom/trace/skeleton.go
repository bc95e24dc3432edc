package trace

import (
	"cmp"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/medial"
	"tubewright/geom/region"
)

// Limits that tell a stroke from a junction. Half-widths are of the stroke.
const (
	pruneSlope    = 0.5  // object half-angle of 60°: algorithm of the literature, see medial.Prune
	steadySlope   = 0.12 // walls within 14° of parallel
	looseSlope    = 0.3  // the same between or after steady stretches, where no dent is touched
	steadyRun     = 0.3  // least length, in half-widths, that counts as a stroke
	evenSpread    = 0.05 // spread of the half-width below which a shape is drawn with one pen
	dotLength     = 1.5  // radii of axis up to which a piece of ink on its own is a dot
	parallelSlope = 0.02 // walls within 2.3° of parallel
	evenLeast     = 0.03 // then no stroke is wider than the median by more than this, or four times the spread
	wideLimit     = 1.25 // radius over the branch's own low quartile that marks a merge
)

// tracer holds one shape while it is traced.
type tracer struct {
	opt      Options
	reg      region.Region
	axis     *medial.Axis
	loops    []*contour
	w        float64 // median half-width, mm
	widest   float64 // greatest half-width of a single stroke, mm; +Inf in an uneven face
	branches []medial.Branch
	degree   []int
	links    []link
	zones    []zone
	drafts   []draft
	raw      bool   // no junction is repaired
	spare    []*arm // ends of the links that a reverted zone is made of
	res      Result
}

// link is a stretch of axis with two good walls: certainly part of a stroke.
type link struct {
	s      []medial.Sample
	zone   [2]int // at its first and last sample; -1 for a ring without any
	join   [2]*join
	cut    [2][]geom.Point // centres trimmed off either end, nearest to what is left first
	gone   bool            // a stub drawn as the tip of a corner instead
	vertex [2]int          // where it begins and ends in the graph of the raw axis
}

// zone is a connected part of the axis that is not to be trusted.
type zone struct {
	arms    []arm
	nodes   []int
	tips    []tail
	raw     []rest // the axis inside it
	runs    []boundary
	size    float64 // greatest radius in it
	stubbed bool    // looked through for stubs
}

// rest is a stretch of axis that is not trusted, between two vertices.
type rest struct {
	ends    [2]int
	samples []medial.Sample
	leaf    bool
}

// tail is a dead end of the axis inside a zone.
type tail struct {
	samples []medial.Sample // from the trusted part, or the junction, to the tip
}

func newTracer(r region.Region, a *medial.Axis, opt Options) *tracer {
	t := &tracer{opt: opt, reg: r, axis: a}
	for _, l := range r.Loops {
		t.loops = append(t.loops, newContour(l))
	}
	p := a.Prune(pruneSlope, opt.CapHeight/60)
	t.branches, t.degree = p.Branches, p.Degree
	t.measurePen()
	if t.w == 0 {
		for _, n := range a.Nodes {
			t.w = max(t.w, n.Radius)
		}
	}
	if t.w > 0 && t.w < opt.CapHeight/15 { // light strokes want closer samples
		t.branches = a.Prune(pruneSlope, max(t.w/4, opt.CapHeight/500)).Branches
	}
	for _, c := range t.loops {
		c.findDents(t.w)
	}
	return t
}

// steady marks the samples of a branch that have two good walls. What lies
// between two steady stretches, or between one and a free end, need only touch
// no dent and not swell or shrink too fast: it is thick and thin, not a
// junction.
func (t *tracer) steady(b medial.Branch) []bool {
	s := b.Samples
	ok, loose := make([]bool, len(s)), make([]bool, len(s))
	low := lowQuartile(s)
	near := 1e-6 * t.w
	for i := range s {
		if t.loops[s[i].Left.Loop].isDent(s[i].Left.Along, near) || t.loops[s[i].Right.Loop].isDent(s[i].Right.Along, near) {
			continue
		}
		if s[i].Radius < 0.2*t.w {
			continue
		}
		slope := slopeAt(s, i)
		loose[i] = slope <= looseSlope && s[i].Radius <= t.widest*1.1
		ok[i] = slope <= steadySlope && s[i].Radius <= min(wideLimit*low, t.widest)
	}
	for i := 0; i < len(s); {
		if ok[i] {
			i++
			continue
		}
		j, all := i, true
		for j < len(s) && !ok[j] {
			all = all && loose[j]
			j++
		}
		inside := i > 0 && j < len(s)
		freeEnd := i > 0 && j == len(s) && t.degree[b.To] == 1
		freeStart := i == 0 && j < len(s) && t.degree[b.From] == 1
		if all && (inside || freeEnd || freeStart) {
			for k := i; k < j; k++ {
				ok[k] = true
			}
		}
		i = j
	}
	return ok
}

// slopeAt returns the change of radius per mm around sample i.
func slopeAt(s []medial.Sample, i int) float64 {
	a, z := i, i
	for a > 0 && s[a].At.Dist(s[i].At) < 0.15*s[i].Radius {
		a--
	}
	for z < len(s)-1 && s[z].At.Dist(s[i].At) < 0.15*s[i].Radius {
		z++
	}
	d := s[a].At.Dist(s[z].At)
	if d < 1e-9 {
		return 0
	}
	return math.Abs(s[z].Radius-s[a].Radius) / d
}

func lowQuartile(s []medial.Sample) float64 {
	rs := make([]bit, 0, len(s))
	for i := 1; i < len(s); i++ {
		rs = append(rs, bit{max(s[i].Radius, s[i-1].Radius), s[i].At.Dist(s[i-1].At)})
	}
	slices.SortFunc(rs, func(a, b bit) int { return cmp.Compare(a.r, b.r) })
	return max(quantileOf(rs, 0.25), s[0].Radius*1e-9)
}

func pathLength(s []medial.Sample) float64 {
	d := 0.0
	for i := 1; i < len(s); i++ {
		d += s[i].At.Dist(s[i-1].At)
	}
	return d
}

// run is a stretch s[from:to+1] of a branch.
type run struct{ from, to int }

// runs returns the stretches of good samples long enough to be strokes.
func (t *tracer) runs(b medial.Branch) []run {
	ok := t.steady(b)
	var out []run
	for i := 0; i < len(ok); {
		if !ok[i] {
			i++
			continue
		}
		j := i
		for j+1 < len(ok) && ok[j+1] {
			j++
		}
		if n := pathLength(b.Samples[i : j+1]); n >= steadyRun*max(b.Samples[(i+j)/2].Radius, 0.3*t.w) {
			out = append(out, run{i, j})
		}
		i = j + 1
	}
	return out
}

// findZones cuts the branches into links and joins what is left into zones.
func (t *tracer) findZones() {
	parent := make([]int, len(t.degree), len(t.degree)+len(t.branches))
	for i := range parent {
		parent[i] = i
	}
	root := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	var rests []rest
	var links []link
	alone := t.loneBranches()
	for i, b := range t.branches {
		s := b.Samples
		rs := t.runs(b)
		switch {
		case alone[i] == isDot:
			rs = nil
		case alone[i] == isWedge && len(rs) == 0:
			rs = []run{{0, len(s) - 1}}
		}
		if len(rs) == 0 && (b.From != b.To && root(b.From) == root(b.To) || b.From == b.To) {
			rs = []run{t.leastBad(b)} // a counter must not vanish in a zone
		}
		ring := b.From == b.To && t.degree[b.From] == 2
		if ring && rs[0].from == 0 && rs[0].to < len(s)-1 {
			b = turnedRing(b, rs[0].to+1)
			s, rs = b.Samples, t.runs(b)
		}
		if ring && len(rs) == 1 && rs[0].from == 0 && rs[0].to == len(s)-1 {
			links = append(links, link{s: s, zone: [2]int{-1, -1}})
			continue
		}
		z := b.From
		at := 0
		for _, r := range rs {
			n := len(parent) // two vertices: where the link begins and ends
			parent = append(parent, root(z), n+1)
			rests = append(rests, rest{ends: [2]int{z, n}, samples: s[at : r.from+1], leaf: z == b.From && t.degree[b.From] == 1})
			links = append(links, link{s: slices.Clone(s[r.from : r.to+1]), zone: [2]int{n, n + 1}, vertex: [2]int{n, n + 1}})
			z, at = n+1, r.to
		}
		rests = append(rests, rest{ends: [2]int{z, b.To}, samples: s[at:], leaf: t.degree[b.To] == 1})
		parent[root(z)] = root(b.To)
	}
	id := map[int]int{}
	zoneOf := func(v int) int {
		r := root(v)
		if k, ok := id[r]; ok {
			return k
		}
		id[r] = len(t.zones)
		t.zones = append(t.zones, zone{})
		return id[r]
	}
	for _, l := range links {
		if l.zone[0] >= 0 {
			l.zone[0], l.zone[1] = zoneOf(l.zone[0]), zoneOf(l.zone[1])
		}
		t.links = append(t.links, l)
	}
	for i, l := range t.links {
		for end, z := range l.zone {
			if z >= 0 {
				t.zones[z].arms = append(t.zones[z].arms, arm{link: i, end: end})
			}
		}
	}
	for _, r := range rests {
		z := &t.zones[zoneOf(r.ends[0])]
		for _, s := range r.samples {
			z.size = max(z.size, s.Radius)
		}
		z.raw = append(z.raw, r)
		if r.leaf {
			z.tips = append(z.tips, tail{r.samples})
		}
	}
	for v, d := range t.degree {
		if d > 0 && d != 2 {
			z := &t.zones[zoneOf(v)]
			z.nodes = append(z.nodes, v)
		}
	}
	t.findDots()
}

// lone says what a branch is that is all the axis of a piece of ink.
type lone int

const (
	notLone lone = iota
	isDot        // too short to be a stroke
	isWedge      // a stroke, even if it has no steady stretch
)

func (t *tracer) loneBranches() []lone {
	out := make([]lone, len(t.branches))
	for i, b := range t.branches {
		if t.degree[b.From] != 1 || t.degree[b.To] != 1 {
			continue
		}
		r := 0.0
		for _, s := range b.Samples {
			r = max(r, s.Radius)
		}
		out[i] = isWedge
		if pathLength(b.Samples) <= dotLength*r {
			out[i] = isDot
		}
	}
	return out
}

// turnedRing starts a ring at its sample i.
func turnedRing(b medial.Branch, i int) medial.Branch {
	n := len(b.Samples) - 1 // the last sample repeats the first
	s := make([]medial.Sample, 0, n+1)
	for k := range n + 1 {
		s = append(s, b.Samples[(i+k)%n])
	}
	b.Samples = s
	return b
}

// leastBad returns the stretch of b most like a stroke: around the sample of
// least radius.
func (t *tracer) leastBad(b medial.Branch) run {
	best := len(b.Samples) / 2
	for i, s := range b.Samples {
		if s.Radius < b.Samples[best].Radius {
			best = i
		}
	}
	return run{max(best-1, 0), min(best+1, len(b.Samples)-1)}
}

// findDots adds a dot for every piece of ink whose axis was pruned away
// altogether or never had two good walls.
func (t *tracer) findDots() {
	for _, l := range t.reg.Loops {
		one := region.Region{Loops: [][]geom.Point{l}}
		if one.Area() <= 0 {
			continue
		}
		held := false
		for _, k := range t.links {
			held = held || one.Contains(k.s[len(k.s)/2].At)
		}
		if held {
			continue
		}
		var best medial.Node
		for _, n := range t.axis.Nodes {
			if n.Radius > best.Radius && one.Contains(n.At) {
				best = n
			}
		}
		if best.Radius > 0 {
			d := geom.Vec{X: best.Radius / 100}
			t.res.Strokes = append(t.res.Strokes, Stroke{
				Path:   geom.Path{Segments: []geom.Segment{geom.Line{A: best.At.Add(d.Neg()), B: best.At.Add(d)}}},
				Ends:   [2]End{{EndRound, best.Radius}, {EndRound, best.Radius}},
				Widths: []Width{{0, best.Radius}}, Dot: true,
			})
		}
	}
}
