package route

import (
	"math/rand/v2"
	"slices"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/glass"
)

// chainLaid lays the links of a graph as one line; nil where it cannot be laid so.
func chainLaid(ss []Stroke) *linking {
	p := newPlanner(ss, glass.Default(12))
	runs := p.makeRuns()
	if len(runs) == 0 {
		return nil
	}
	y := p.newLayer(runs)
	l, _ := p.chain(runs, p.byLine(runs)[0], try{longest: p.rules.MaxUnit, forbidden: map[[3]int]bool{}})
	c := l.steps()
	y.placePosts(c.order, c.cuts)
	k, failed := y.layLinks(c)
	if failed >= 0 {
		return nil
	}
	return k
}

// Links laid in every order that there is, each in the nearest plane that is
// clear: none comes to lie in fewer planes, and the bound holds for all. That a
// link has to be laid again for it is rare.
func TestPlanesAgainstEveryOrderOfLaying(t *testing.T) {
	saved, deep := 0, 0
	for n := range uint64(60) {
		draw := rand.New(rand.NewPCG(100+n, 7))
		k := chainLaid(named(moved(randomGraph(draw, 4, 0, geom.Vec{}), geom.SimilarityMap{Scale: 1.5})...))
		if k == nil {
			continue
		}
		got, bound := k.planes(), k.leastPlanes()
		var links []int
		for i, l := range k.links {
			if len(l.segs) > 0 {
				links = append(links, i)
			}
		}
		if len(links) > 6 {
			continue
		}
		plain, least := -1, maxPlanes+1
		eachOrder(links, func(order []int) bool {
			for _, i := range links {
				k.take(i)
			}
			ok := true
			for _, i := range order {
				ok = ok && k.lay(i)
			}
			if ok {
				least = min(least, k.planes())
			}
			if plain < 0 {
				plain = k.planes()
			}
			return true
		})
		if got > least || bound > least {
			t.Errorf("graph %d: %d planes and no fewer than %d, in the best order %d", n, got, bound, least)
		}
		if got < plain {
			saved++
		}
		if bound > 1 {
			deep++
		}
	}
	t.Logf("%d graphs need more than one plane, %d are saved one", deep, saved)
	if deep < 10 || saved < 1 {
		t.Errorf("%d graphs need more than one plane, %d are saved one: the test shows little", deep, saved)
	}
}

func TestEachOrderIsMetOnce(t *testing.T) {
	seen := map[[4]int]bool{}
	eachOrder([]int{3, 1, 4, 2}, func(o []int) bool {
		if len(seen) == 0 && !slices.Equal(o, []int{3, 1, 4, 2}) {
			t.Errorf("the first order is %v", o)
		}
		seen[[4]int(o)] = true
		return true
	})
	if len(seen) != 24 {
		t.Errorf("%d orders of four", len(seen))
	}
}
