package route

import (
	"math"
	"slices"

	"tubewright/geom"
)

// linking is the links of a line in work: the one that leads to each step of
// the chain, none where a unit starts.
type linking struct {
	*layer
	chain chainOf
	links []link
}

// layLinks lays the links of a chain one after the other, each in the nearest
// plane that is clear; then those in deeper planes are laid again before the
// others near them, while that saves planes (rip-up and reroute). failed is a step
// that no link could reach, or -1.
func (y *layer) layLinks(c chainOf) (k *linking, failed int) {
	k = &linking{layer: y, chain: c, links: make([]link, len(c.order))}
	for i := range c.order {
		if slices.Contains(c.cuts, i) || k.lay(i) || k.try(append([]int{i}, k.near(i)...)) {
			continue
		}
		return nil, i
	}
	for k.raiseOne() {
	}
	return k, -1
}

// find returns the link to step i in the world as it is.
func (k *linking) find(i int) (link, bool) {
	return k.layer.find(k.chain.order[i-1], k.chain.order[i], k.chain.ways[i])
}

// lay lays the link to step i and reports whether there is a way.
func (k *linking) lay(i int) bool {
	l, ok := k.find(i)
	if !ok {
		return false
	}
	l.body = k.next
	k.next++
	k.links[i] = l
	k.put(l)
	return true
}

// put places a link in the world.
func (y *layer) put(l link) { y.world.Add(l.body, 0, l.segs) }

// take takes the link to step i away and returns it.
func (k *linking) take(i int) link {
	l := k.links[i]
	k.links[i] = link{}
	k.world.Remove(l.body, l.segs)
	return l
}

// laid lists the links.
func (k *linking) laid() []link {
	return slices.DeleteFunc(slices.Clone(k.links), func(l link) bool { return len(l.segs) == 0 })
}

// planes is how many planes behind the face the links lie in.
func (k *linking) planes() int {
	n := 0
	for _, l := range k.laid() {
		n = max(n, l.plane+1)
	}
	return n
}

// mostAtOnce is the most links of which every order is tried.
const mostAtOnce = 4

// raiseOne looks for a link that lies in a deeper plane and need not, and for
// orders in which it and those near it come to lie in fewer or nearer planes; it
// reports whether it found some.
func (k *linking) raiseOne() bool {
	for i, l := range k.links {
		if l.plane == 0 {
			continue
		}
		group := append([]int{i}, k.near(i)...)
		if len(group) > mostAtOnce {
			if k.try(group) {
				return true
			}
			continue
		}
		found := false
		eachOrder(group, func(order []int) bool {
			found = k.try(order)
			return !found
		})
		if found {
			return true
		}
	}
	return false
}

// eachOrder calls f with every order of the items, the given one first, until f
// is false.
func eachOrder(items []int, f func([]int) bool) bool {
	var from func(n int) bool
	from = func(n int) bool {
		if n == len(items) {
			return f(items)
		}
		for i := n; i < len(items); i++ {
			order := slices.Clone(items)
			x := items[i]
			items = slices.Insert(slices.Delete(items, i, i+1), n, x)
			if !from(n + 1) {
				return false
			}
			items = order
		}
		return true
	}
	items = slices.Clone(items)
	return from(0)
}

// near lists the links laid whose plan comes near the way to step i, straight or
// as it is laid.
func (k *linking) near(i int) []int {
	box := k.planOf(i).Grown(k.p.rules.Need())
	var out []int
	for j, l := range k.links {
		if j != i && len(l.segs) > 0 && box.Overlaps(k.planOf(j)) {
			out = append(out, j)
		}
	}
	return out
}

// planOf is the box of the plan of the link to step i, and of the two ends where
// it is not laid.
func (k *linking) planOf(i int) geom.Rect {
	_, from, _ := k.post(k.chain.order[i-1], true)
	_, to, _ := k.post(k.chain.order[i], false)
	box := geom.EmptyRect().Including(from).Including(to)
	for _, g := range k.links[i].segs {
		box = box.Including(g.Start().Plan()).Including(g.PointAt(g.Length() / 2).Plan()).Including(g.End().Plan())
	}
	return box
}

// try lays some links afresh in the given order, and reports whether they lie in
// fewer or nearer planes than before; else everything is as it was.
func (k *linking) try(order []int) bool {
	was := make([]link, len(order))
	for n, i := range order {
		was[n] = k.take(i)
	}
	ok := true
	for _, i := range order {
		ok = ok && k.lay(i)
	}
	if ok && k.depthOf(order).under(depthOf(was)) {
		return true
	}
	for n, i := range order {
		k.take(i)
		k.links[i] = was[n]
		k.put(was[n])
	}
	return false
}

// depthSum says how deep some links lie.
type depthSum struct{ deepest, sum int }

func (k *linking) depthOf(order []int) depthSum {
	ls := make([]link, len(order))
	for n, i := range order {
		ls[n] = k.links[i]
	}
	return depthOf(ls)
}

// depthOf counts a link that is not laid as deeper than any.
func depthOf(ls []link) depthSum {
	var d depthSum
	for _, l := range ls {
		plane := l.plane
		if len(l.segs) == 0 {
			plane = math.MaxInt32
		}
		d.deepest, d.sum = max(d.deepest, plane), d.sum+plane
	}
	return d
}

// under reports whether d is better than o: less deep, or in all nearer the face.
func (d depthSum) under(o depthSum) bool {
	if d.deepest != o.deepest {
		return d.deepest < o.deepest
	}
	return d.sum < o.sum
}

// leastPlanes returns a number of planes that the links of this chain cannot come
// under: a link of the deepest plane is tried with no other link about, and then
// with each of those near it alone, either first.
func (k *linking) leastPlanes() int {
	deepest := k.planes() - 1
	if deepest <= 0 {
		return deepest + 1
	}
	was, groups := slices.Clone(k.links), map[int][]int{}
	for i, l := range was {
		if l.plane == deepest {
			groups[i] = k.near(i)
		}
	}
	for i := range was {
		k.take(i)
	}
	for _, l := range k.layer.links {
		k.world.Remove(l.body, l.segs)
	}
	least := 0
	for i, l := range was {
		if l.plane == deepest && least < deepest {
			least = max(least, k.alone(i))
			for _, j := range groups[i] {
				least = max(least, k.together(i, j))
			}
		}
	}
	for i, l := range was {
		k.links[i] = l
		k.put(l)
	}
	for _, l := range k.layer.links {
		k.put(l)
	}
	return least + 1
}

// alone is the nearest plane of the link to step i in the world as it is; 0, which
// proves nothing, where it finds no way.
func (k *linking) alone(i int) int {
	l, _ := k.find(i)
	return l.plane
}

// together is the deeper plane of two links, laid in the better order; 0 where one
// finds no way.
func (k *linking) together(i, j int) int {
	best := math.MaxInt
	for _, order := range [2][2]int{{i, j}, {j, i}} {
		deeper := 0
		if k.lay(order[0]) {
			if l, ok := k.find(order[1]); ok {
				deeper = max(k.links[order[0]].plane, l.plane)
			}
			k.take(order[0])
		}
		best = min(best, deeper)
	}
	return best
}
