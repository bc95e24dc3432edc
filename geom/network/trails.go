package network

import "slices"

// write adds the answer of a cluster to the inspection.
func (q *inspector) write(out *Inspection, parts []int, a answer) {
	w := &walker{arcs: make(map[int][]int)}
	for _, p := range parts {
		for _, n := range q.parts[p].nodes {
			w.nodes = append(w.nodes, n)
			for _, e := range q.at[n] {
				if ed := q.g.Edges[e]; ed.A == n && (ed.B != n || !w.hasLoop(n, e)) {
					w.add(Step{Run, e, ed.A, ed.B})
				}
			}
		}
	}
	for _, l := range a.links {
		out.Links = append(out.Links, Link{l.a, l.b, l.steps, float64(l.cost) / perMM})
		for _, s := range l.steps {
			w.add(s)
			if s.Move == Leap {
				out.Jumped += q.g.Nodes[s.From].At.Dist(q.g.Nodes[s.To].At)
			} else {
				out.Doubled += q.g.Edges[s.Edge].To - q.g.Edges[s.Edge].From
			}
		}
	}
	out.Trails = append(out.Trails, w.trails()...)
}

// walker goes through every arc once, in as few trails as can be.
type walker struct {
	nodes []int
	steps []Step
	arcs  map[int][]int // of each node, indices into steps; a loop is listed twice
	used  []bool
}

func (w *walker) add(s Step) {
	i := len(w.steps)
	w.steps = append(w.steps, s)
	w.arcs[s.From] = append(w.arcs[s.From], i)
	w.arcs[s.To] = append(w.arcs[s.To], i)
}

func (w *walker) hasLoop(n, e int) bool {
	return slices.ContainsFunc(w.arcs[n], func(i int) bool { return w.steps[i].Edge == e })
}

// cut marks the arcs that only help to walk: trails end there.
const cut = -2

// trails returns the walks. In each connected part, odd nodes but for two are
// joined by arcs that are cut out again afterwards.
func (w *walker) trails() []Trail {
	ends := w.pairEnds()
	w.used = make([]bool, len(w.steps))
	var out []Trail
	for _, start := range append(ends, w.nodes...) {
		var now Trail
		for _, s := range w.walk(start) {
			if s.Edge != cut {
				now = append(now, s)
				continue
			}
			out, now = append(out, now), nil
		}
		if len(now) > 0 {
			out = append(out, now)
		}
	}
	again := make(map[int]bool)
	for _, t := range out {
		for i, s := range t {
			if s.Move != Leap {
				t[i].Move = Run
				if again[s.Edge] {
					t[i].Move = Back
				}
				again[s.Edge] = true
			}
		}
	}
	return out
}

// pairEnds returns one odd node of each part that has some and adds the cuts
// between the others but for the last.
func (w *walker) pairEnds() []int {
	seen := make(map[int]bool)
	var starts []int
	for _, first := range w.nodes {
		if seen[first] {
			continue
		}
		seen[first] = true
		var odd []int
		for todo := []int{first}; len(todo) > 0; {
			n := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			if len(w.arcs[n])%2 == 1 {
				odd = append(odd, n)
			}
			for _, i := range w.arcs[n] {
				for _, m := range [2]int{w.steps[i].From, w.steps[i].To} {
					if !seen[m] {
						seen[m] = true
						todo = append(todo, m)
					}
				}
			}
		}
		slices.Sort(odd)
		if len(odd) > 0 {
			starts = append(starts, odd[0])
		}
		for i := 1; i+1 < len(odd); i += 2 {
			w.add(Step{Leap, cut, odd[i], odd[i+1]})
		}
	}
	return starts
}

// walk goes from a node along arcs not yet used until there are none, putting
// in rounds where it passes them (Hierholzer, Mathematische Annalen 6, 1873).
func (w *walker) walk(start int) []Step {
	type place struct {
		node int
		step Step // that led here
	}
	stack := []place{{start, Step{Edge: cut}}}
	var out []Step
	for len(stack) > 0 {
		here := stack[len(stack)-1].node
		list := w.arcs[here]
		for len(list) > 0 && w.used[list[0]] {
			list = list[1:]
		}
		w.arcs[here] = list
		if len(list) > 0 {
			s := w.steps[list[0]]
			w.used[list[0]] = true
			if s.From != here {
				s.From, s.To = s.To, s.From
			}
			stack = append(stack, place{s.To, s})
			continue
		}
		if len(stack) > 1 {
			out = append(out, stack[len(stack)-1].step)
		}
		stack = stack[:len(stack)-1]
	}
	slices.Reverse(out)
	return out
}
