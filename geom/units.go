package geom

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Length is a distance on the finished, full-size sign, in millimetres.
type Length float64

const (
	Millimetre Length = 1
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25.4 * Millimetre // exact, by definition
	Foot              = 12 * Inch         // exact, by definition
)

// maxLength bounds what ParseLength accepts. No sign is a kilometre long, and
// a bound keeps every later sum far from overflow.
const maxLength = 1_000_000 * Millimetre

var lengthUnits = []struct {
	name string
	mm   string // exact decimal number of millimetres
}{
	{"mm", "1"}, {"cm", "10"}, {"m", "1000"}, {"in", "25.4"}, {"ft", "304.8"},
}

// ParseLength reads a length such as "12mm", "1/2in", "1 1/2in", "5ft 6in" or
// "0.5 m". A unit is always required: a bare number is an error, because a
// guess between millimetres and inches is paid for in glass. The sum is worked
// out in exact fractions and rounded once. Lengths over 1 km, negative
// lengths and anything that is not a number are refused.
func ParseLength(s string) (Length, error) {
	text := strings.TrimSpace(s)
	if text == "" {
		return 0, fmt.Errorf("empty length; write a number and a unit, as in 12mm or 1/2in")
	}
	if len(text) > 64 {
		return 0, fmt.Errorf("length of %d characters; write a number and a unit, as in 12mm or 1/2in", len(text))
	}
	if rest, negative := strings.CutPrefix(text, "-"); negative {
		if _, err := ParseLength(rest); err == nil {
			return 0, fmt.Errorf("length %q is negative; write it without the minus, as in %s", s, strings.TrimSpace(rest))
		}
	}
	total, value := new(big.Rat), new(big.Rat)
	seenValue, seenUnit := false, false
	for rest := text; rest != ""; rest = strings.TrimLeft(rest, " ") {
		if n := numberPrefix(rest); n > 0 {
			v, err := parseNumber(rest[:n])
			if err != nil {
				return 0, fmt.Errorf("length %q: %w", s, err)
			}
			value.Add(value, v)
			seenValue, rest = true, rest[n:]
			continue
		}
		n := unitPrefix(rest)
		if n == 0 || !seenValue {
			return 0, fmt.Errorf("length %q: cannot read %q; write a number and a unit, as in 12mm or 1/2in", s, rest)
		}
		mm, ok := unitSize(rest[:n])
		if !ok {
			return 0, fmt.Errorf("length %q: unknown unit %q; use mm, cm, m, in or ft", s, rest[:n])
		}
		total.Add(total, value.Mul(value, mm))
		value = new(big.Rat)
		seenValue, seenUnit, rest = false, true, rest[n:]
	}
	if seenValue || !seenUnit {
		return 0, fmt.Errorf("length %q has no unit; write %smm or %sin", s, text, text)
	}
	f, _ := total.Float64()
	if f > float64(maxLength) {
		return 0, fmt.Errorf("length %q is over 1 km; check the unit", s)
	}
	return Length(f), nil
}

// numberPrefix returns how many bytes of s form a number: digits, one point,
// and one slash of a fraction.
func numberPrefix(s string) int {
	for i := 0; i < len(s); i++ {
		if c := s[i]; (c < '0' || c > '9') && c != '.' && c != '/' {
			return i
		}
	}
	return len(s)
}

func unitPrefix(s string) int {
	for i := 0; i < len(s); i++ {
		if c := s[i]; (c < 'a' || c > 'z') && (c < 'A' || c > 'Z') && c != '"' && c != '\'' {
			return i
		}
	}
	return len(s)
}

func unitSize(name string) (*big.Rat, bool) {
	for _, u := range lengthUnits {
		if strings.EqualFold(u.name, name) {
			r, ok := new(big.Rat).SetString(u.mm)
			return r, ok
		}
	}
	return nil, false
}

func parseNumber(s string) (*big.Rat, error) {
	bad := fmt.Errorf("%q is not a number", s)
	num, den, isFraction := strings.Cut(s, "/")
	if isFraction && (num == "" || den == "" || strings.ContainsAny(s, ".") || strings.Contains(den, "/") || strings.Trim(den, "0") == "") {
		return nil, bad
	}
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		return nil, bad
	}
	return r, nil
}

// UnmarshalText reads a length with its unit; see ParseLength.
func (l *Length) UnmarshalText(b []byte) error {
	v, err := ParseLength(string(b))
	if err != nil {
		return err
	}
	*l = v
	return nil
}

// MarshalText writes the length in millimetres, as String does.
func (l Length) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// String writes the length in millimetres with at most three decimals: "12mm".
func (l Length) String() string { return FormatNumber(float64(l), 3) + "mm" }

// FormatNumber writes v with at most the given number of decimals, without
// trailing zeros and never as "-0": the one way a coordinate is printed.
func FormatNumber(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Angle is a plane angle in radians.
type Angle float64

const (
	Radian Angle = 1
	Degree       = math.Pi / 180 * Radian
)

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) * (180 / math.Pi) }

// Radians returns the angle in radians.
func (a Angle) Radians() float64 { return float64(a) }

// Abs returns the size of the angle without its sign.
func (a Angle) Abs() Angle { return Angle(math.Abs(float64(a))) }

// Normalised returns the same direction in (-π, π].
func (a Angle) Normalised() Angle {
	v := math.Remainder(float64(a), 2*math.Pi)
	if v <= -math.Pi {
		v += 2 * math.Pi
	}
	return Angle(v)
}
