package load

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tubewright/pattern/shop/quantity"
)

// Kind is how the output of a supply stands to ground.
type Kind int

const (
	Midpoint   Kind = iota // magnetic, midpoint of the winding grounded
	EndGround              // magnetic, one end grounded
	Isolated               // magnetic, neither end grounded
	Electronic             // high frequency
)

// Kinds returns the words for the kinds, in their order.
func Kinds() []string { return []string{"midpoint", "end-grounded", "isolated", "electronic"} }

func (k Kind) String() string { return Kinds()[k] }

// MostKV returns the greatest open-circuit rating that a kind of supply may have:
// 15 kV with the midpoint grounded and 7.5 kV with an end grounded (S32a, P);
// for the others the chart decides, 15 kV at most.
func (k Kind) MostKV() quantity.Quantity {
	if k == EndGround || k == Isolated {
		return quantity.Of("7.5", quantity.Kilovolt)
	}
	return quantity.Of("15", quantity.Kilovolt)
}

// Supply is one supply by its nameplate. Integral says that tube and supply are
// joined in a porcelain or glass housing without field wiring.
type Supply struct {
	Kind     Kind
	Rating   quantity.Quantity // kV, open circuit
	Current  quantity.Quantity // mA
	Integral bool
}

// VoltAmperes returns rating times current, the supply's size.
func (s Supply) VoltAmperes() quantity.Quantity { return s.Rating.Mul(s.Current) }

// NeedsGroundFaultProtection says by the exceptions that a maker states for
// UL 2161 (S76, P) whether the secondary must trip on a fault to ground, and
// why. The limit for isolated outputs differs by place: 7.5 kV in the USA,
// 6 kV in Canada (S77, P).
func (s Supply) NeedsGroundFaultProtection(isolatedLimit quantity.Quantity) (bool, string) {
	kv := func(v string) quantity.Quantity { return quantity.Of(v, quantity.Kilovolt) }
	limit := kv("3.001")
	switch s.Kind {
	case Midpoint:
		limit = kv("6.002")
	case Electronic:
		limit = kv("2.001")
	}
	withMargin := s.Current.Times(11, 10)
	switch {
	case s.Integral:
		return false, "integral porcelain or glass housing"
	case s.Current.Cmp(quantity.Int(15, quantity.Milliampere)) <= 0:
		return false, "15 mA or less"
	case s.Kind == Isolated && s.Rating.Cmp(isolatedLimit) <= 0:
		return false, "isolated output, not over " + isolatedLimit.Format(quantity.Kilovolt, 1)
	case withMargin.Cmp(quantity.Int(33, quantity.Milliampere)) <= 0 && s.Rating.Cmp(limit) <= 0 && s.Kind != Isolated:
		return false, fmt.Sprintf("not over 33 mA (rated + 10 %%) and %s", limit.Format(quantity.Kilovolt, 3))
	}
	return true, "none of the exceptions holds"
}

// RunningShare returns tube volts over open-circuit volts of a leakage
// transformer that gives the share i of its short-circuit current, taken as an
// ideal source behind a reactance: √(1 − i²), for 0 ≤ i ≤ 1 (D).
func RunningShare(i float64) float64 { return math.Sqrt(1 - float64(i*i)) }

// Branch is a branch circuit: supplies that share it, by index, and their sum.
type Branch struct {
	Supplies []int
	Sum      quantity.Quantity // VA
}

// BranchCapacity returns the continuous load of a branch circuit: 80 % of amperes
// times volts (S34b, P).
func BranchCapacity(amperes, volts, share quantity.Quantity) quantity.Quantity {
	return amperes.Mul(volts).Mul(share)
}

// Branches shares supplies out to branch circuits, the largest first into the
// first circuit that has room. It refuses a supply that no circuit carries.
func Branches(inputs []quantity.Quantity, capacity quantity.Quantity) ([]Branch, error) {
	order := make([]int, len(inputs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return inputs[b].Cmp(inputs[a]) })
	var out []Branch
	for _, i := range order {
		if capacity.Less(inputs[i]) {
			return nil, refuse("take a smaller supply or a larger branch circuit", "a supply of %s is more than the %s a branch circuit carries continuously",
				inputs[i].Format(quantity.VoltAmpere, 0), capacity.Format(quantity.VoltAmpere, 0))
		}
		k := slices.IndexFunc(out, func(b Branch) bool { return b.Sum.Add(inputs[i]).Cmp(capacity) <= 0 })
		if k < 0 {
			k = len(out)
			out = append(out, Branch{Sum: quantity.Int(0, quantity.VoltAmpere)})
		}
		out[k].Supplies = append(out[k].Supplies, i)
		out[k].Sum = out[k].Sum.Add(inputs[i])
	}
	for k := range out {
		slices.SortFunc(out[k].Supplies, func(a, b int) int { return cmp.Compare(a, b) })
	}
	return out, nil
}
