package route

// Costs weighs what a bender would rather avoid, all in mm-equivalents: one
// unit of cost is the trouble of one more millimetre of hidden glass. The
// defaults follow the trade's preferences (common practice, no source).
type Costs struct {
	Hidden     float64 // a mm of hidden glass
	Paint      float64 // a mm of hidden glass that is not behind lit glass, so that it must be painted out all round
	Bend       float64 // a bend of the hidden glass
	DoubleBack float64 // a turn behind the face at the end of a stroke
	Crowded    float64 // a mm by which a turn is tighter than usual
	Electrodes float64 // a pair of electrodes: one more unit
}

// Taste names a set of weights. As usual, and for the fewest electrodes, the
// fewest units come first and the cost decides among those; for the fewest
// electrodes units also run on from line to line. For the least paint and the
// fewest bends the cost alone decides, so that a unit may end rather than go on
// behind the face.
type Taste string

const (
	TasteUsual            Taste = ""
	TasteFewestElectrodes Taste = "fewest-electrodes"
	TasteLeastPaint       Taste = "least-paint"
	TasteFewestBends      Taste = "fewest-bends"
)

// CostsFor returns the weights of a taste and whether it is known.
func CostsFor(t Taste) (Costs, bool) {
	c := Costs{Hidden: 1, Paint: 0.5, Bend: 30, DoubleBack: 40, Crowded: 10, Electrodes: 600}
	switch t {
	case TasteUsual:
	case TasteFewestElectrodes:
		c.Electrodes = 5000
	case TasteLeastPaint:
		c.Paint = 10
	case TasteFewestBends:
		c.Bend, c.DoubleBack = 225, 225
	default:
		return Costs{}, false
	}
	return c, true
}
