package order

import "math/bits"

// MaxHeats is the most heats of one piece that are planned: a unit of 2,400 mm
// with a heat every 2 D of a 6 mm tube has 200.
const MaxHeats = 256

// set is a set of heats by index.
type set [MaxHeats / 64]uint64

func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }

func (s set) with(i int) set { s[i/64] |= 1 << (i % 64); return s }

func (s set) size() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

func (s set) without(i int) set { s[i/64] &^= 1 << (i % 64); return s }

// within returns those of the set from i to j.
func (s set) within(i, j int) set {
	for w := range s {
		lo, hi := max(0, i-64*w), min(63, j-64*w)
		if lo > 63 || hi < 0 {
			s[w] = 0
			continue
		}
		s[w] &= ^uint64(0) << lo & (^uint64(0) >> (63 - hi))
	}
	return s
}
