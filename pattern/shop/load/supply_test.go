package load

import (
	"testing"

	q "tubewright/pattern/shop/quantity"
)

func supply(k Kind, kv string, ma int) Supply {
	return Supply{Kind: k, Rating: q.Of(kv, q.Kilovolt), Current: q.Int(ma, q.Milliampere)}
}

// N8 and N9: the exceptions as a maker states them (S76, P; Canada S77, P), 60 Hz.
func TestGroundFaultProtection(t *testing.T) {
	us, ca := q.Of("7.5", q.Kilovolt), q.Of("6", q.Kilovolt)
	for _, tc := range []struct {
		name  string
		s     Supply
		limit q.Quantity
		want  bool
	}{
		{"N8 9 kV 30 mA midpoint", supply(Midpoint, "9", 30), us, true},
		{"N8 3 kV 30 mA", supply(EndGround, "3", 30), us, false},
		{"N8 3 kV 60 mA", supply(EndGround, "3", 60), us, true},
		{"N8 6 kV 30 mA midpoint", supply(Midpoint, "6", 30), us, false},
		{"N9 7 kV isolated, USA", supply(Isolated, "7", 30), us, false},
		{"N9 7 kV isolated, Canada", supply(Isolated, "7", 30), ca, true},
		{"2 kV electronic", supply(Electronic, "2", 30), us, false},
		{"3 kV electronic", supply(Electronic, "3", 30), us, true},
		{"15 mA", supply(Midpoint, "15", 15), us, false},
		{"all 60 mA standard units", supply(Midpoint, "4", 60), us, true},
	} {
		if got, why := tc.s.NeedsGroundFaultProtection(tc.limit); got != tc.want {
			t.Errorf("%s: %v (%s), want %v", tc.name, got, why, tc.want)
		}
	}
	integral := supply(Midpoint, "9", 60)
	integral.Integral = true
	if need, _ := integral.NeedsGroundFaultProtection(us); need {
		t.Error("an integral housing is an exception")
	}
}

// O17 (D from S32a): 15 kV at 30 and 60 mA are 450 and 900 VA, under 4,500.
func TestO17VoltAmperes(t *testing.T) {
	for ma, want := range map[int]int{30: 450, 60: 900} {
		got := supply(Midpoint, "15", ma).VoltAmperes()
		if got.Cmp(q.Int(want, q.VoltAmpere)) != 0 || !got.Less(q.Int(4500, q.VoltAmpere)) {
			t.Errorf("%d mA: %s", ma, got.Format(q.VoltAmpere, 0))
		}
	}
}

// O18 (S34b, P): 20 A at 120 V carry 16 A, 1,920 VA: four of 450 or two of 900.
func TestO18Branch(t *testing.T) {
	capacity := BranchCapacity(q.Int(20, q.Ampere), q.Int(120, q.Volt), q.Int(80, q.Percent))
	if capacity.Format(q.VoltAmpere, 0) != "1920 VA" || capacity.Div(q.Int(120, q.Volt)).Format(q.Ampere, 1) != "16.0 A" {
		t.Errorf("capacity %s", capacity.Format(q.VoltAmpere, 3))
	}
	for _, tc := range []struct{ va, n, circuits int }{{450, 4, 1}, {450, 5, 2}, {900, 2, 1}, {900, 3, 2}} {
		var in []q.Quantity
		for range tc.n {
			in = append(in, q.Int(tc.va, q.VoltAmpere))
		}
		got, err := Branches(in, capacity)
		if err != nil || len(got) != tc.circuits {
			t.Errorf("%d of %d VA: %d circuits, %v; want %d", tc.n, tc.va, len(got), err, tc.circuits)
		}
		sum, seen := q.Int(0, q.VoltAmpere), 0
		for _, b := range got {
			sum, seen = sum.Add(b.Sum), seen+len(b.Supplies)
		}
		if sum.Cmp(q.Int(tc.va*tc.n, q.VoltAmpere)) != 0 || seen != tc.n {
			t.Errorf("%d supplies of %s in all", seen, sum.Format(q.VoltAmpere, 0))
		}
	}
	if _, err := Branches([]q.Quantity{q.Int(2000, q.VoltAmpere)}, capacity); err == nil {
		t.Error("a supply of 2,000 VA was put on a circuit of 1,920")
	}
}

// N1 (D) and the table of trade2 1.3: tube volts as a share of the open-circuit
// volts, against current as a share of the rated one.
func TestN1RunningShare(t *testing.T) {
	for _, tc := range []struct{ i, want float64 }{
		{25.0 / 30, 0.553}, {0.95, 0.31}, {0.90, 0.44}, {0.83, 0.56}, {0.80, 0.60}, {0.75, 0.66}, {0.70, 0.71}, {0, 1}, {1, 0},
	} {
		if got := RunningShare(tc.i); got < tc.want-0.005 || got > tc.want+0.005 {
			t.Errorf("I/Isc %.3f: V/V0 %.4f, want %.3f", tc.i, got, tc.want)
		}
	}
}
