package order

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"tubewright/geom"
)

// chain is a planar tube with sharp corners: straights and turns in degrees, and
// nothing but swings looked at.
func chain(straight, turns []float64, d float64) *model {
	m := &model{lim: limits{touch: d}, budget: NewBudget(len(turns)), cache: map[question]answer{}, light: map[question]float64{}}
	at := 0.0
	m.straight = straight
	for i, a := range turns {
		at += straight[i]
		axis := geom.Vec3{Z: 1}
		if a < 0 {
			axis.Z, a = -1, -a
		}
		h := formed{parts: []arc{{axis: axis, angle: geom.Angle(a) * geom.Degree}}, start: at, sum: a * math.Pi / 180, entry: identity()}
		h.finish(axis.Mul(h.sum))
		m.heats = append(m.heats, h)
	}
	m.ends[1] = at + straight[len(straight)-1]
	return m
}

// orders counts the possible orders by going over all sets.
func (m *model) orders() int {
	n := len(m.heats)
	ways := make([]int, 1<<n)
	ways[0] = 1
	for bits, w := range ways {
		if w == 0 {
			continue
		}
		var done set
		done[0] = uint64(bits)
		for h := range n {
			if bits>>h&1 == 0 && m.ask(done, h, false).reason == Possible {
				ways[bits|1<<h] += w
			}
		}
	}
	return ways[1<<n-1]
}

func (m *model) possible(order []int) bool {
	var done set
	for _, h := range order {
		if m.ask(done, h, false).reason != Possible {
			return false
		}
		done = done.with(h)
	}
	return true
}

func TestNumberOfPossibleOrders(t *testing.T) {
	b, err := os.ReadFile("testdata/bendorder.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Cases []struct {
			Name              string
			L, A              []float64
			D                 float64
			Orders            int
			Forward, Backward bool
		}
	}
	if err := json.Unmarshal(b, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Cases) != 14 {
		t.Fatalf("%d cases in the file, want 14", len(file.Cases))
	}
	for _, c := range file.Cases {
		m := chain(c.L, c.A, c.D)
		if got := m.orders(); got != c.Orders {
			t.Errorf("%s: %d orders, want %d", c.Name, got, c.Orders)
		}
		var forward, backward []int
		for i := range c.A {
			forward, backward = append(forward, i), append([]int{i}, backward...)
		}
		if got := m.possible(forward); got != c.Forward {
			t.Errorf("%s: from end to end %v, want %v", c.Name, got, c.Forward)
		}
		if got := m.possible(backward); got != c.Backward {
			t.Errorf("%s: the other way round %v, want %v", c.Name, got, c.Backward)
		}
		if got := len(m.peel(false, anySwing).moves) > 0; got != (c.Orders > 0) {
			t.Errorf("%s: the search finds an order: %v; there are %d", c.Name, got, c.Orders)
		}
	}
}
