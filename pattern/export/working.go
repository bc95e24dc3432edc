package export

import (
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/stick"
)

// heat is one working step. Heated is the heated zone along the tube, on_stick the
// same on the straight stick of that number, from its marked end; wall is the
// share of the outer wall that is left; strain_with names the heats whose zones
// come near.
type heat struct {
	Number    int    `json:"number"`
	Kind      string `json:"kind"`
	Segments  [2]int `json:"segments"`
	Start     mm     `json:"start"`
	End       mm     `json:"end"`
	Angle     degree `json:"angle"`
	Radius    mm     `json:"radius"`
	Direction string `json:"direction"`
	At        place  `json:"at"`
	Fire      string `json:"fire"`
	Heated    [2]mm  `json:"heated"`
	Wall      mm     `json:"wall"`
	Tight     bool   `json:"tight"`
	Stick     int    `json:"stick"`
	OnStick   [2]mm  `json:"on_stick"`
	Strain    []int  `json:"strain_with"`
}

// piece is a stick of the unit: the stretch of the unit that comes from it, and
// its marks, mm from its marked end.
type piece struct {
	Number int    `json:"number"`
	Part   int    `json:"part"`
	From   mm     `json:"from"`
	To     mm     `json:"to"`
	Length mm     `json:"length"`
	Marks  []mark `json:"marks"`
}

// part is a stretch of the unit that is bent as one: in which way its order of heats
// goes, the largest swing in it, and what is proved of that.
type part struct {
	From    mm     `json:"from"`
	To      mm     `json:"to"`
	Heats   int    `json:"heats"`
	Way     string `json:"way"`
	Largest mm     `json:"largest_swing"`
	Bound   mm     `json:"bound"`
	Gap     ratio  `json:"gap"`
	Exact   bool   `json:"exact"`
}

// noOrder is the way of a part for which no order was found.
const noOrder = "none"

func partsOf(u pattern.Unit) []part {
	out := []part{}
	for _, s := range u.Plan.Sections {
		q := part{From: mm(s.From), To: mm(s.To), Heats: s.Last - s.First, Way: noOrder}
		if s.Block == nil {
			q.Way, q.Largest, q.Bound = s.Order.Way.String(), mm(s.Order.LargestTravel()), mm(s.Order.Bound)
			q.Gap, q.Exact = ratio(s.Order.Gap()), s.Order.Exact
		}
		out = append(out, q)
	}
	return out
}

type mark struct {
	At   mm     `json:"at"`
	Kind string `json:"kind"`
	Heat int    `json:"heat,omitempty"`
}

func heatOf(u pattern.Unit, h bend.Heat, strains []bend.Strain) heat {
	number, from, to := stick.Zone(u.Plan.Pieces, h.Number)
	start, end := h.Span(u.Tube)
	out := heat{Number: h.Number, Kind: h.Kind, Segments: [2]int{h.First, h.Last}, Start: mm(start), End: mm(end),
		Angle: degree(h.Angle.Degrees()), Radius: mm(h.Radius), Direction: h.Direction, At: placeOf(h.At),
		Fire: h.Fire, Heated: [2]mm{mm(h.From), mm(h.To)}, Wall: mm(h.Wall), Tight: h.Tight,
		Stick: number, OnStick: [2]mm{mm(from), mm(to)}, Strain: []int{}}
	for _, i := range strainsOf(strains, u.Heats, h.Number) {
		out.Strain = append(out.Strain, u.Heats[i].Number)
	}
	return out
}

func sticksOf(u pattern.Unit) []piece {
	out := []piece{}
	for _, p := range u.Plan.Pieces {
		q := piece{Number: p.Number, Part: p.Section + 1, From: mm(p.From), To: mm(p.To), Length: mm(p.Length), Marks: []mark{}}
		for _, m := range p.Marks {
			q.Marks = append(q.Marks, mark{mm(m.At), m.Kind, m.Heat})
		}
		out = append(out, q)
	}
	return out
}
