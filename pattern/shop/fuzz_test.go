package shop_test

import (
	"bytes"
	"encoding/csv"
	"testing"

	"tubewright/pattern/shop"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
)

// Whatever shop file is taken, a plan is made of it or refused in words; the sheets'
// sums stay the sums of their parts, and the CSV reads back.
func FuzzShopFile(f *testing.F) {
	const h = "setting,value,unit,meaning,source,grade\n"
	f.Add("prices", []byte(h+"hour,75,money/h,bench,,own\n"))
	f.Add("settings", []byte(h+"cut-waste,50,mm,,,own\npass-low,90,%,,,own\n"))
	f.Add("tubes", []byte("diameter_mm,wall_mm,use,source,grade\n12,5,,,own\n"))
	f.Add("chart-limits", []byte("chart,gas,diameter_mm,kv,most,least,source,grade\nUS,neon,12,4,12,5,,own\n"))
	f.Add("chart-factors", []byte("chart,gas,diameter_mm,kv_per_m,source,grade\nB,neon,12,0.01,,own\n"))
	f.Add("glasses", []byte("glass,name,class,strain_c,anneal_c,soften_c,work_c,expansion_e7,density_g_cm3,habit,source,grade\nsoda-lime,x,hard,,,,,,,,,own\n"))
	f.Add("colours", []byte("colour,seen,gas,tint,coating,glass,lumens_per_metre,source,grade\nclear-red,x,argon-mercury,,,,9,,own\n"))
	p := word("HE")
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		set, err := table.Embedded().Override(name, "f.csv", data)
		if err != nil {
			return
		}
		pl, err := shop.Make(p, shop.Spec{Tables: &set})
		if err != nil {
			return
		}
		glass := q.Int(0, q.Millimetre)
		for _, c := range pl.Circuits {
			glass = glass.Add(c.Glass)
		}
		if units := section(t, pl, "units"); units.Grid.Total[5].Value.Cmp(glass) != 0 {
			t.Errorf("the circuits hold %s of glass, the units %s", glass.Format(q.Metre, 4), units.Grid.Total[5])
		}
		var b bytes.Buffer
		if err := pl.WriteCSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil || len(rows) < 100 || len(rows[0]) != len(shop.Header()) {
			t.Errorf("%d rows, %v", len(rows), err)
		}
	})
}
