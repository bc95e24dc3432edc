package shop

import (
	"fmt"
	"strings"

	q "tubewright/pattern/shop/quantity"
)

// quote is the customer's sheet, in the language of the job: what is made and what
// it costs, nothing of how the price came about.
func (m *maker) quote(price q.Quantity) Section {
	w := m.Words.OrEnglish()
	s := Section{ID: "quote", Title: w.Say("quote.title"), Sheet: "quote"}
	say := func(key, text string) { s.add(said(w.Say("quote."+key), text)) }
	if m.p.Spec.Name != "" {
		say("job", m.p.Spec.Name)
	}
	say("wording", strings.Join(m.p.Spec.Text, " / "))
	if m.p.Spec.Font != "" {
		say("face", m.p.Spec.Font)
	}
	s.add(fig(w.Say("quote.height"), q.FromFloat(m.p.Spec.Height, q.Millimetre, 0), q.Millimetre, 0))
	s.add(fig(w.Say("quote.tube"), m.diameter, q.Millimetre, 1))
	for _, k := range m.glassKinds() {
		c, _ := m.tables.Table("colours").Find(k.Colour)
		say("colour", w.Say("quote.sample", m.seen(c.Text("seen"))))
	}
	say("use", m.useWords())
	say("made", w.Say("quote.units", fmt.Sprint(len(m.units)), fmt.Sprint(len(m.circuits))))
	if m.anyMercury() {
		say("mercury", w.Say("quote.waste"))
	}
	s.add(fig(w.Say("quote.sets"), q.Int(m.Sets, q.Piece), q.Piece, 0))
	s.add(fig(w.Say("quote.price", m.Currency), price, q.Money, 2))
	if m.hasInvented() {
		s.Lines = append(s.Lines, w.Say("quote.demo"))
	}
	s.Lines = append(s.Lines, w.Say("quote.without"), w.Say("quote.tolerance"), w.Say("quote.safety"))
	for _, k := range []string{"valid", "delivery", "extras", "drawing", "number", "spelling"} {
		s.Blanks = append(s.Blanks, w.Say("quote."+k))
	}
	return s
}

// seen is how a lit colour looks, in the language of the job where it is one of the
// embedded table's; a shop's own word stands as it is.
func (m *maker) seen(word string) string {
	if w := m.Words.OrEnglish(); w.Has("seen." + word) {
		return w.Say("seen." + word)
	}
	return word
}

func (m *maker) useWords() string {
	w := m.Words.OrEnglish()
	place := w.Say("quote.outdoors")
	if m.Indoors {
		place = w.Say("quote.indoors")
	}
	if m.ambient != nil {
		return w.Say("quote.ambient", place, m.ambient.Format(q.Celsius, 0))
	}
	return w.Say("quote.noambient", place)
}
