package network

import (
	"math"
	"slices"
)

// matcher finds a matching of the greatest weight in any graph, by alternating
// trees, with odd cycles shrunk to blossoms (Edmonds, "Maximum matching and a
// polyhedron with 0,1-vertices", J. Res. NBS 69B, 1965; duals and slacks as in
// Galil, "Efficient algorithms for finding maximum matching in graphs", ACM
// Computing Surveys 18, 1986). Time goes with the third power of the vertices.
//
// Vertices are 1 to n, blossoms n+1 to top; 0 is none. Every vertex has a dual
// and every blossom too; an edge can be used where the duals of its ends add up
// to twice its weight, that is, where its slack is 0.
type matcher struct {
	n, top  int
	size    int    // of a row of edges
	edges   []edge // between vertices or blossoms: the edge of vertices that joins them best
	dual    []int64
	mate    []int // the vertex matched to
	slack   []int // the vertex whose edge to here is tightest
	outer   []int // the outermost blossom
	parent  []int // the vertex from which the tree came here
	label   []int8
	visit   []int
	round   int
	petals  [][]int // of a blossom, in order round it from its base
	through [][]int // the petal in which a vertex lies
	queue   []int
}

type edge struct {
	u, v   int32
	weight int64
}

// Labels of trees.
const (
	unseen int8 = -1
	even   int8 = 0 // may be matched anew
	odd    int8 = 1 // matched to an even one
)

func newMatcher(n int) *matcher {
	m := &matcher{n: n, top: n, size: n + n/2 + 2}
	all := m.size
	m.edges = make([]edge, all*all)
	m.dual, m.mate, m.slack = make([]int64, all), make([]int, all), make([]int, all)
	m.outer, m.parent, m.visit = make([]int, all), make([]int, all), make([]int, all)
	m.label, m.petals, m.through = make([]int8, all), make([][]int, all), make([][]int, all)
	for u := 1; u <= n; u++ {
		m.outer[u] = u
		m.through[u] = make([]int, n+1)
		m.through[u][u] = u
		for v := 1; v <= n; v++ {
			*m.edge(u, v) = edge{int32(u), int32(v), 0}
		}
	}
	return m
}

func (m *matcher) edge(u, v int) *edge { return &m.edges[u*m.size+v] }

// weigh joins vertices i and j, counted from 0, by an edge of weight over 0.
func (m *matcher) weigh(i, j int, w int64) {
	m.edge(i+1, j+1).weight = w
	m.edge(j+1, i+1).weight = w
}

// match returns everyone's partner, counted from 0, or -1.
func (m *matcher) match() []int {
	var heaviest int64
	for _, e := range m.edges {
		heaviest = max(heaviest, e.weight)
	}
	for u := 1; u <= m.n; u++ {
		m.dual[u] = heaviest
	}
	for m.stage() {
	}
	out := make([]int, m.n)
	for i := range out {
		out[i] = m.mate[i+1] - 1
	}
	return out
}

func (m *matcher) slackOf(e *edge) int64 {
	return m.dual[e.u] + m.dual[e.v] - 2*m.edge(int(e.u), int(e.v)).weight
}

func (m *matcher) offer(u, x int) {
	if m.slack[x] == 0 || m.slackOf(m.edge(u, x)) < m.slackOf(m.edge(m.slack[x], x)) {
		m.slack[x] = u
	}
}

func (m *matcher) findSlack(x int) {
	m.slack[x] = 0
	for u := 1; u <= m.n; u++ {
		if m.edge(u, x).weight > 0 && m.outer[u] != x && m.label[m.outer[u]] == even {
			m.offer(u, x)
		}
	}
}

// enqueue adds the vertices of x to those to grow from.
func (m *matcher) enqueue(x int) {
	if x <= m.n {
		m.queue = append(m.queue, x)
		return
	}
	for _, p := range m.petals[x] {
		m.enqueue(p)
	}
}

func (m *matcher) setOuter(x, b int) {
	m.outer[x] = b
	if x > m.n {
		for _, p := range m.petals[x] {
			m.setOuter(p, b)
		}
	}
}

// evenWay turns the blossom so that the way from its base to a petal is even,
// and returns the petal's place.
func (m *matcher) evenWay(b, petal int) int {
	i := slices.Index(m.petals[b], petal)
	if i%2 == 1 {
		slices.Reverse(m.petals[b][1:])
		return len(m.petals[b]) - i
	}
	return i
}

// marry matches u to the other end of its edge to v, and the petals inside u
// round the one that the edge ends in.
func (m *matcher) marry(u, v int) {
	e := *m.edge(u, v)
	m.mate[u] = int(e.v)
	if u <= m.n {
		return
	}
	petal := m.through[u][e.u]
	k := m.evenWay(u, petal)
	for i := range k {
		m.marry(m.petals[u][i], m.petals[u][i^1])
	}
	m.marry(petal, v)
	p := m.petals[u]
	m.petals[u] = append(slices.Clone(p[k:]), p[:k]...)
}

// augment swaps matched and unmatched edges from u to the root of its tree.
func (m *matcher) augment(u, v int) {
	for {
		next := m.outer[m.mate[u]]
		m.marry(u, v)
		if next == 0 {
			return
		}
		m.marry(next, m.outer[m.parent[next]])
		u, v = m.outer[m.parent[next]], next
	}
}

// meet returns where the ways of u and v to their roots meet, or 0.
func (m *matcher) meet(u, v int) int {
	m.round++
	for u != 0 || v != 0 {
		if u != 0 {
			if m.visit[u] == m.round {
				return u
			}
			m.visit[u] = m.round
			if u = m.outer[m.mate[u]]; u != 0 {
				u = m.outer[m.parent[u]]
			}
		}
		u, v = v, u
	}
	return 0
}

// shrink makes a blossom of the cycle u … base … v.
func (m *matcher) shrink(u, base, v int) {
	b := m.n + 1
	for b <= m.top && m.outer[b] != 0 {
		b++
	}
	m.top = max(m.top, b)
	m.dual[b], m.label[b], m.mate[b] = 0, even, m.mate[base]
	m.petals[b] = append(m.petals[b][:0], base)
	climb := func(x int) {
		for x != base {
			y := m.outer[m.mate[x]]
			m.petals[b] = append(m.petals[b], x, y)
			m.enqueue(y)
			x = m.outer[m.parent[y]]
		}
	}
	climb(u)
	slices.Reverse(m.petals[b][1:])
	climb(v)
	m.setOuter(b, b)
	for x := 1; x <= m.top; x++ {
		m.edge(b, x).weight, m.edge(x, b).weight = 0, 0
	}
	m.through[b] = make([]int, m.n+1)
	for _, p := range m.petals[b] {
		for x := 1; x <= m.top; x++ {
			if m.edge(b, x).weight == 0 || m.slackOf(m.edge(p, x)) < m.slackOf(m.edge(b, x)) {
				*m.edge(b, x), *m.edge(x, b) = *m.edge(p, x), *m.edge(x, p)
			}
		}
		for x := 1; x <= m.n; x++ {
			if m.through[p][x] != 0 {
				m.through[b][x] = p
			}
		}
	}
	m.findSlack(b)
}

// open puts the petals of an odd blossom back into the tree.
func (m *matcher) open(b int) {
	for _, p := range m.petals[b] {
		m.setOuter(p, p)
	}
	in := m.through[b][m.edge(b, m.parent[b]).u]
	k := m.evenWay(b, in)
	p := m.petals[b]
	for i := 0; i < k; i += 2 {
		x, y := p[i], p[i+1]
		m.parent[x] = int(m.edge(y, x).u)
		m.label[x], m.label[y] = odd, even
		m.slack[x] = 0
		m.findSlack(y)
		m.enqueue(y)
	}
	m.label[in], m.parent[in] = odd, m.parent[b]
	for _, x := range p[k+1:] {
		m.label[x] = unseen
		m.findSlack(x)
	}
	m.outer[b] = 0
}

// use takes an edge without slack into the trees, and reports whether it joined
// two of them, which makes one pair more.
func (m *matcher) use(e edge) bool {
	u, v := m.outer[e.u], m.outer[e.v]
	switch m.label[v] {
	case unseen:
		m.parent[v], m.label[v] = int(e.u), odd
		w := m.outer[m.mate[v]]
		m.slack[v], m.slack[w] = 0, 0
		m.label[w] = even
		m.enqueue(w)
	case even:
		base := m.meet(u, v)
		if base == 0 {
			m.augment(u, v)
			m.augment(v, u)
			return true
		}
		m.shrink(u, base, v)
	}
	return false
}

// stage grows trees from all unmatched vertices until there is one pair more,
// and reports whether there is.
func (m *matcher) stage() bool {
	m.queue = m.queue[:0]
	for x := 1; x <= m.top; x++ {
		m.label[x], m.slack[x] = unseen, 0
	}
	for x := 1; x <= m.top; x++ {
		if m.outer[x] == x && m.mate[x] == 0 {
			m.parent[x], m.label[x] = 0, even
			m.enqueue(x)
		}
	}
	if len(m.queue) == 0 {
		return false
	}
	for {
		if m.grow() {
			return true
		}
		if !m.shift(m.step()) {
			return false
		}
		for x := 1; x <= m.top; x++ {
			s := m.slack[x]
			if m.outer[x] == x && s != 0 && m.outer[s] != x && m.slackOf(m.edge(s, x)) == 0 && m.use(*m.edge(s, x)) {
				return true
			}
		}
		for b := m.n + 1; b <= m.top; b++ {
			if m.outer[b] == b && m.label[b] == odd && m.dual[b] == 0 {
				m.open(b)
			}
		}
	}
}

// grow uses every edge without slack from the vertices in the queue.
func (m *matcher) grow() bool {
	for len(m.queue) > 0 {
		u := m.queue[0]
		m.queue = m.queue[1:]
		if m.label[m.outer[u]] == odd {
			continue
		}
		for v := 1; v <= m.n; v++ {
			e := m.edge(u, v)
			if e.weight == 0 || m.outer[u] == m.outer[v] {
				continue
			}
			if m.slackOf(e) > 0 {
				m.offer(u, m.outer[v])
			} else if m.use(*e) {
				return true
			}
		}
	}
	return false
}

// step returns how far the duals can be moved until something happens.
func (m *matcher) step() int64 {
	d := int64(math.MaxInt64)
	for b := m.n + 1; b <= m.top; b++ {
		if m.outer[b] == b && m.label[b] == odd {
			d = min(d, m.dual[b]/2)
		}
	}
	for x := 1; x <= m.top; x++ {
		if m.outer[x] != x || m.slack[x] == 0 {
			continue
		}
		switch s := m.slackOf(m.edge(m.slack[x], x)); m.label[x] {
		case unseen:
			d = min(d, s)
		case even:
			d = min(d, s/2)
		}
	}
	return d
}

// shift moves the duals, and reports whether more pairs can still gain weight.
func (m *matcher) shift(d int64) bool {
	for u := 1; u <= m.n; u++ {
		switch m.label[m.outer[u]] {
		case even:
			if m.dual[u] <= d {
				return false
			}
			m.dual[u] -= d
		case odd:
			m.dual[u] += d
		}
	}
	for b := m.n + 1; b <= m.top; b++ {
		if m.outer[b] != b {
			continue
		}
		switch m.label[b] {
		case even:
			m.dual[b] += 2 * d
		case odd:
			m.dual[b] -= 2 * d
		}
	}
	m.queue = m.queue[:0]
	return true
}
