package order

import "container/heap"

// cost orders plans: fewer things that make heats awkward, then the smaller largest
// swing (less), or the smaller sum of swings (bySum).
type cost struct {
	awkward  int
	max, sum float64
}

func (c cost) plus(swing float64) cost {
	return cost{c.awkward, max(c.max, swing), c.sum + swing}
}

// made returns the cost with heat h of an answer made in its cheapest way.
func (c cost) made(a answer) (cost, Side, bool) {
	side, below := a.cheapest()
	c = c.plus(a.swing[side])
	if below {
		c.awkward++
	}
	if a.pinch {
		c.awkward++
	}
	return c, side, below
}

// slack is how much two swings may differ, mm, and still count as the same.
const slack = 1e-6

func (c cost) less(d cost) bool {
	if c.awkward != d.awkward {
		return c.awkward < d.awkward
	}
	return c.max < d.max-slack
}

// bySum says that an order has fewer awkward heats than another, or as few and a
// smaller sum of swings.
func bySum(a, b cost) bool {
	if a.awkward != b.awkward {
		return a.awkward < b.awkward
	}
	return a.sum < b.sum-slack
}

// move is one heat made in a state of the search.
type move struct {
	heat int
	side Side
	edge bool
	cost cost // of the whole way so far, this move included
	from int  // the node before, -1 at the start
	done set  // with the heat
}

// queue hands out moves, the smallest sum first; equal ones in the order of arrival.
type queue struct {
	items []queued
	count int
}

type queued struct {
	move
	known bool // whether the simulation was asked and the cost is true
	order int
}

func (q *queue) add(m move, known bool) {
	heap.Push(q, queued{m, known, q.count})
	q.count++
}

func (q *queue) next() (queued, bool) {
	if len(q.items) == 0 {
		return queued{}, false
	}
	return heap.Pop(q).(queued), true
}

func (q *queue) Len() int { return len(q.items) }
func (q *queue) Less(i, j int) bool {
	a, b := &q.items[i], &q.items[j]
	if bySum(a.cost, b.cost) {
		return true
	}
	if bySum(b.cost, a.cost) {
		return false
	}
	return a.order < b.order
}
func (q *queue) Swap(i, j int) { q.items[i], q.items[j] = q.items[j], q.items[i] }
func (q *queue) Push(x any)    { q.items = append(q.items, x.(queued)) }
func (q *queue) Pop() any {
	n := len(q.items) - 1
	x := q.items[n]
	q.items = q.items[:n]
	return x
}
