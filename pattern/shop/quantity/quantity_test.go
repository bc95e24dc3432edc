package quantity

import (
	"math/big"
	"strings"
	"testing"
)

func TestExactDecimals(t *testing.T) {
	// 7.2 × 0.75 is 5.40 in decimals and 5.3999… in binary floating point.
	got := Of("7.2", Metre).Mul(Of("0.75", KilovoltPerMetre))
	if got.Cmp(Of("5.40", Kilovolt)) != 0 {
		t.Errorf("7.2 m × 0.75 kV/m = %s", got.Format(Kilovolt, 6))
	}
}

func TestConversions(t *testing.T) {
	for _, tc := range []struct {
		q    Quantity
		u    Unit
		n    int
		want string // by the definitions of the units
	}{
		{Of("4", Foot), Millimetre, 1, "1219.2 mm"},
		{Of("1", Inch), Millimetre, 1, "25.4 mm"},
		{Of("760", Torr), Millibar, 2, "1013.25 mbar"},
		{Of("1", Torr), Micron, 0, "1000 micron"},
		{Of("120", TorrMillimetre).Div(Of("12", Millimetre)), Torr, 1, "10.0 Torr"},
		{Of("15", Kilovolt).Mul(Of("30", Milliampere)), VoltAmpere, 0, "450 VA"},
		{Of("90", Minute), Hour, 1, "1.5 h"},
		{Of("30", MoneyPerHour).Mul(Of("20", Minute)), Money, 2, "10.00"},
		{Of("-0.001", Metre), Metre, 1, "0.0 m"},
	} {
		if got := tc.q.Format(tc.u, tc.n); got != tc.want {
			t.Errorf("got %s, want %s", got, tc.want)
		}
	}
}

// Every unit has a size, and its dimension is that of what its name says: the
// product of rate and measure is the thing itself.
func TestUnitsAreWhatTheyAreCalled(t *testing.T) {
	for _, tc := range []struct{ rate, measure, thing Unit }{
		{GramPerMetre, Metre, Gram}, {MilligramPerPiece, Piece, Milligram}, {MilligramPerCentimetre, Centimetre, Milligram},
		{VoltPerPiece, Piece, Volt}, {KilovoltPerMetre, Metre, Kilovolt}, {WattPerMetre, Metre, Watt},
		{MinutePerPiece, Piece, Minute}, {MoneyPerPiece, Piece, Money}, {MoneyPerMetre, Metre, Money}, {MoneyPerHour, Hour, Money},
		{LumenPerMetre, Metre, Lumen}, {MetrePerPiece, Piece, Metre}, {MillimetrePerPiece, Piece, Millimetre}, {Torr, Millilitre, TorrMillilitre},
		{Kilovolt, Ampere, VoltAmpere}, {Torr, Millimetre, TorrMillimetre}, {PerKelvin, Celsius, One},
	} {
		q := Int(1, tc.rate).Mul(Int(1, tc.measure))
		if !q.Is(tc.thing) {
			t.Errorf("%s × %s is not of the dimension of %s", tc.rate.Symbol(), tc.measure.Symbol(), tc.thing.Symbol())
		}
		switch tc.thing {
		case VoltAmpere, One: // kV × A, and parts in ten million
		default:
			if q.Cmp(Int(1, tc.thing)) != 0 {
				t.Errorf("1 %s × 1 %s = %s", tc.rate.Symbol(), tc.measure.Symbol(), q.Format(tc.thing, 6))
			}
		}
	}
	for u := range unitCount {
		if i := u.info(); i.num <= 0 || i.den <= 0 {
			t.Errorf("unit %d has no size", u)
		}
	}
}

func TestUnlikeDimensionsPanic(t *testing.T) {
	for name, f := range map[string]func(){
		"sum":        func() { Int(1, Metre).Add(Int(1, Volt)) },
		"difference": func() { Int(1, Torr).Sub(Int(1, Volt)) },
		"comparison": func() { Int(1, Piece).Cmp(Int(1, One)) },
		"reading":    func() { Int(1, Metre).Format(Kilovolt, 1) },
		"minimum":    func() { Int(1, Milligram).Min(Int(1, Millimetre)) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			f()
		})
	}
}

func TestCeil(t *testing.T) {
	for _, tc := range []struct {
		v    string
		want int
	}{{"2", 2}, {"2.0001", 3}, {"0", 0}, {"-1.5", -1}, {"0.1", 1}} {
		if got := Of(tc.v, Metre).Ceil(Metre); got != tc.want {
			t.Errorf("ceiling of %s: %d, want %d", tc.v, got, tc.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, s := range []string{"", "-", ".", "1.", ".5", "1e3", "1/2", "0x1", "+1", "1,5", "1_0", "NaN", "Inf", "١", strings.Repeat("9", 31)} {
		if q, err := Parse(s, Metre); err == nil {
			t.Errorf("%q was read as %s", s, q.Format(Metre, 3))
		}
	}
}

// What is printed reads back to what was rounded, and a sum of roundings is the
// sum of what is printed.
func FuzzPrintedSums(f *testing.F) {
	f.Add(int64(12345), int64(-7), uint8(1))
	f.Fuzz(func(t *testing.T, a, b int64, decimals uint8) {
		n := int(decimals % 6)
		p := FromRat(big.NewRat(a, 7), Millimetre).Round(Millimetre, n)
		q := FromRat(big.NewRat(b, 3), Millimetre).Round(Millimetre, n)
		read := func(x Quantity) Quantity {
			y, err := Parse(x.Number(Millimetre, n), Millimetre)
			if err != nil {
				t.Fatal(err)
			}
			return y
		}
		if p.Add(q).Cmp(read(p).Add(read(q))) != 0 || read(p.Add(q)).Cmp(p.Add(q)) != 0 {
			t.Errorf("%s + %s is printed as %s", p.Number(Millimetre, n), q.Number(Millimetre, n), p.Add(q).Number(Millimetre, n))
		}
	})
}
