package network

// Odd returns the nodes of odd degree, in order. Their number is even.
func (g Graph) Odd() []int {
	var out []int
	for i, n := range g.Nodes {
		if n.Degree%2 == 1 {
			out = append(out, i)
		}
	}
	return out
}

// Components returns the nodes of each connected part, parts and nodes in order.
func (g Graph) Components() [][]int {
	part := make([]int, len(g.Nodes))
	for i := range part {
		part[i] = -1
	}
	var out [][]int
	for i := range g.Nodes {
		if part[i] >= 0 {
			continue
		}
		c := len(out)
		out = append(out, nil)
		part[i] = c
		for todo := []int{i}; len(todo) > 0; {
			n := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for _, e := range g.Nodes[n].Edges {
				for _, m := range [2]int{g.Edges[e].A, g.Edges[e].B} {
					if part[m] < 0 {
						part[m] = c
						todo = append(todo, m)
					}
				}
			}
		}
	}
	for i, c := range part {
		out[c] = append(out[c], i)
	}
	return out
}

// Loops returns the number of independent loops: edges - nodes + components.
func (g Graph) Loops() int { return len(g.Edges) - len(g.Nodes) + len(g.Components()) }

// Trails returns the least number of continuous runs that cover every edge
// once: half the odd nodes of each component, and one where it has none
// (Listing, "Vorstudien zur Topologie", 1847).
func (g Graph) Trails() int {
	total := 0
	for _, c := range g.Components() {
		odd := 0
		for _, n := range c {
			odd += g.Nodes[n].Degree % 2
		}
		total += max(1, odd/2)
	}
	return total
}
