package order

import "math/bits"

// maxHeats is the most heats of one piece that are planned: a unit of 2,400 mm
// with a heat every 2 D of a 6 mm tube has 200.
const maxHeats = 256

// set is a set of heats by index.
type set [maxHeats / 64]uint64

func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }

func (s set) with(i int) set { s[i/64] |= 1 << (i % 64); return s }

func (s set) size() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}
