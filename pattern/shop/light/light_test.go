package light

import (
	"testing"

	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
)

// O16 (method of S7, D): one foot of 15 mm tube emits from 14,363 mm², 0.1546 ft².
func TestO16EmittingArea(t *testing.T) {
	got := EmittingArea(q.Int(15, q.Millimetre), q.Int(1, q.Foot))
	if got.Format(q.SquareMillimetre, 0) != "14363 mm²" || got.Format(q.SquareFoot, 4) != "0.1546 ft²" {
		t.Errorf("%s, %s", got.Format(q.SquareMillimetre, 2), got.Format(q.SquareFoot, 5))
	}
}

// O9 (S22, P): read red at d, blue at 0.75 d and green at 0.65 d.
func TestO9Colours(t *testing.T) {
	for colour, want := range map[string]string{"red": "100.0 m", "blue": "75.0 m", "green": "65.0 m"} {
		if got := OfColour(q.Int(100, q.Metre), colour).Format(q.Metre, 1); got != want {
			t.Errorf("%s: %s, want %s", colour, got, want)
		}
	}
}

// O10 (S51a, P): 100 mm are legible at 20 m. O11 (S51b, P): 10 in at 290 ft.
func TestO10O11Distances(t *testing.T) {
	if got := DesignDistance(q.Int(100, q.Millimetre)).Format(q.Metre, 1); got != "20.0 m" {
		t.Error(got)
	}
	if got := PaintedDistance(q.Int(10, q.Inch)).Format(q.Foot, 1); got != "290.0 ft" {
		t.Error(got)
	}
}

// N7 (S82, P).
func TestN7RedTable(t *testing.T) {
	set := table.Embedded()
	for in, ft := range map[int]int{6: 200, 12: 525, 24: 1000} {
		d, between, ok := FarthestRed(set, q.Int(in, q.Inch))
		if !ok || between || d.Cmp(q.Int(ft, q.Foot)) != 0 {
			t.Errorf("%d in: %s", in, d.Format(q.Foot, 1))
		}
	}
	if d, between, ok := FarthestRed(set, q.Int(5, q.Inch).Add(q.Of("0.5", q.Inch))); !ok || !between || d.Format(q.Foot, 1) != "187.5 ft" {
		t.Errorf("5.5 in: %s, between %v", d.Format(q.Foot, 2), between)
	}
	for _, in := range []string{"1.9", "36.1"} {
		if _, _, ok := FarthestRed(set, q.Of(in, q.Inch)); ok {
			t.Errorf("%s in lies outside the table", in)
		}
	}
}

// The table of trade 2.9 (D): hard at 1.27 D, comfortable at 2 D.
func TestLeastHeights(t *testing.T) {
	for _, tc := range []struct{ d, hard, easy int }{{8, 49, 72}, {10, 61, 90}, {12, 73, 108}, {15, 91, 135}, {18, 109, 162}} {
		d := q.Int(tc.d, q.Millimetre)
		hard, easy := LeastHeight(d, d.Times(127, 100)), LeastHeight(d, d.Times(2, 1))
		if hard.Round(q.Millimetre, 0).Cmp(q.Int(tc.hard, q.Millimetre)) != 0 || easy.Cmp(q.Int(tc.easy, q.Millimetre)) != 0 {
			t.Errorf("%d mm: %s, %s", tc.d, hard.Format(q.Millimetre, 1), easy.Format(q.Millimetre, 1))
		}
	}
}
