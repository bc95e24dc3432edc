package network

import (
	"container/heap"
	"slices"
)

// wholeNodes is the number of nodes up to which several parts are solved as a
// whole; beyond it they are solved in runs from left to right.
const wholeNodes = 256

// Limits of the search for the best way to tie parts together, in plans looked
// at times the nodes of each: some tenths of a second.
const (
	searchWork  = 400_000
	improveWork = 400_000
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
		if work <= 0 {
			if alt := k.improved(); k.total(alt) < least {
				best, least = alt, k.total(alt)
			}
			return best, min(least, p.bound)
		}
		for _, next := range k.branches(p, links) {
			work -= len(k.nodes)
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
// 1979), no forced links, and what a beam down the branches came to.
func (k *cluster) improved() plan {
	near, nearest := k.nearLinks()
	open := make([]int, k.parts)
	starts := append(k.beam(near), k.work(k.spanning(nearest), open), k.work(nil, open))
	var best plan
	least := cost(never)
	for i, start := range starts {
		p := k.exchanged(start, near)
		if v := k.total(p); i == 0 || v < least {
			best, least = p, v
		}
	}
	return best
}

// beam goes from the plans of the least bounds to their branches over near
// links, a few at a time, and returns the cheapest few plans it met.
func (k *cluster) beam(near []pair) []plan {
	const width, kept = 12, 4
	level := []plan{k.work(nil, make([]int, k.parts))}
	met := slices.Clone(level)
	for work := improveWork; len(level) > 0 && work > 0; {
		var next []plan
		for _, p := range level {
			if p.lone == nil {
				continue
			}
			for _, b := range k.branches(p, near) {
				work -= len(k.nodes)
				if c := k.work(b.forced, b.wall); c.bound < never {
					next = append(next, c)
				}
			}
		}
		slices.SortStableFunc(next, func(x, y plan) int { return sign(float64(x.bound - y.bound)) })
		next = slices.CompactFunc(next, func(x, y plan) bool { return x.bound == y.bound && slices.Equal(x.lead, y.lead) })
		level = next[:min(len(next), width)]
		met = append(met, level...)
	}
	slices.SortStableFunc(met, func(x, y plan) int { return sign(float64(k.total(x) - k.total(y))) })
	return met[:min(len(met), kept)]
}

// exchanged takes away, adds and replaces forced links while that pays.
func (k *cluster) exchanged(best plan, near []pair) plan {
	open := make([]int, k.parts)
	least := k.total(best)
	for work, better := improveWork, true; better && work > 0; {
		better = false
		for _, forced := range k.exchanges(best.forced, near) {
			if work -= len(k.nodes); work <= 0 {
				break
			}
			p := k.work(forced, open)
			if v := k.total(p); v < least {
				best, least, better = p, v, true
				break
			}
		}
	}
	return best
}

// exchanges returns sets of forced links one change away: one less, one
// replaced by another that touches a part of it, one more.
func (k *cluster) exchanges(forced, near []pair) [][]pair {
	var out [][]pair
	for i := range forced {
		out = append(out, slices.Delete(slices.Clone(forced), i, i+1))
	}
	for i, f := range forced {
		for _, l := range near {
			if a, b := k.part[l.a], k.part[l.b]; l != f && (a == k.part[f.a] || b == k.part[f.a] || a == k.part[f.b] || b == k.part[f.b]) {
				with := slices.Clone(forced)
				with[i] = l
				out = append(out, with)
			}
		}
	}
	for _, l := range near {
		if !slices.Contains(forced, l) {
			out = append(out, append(slices.Clone(forced), l))
		}
	}
	return out
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
