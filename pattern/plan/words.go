package plan

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/order"
)

// Messages holds every sentence of a plan, so that a plan can be told in another
// language. Places for figures are in the order in which English has them.
type Messages struct {
	Kinds      map[string]string // of bend.Heat.Kind
	Directions map[string]string // of bend.Heat.Direction
	Fires      map[string]string // of bend.Heat.Fire
	Ways       map[order.Way]string
	Reasons    map[order.Reason]string
	Sides      [2]string // order.Side

	Do      string // kind, direction, degrees, radius
	Flat    string // kind, direction: a heat without a turn of its own
	Swing   string // the side that stays, the side that swings, mm of travel
	Before  string // list of heats
	Last    string // nothing else waits for it
	Join    string // stick before, stick after
	Edge    string
	Lift    string // the side that swings, degrees
	Pinch   string
	Gather  string // wall left, percent
	Strain  string // list of heats
	NoOrder string
	Section string // number of the part, count
	Splice  string // mm from A
	And     string // between the last two of a list

	Number func(v float64, decimals int) string // writes a figure as the language does
}

// English returns the messages in English.
func English() Messages {
	return Messages{
		Kinds: map[string]string{bend.Corner: "corner", bend.Curve: "curve", bend.DoubleBack: "double-back",
			bend.DropBack: "drop-back", bend.Raise: "raise", bend.Drop: "drop"},
		Directions: map[string]string{"left": "left", "right": "right", "up": "up", "down": "down"},
		Fires:      map[string]string{bend.Crossfire: "crossfire", bend.Ribbon: "ribbon fire"},
		Ways: map[order.Way]string{order.FromA: "from end A to end B", order.FromB: "from end B to end A",
			order.Outwards: "from the inside outwards", order.Mixed: "in more than one place"},
		Reasons: map[order.Reason]string{
			order.Swing: "because the glass that swings hits other glass",
			order.Fire:  "because other glass stands in the fire",
			order.Hold:  "because there is too little cold glass to hold",
			order.Hand:  "because there is no room for a hand",
			order.Table: "because glass would be under the table",
		},
		Sides:   [2]string{"A", "B"},
		Do:      "%s %s %s°, R %s",
		Flat:    "%s %s, R %s",
		Swing:   "%s stays, swing %s: end travels %s mm.",
		Before:  "Before %s, which would be in the way.",
		Last:    "No other heat waits for it.",
		Join:    "First weld stick %d to stick %d.",
		Edge:    "At the table's edge: glass hangs below it.",
		Lift:    "Lift %s by %s° over the glass it passes, lower it last.",
		Pinch:   "Little room: hold it with the fingertips.",
		Gather:  "Tight: gather glass (wall %s %%).",
		Strain:  "Strain: meets the zone of %s; warm both, cool slowly.",
		NoOrder: "No order was found for this part: see the findings.",
		Section: "Part %d of %d, bent by itself.",
		Splice:  "Weld the parts at %s mm from A.",
		And:     "and",
		Number:  geom.FormatNumber,
	}
}

// Told is one heat of a plan in words. Step is −1, and How and Why are empty, in a
// section without an order.
type Told struct {
	Section, Step int       // indexes
	Heat          bend.Heat // with its number in the order of making
	Fire          string
	Bend          string // what is made
	How           string // what stays and what swings
	Why           string // why now
	Watch         []string
}

// Tell tells every step of the plan, in the order of making. Heats are those of
// the unit in the order of travel, renumbered by Make; strains those of
// bend.Strains. Sections without an order tell their heats along the tube.
func (p Plan) Tell(heats []bend.Heat, strains []bend.Strain, msg Messages) []Told {
	var out []Told
	for si, s := range p.Sections {
		if s.Block != nil {
			for i := s.First; i < s.Last; i++ {
				out = append(out, Told{Section: si, Step: -1, Heat: heats[i], Fire: msg.Fires[heats[i].Fire], Bend: msg.bend(heats[i]),
					Watch: []string{msg.NoOrder}})
			}
		}
		for k, step := range s.Order.Steps {
			i := s.First + step.Heat
			t := Told{Section: si, Step: k, Heat: heats[i], Fire: msg.Fires[heats[i].Fire]}
			t.Bend = msg.bend(heats[i])
			t.How = fmt.Sprintf(msg.Swing, msg.Sides[1-step.Swings], msg.Sides[step.Swings], whole(step.Travel))
			t.Why = msg.why(heats, s, step)
			t.Watch = msg.watch(p, heats, strains, si, k)
			out = append(out, t)
		}
	}
	return out
}

func whole(v float64) string { return geom.FormatNumber(v, 0) }

func (msg Messages) bend(h bend.Heat) string {
	kind := Capital(msg.Kinds[h.Kind])
	if h.Kind == bend.Raise || h.Kind == bend.Drop {
		return fmt.Sprintf(msg.Flat, kind, msg.Directions[h.Direction], msg.Number(h.Radius, 1))
	}
	return fmt.Sprintf(msg.Do, kind, msg.Directions[h.Direction], whole(h.Angle.Degrees()), msg.Number(h.Radius, 1))
}

// Capital begins a sentence.
func Capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

func (msg Messages) why(heats []bend.Heat, s Section, step order.Step) string {
	if len(step.Before) == 0 {
		return msg.Last
	}
	var numbers []int
	for _, b := range step.Before {
		numbers = append(numbers, heats[s.First+b].Number)
	}
	slices.Sort(numbers)
	return fmt.Sprintf(msg.Before, msg.list(numbers))
}

// list writes numbers as "2, 3 and 5".
func (msg Messages) list(numbers []int) string {
	var b strings.Builder
	for i, n := range numbers {
		switch {
		case i == 0:
		case i == len(numbers)-1:
			b.WriteString(" " + msg.And + " ")
		default:
			b.WriteString(", ")
		}
		fmt.Fprint(&b, n)
	}
	return b.String()
}

func (msg Messages) watch(p Plan, heats []bend.Heat, strains []bend.Strain, section, k int) []string {
	s := p.Sections[section]
	step := s.Order.Steps[k]
	i := s.First + step.Heat
	var out []string
	if k == 0 && len(p.Sections) > 1 {
		out = append(out, fmt.Sprintf(msg.Section, section+1, len(p.Sections)))
	}
	for _, j := range step.Joins {
		n := p.firstPiece(section) + j
		out = append(out, fmt.Sprintf(msg.Join, n+1, n))
	}
	if step.Edge {
		out = append(out, msg.Edge)
	}
	if step.Lift > 0 {
		out = append(out, fmt.Sprintf(msg.Lift, msg.Sides[step.Swings], whole(step.Lift.Degrees())))
	}
	if step.Pinch {
		out = append(out, msg.Pinch)
	}
	if heats[i].Tight {
		out = append(out, fmt.Sprintf(msg.Gather, whole(100*heats[i].Wall)))
	}
	var near []int
	for _, t := range strains {
		for _, pair := range [2][2]int{{t.Before, t.Before + 1}, {t.Before + 1, t.Before}} {
			if pair[0] == i && heats[pair[1]].Number < heats[i].Number {
				near = append(near, heats[pair[1]].Number)
			}
		}
	}
	if len(near) > 0 {
		out = append(out, fmt.Sprintf(msg.Strain, msg.list(near)))
	}
	if k == len(s.Order.Steps)-1 && section == len(p.Sections)-1 {
		for _, part := range p.Sections[:section] {
			out = append(out, fmt.Sprintf(msg.Splice, whole(part.To)))
		}
	}
	return out
}

// firstPiece returns the number of the first stick of a section.
func (p Plan) firstPiece(section int) int {
	for _, q := range p.Pieces {
		if q.Section == section {
			return q.Number
		}
	}
	return 1
}
