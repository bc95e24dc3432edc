package network

import (
	"slices"
)

// cluster is some parts of a graph, solved together. Its nodes are numbered
// anew.
type cluster struct {
	nodes  []int // of the graph
	part   []int // of each node: 0, 1, …
	parts  int
	odd    []int // nodes
	unit   cost
	closed bool
	spent  int // work done so far, which limits what is still looked at

	// The cheapest way from i to j over doubled stretches and jumps.
	way  []cost  // at i*n+j
	via  []int32 // the node where its first move ends
	leap []bool  // that move is a jump
	back []int32 // the node after i on the shortest way to j over edges
	on   []int32 // the edge to it
}

// answer is what was found for a cluster.
type answer struct {
	links []tie
	ends  []pair // nodes of the graph
	cost  cost
	bound cost
}

// tie is a link between nodes of the graph.
type tie struct {
	a, b  int
	steps []Step
	cost  cost
}

func (q *inspector) newCluster(parts []int) *cluster {
	k := &cluster{parts: len(parts), unit: q.unit, closed: q.rates.Closed}
	local := make(map[int]int)
	for i, p := range parts {
		for _, n := range q.parts[p].nodes {
			local[n] = len(k.nodes)
			if len(q.at[n])%2 == 1 {
				k.odd = append(k.odd, len(k.nodes))
			}
			k.nodes = append(k.nodes, n)
			k.part = append(k.part, i)
		}
	}
	k.measure(q, local)
	return k
}

// measure finds the cheapest ways between all nodes (Floyd, CACM 5, 1962, 345):
// first along the edges, then over moves. A move is a stretch along edges or a
// jump, and its own price keeps it from being cut up.
func (k *cluster) measure(q *inspector, local map[int]int) {
	n := len(k.nodes)
	k.way, k.back, k.on = make([]cost, n*n), make([]int32, n*n), make([]int32, n*n)
	for i := range k.way {
		k.way[i] = never
	}
	for i, node := range k.nodes {
		k.way[i*n+i] = 0
		for _, e := range q.at[node] {
			j := local[q.other(e, node)]
			if v := priced(0, q.rates.Double, q.g.Edges[e].To-q.g.Edges[e].From); i != j && v < k.way[i*n+j] {
				k.way[i*n+j], k.back[i*n+j], k.on[i*n+j] = v, int32(j), int32(e)
			}
		}
	}
	k.floyd(func(ij, im int) { k.back[ij], k.on[ij] = k.back[im], k.on[im] })

	k.via, k.leap = make([]int32, n*n), make([]bool, n*n)
	per := costOf(q.rates.PerDouble)
	for i := range n {
		for j := range n {
			if i == j {
				continue
			}
			v := &k.way[i*n+j]
			*v = min(never, *v+per)
			k.via[i*n+j] = int32(j)
			if jump := q.jump(k.nodes[i], k.nodes[j]); jump < *v {
				*v, k.leap[i*n+j] = jump, true
			}
		}
	}
	k.floyd(func(ij, im int) { k.via[ij], k.leap[ij] = k.via[im], k.leap[im] })
}

// floyd shortens ways over every node m; took says that i to j now starts as i
// to m does.
func (k *cluster) floyd(took func(ij, im int)) {
	n := len(k.nodes)
	for m := range n {
		row := k.way[m*n : (m+1)*n]
		for i := range n {
			im := k.way[i*n+m]
			if im >= never || i == m {
				continue
			}
			for j, mj := range row {
				if v := im + mj; v < k.way[i*n+j] {
					k.way[i*n+j] = v
					took(i*n+j, i*n+m)
				}
			}
		}
	}
}

func (k *cluster) link(a, b int) cost { return k.way[a*len(k.nodes)+b] }

// steps returns the cheapest way from a to b.
func (k *cluster) steps(a, b int) []Step {
	n := len(k.nodes)
	var out []Step
	for a != b {
		to := int(k.via[a*n+b])
		if k.leap[a*n+b] {
			out = append(out, Step{Leap, -1, k.nodes[a], k.nodes[to]})
			a = to
		}
		for a != to {
			next := int(k.back[a*n+to])
			out = append(out, Step{Back, int(k.on[a*n+to]), k.nodes[a], k.nodes[next]})
			a = next
		}
	}
	return out
}

// join makes one of all parts that the way from a to b touches.
func (k *cluster) join(lead []int, p pair) {
	n := len(k.nodes)
	for a := p.a; a != p.b; {
		to := int(k.via[a*n+p.b])
		x, y := rootOf(lead, k.part[a]), rootOf(lead, k.part[to])
		lead[max(x, y)] = min(x, y)
		a = to
	}
}

func rootOf(lead []int, i int) int {
	for lead[i] != i {
		i = lead[i]
	}
	return i
}

// plan is a choice of links, some of them forced, within walls that no link
// crosses.
type plan struct {
	forced []pair
	wall   []int // of each part: the lowest part on its side of the walls
	links  []pair
	ends   []pair
	lead   []int // of each part: what the links join, as a forest
	lone   []int // parts joined to each other, closed, and paid by no unit; nil if there are none
	bound  cost  // no plan with these forced links and walls costs less
}

// work completes a plan: each side of the walls pairs off its odd nodes.
func (k *cluster) work(forced []pair, wall []int) plan {
	k.spent += len(k.nodes) + len(k.odd)*len(k.odd)*len(k.odd)/200
	p := plan{forced: forced, wall: wall, links: slices.Clone(forced), lead: make([]int, k.parts)}
	for i := range p.lead {
		p.lead[i] = i
	}
	isOdd := make([]bool, len(k.nodes))
	for _, i := range k.odd {
		isOdd[i] = true
	}
	for _, f := range forced {
		isOdd[f.a], isOdd[f.b] = !isOdd[f.a], !isOdd[f.b]
		p.bound += k.link(f.a, f.b)
	}
	for side := range k.parts {
		if wall[side] != side {
			continue
		}
		if side > 0 {
			p.bound += k.unit
		}
		var odd []int
		for i, is := range isOdd {
			if is && wall[k.part[i]] == side {
				odd = append(odd, i)
			}
		}
		o := pairOff(odd, k.link, k.unit, k.closed)
		p.bound = min(never, p.bound+o.cost)
		p.links, p.ends = append(p.links, o.links...), append(p.ends, o.ends...)
	}
	if p.bound >= never {
		p.bound = never
		return p
	}
	for _, l := range p.links {
		k.join(p.lead, l)
	}
	k.findLone(&p)
	return p
}

// findLone looks for parts tied to nothing on their side of the walls, and
// without an end: one unit more than the bound counts. It takes the smallest.
func (k *cluster) findLone(p *plan) {
	hasEnd := make([]bool, k.parts)
	for _, e := range p.ends {
		hasEnd[rootOf(p.lead, k.part[e.a])] = true
		hasEnd[rootOf(p.lead, k.part[e.b])] = true
	}
	size := make([]int, k.parts)
	for _, part := range k.part {
		size[rootOf(p.lead, part)]++
	}
	groups := make([]int, k.parts) // on each side
	for i := range k.parts {
		if rootOf(p.lead, i) == i {
			groups[p.wall[i]]++
		}
	}
	best := -1
	for i := range k.parts {
		if rootOf(p.lead, i) == i && groups[p.wall[i]] > 1 && !hasEnd[i] && (best < 0 || size[i] < size[best]) {
			best = i
		}
	}
	if best < 0 {
		return
	}
	for i := range k.parts {
		if rootOf(p.lead, i) == best {
			p.lone = append(p.lone, i)
		}
	}
}

// total is what a plan costs as it stands: its links, and a unit for each trail
// but the first. It is never where it needs more trails than there may be.
func (k *cluster) total(p plan) cost {
	if p.bound >= never {
		return never
	}
	var v cost
	for _, l := range p.links {
		v += k.link(l.a, l.b)
	}
	ends := make([]int, k.parts)
	for _, e := range p.ends {
		ends[rootOf(p.lead, k.part[e.a])]++
		ends[rootOf(p.lead, k.part[e.b])]++
	}
	trails := 0
	for i := range k.parts {
		if rootOf(p.lead, i) == i {
			trails += max(1, ends[i]/2)
		}
	}
	if trails > 1 && k.unit >= never {
		return never
	}
	return v + cost(trails-1)*k.unit
}

// answer turns a plan into links between nodes of the graph.
func (k *cluster) answer(p plan, bound cost) answer {
	a := answer{cost: k.total(p), bound: bound}
	for _, l := range p.links {
		a.links = append(a.links, tie{k.nodes[l.a], k.nodes[l.b], k.steps(l.a, l.b), k.link(l.a, l.b)})
	}
	for _, e := range p.ends {
		a.ends = append(a.ends, pair{k.nodes[e.a], k.nodes[e.b]})
	}
	return a
}
