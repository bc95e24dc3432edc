package network

import (
	"container/heap"
	"math/rand/v2"
	"slices"
)

// wholeNodes is the number of nodes up to which several parts are solved as a
// whole; beyond it they are solved in runs from left to right.
const wholeNodes = 128

// Limits of the search for the best way to tie parts together, and of what
// stands in for it, in steps of work (cluster.spent) of about half a
// microsecond.
const (
	searchWork = 100_000
	beamWork   = 40_000
	moveWork   = 10_000 // for each plan improved
	kickWork   = 100_000
)

// solve finds the best links of a cluster by branch and bound. Odd nodes are
// paired off as if parts needed no tie. Where that leaves a part alone, either
// it is a trail of its own, or some link leaves it; every such link is forced in
// turn. The plan with the least bound goes first, so the first that leaves no
// part alone is the best there is. When the work is used up, a plan from a
// spanning tree, improved by exchanges, stands in, and the least bound of what
// was not looked at is a proved one.
func (q *inspector) solve(parts []int) answer {
	if n := q.sizeOf(parts); len(parts) > 1 && n > wholeNodes {
		return q.solveRuns(parts)
	}
	k := q.newCluster(parts)
	best, bound := k.search(searchWork)
	return k.answer(best, bound)
}

// search returns the best plan found within the work allowed and a bound on
// all plans.
func (k *cluster) search(work int) (plan, cost) {
	stop := k.spent + work
	first := k.work(nil, make([]int, k.parts))
	if first.lone == nil {
		return first, first.bound
	}
	queue, links := &planHeap{{plan: first}}, k.allLinks()
	least := cost(never)
	var best plan
	for order := 1; queue.Len() > 0; {
		p := heap.Pop(queue).(queued).plan
		if p.bound >= least {
			return best, least
		}
		if k.spent >= stop {
			if alt := k.improved(); k.total(alt) < least {
				best, least = alt, k.total(alt)
			}
			return best, min(least, p.bound)
		}
		for _, next := range k.branches(p, links) {
			c := k.work(next.forced, next.wall)
			if v := k.total(c); v < least {
				best, least = c, v
			}
			if c.lone != nil && c.bound < least {
				heap.Push(queue, queued{c, order})
				order++
			}
		}
	}
	return best, least
}

// branches returns what may become of a part left alone: a trail of its own, or
// one of the links that leave it.
func (k *cluster) branches(p plan, links []pair) []plan {
	inside := make([]bool, k.parts)
	for _, i := range p.lone {
		inside[i] = true
	}
	var out []plan
	if k.unit < never {
		out = append(out, plan{forced: p.forced, wall: walled(p.wall, inside)})
	}
	for _, l := range links {
		a, b := k.part[l.a], k.part[l.b]
		if inside[a] != inside[b] && p.wall[a] == p.wall[b] {
			out = append(out, plan{forced: append(slices.Clone(p.forced), l), wall: p.wall})
		}
	}
	return out
}

// allLinks returns every link between parts.
func (k *cluster) allLinks() []pair {
	var out []pair
	for u := range k.nodes {
		for v := range u {
			if k.part[u] != k.part[v] && k.link(v, u) < never {
				out = append(out, pair{v, u})
			}
		}
	}
	return out
}

// walled puts a wall round some parts of one side. Each side is named by its
// lowest part.
func walled(wall []int, inside []bool) []int {
	out := slices.Clone(wall)
	side := wall[slices.Index(inside, true)]
	in, rest := -1, -1
	for i, w := range wall {
		switch {
		case w != side:
		case inside[i]:
			if in < 0 {
				in = i
			}
			out[i] = in
		default:
			if rest < 0 {
				rest = i
			}
			out[i] = rest
		}
	}
	return out
}

// improved is the best of some plans, each improved by exchanges: the least
// spanning tree of the parts as forced links (Frederickson, SIAM J. Comput. 8,
// 1979), no forced links, and what a beam down the branches came to. Then the best
// is kicked some random changes away and improved again, for a while.
func (k *cluster) improved() plan {
	near, nearest := k.nearLinks()
	open := make([]int, k.parts)
	starts := append(k.beam(near), k.work(k.spanning(nearest), open), k.work(nil, open))
	best := starts[0]
	for _, start := range starts {
		if p := k.exchanged(start, near); k.total(p) < k.total(best) {
			best = p
		}
	}
	rng := rand.New(rand.NewPCG(1, 1)) // the same kicks for every sign
	for stop := k.spent + kickWork; k.spent < stop; {
		p := best
		for range 2 + rng.IntN(2) {
			all := k.exchanges(p, near)
			if len(all) == 0 { // no links and one trail only
				return best
			}
			next := all[rng.IntN(len(all))]
			p = k.work(next.forced, next.wall)
		}
		if p = k.exchanged(p, near); k.total(p) < k.total(best) {
			best = p
		}
	}
	return best
}

// beam goes from the plans of the least bounds to their branches over near
// links, a few at a time, and returns the cheapest few plans it met.
func (k *cluster) beam(near []pair) []plan {
	const width, kept = 16, 6
	level := []plan{k.work(nil, make([]int, k.parts))}
	met := slices.Clone(level)
	for stop := k.spent + beamWork; len(level) > 0 && k.spent < stop; {
		var next []plan
		for _, p := range level {
			if p.lone == nil {
				continue
			}
			for _, b := range k.branches(p, near) {
				if k.spent >= stop {
					break
				}
				if c := k.work(b.forced, b.wall); c.bound < never {
					next = append(next, c)
				}
			}
		}
		level = k.first(next, width, func(p plan) cost { return p.bound })
		met = append(met, k.first(next, kept, k.total)...)
	}
	return k.first(met, kept, k.total)
}

// first returns the few plans that come first by a measure, of plans that are alike
// one.
func (k *cluster) first(plans []plan, n int, by func(plan) cost) []plan {
	plans = slices.Clone(plans)
	slices.SortStableFunc(plans, func(x, y plan) int { return sign(float64(by(x) - by(y))) })
	plans = slices.CompactFunc(plans, func(x, y plan) bool { return by(x) == by(y) && slices.Equal(x.lead, y.lead) })
	return plans[:min(len(plans), n)]
}

// exchanged changes the forced links and the walls of a plan while that pays.
func (k *cluster) exchanged(best plan, near []pair) plan {
	least := k.total(best)
	stop := k.spent + moveWork
	for better := true; better; {
		better = false
		for _, next := range k.exchanges(best, near) {
			if k.spent >= stop {
				return best
			}
			p := k.work(next.forced, next.wall)
			if v := k.total(p); v < least {
				best, least, better = p, v, true
				break
			}
		}
	}
	return best
}

// exchanges returns what a plan can be a change away: other walls; one forced
// link less, one replaced by another that touches a part of it, one more; those
// that end at one node moved to another; other walls and one link more.
func (k *cluster) exchanges(p plan, near []pair) []plan {
	walls := k.otherWalls(p)
	var out []plan
	for _, w := range walls {
		out = append(out, plan{forced: p.forced, wall: w})
	}
	for i := range p.forced {
		out = append(out, plan{forced: slices.Delete(slices.Clone(p.forced), i, i+1), wall: p.wall})
	}
	for i, f := range p.forced {
		for _, l := range near {
			if l != f && k.touch(l, f) {
				with := slices.Clone(p.forced)
				with[i] = l
				for _, w := range k.wallsFor(with, i, p.wall) {
					out = append(out, plan{forced: with, wall: w})
				}
			}
		}
	}
	for _, f := range p.forced {
		for _, u := range [2]int{f.a, f.b} {
			for v := range k.nodes {
				if v != u && k.part[v] == k.part[u] {
					out = append(out, plan{forced: shifted(p.forced, u, v), wall: p.wall})
				}
			}
		}
	}
	for _, w := range append([][]int{p.wall}, walls...) {
		for _, l := range k.inside(near, w) {
			if !slices.Contains(p.forced, l) {
				out = append(out, plan{forced: append(slices.Clone(p.forced), l), wall: w})
			}
		}
	}
	return out
}

// shifted moves the ends of links at u to v.
func shifted(links []pair, u, v int) []pair {
	out := slices.Clone(links)
	for i, l := range out {
		if l.a == u {
			out[i].a = v
		}
		if l.b == u {
			out[i].b = v
		}
	}
	return out
}

// otherWalls returns the walls of a plan with one more, round parts that are
// tied together, and no walls.
func (k *cluster) otherWalls(p plan) [][]int {
	if k.unit >= never {
		return nil
	}
	out := [][]int{make([]int, k.parts)}
	for i := range k.parts {
		group := make([]bool, k.parts)
		for j := range group {
			group[j] = rootOf(p.lead, j) == i
		}
		if slices.Contains(group, true) {
			out = append(out, walled(p.wall, group))
		}
	}
	return out
}

// wallsFor returns the walls as they are, or where forced link i crosses one,
// those with either end of it moved to the other's side, along with the parts
// that other forced links tie to it.
func (k *cluster) wallsFor(forced []pair, i int, wall []int) [][]int {
	from, to := k.part[forced[i].a], k.part[forced[i].b]
	if wall[from] == wall[to] {
		return [][]int{wall}
	}
	lead := make([]int, k.parts)
	for j := range lead {
		lead[j] = j
	}
	for j, f := range forced {
		if j != i {
			k.join(lead, f)
		}
	}
	var out [][]int
	for _, end := range [2][2]int{{from, to}, {to, from}} {
		w := slices.Clone(wall)
		for j := range w {
			if rootOf(lead, j) == rootOf(lead, end[0]) {
				w[j] = wall[end[1]]
			}
		}
		if w[from] == w[to] {
			out = append(out, named(w))
		}
	}
	return out
}

// named names each side by its lowest part.
func named(wall []int) []int {
	out := make([]int, len(wall))
	for i, w := range wall {
		out[i] = slices.Index(wall, w)
	}
	return out
}

// inside returns the links that cross no wall.
func (k *cluster) inside(links []pair, wall []int) []pair {
	return slices.DeleteFunc(slices.Clone(links), func(l pair) bool { return wall[k.part[l.a]] != wall[k.part[l.b]] })
}

// touch reports whether two links end in a part in common.
func (k *cluster) touch(l, m pair) bool {
	a, b, c, d := k.part[l.a], k.part[l.b], k.part[m.a], k.part[m.b]
	return a == c || a == d || b == c || b == d
}

// nearLinks returns some of the cheapest links between each part and its
// neighbours, and the cheapest one between every two parts, cheapest first.
func (k *cluster) nearLinks() (near, nearest []pair) {
	const perPair, neighbours = 16, 6
	order := func(x, y pair) int {
		if c := k.link(x.a, x.b) - k.link(y.a, y.b); c != 0 {
			return sign(float64(c))
		}
		return x.a*len(k.nodes) + x.b - y.a*len(k.nodes) - y.b
	}
	between := make([][]pair, k.parts*k.parts)
	for _, l := range k.allLinks() {
		i := k.part[l.a]*k.parts + k.part[l.b] // the first is the lower
		between[i] = append(between[i], l)
	}
	for i := range between {
		slices.SortFunc(between[i], order)
		between[i] = between[i][:min(len(between[i]), perPair)]
	}
	taken := make([]bool, len(between))
	for a := range k.parts {
		var close []pair
		for b := range k.parts {
			if l := between[min(a, b)*k.parts+max(a, b)]; len(l) > 0 {
				close = append(close, l[0])
			}
		}
		slices.SortFunc(close, order)
		for _, l := range close[:min(len(close), neighbours)] {
			taken[k.part[l.a]*k.parts+k.part[l.b]] = true
		}
	}
	for i, l := range between {
		if len(l) > 0 {
			nearest = append(nearest, l[0])
		}
		if taken[i] {
			near = append(near, l...)
		}
	}
	slices.SortFunc(near, order)
	slices.SortFunc(nearest, order)
	return near, nearest
}

// spanning takes the links that join parts not yet joined, cheapest first.
func (k *cluster) spanning(nearest []pair) []pair {
	lead := make([]int, k.parts)
	for i := range lead {
		lead[i] = i
	}
	var out []pair
	for _, l := range nearest {
		if rootOf(lead, k.part[l.a]) != rootOf(lead, k.part[l.b]) {
			k.join(lead, l)
			out = append(out, l)
		}
	}
	return out
}

// planHeap gives the plan with the least bound, the oldest first.
type planHeap []queued

type queued struct {
	plan  plan
	order int
}

func (h planHeap) Len() int { return len(h) }
func (h planHeap) Less(i, j int) bool {
	if h[i].plan.bound != h[j].plan.bound {
		return h[i].plan.bound < h[j].plan.bound
	}
	return h[i].order < h[j].order
}
func (h planHeap) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *planHeap) Push(x any)   { *h = append(*h, x.(queued)) }
func (h *planHeap) Pop() any {
	old := *h
	x := old[len(old)-1]
	*h = old[:len(old)-1]
	return x
}

func (q *inspector) sizeOf(parts []int) int {
	n := 0
	for _, p := range parts {
		n += len(q.parts[p].nodes)
	}
	return n
}
