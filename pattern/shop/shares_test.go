package shop

import (
	"math/rand"
	"testing"

	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/stick"
)

// A piece parted at the changes of colour loses no glass, each span gets what lies
// in it, and a piece within one span stays whole.
func TestSharesLoseNothing(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for range 500 {
		total := 0.0
		var spans []Span
		for range 1 + rnd.Intn(4) {
			l := float64(1 + rnd.Intn(900))
			total += l
			spans = append(spans, Span{Length: q.FromFloat(l, q.Millimetre, 1)})
		}
		from := total * rnd.Float64() * 0.8
		p := stick.Piece{From: from, To: from + (total-from)*(0.1+0.9*rnd.Float64()), Head: 150, Tail: 90}
		p.Length = p.Head + (p.To-p.From)*1.01 + p.Tail
		sum := q.Int(0, q.Millimetre)
		at := 0.0
		for k, l := range shares(p, spans) {
			sum = sum.Add(l)
			end := at + spans[k].Length.Float(q.Millimetre)
			within := max(0, min(end, p.To)-max(at, p.From))
			if got := l.Float(q.Millimetre); (within > 1e-9) != (got > 0.05) && within > 0.1 || got > within*1.01+p.Head+p.Tail+0.2 {
				t.Fatalf("span %d of %v gets %g of piece %+v, of which %g lies in it", k, spans, got, p, within)
			}
			at = end
		}
		if sum.Cmp(q.FromFloat(p.Length, q.Millimetre, 1)) != 0 {
			t.Fatalf("%s of %g mm", sum.Format(q.Millimetre, 1), p.Length)
		}
	}
}
