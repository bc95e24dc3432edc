package main

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"tubewright/pattern/mount"
	"tubewright/pattern/sheet"
	"tubewright/pattern/shop"
	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/words"
)

// supportsListed counts the rows of the drill table on the mounting sheet by their
// unit: "S3 U2".
func supportsListed(s *sheet.Sheet) map[string]int {
	row := regexp.MustCompile(`^S\d+ (U\d+)( \*)?$`)
	out := map[string]int{}
	for _, l := range s.Layers {
		for _, g := range l.Groups {
			for _, i := range g.Items {
				if t, ok := i.(sheet.Text); ok {
					if m := row.FindStringSubmatch(t.Text); m != nil {
						out[m[1]]++
					}
				}
			}
		}
	}
	return out
}

// said returns a figure of the shop's sheets.
func said(t *testing.T, p shop.Plan, section, name string) quantity.Figure {
	t.Helper()
	for _, s := range p.Sections {
		if s.ID != section {
			continue
		}
		for _, f := range s.Figures {
			if f.Name == name {
				return f
			}
		}
	}
	t.Fatalf("no figure %q in section %s", name, section)
	return quantity.Figure{}
}

// Supports are counted once: the drill table has as many rows of a unit as the shop's
// sheets list and price, also by a shop's own spacing.
func TestShopCountsTheSupportsThatAreDrilled(t *testing.T) {
	mine := t.TempDir()
	write(t, filepath.Join(mine, "supports.csv"), "setting,value,unit,meaning,source,grade\nsupport-spacing,200,mm,ours,,own\n")
	rye, salt := filepath.Join("..", "..", "examples", "rye", "job.toml"), filepath.Join("..", "..", "examples", "salt", "job.toml")
	for name, args := range map[string][]string{"rye": {rye}, "salt": {salt}, "rye, closer": {rye, "--shop-tables", mine}} {
		t.Run(name, func(t *testing.T) {
			m := makeExample(t, args...)
			plan := m.side.plan
			listed := supportsListed(mount.Draw(m.pattern, m.side.mountOptions(), words.English()))
			all := 0
			for _, u := range plan.Units {
				if u.Support != listed[u.ID] || u.Support < 2 {
					t.Errorf("unit %s: the shop counts %d supports, the drill table has %d", u.ID, u.Support, listed[u.ID])
				}
				all += listed[u.ID]
			}
			if got := plan.Sums().Supports; got != all {
				t.Errorf("result.json says %d supports, the drill table has %d", got, all)
			}
			if got := said(t, plan, "supports", "supports").Value.Ceil(quantity.Piece); got != all {
				t.Errorf("the sheet of materials says %d supports, the drill table has %d", got, all)
			}
			if got, want := said(t, plan, "price", "supports").Rule, fmt.Sprintf("%d × ", all); !strings.HasPrefix(got, want) {
				t.Errorf("the price counts %s, the drill table has %d", got, all)
			}
			t.Logf("%d supports", all)
		})
	}
}
