package medial

// Branch is a chain of edges between two nodes that are not mere passages:
// ends or junctions of what is left after pruning. From and To are equal node
// numbers for a ring.
type Branch struct {
	From, To int // nodes of the Axis
	Samples  []Sample
}

// Pruned is the axis after leaf edges were eroded.
type Pruned struct {
	Branches []Branch
	Degree   []int // of each node of the Axis, counting kept edges
}

// Prune erodes, from the leaves inward, edges along which the radius changes
// by more than slope per mm of axis. 0.5 is an object half-angle of 60°: it
// takes away what comes of flattening and of the roundness of ends, shortens
// nothing on round ends, and ends one half-width short of flat ones. Samples
// lie at most step mm apart.
func (a *Axis) Prune(slope, step float64) Pruned {
	inc := make([][]int32, len(a.Nodes))
	deg := make([]int, len(a.Nodes))
	for i, e := range a.Edges {
		inc[e.A] = append(inc[e.A], int32(i))
		inc[e.B] = append(inc[e.B], int32(i))
		deg[e.A]++
		deg[e.B]++
	}
	gone := make([]bool, len(a.Edges))
	var leaves []int
	for v, d := range deg {
		if d == 1 {
			leaves = append(leaves, v)
		}
	}
	for len(leaves) > 0 {
		v := leaves[len(leaves)-1]
		leaves = leaves[:len(leaves)-1]
		for _, i := range inc[v] {
			if gone[i] || a.Slope(int(i)) <= slope {
				continue
			}
			gone[i] = true
			e := a.Edges[i]
			deg[e.A]--
			deg[e.B]--
			if o := e.A + e.B - v; deg[o] == 1 {
				leaves = append(leaves, o)
			}
			break
		}
	}
	return a.chains(inc, deg, gone, step)
}

// chains joins edges through nodes of degree two. gone is used up.
func (a *Axis) chains(inc [][]int32, deg []int, gone []bool, step float64) Pruned {
	p := Pruned{Degree: deg}
	walk := func(v int, i int32) {
		b := Branch{From: v}
		for {
			gone[i] = true
			e := a.Edges[i]
			part := a.samples(int(i), step)
			if e.A != v {
				reverse(part)
			}
			v = e.A + e.B - v
			if len(b.Samples) > 0 {
				part = part[1:]
			}
			b.Samples = append(b.Samples, part...)
			if deg[v] != 2 || v == b.From {
				break
			}
			i = -1
			for _, j := range inc[v] {
				if !gone[j] {
					i = j
				}
			}
			if i < 0 {
				break
			}
		}
		b.To = v
		p.Branches = append(p.Branches, b)
	}
	for pass := range 2 { // first from ends and junctions, then rings
		for v := range inc {
			if deg[v] == 0 || (deg[v] == 2) != (pass == 1) {
				continue
			}
			for _, i := range inc[v] {
				if !gone[i] {
					walk(v, i)
				}
			}
		}
	}
	return p
}

func reverse(s []Sample) {
	for i, j := 0, len(s)-1; i <= j; i, j = i+1, j-1 {
		s[i], s[j] = s[j].Reversed(), s[i].Reversed()
	}
}
