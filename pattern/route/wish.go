package route

import (
	"fmt"

	"tubewright/pattern/finding"
)

// Options are what the bender or the shop asks of the routing; the zero value
// asks nothing.
type Options struct {
	Taste  Taste
	Wishes []Wish
}

// Wish is what is asked for one letter. The bender's word is last: what is
// asked is done if it can be, and where not a finding says so.
type Wish struct {
	Letter int // as in Stroke.Letter
	// Order names the strokes of the letter in the order they are to be bent,
	// from 1 in the order given to Plan; a negative number is bent from its end
	// to its start. Empty leaves the order to the program.
	Order       []int
	BreakBefore bool // the letter starts a new unit
	JoinBefore  bool // the letter goes on from the one before it
}

func (p *planner) wishOf(letter int) Wish {
	for _, w := range p.options.Wishes {
		if w.Letter == letter {
			return w
		}
	}
	return Wish{Letter: letter}
}

// wishedOrder returns the runs of a letter in the order asked for, or nil if
// none is, or if it does not name each stroke once.
func (p *planner) wishedOrder(runs []run, letter []int) []step {
	w := p.wishOf(p.lanes[runs[letter[0]].lane].Letter)
	if len(w.Order) == 0 {
		return nil
	}
	lanes := p.lanesOf(w.Letter)
	if !namesEachOnce(w.Order, len(lanes)) {
		return nil
	}
	var out []step
	for _, n := range w.Order {
		var mine []step
		for _, r := range letter {
			if runs[r].lane != lanes[abs(n)-1] {
				continue
			}
			if n > 0 {
				mine = append(mine, step{r, 0})
			} else {
				mine = append([]step{{r, 1}}, mine...)
			}
		}
		out = append(out, mine...)
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

func namesEachOnce(order []int, n int) bool {
	if len(order) != n {
		return false
	}
	seen := make([]bool, n)
	for _, k := range order {
		if k = abs(k); k < 1 || k > n || seen[k-1] {
			return false
		}
		seen[k-1] = true
	}
	return true
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// checkWishes files the wishes that cannot be read: for letters that are not
// there, or orders that do not name each stroke once.
func (p *planner) checkWishes() {
	for _, w := range p.options.Wishes {
		lanes := p.lanesOf(w.Letter)
		if len(lanes) == 0 {
			p.add(finding.Finding{
				Code: "wish-not-possible", Severity: finding.Error,
				What: fmt.Sprintf("something is asked of letter %d, which has no strokes", w.Letter+1), Remedy: "count the letters from 1, spaces left out",
			}, nil)
			continue
		}
		if len(w.Order) > 0 && !namesEachOnce(w.Order, len(lanes)) {
			l := p.lanes[lanes[0]]
			p.add(finding.Finding{
				Code: "wish-not-possible", Severity: finding.Error, At: l.Path.Start().At(0),
				What:   fmt.Sprintf("the order %v asked for does not name each of the %d strokes once", w.Order, len(lanes)),
				Remedy: fmt.Sprintf("name the strokes 1 to %d once each, negative to bend one backwards", len(lanes)),
			}, l)
		}
	}
}

// checkJoins files joins that were asked for and could not be made.
func (p *planner) checkJoins(runs []run, order []step, cuts []int) {
	for _, c := range cuts[1:] {
		l := p.lanes[runs[order[c].run].lane]
		before := p.lanes[runs[order[c-1].run].lane]
		if w := p.wishOf(l.Letter); w.JoinBefore && before.Letter != l.Letter {
			p.add(finding.Finding{
				Code: "wish-not-possible", Severity: finding.Error, Stroke: l.ID, At: runs[order[c].run].place[order[c].from].At(0),
				What:   "the letter was to go on from the one before it, but the unit would be too long or the link finds no way",
				Remedy: "allow longer units, or let the letter start a new one",
			}, l)
		}
	}
}
