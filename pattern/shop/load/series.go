package load

import (
	"cmp"
	"math"
	"slices"

	"tubewright/geom"
)

// Split cuts a row of units into the fewest runs of neighbours that fit a
// circuit each, and among those with the least heaviest run. Weight is a unit's
// electrical length in whole steps; fits says whether a run of units from i to
// j, j not included, can be one circuit. A unit that does not fit alone has a
// run of its own: ask fits of it.
func Split(weight []int64, fits func(i, j int) bool) [][2]int {
	if len(weight) == 0 {
		return nil
	}
	cut := func(most int64) [][2]int {
		var out [][2]int
		start, sum := 0, int64(0)
		for k, w := range weight {
			if k > start && (sum+w > most || !fits(start, k+1)) {
				out = append(out, [2]int{start, k})
				start, sum = k, 0
			}
			sum += w
		}
		return append(out, [2]int{start, len(weight)})
	}
	total := int64(0)
	for _, w := range weight {
		total += w
	}
	fewest := len(cut(total))
	lo, hi := slices.Max(weight), total
	for lo < hi {
		if mid := lo + (hi-lo)/2; len(cut(mid)) <= fewest {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return cut(lo)
}

// The work that an exact balance may take: units times steps of half the sum.
const balanceWork = 2e8

// Balance shares weights out to two sides whose sums differ least, and says
// whether the difference is proved the least. The proof is by the table of all
// sums that can be reached; where that would be too long, the heaviest weight
// goes to the lighter side again and again.
func Balance(weight []int64) (second []bool, difference int64, exact bool) {
	total := int64(0)
	for _, w := range weight {
		total += w
	}
	half := total / 2
	second = make([]bool, len(weight))
	if float64(len(weight))*float64(half) > balanceWork {
		return heaviestFirst(weight)
	}
	// first[s] is the first weight with which the sum s is reached.
	first := make([]int32, half+1)
	for i := range first {
		first[i] = -1
	}
	first[0] = int32(len(weight))
	for i, w := range weight {
		for s := half; s >= w; s-- { // downward: s-w was reached without weight i
			if first[s] < 0 && first[s-w] >= 0 {
				first[s] = int32(i)
			}
		}
	}
	best := half
	for first[best] < 0 {
		best--
	}
	for s := best; s > 0; s -= weight[first[s]] {
		second[first[s]] = true
	}
	return second, total - 2*best, true
}

func heaviestFirst(weight []int64) (second []bool, difference int64, exact bool) {
	order := make([]int, len(weight))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(weight[b], weight[a]) })
	second = make([]bool, len(weight))
	lead := int64(0) // of the first side
	for _, i := range order {
		if lead > 0 {
			second[i] = true
			lead -= weight[i]
		} else {
			lead += weight[i]
		}
	}
	return second, max(lead, -lead), false
}

// Neighbours returns the best balance that leaves both sides together: all
// units before some place on one side, all after it on the other.
func Neighbours(weight []int64) (second []bool, difference int64) {
	total, before := int64(0), int64(0)
	for _, w := range weight {
		total += w
	}
	at, difference := 0, total
	for i, w := range weight {
		before += w
		if d := max(total-2*before, 2*before-total); d < difference {
			at, difference = i+1, d
		}
	}
	second = make([]bool, len(weight))
	for i := at; i < len(weight); i++ {
		second[i] = true
	}
	return second, difference
}

// Stop is a unit in a string: its index, and whether current from the first
// terminal enters at its electrode B.
type Stop struct {
	Unit     int
	Reversed bool
}

// maxExactOrder bounds the units whose order is searched through: 2^n·(2n)².
const maxExactOrder = 9

// Order strings units between two places so that the wire is shortest: from
// each unit's far end to the next one's near end, straight. It is the least
// there is for up to nine units; beyond, the units stay in the order given and
// only their direction is chosen, best for that order.
func Order(units []int, ends [][2]geom.Point3, from, to geom.Point3) (stops []Stop, wire float64, exact bool) {
	if len(units) == 0 {
		return nil, from.Dist(to), true
	}
	if len(units) > maxExactOrder {
		stops, wire = direct(units, ends, from, to)
		return stops, wire, false
	}
	n := len(units)
	in := func(s int) geom.Point3 { return ends[units[s/2]][s%2] } // state s enters unit s/2 at its end s%2
	out := func(s int) geom.Point3 { return ends[units[s/2]][1-s%2] }
	cost := make([][]float64, 1<<n)
	came := make([][]int, 1<<n)
	for set := 1; set < 1<<n; set++ {
		cost[set], came[set] = make([]float64, 2*n), make([]int, 2*n)
		for s := range 2 * n {
			cost[set][s], came[set][s] = math.Inf(1), -1
			if set&(1<<(s/2)) == 0 {
				continue
			}
			rest := set &^ (1 << (s / 2))
			if rest == 0 {
				cost[set][s] = from.Dist(in(s))
				continue
			}
			for p := range 2 * n {
				if rest&(1<<(p/2)) == 0 {
					continue
				}
				if c := cost[rest][p] + out(p).Dist(in(s)); c < cost[set][s] {
					cost[set][s], came[set][s] = c, p
				}
			}
		}
	}
	last, set := 0, 1<<n-1
	wire = math.Inf(1)
	for s := range 2 * n {
		if c := cost[set][s] + out(s).Dist(to); c < wire {
			last, wire = s, c
		}
	}
	for s := last; s >= 0; {
		stops = append(stops, Stop{units[s/2], s%2 == 1})
		s, set = came[set][s], set&^(1<<(s/2))
	}
	slices.Reverse(stops)
	return stops, wire, true
}

// direct chooses each unit's direction in the order given, least wire in all.
func direct(units []int, ends [][2]geom.Point3, from, to geom.Point3) ([]Stop, float64) {
	cost := [2]float64{}
	came := make([][2]int, len(units))
	for k, u := range units {
		var next [2]float64
		for s := range 2 {
			if k == 0 {
				next[s] = from.Dist(ends[u][s])
				continue
			}
			prev := ends[units[k-1]]
			next[s], came[k][s] = cost[0]+prev[1].Dist(ends[u][s]), 0
			if c := cost[1] + prev[0].Dist(ends[u][s]); c < next[s] {
				next[s], came[k][s] = c, 1
			}
		}
		cost = next
	}
	last := ends[units[len(units)-1]]
	s, wire := 0, cost[0]+last[1].Dist(to)
	if c := cost[1] + last[0].Dist(to); c < wire {
		s, wire = 1, c
	}
	stops := make([]Stop, len(units))
	for k := len(units) - 1; k >= 0; k-- {
		stops[k] = Stop{units[k], s == 1}
		s = came[k][s]
	}
	return stops, wire
}
