package plan

import (
	"cmp"
	"slices"

	"tubewright/pattern/bend"
	"tubewright/pattern/stick"
)

// cut is a place where a unit may be made in two: before heat number heat (an
// index). share says how much of the set distance from heats a weld there keeps.
type cut struct {
	at     float64
	heat   int
	hidden bool
	share  float64
}

// shares are the shares of the set distance from heats at which places are
// looked for, one after the other.
var shares = [4]float64{1, 0.5, 0.25, 0}

// splicer divides a unit into parts that can each be bent. Its cuts are in the
// order of travel, the ends of the unit among them; what lies between two cuts is
// simulated once.
type splicer struct {
	*maker
	cuts []cut
	able map[[2]int]bool
}

// splice divides the unit, and plans the parts; nil where that is no gain.
//
// First the least pieces: between neighbouring cuts that keep the set distance
// from heats; where such a piece has no order, nearer places within it are used
// too. Then, from A on, pieces are joined to the longest part that has an order: a
// part of what can be bent in one can be bent, so the longest part is found by
// halving, and as few parts are made as can be. Pieces that have no order at all
// stay as they are, and say what blocks them.
func (m *maker) splice() []Section {
	s := &splicer{maker: m, cuts: m.cuts(), able: map[[2]int]bool{}}
	var ends []int
	last := 0
	for i, c := range s.cuts {
		if i > 0 && c.share == 1 {
			ends = append(ends, s.divide(last, i, 1)...)
			last = i
		}
	}
	parts := s.hide(s.join(ends))
	if len(parts) == 2 {
		return nil
	}
	var out []Section
	for k := range len(parts) - 1 {
		a, b := s.cuts[parts[k]], s.cuts[parts[k+1]]
		part := m.section(a.at, b.at, a.heat, b.heat, false)
		part.end = b
		out = append(out, part)
	}
	return out
}

// cuts returns the ends of the unit, and one place in each straight between two
// heats: the one farthest from heats, then a hidden one, then the middle of the
// longest stretch.
func (m *maker) cuts() []cut {
	n := len(m.u.Heats)
	best := make([]cut, n+1)
	long := make([]float64, n+1)
	for _, share := range shares {
		found := map[int]bool{}
		for _, s := range stick.Sites(m.u.Tube, m.u.Heats, share*m.rules.WeldClear, m.u.Avoid) {
			c := cut{at: (s.From + s.To) / 2, hidden: s.Hidden, share: share}
			c.heat, _ = slices.BinarySearchFunc(m.u.Heats, c.at, func(h bend.Heat, at float64) int { return cmp.Compare(h.Start, at) })
			old := best[c.heat]
			switch {
			case c.heat == 0 || c.heat == n || old.at > 0 && !found[c.heat]:
				continue
			case old.at > 0 && (old.hidden && !c.hidden || old.hidden == c.hidden && s.To-s.From <= long[c.heat]):
				continue
			}
			best[c.heat], long[c.heat], found[c.heat] = c, s.To-s.From, true
		}
	}
	out := []cut{{share: 1}}
	for _, c := range best {
		if c.at > 0 {
			out = append(out, c)
		}
	}
	return append(out, cut{at: m.whole, heat: n, share: 1})
}

// can reports whether what lies between two cuts has an order.
func (s *splicer) can(i, j int) bool {
	key := [2]int{i, j}
	if v, ok := s.able[key]; ok {
		return v
	}
	a, b := s.cuts[i], s.cuts[j]
	v := s.section(a.at, b.at, a.heat, b.heat, true).Block == nil
	s.able[key] = v
	return v
}

// divide returns the ends of the pieces between cuts i and j: j alone where that
// has an order, else those at the next nearer places.
func (s *splicer) divide(i, j, level int) []int {
	if j == i+1 || level == len(shares) || s.can(i, j) {
		return []int{j}
	}
	var out []int
	for k := i + 1; k < j; k++ {
		if s.cuts[k].share >= shares[level] {
			out = append(out, s.divide(i, k, level+1)...)
			i = k
		}
	}
	return append(out, s.divide(i, j, level+1)...)
}

// join returns the ends of the parts, the start of the unit first.
func (s *splicer) join(ends []int) []int {
	out := []int{0}
	for k := 0; k < len(ends); k++ {
		from := out[len(out)-1]
		if s.can(from, ends[k]) {
			k += s.longest(from, ends[k:])
		}
		out = append(out, ends[k])
	}
	return out
}

// longest returns the index of the last of the ends up to which all from a cut
// on has an order, given that it has one up to the first.
func (s *splicer) longest(from int, ends []int) int {
	good, step := 0, 1
	bad := len(ends)
	for good+step < bad { // longer and longer strides until it fails
		if !s.can(from, ends[good+step]) {
			bad = good + step
			break
		}
		good += step
		step *= 2
	}
	for bad-good > 1 {
		if mid := (good + bad) / 2; s.can(from, ends[mid]) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good
}

// hideFar is how many places nearer to A are tried for a weld on painted glass.
const hideFar = 6

// hide moves ends on lit glass to hidden glass nearer to A where the next part can
// be bent all the same.
func (s *splicer) hide(parts []int) []int {
	for k := len(parts) - 2; k > 0; k-- {
		at := s.cuts[parts[k]]
		for i := parts[k] - 1; !at.hidden && i > max(parts[k-1], parts[k]-hideFar); i-- {
			c := s.cuts[i]
			if c.hidden && c.share >= at.share && s.can(i, parts[k+1]) && s.can(parts[k-1], i) {
				parts[k] = i
				break
			}
		}
	}
	return parts
}
