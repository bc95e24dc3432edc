package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/shop"
)

// part is a group of pages: which sections it shows, under which title.
type part struct {
	title  string
	sheets []string
}

func parts() []part {
	return []part{
		{"Loading and wiring", []string{"loading"}},
		{"Materials and light", []string{"materials", "light"}},
		{"Processing", []string{"process"}},
		{"Price: FOR THE SHOP ONLY", []string{"price"}},
	}
}

// footLine stands on every page.
const footLine = "Checks arithmetic, not compliance: local code and licensed people decide. Front frame; not to scale."

// Draw returns the shop's own sheets, in the front frame, as the sign is read.
func Draw(p pattern.Pattern, plan shop.Plan) []*sheet.Sheet {
	b := newBook(plan)
	for _, part := range parts() {
		var blocks []block
		for _, s := range plan.Sections {
			if !slices.Contains(part.sheets, s.Sheet) {
				continue
			}
			bl := blockOf(s, b.width(), plan.Spec.Currency)
			if i, ok := strings.CutPrefix(s.ID, "wiring-C"); ok {
				var n int
				fmt.Sscanf(i, "%d", &n)
				bl.rows = append([]row{wiringRow(p, plan, n-1, b.width())}, bl.rows...)
			}
			blocks = append(blocks, bl)
		}
		b.flow(part.title, blocks)
	}
	return b.sheets(title(plan))
}

// DrawQuote returns the quote for the customer. It is a book of its own: nothing
// of how the price came about goes with it.
func DrawQuote(plan shop.Plan) []*sheet.Sheet {
	b := newBook(plan)
	var blocks []block
	for _, s := range plan.Sections {
		if s.Sheet == "quote" {
			blocks = append(blocks, blockOf(s, b.width(), plan.Spec.Currency))
		}
	}
	b.flow("Quote", blocks)
	return b.sheets("Quote: " + plan.Name)
}

// DrawUnit returns the sheets of one unit alone: its processing card with the
// cautions and stages that go with it.
func DrawUnit(plan shop.Plan, unit string) ([]*sheet.Sheet, error) {
	b := newBook(plan)
	var blocks []block
	found := false
	for _, s := range plan.Sections {
		if s.Unit == unit || slices.Contains([]string{"cautions-process", "stages", "faults"}, s.ID) {
			blocks = append(blocks, blockOf(s, b.width(), plan.Spec.Currency))
			found = found || s.Unit == unit
		}
	}
	if !found {
		return nil, fmt.Errorf("there is no unit %q; the job has U1 to U%d", unit, len(plan.Units))
	}
	b.flow("Processing, unit "+unit, blocks)
	return b.sheets(title(plan)), nil
}

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
		for _, f := range s.Figures {
			switch f.Name {
			case "text":
				words = append(words, "text "+f.String())
			case "tube, outside diameter D":
				words = append(words, "tube "+f.String())
			case "colour", "glass":
				words = append(words, f.Name+" "+strings.SplitN(f.String(), ":", 2)[0])
			case "place":
				words = append(words, f.String())
			}
		}
		b.job = strings.Join(words, "; ")
	}
	return b
}

func title(plan shop.Plan) string {
	if plan.Name == "" {
		return "Shop sheets"
	}
	return "Shop sheets: " + plan.Name
}
