package route

import (
	"fmt"
	"slices"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/finding"
)

// Options are what the bender or the shop asks of the routing; the zero value
// asks nothing.
type Options struct {
	Taste    Taste
	Wishes   []Wish
	KeepOuts []KeepOut
	Grid     Grid
	// Box is the width and height that every unit must fit into, either way round:
	// what the bench, the door and the crate allow, mm. Zero asks nothing.
	Box [2]float64
	// Apart is the least distance between the two electrodes of a unit, centre to
	// centre; nearer ones are noted. 0 asks nothing.
	Apart float64
}

// Wish is what is asked for one letter. The bender's word is last: what is
// asked is done if it can be, and where not a finding says so. Strokes are
// numbered from 1 in the order given to Plan.
type Wish struct {
	Letter int // as in Stroke.Letter
	// Order names strokes of the letter in the order they are to be bent; a
	// negative number is bent from its end to its start. Strokes it leaves out
	// come where they fit best.
	Order       []int
	BreakBefore bool        // the letter starts a new unit
	JoinBefore  bool        // the letter goes on from the one before it
	Double      []int       // strokes behind which hidden glass must run
	NoDouble    []int       // and those behind which none may
	Ends        []StrokeEnd // where electrodes stand
	Open        geom.Vec    // which way from its middle a ring is opened; zero leaves it open
}

// StrokeEnd is the start or the end of a stroke.
type StrokeEnd struct {
	Stroke int // from 1
	AtEnd  bool
}

func (e StrokeEnd) String() string {
	if e.AtEnd {
		return fmt.Sprintf("the end of stroke %d", e.Stroke)
	}
	return fmt.Sprintf("the start of stroke %d", e.Stroke)
}

// wishDenied is the code of findings about wishes.
const wishDenied = "wish-not-possible"

func (p *planner) wishOf(letter int) Wish {
	for _, w := range p.options.Wishes {
		if w.Letter == letter {
			return w
		}
	}
	return Wish{Letter: letter}
}

// claim is what an asked order says of one run.
type claim struct {
	after uint64 // runs of the letter that must be laid before it, by index
	side  int    // where it is entered, -1 if either
}

// claims returns what the order asked for says of each run of a letter, or nil
// if nothing.
func (p *planner) claims(runs []run, letter []int) []claim {
	w := p.wishOf(p.lanes[runs[letter[0]].lane].Letter)
	lanes := p.lanesOf(w.Letter)
	if len(w.Order) == 0 || p.orderFault(w, len(lanes)) != "" {
		return nil
	}
	out := make([]claim, len(letter))
	for i := range out {
		out[i].side = -1
	}
	var laid uint64
	for _, n := range w.Order {
		mine := make([]int, 0, 1)
		for i, r := range letter {
			if runs[r].lane == lanes[abs(n)-1] {
				mine = append(mine, i)
			}
		}
		side := 0
		if n < 0 {
			side = 1
			slices.Reverse(mine)
		}
		for _, i := range mine {
			out[i] = claim{laid, side}
			laid |= 1 << i
		}
	}
	return out
}

// wishedOrder returns the steps of a letter of which every stroke is named, or
// nil where some are left out or none is asked.
func wishedOrder(letter []int, claims []claim) []step {
	if claims == nil || slices.ContainsFunc(claims, func(c claim) bool { return c.side < 0 }) {
		return nil
	}
	out := make([]step, 0, len(letter))
	for range letter {
		var laid uint64
		for _, s := range out {
			laid |= 1 << slices.Index(letter, s.run)
		}
		for i, c := range claims {
			if laid&(1<<i) == 0 && c.after&^laid == 0 {
				out = append(out, step{letter[i], c.side})
				break
			}
		}
	}
	return out
}

func (p *planner) lanesOf(letter int) []int {
	var out []int
	for i, l := range p.lanes {
		if l.Letter == letter {
			out = append(out, i)
		}
	}
	return out
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// mostNamed is the most strokes of a letter of which an order can be asked.
const mostNamed = 60

// orderFault says what is wrong with an order asked for, "" if nothing.
func (p *planner) orderFault(w Wish, strokes int) string {
	seen := map[int]bool{}
	for _, k := range w.Order {
		if k = abs(k); seen[k] {
			return fmt.Sprintf("the order %v names stroke %d twice", w.Order, k)
		}
		seen[k] = true
	}
	switch {
	case len(w.Order) > 0 && strokes > mostNamed:
		return fmt.Sprintf("an order is asked for, and the letter has %d strokes", strokes)
	case len(w.Order) > 0 && len(w.Order) < strokes && strokes > exactRuns:
		return fmt.Sprintf("the order %v names %d of %d strokes, too many to find the best place for the others", w.Order, len(w.Order), strokes)
	}
	return ""
}

// readWishes checks the wishes and keeps what can be read of them.
func (p *planner) readWishes() {
	p.checkWishes()
	var kept []Wish
	for _, w := range p.options.Wishes {
		if lanes := p.lanesOf(w.Letter); len(lanes) > 0 {
			kept = append(kept, w.readable(len(lanes)))
		}
	}
	p.options.Wishes = kept
}

// checkWishes files the wishes that cannot be read: for letters that are not
// there, or strokes that the letter does not have.
func (p *planner) checkWishes() {
	for _, w := range p.options.Wishes {
		lanes := p.lanesOf(w.Letter)
		if len(lanes) == 0 {
			p.add(finding.Finding{
				Code: wishDenied, Severity: finding.Error,
				What: fmt.Sprintf("something is asked of letter %d, which has no strokes", w.Letter+1), Remedy: "count the letters from 1, spaces left out",
			}, nil)
			continue
		}
		for _, k := range w.strokes() {
			if k > len(lanes) {
				p.denied(lanes[0], fmt.Sprintf("something is asked of stroke %d of the letter, which has %d", k, len(lanes)), p.strokesInWords(lanes))
			}
		}
		if what := p.orderFault(w, len(lanes)); what != "" {
			p.denied(lanes[0], what, "name each stroke once: "+p.strokesInWords(lanes))
		}
		if w.Open != (geom.Vec{}) && !slices.ContainsFunc(lanes, func(i int) bool { return p.lanes[i].Path.Closed }) {
			p.denied(lanes[0], "the letter was to be opened, and has no ring", "place an electrode at the end of a stroke instead")
		}
	}
}

// strokes lists the strokes that a wish names, without direction.
func (w Wish) strokes() []int {
	var out []int
	for _, k := range slices.Concat(w.Order, w.Double, w.NoDouble) {
		out = append(out, abs(k))
	}
	for _, e := range w.Ends {
		out = append(out, e.Stroke)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// readable is the wish without the strokes that the letter does not have.
func (w Wish) readable(strokes int) Wish {
	beyond := func(k int) bool { return abs(k) > strokes }
	w.Order = slices.DeleteFunc(slices.Clone(w.Order), beyond)
	w.Double = slices.DeleteFunc(slices.Clone(w.Double), beyond)
	w.NoDouble = slices.DeleteFunc(slices.Clone(w.NoDouble), beyond)
	w.Ends = slices.DeleteFunc(slices.Clone(w.Ends), func(e StrokeEnd) bool { return e.Stroke > strokes })
	return w
}

// strokesInWords says where the strokes of a letter run, so that a wish can be
// written again.
func (p *planner) strokesInWords(lanes []int) string {
	var out []string
	for k, i := range lanes {
		a, b := p.lanes[i].Path.Start(), p.lanes[i].Path.End()
		out = append(out, fmt.Sprintf("%d from (%.0f, %.0f) to (%.0f, %.0f)", k+1, a.X, a.Y, b.X, b.Y))
	}
	return strings.Join(out, ", ")
}

// markLive notes the ends of runs where an electrode is to stand, and files
// those whose stroke has no glass there.
func (p *planner) markLive(runs []run) {
	for _, w := range p.options.Wishes {
		lanes := p.lanesOf(w.Letter)
		for _, e := range w.Ends {
			lane, best := lanes[e.Stroke-1], -1
			for i, r := range runs {
				if r.lane == lane && (best < 0 || e.AtEnd) {
					best = i
				}
			}
			if best < 0 {
				p.denied(lane, fmt.Sprintf("an electrode was to stand at %s, which is too short to be bent", e), "make the letter higher, or place it elsewhere")
				continue
			}
			side := 0
			if e.AtEnd {
				side = 1
			}
			p.live[2*best+side] = true
		}
	}
}

// checkJoins files joins that were asked for and could not be made.
func (p *planner) checkJoins(runs []run, c chainOf) {
	for _, at := range c.cuts[1:] {
		l := p.lanes[runs[c.order[at].run].lane]
		before := p.lanes[runs[c.order[at-1].run].lane]
		if w := p.wishOf(l.Letter); w.JoinBefore && before.Letter != l.Letter {
			p.add(finding.Finding{
				Code: wishDenied, Severity: finding.Error, Stroke: l.ID, At: runs[c.order[at].run].place[c.order[at].from].At(0),
				What:   "the letter was to go on from the one before it, but the unit would be too long, an electrode stands between them, or the link finds no way",
				Remedy: "allow longer units, or let the letter start a new one",
			}, l)
		}
	}
}

// checkFirst files a join asked for the first letter of all.
func (p *planner) checkFirst(first *lane) {
	if w := p.wishOf(first.Letter); w.JoinBefore {
		p.add(finding.Finding{
			Code: wishDenied, Severity: finding.Error, Stroke: first.ID, At: first.Path.Start().At(0),
			What:   "the letter was to go on from the one before it, but it is the first",
			Remedy: "leave the join out",
		}, first)
	}
}
