package card

import (
	"fmt"

	"tubewright/pattern/bend"
	"tubewright/pattern/order"
	"tubewright/pattern/plan"
	"tubewright/pattern/words"
)

// The keys of the ways and reasons are numbered in these orders.
var (
	ways    = [4]order.Way{order.FromA, order.FromB, order.Outwards, order.Mixed}
	reasons = [5]order.Reason{order.Swing, order.Fire, order.Hold, order.Hand, order.Table}
)

// Messages returns the sentences of a bend plan in a language.
func Messages(w words.Words) plan.Messages {
	m := plan.English()
	m.Swing, m.Before, m.Last, m.Join = w.Say("plan.swing"), w.Say("plan.before"), w.Say("plan.last"), w.Say("plan.join")
	m.Edge, m.Lift, m.Pinch = w.Say("plan.edge"), w.Say("plan.lift"), w.Say("plan.pinch")
	m.Gather, m.Strain = w.Say("plan.gather"), w.Say("plan.strain")
	m.Section, m.Splice, m.And = w.Say("plan.section"), w.Say("plan.splice"), w.Say("plan.and")
	m.NoOrder, m.Do, m.Flat = w.Say("plan.noorder"), w.Say("bend.angle"), w.Say("bend.flat")
	m.Number = w.Number
	m.Fires = map[string]string{bend.Crossfire: w.Say("fire.crossfire"), bend.Ribbon: w.Say("fire.ribbon")}
	for k := range m.Kinds {
		m.Kinds[k] = w.Say("kind." + k)
	}
	for k := range m.Directions {
		m.Directions[k] = w.Say("dir." + k)
	}
	for i, k := range ways {
		m.Ways[k] = w.Say(fmt.Sprintf("way.%d", i))
	}
	for i, k := range reasons {
		m.Reasons[k] = w.Say(fmt.Sprintf("reason.%d", i))
	}
	return m
}
