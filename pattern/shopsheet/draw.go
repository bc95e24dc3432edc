package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/shop"
	q "tubewright/pattern/shop/quantity"
)

// part is a group of pages: which sections it shows, under which title.
type part struct {
	title  string
	sheets []string
}

func parts() []part {
	return []part{
		{"Loading and wiring", []string{"loading"}},
		{"Materials, light, price: FOR THE SHOP ONLY", []string{"materials", "light", "price"}},
		{"Processing", []string{"process"}},
	}
}

// Draw returns the shop's own sheets, in the front frame, as the sign is read.
func Draw(p pattern.Pattern, plan shop.Plan) []*sheet.Sheet {
	b := newBook(plan)
	for _, part := range parts() {
		var list []shop.Section
		for _, s := range plan.Sections {
			if slices.Contains(part.sheets, s.Sheet) {
				list = append(list, s)
			}
		}
		b.flow(part.title, b.blocks(p, plan, list))
	}
	return b.sheets(title(plan))
}

// DrawQuote returns the quote for the customer. It is a book of its own: nothing
// of how the price came about goes with it.
func DrawQuote(plan shop.Plan) []*sheet.Sheet {
	b := newBook(plan)
	name := plan.Name
	for _, s := range plan.Sections {
		if s.Sheet == "quote" {
			b.job, name = plan.Name, s.Title+": "+plan.Name
			b.foot = ""
			b.flow(s.Title, []block{quoteBlock(s, b.width(), plan.Spec.Currency)})
		}
	}
	return b.sheets(name)
}

// quoteBlock lays the quote out in one wide column: names, and values beside them.
func quoteBlock(s shop.Section, width float64, currency string) block {
	const name = 62.0
	bl := block{full: true}
	for _, f := range s.Figures {
		value := f.String()
		if f.Unit == q.Money && f.Text == "" {
			value += " " + currency
		}
		var r row
		h := r.flow(column(0, name-3), plain(f.Name))
		r.height = max(h, r.flow(column(name, width-name), strong(value))) + 1.6
		bl.rows = append(bl.rows, r)
	}
	for _, l := range s.Lines {
		bl.rows = append(bl.rows, row{height: 1.2}, paragraphRow(width, plain(l)))
	}
	bl.rows = append(bl.rows, row{height: 4}, blankRow(s.Blanks, width))
	return bl
}

// DrawUnit returns the sheets of one unit alone: its processing card with the
// cautions and stages that go with it.
func DrawUnit(plan shop.Plan, unit string) ([]*sheet.Sheet, error) {
	b := newBook(plan)
	var list []shop.Section
	found := false
	for _, s := range plan.Sections {
		if s.Unit == unit || slices.Contains([]string{"cautions-process", "stages", "faults"}, s.ID) {
			list = append(list, s)
			found = found || s.Unit == unit
		}
	}
	if !found {
		return nil, fmt.Errorf("there is no unit %q; the job has U1 to U%d", unit, len(plan.Units))
	}
	b.flow("Processing, unit "+unit, b.blocks(pattern.Pattern{}, plan, list))
	return b.sheets(title(plan)), nil
}

// blocks lays sections out, and says once what the cards' figures rest on.
func (b *book) blocks(p pattern.Pattern, plan shop.Plan, list []shop.Section) []block {
	var out []block
	var cards []shop.Section
	for _, s := range list {
		if s.Unit != "" {
			cards = append(cards, s)
			continue
		}
		out = append(out, b.blockOf(p, plan, s))
	}
	if len(cards) > 0 {
		out = append(out, block{title: "What the figures of the cards rest on", full: true, rows: legendOf(cards, b.width())})
	}
	for _, s := range cards {
		bl := block{title: s.Title, full: true, rows: []row{cardRow(s, b.width())}}
		for _, n := range s.Notes {
			bl.rows = append(bl.rows, noteRow(n, b.width()))
		}
		out = append(out, bl)
	}
	return out
}

// blockOf lays a section out.
func (b *book) blockOf(p pattern.Pattern, plan shop.Plan, s shop.Section) block {
	bl := block{title: s.Title}
	i, wiring := strings.CutPrefix(s.ID, "wiring-C")
	n := 0
	if wiring {
		fmt.Sscanf(i, "%d", &n)
	}
	bl.full = slices.Contains([]string{"job", "units", "manifold", "stages", "faults"}, s.ID) || strings.HasPrefix(s.ID, "cautions-") || wiring && isWide(p, plan.Circuits[n-1])
	width := b.half()
	if bl.full {
		width = b.width()
	}
	switch {
	case s.ID == "job":
		bl.title, bl.rows = "", []row{jobRow(s, width)}
		for _, n := range s.Notes {
			bl.rows = append(bl.rows, noteRow(n, width))
		}
		return bl
	case strings.HasPrefix(s.ID, "cautions-"):
		bl.title, bl.rows = "", []row{cautionRow(s.Lines, width)}
		return bl
	case slices.Contains([]string{"limits", "unchecked", "manifold", "faults"}, s.ID):
		for _, n := range s.Notes {
			bl.rows = append(bl.rows, noteRow(n, width))
		}
		bl.rows = append(bl.rows, runningRows(s, width)...)
		return bl
	case s.ID == "stages":
		bl.rows = stageRows(s, width)
		return bl
	case wiring:
		bl.rows = append(bl.rows, wiringRow(p, plan.Circuits[n-1], width))
	}
	bl.rows = append(bl.rows, sectionRows(s, width)...)
	return bl
}

// sectionRows lays out what most sections have.
func sectionRows(s shop.Section, width float64) []row {
	var out []row
	for _, n := range s.Notes {
		out = append(out, noteRow(n, width))
	}
	if s.Grid != nil {
		out = append(out, gridRows(s.Grid, width)...)
		out = append(out, paragraphRow(width, faint(columnRules(s.Grid))))
	}
	for _, f := range s.Figures {
		out = append(out, figureRow(f, width))
	}
	for _, l := range s.Lines {
		out = append(out, paragraphRow(width, plain(l)))
	}
	if len(s.Blanks) > 0 {
		out = append(out, blankRow(s.Blanks, width))
	}
	return out
}

// jobRow writes the head of the job as running text.
func jobRow(s shop.Section, width float64) row {
	var spans []span
	for i, f := range s.Figures {
		value := f.String()
		if i < len(s.Figures)-1 {
			value += ";"
		}
		spans = append(spans, plain(f.Name), strong(value))
		if rule := cited(f); rule != "" && f.Source != shop.ByJob { // the head of the job is its own word
			spans = append(spans, faint(rule))
		}
	}
	return paragraphRow(width, spans...)
}

// runningRows write what is looked up now and then, not read off, as running text:
// each name in bold with its words after it.
func runningRows(s shop.Section, width float64) []row {
	var spans []span
	for _, f := range s.Figures {
		spans = append(spans, strong(f.Name+":"), plain(f.String()), faint(cited(f)))
	}
	for _, l := range s.Lines {
		spans = append(spans, plain(l))
	}
	return linesOf(paragraphRow(width, spans...))
}

// footLine stands on every page but the customer's.
const footLine = "Checks arithmetic, not compliance: local code and licensed people decide. Front frame; not to scale."

func newBook(plan shop.Plan) *book {
	b := &book{foot: footLine}
	b.wide, b.high = paper(plan.Spec.Place)
	for _, s := range plan.Sections {
		if s.ID != "job" {
			continue
		}
		var words []string
		if plan.Name != "" {
			words = append(words, "Job "+plan.Name)
		}
		text := ""
		for _, f := range s.Figures {
			switch f.Name {
			case "text":
				text = "text " + f.String() // last: a long one is clipped, and whole on the first page
			case "tube, outside diameter D":
				words = append(words, "tube "+f.String())
			case "colour", "glass":
				words = append(words, f.Name+" "+strings.SplitN(f.String(), ":", 2)[0])
			case "place":
				words = append(words, f.String())
			}
		}
		b.job = strings.Join(append(words, text), "; ")
	}
	return b
}

func title(plan shop.Plan) string {
	if plan.Name == "" {
		return "Shop sheets"
	}
	return "Shop sheets: " + plan.Name
}
