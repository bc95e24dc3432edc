package route

import "slices"

// Where strands cross in many places, which of the two dips at one place takes
// room from the next. The first choice at each is tried first (see dipsFor); where
// some crossing then has no room, others are tried.

// overUnder makes strands dip at as many crossings as can be, and returns those
// left. Crossings that share strands are solved together, up to mostTogether
// exactly but for the time they may take.
func (p *planner) overUnder(found []crossing) []crossing {
	var left []crossing
	for _, group := range p.sharing(found) {
		before := p.dipsOf(group)
		rest := p.firstChoices(group)
		if len(rest) > 0 && len(group) <= mostTogether {
			rest = p.bestChoices(group, rest, before)
		}
		left = append(left, rest...)
	}
	return left
}

// mostTogether is the most crossings of one group of strands for which other
// choices than the first are tried, and mostTries how many in all.
const (
	mostTogether = 12
	mostTries    = 4000
)

// sharing groups crossings that share strands, in order.
func (p *planner) sharing(found []crossing) [][]crossing {
	group := make([]int, len(p.lanes)) // of each lane, by its lowest
	for i := range group {
		group[i] = i
	}
	lowest := func(i int) int {
		for group[i] != i {
			i = group[i]
		}
		return i
	}
	for _, c := range found {
		a, b := lowest(c.a), lowest(c.b)
		group[max(a, b)] = min(a, b)
	}
	var out [][]crossing
	at := map[int]int{}
	for _, c := range found {
		g := lowest(c.a)
		k, ok := at[g]
		if !ok {
			k = len(out)
			at[g] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], c)
	}
	return out
}

// firstChoices dips the preferred strand at each crossing in turn and returns
// those that had no room.
func (p *planner) firstChoices(group []crossing) []crossing {
	var left []crossing
	for _, c := range group {
		if !p.dip(c) {
			left = append(left, c)
		}
	}
	return left
}

// bestChoices tries all choices, the preferred ones first, and keeps the first of
// those that leave fewer crossings without a dip than those left.
func (p *planner) bestChoices(group, left []crossing, before laneStates) []crossing {
	s := &choiceSearch{planner: p, group: group, most: len(left), best: p.dipsOf(group), left: left}
	p.restore(before)
	s.from(0, nil)
	p.restore(s.best)
	return s.left
}

type choiceSearch struct {
	*planner
	group []crossing
	tries int
	most  int        // fewest crossings left so far
	best  laneStates // and the dips of that choice
	left  []crossing
}

// from tries the crossings from the i-th on, with those missed so far; it
// reports whether to go on.
func (s *choiceSearch) from(i int, missed []crossing) bool {
	if len(missed) >= s.most {
		return true
	}
	if i == len(s.group) {
		s.most, s.left, s.best = len(missed), slices.Clone(missed), s.dipsOf(s.group)
		return s.most > 0
	}
	if s.tries++; s.tries > mostTries {
		return false
	}
	c := s.group[i]
	for _, d := range s.dipsFor(c) {
		was := s.dipsOf([]crossing{c})
		s.addDip(d.lane, d.Dip)
		if !s.from(i+1, missed) {
			return false
		}
		s.restore(was)
	}
	return s.from(i+1, append(missed[:len(missed):len(missed)], c))
}

// laneStates remembers what dips change, by lane.
type laneStates map[int]laneState

type laneState struct {
	lane  lane
	spans []span
}

func (p *planner) dipsOf(group []crossing) laneStates {
	out := laneStates{}
	for _, c := range group {
		for _, i := range [2]int{c.a, c.b} {
			l := *p.lanes[i]
			l.dips = slices.Clone(l.dips)
			out[i] = laneState{l, slices.Clone(l.spans)}
		}
	}
	return out
}

func (p *planner) restore(states laneStates) {
	for i, s := range states {
		l := p.lanes[i]
		*l = s.lane
		l.dips, l.spans = slices.Clone(s.lane.dips), slices.Clone(s.spans)
	}
}
