package network

import (
	"math"
	"math/rand/v2"
	"testing"
)

// choice is something that may be added to a graph.
type choice struct {
	a, b int
	cost float64
}

// bruteForce tries every set of doubled edges and jumps, each jump up to twice,
// and returns the least cost not over limit. PerDouble must be 0.
func bruteForce(g Graph, r Rates, limit float64) float64 {
	var choices []choice
	for _, e := range g.Edges {
		if v := r.Double * (e.To - e.From); e.A != e.B && v <= Dearest {
			choices = append(choices, choice{e.A, e.B, v})
		}
	}
	for i := range g.Nodes {
		for j := range i {
			if v := r.PerJump + r.Jump*g.Nodes[i].At.Dist(g.Nodes[j].At); v <= Dearest {
				choices = append(choices, choice{i, j, v}, choice{i, j, v})
			}
		}
	}
	best := limit
	var taken []choice
	var try func(k int, cost float64)
	try = func(k int, cost float64) {
		if cost >= best {
			return
		}
		if n := bruteTrails(g, taken, r.Closed); n > 0 && (n == 1 || r.Unit <= Dearest) {
			v := cost
			if n > 1 {
				v += r.Unit * float64(n-1)
			}
			best = min(best, v)
		}
		for i := k; i < len(choices); i++ {
			taken = append(taken, choices[i])
			try(i+1, cost+choices[i].cost)
			taken = taken[:len(taken)-1]
		}
	}
	try(0, 0)
	return best
}

// bruteTrails counts the trails of a graph with some edges more; 0 is none.
func bruteTrails(g Graph, more []choice, closed bool) int {
	degree := make([]int, len(g.Nodes))
	colour := make([]int, len(g.Nodes))
	for i, n := range g.Nodes {
		degree[i], colour[i] = n.Degree, i
	}
	merge := func(a, b int) {
		from, to := colour[a], colour[b]
		for i, c := range colour {
			if c == from {
				colour[i] = to
			}
		}
	}
	for _, e := range g.Edges {
		merge(e.A, e.B)
	}
	for _, c := range more {
		degree[c.a]++
		degree[c.b]++
		merge(c.a, c.b)
	}
	odd := make([]int, len(g.Nodes))
	used := make([]bool, len(g.Nodes))
	for i, d := range degree {
		used[colour[i]] = true
		odd[colour[i]] += d % 2
	}
	trails := 0
	for i, u := range used {
		if u {
			if closed && odd[i] > 0 {
				return 0
			}
			trails += max(1, odd[i]/2)
		}
	}
	return trails
}

// TestBruteForce: on small graphs of one to four parts no set of doublings and
// jumps is cheaper, whatever the rates.
func TestBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1973))
	never := math.Inf(1)
	pick := func(v ...float64) float64 { return v[rng.IntN(len(v))] }
	done := 0
	for n := 0; done < 600; n++ {
		parts := 1 + rng.IntN(4)
		g := randomGraph(rng, max(parts, 2+rng.IntN(5)), parts)
		r := Rates{Double: pick(1, 1, 0.5, never), Jump: pick(1, 1.5, 3, never), PerJump: pick(0, 5, 30), Unit: pick(never, 10, 40, 100), Closed: rng.IntN(4) == 0}
		in, err := g.Inspect(r)
		if err != nil {
			if v := bruteForce(g, r, 1e9); v < 1e9 {
				t.Fatalf("%v, but it can be had for %v\n%+v\n%+v", err, v, r, g)
			}
			continue
		}
		if err := lawful(g, r, in); err != nil {
			t.Fatalf("%v\n%+v\n%+v\n%+v", err, r, g, in)
		}
		if !in.Exact {
			t.Errorf("a small graph is not solved exactly: %v to %v", in.Bound, in.Cost)
		}
		// The limit lets it find our answer again, so that it is known to be able to.
		if v := bruteForce(g, r, in.Cost+1e-3); math.Abs(v-in.Cost) > 1e-4 {
			t.Fatalf("case %d: cost %v, brute force %v\n%+v\n%+v\n%+v", n, in.Cost, v, r, g, in)
		}
		done++
	}
}

// TestPairing: tables, blossoms and brute force agree on what pairs cost.
func TestPairing(t *testing.T) {
	rng := rand.New(rand.NewPCG(1965, 2))
	for n := range 1500 {
		size := 2 + 2*rng.IntN(6)
		tab := table{size, make([]cost, size*size)}
		for i := range size {
			for j := range i {
				v := cost(rng.IntN(12)) // often equal
				if n%2 == 0 {
					v = cost(rng.IntN(1_000_000_000))
				}
				if rng.IntN(6) == 0 {
					v = never
				}
				tab.v[i*size+j], tab.v[j*size+i] = v, v
			}
		}
		for _, closed := range [2]bool{false, true} {
			a, b := tab.sum(tab.bySubsets(closed)), tab.sum(tab.byBlossoms(closed))
			if a != b {
				t.Fatalf("case %d, closed %v: tables %d, blossoms %d\n%v", n, closed, a, b, tab)
			}
			if size <= 8 {
				if c := tab.brute(make([]bool, size), !closed); c != a {
					t.Fatalf("case %d, closed %v: brute force %d, tables %d\n%v", n, closed, c, a, tab)
				}
			}
		}
	}
}

// sum is what the pairs cost, never if there are none; partners must be mutual.
func (t table) sum(partner []int) cost {
	if partner == nil {
		return never
	}
	var v cost
	left := 0
	for i, j := range partner {
		switch {
		case j < 0:
			left++
		case partner[j] != i:
			return -1
		case j > i:
			v += t.v[i*t.n+j]
		}
	}
	if left != 0 && left != 2 {
		return -1
	}
	return v
}

// brute pairs off who is not taken yet, a pair for free if there is one left.
func (t table) brute(taken []bool, free bool) cost {
	i := 0
	for i < t.n && taken[i] {
		i++
	}
	if i == t.n {
		return 0
	}
	best := cost(never)
	taken[i] = true
	for j := i + 1; j < t.n; j++ {
		if taken[j] {
			continue
		}
		taken[j] = true
		best = min(best, t.v[i*t.n+j]+t.brute(taken, free))
		if free {
			best = min(best, t.brute(taken, false))
		}
		taken[j] = false
	}
	taken[i] = false
	return best
}

// TestLargeMethodAgainstExact holds the method for parts too many to search, a
// spanning tree and exchanges, against the exact answers where they can be had.
func TestLargeMethodAgainstExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(1979, 8))
	never := math.Inf(1)
	var sum, worst float64
	cases := 60
	if testing.Short() {
		cases = 10
	}
	done, missed := 0, 0
	for done < cases {
		parts := 2 + rng.IntN(5)
		g := randomGraph(rng, parts*(1+rng.IntN(4)), parts)
		r := Rates{Double: 1, Jump: []float64{1, 1.5, 3}[rng.IntN(3)], PerJump: []float64{0, 20}[rng.IntN(2)], Unit: []float64{never, 60}[rng.IntN(2)]}
		q := newInspector(g, r)
		for _, group := range q.clusters() {
			if len(group) < 2 {
				continue
			}
			k := q.newCluster(group)
			exact, bound := k.search(searchWork)
			if k.total(exact) != bound {
				missed++
				continue
			}
			least, got := k.total(exact), k.total(k.improved())
			if got < least {
				t.Fatalf("exact %d, another way %d", least, got)
			}
			excess := float64(got-least) / float64(max(1, least))
			sum, worst = sum+excess, max(worst, excess)
			done++
		}
	}
	t.Logf("worst %.3f %%, average %.4f %%, missed %d", 100*worst, 100*sum/float64(done), missed)
	if worst > 0.02 || sum/float64(done) > 0.005 {
		t.Errorf("worst %.2f %%, average %.3f %% over the exact cost of %d graphs", 100*worst, 100*sum/float64(done), done)
	}
}
