package pdf

import (
	"io"

	"codeberg.org/go-pdf/fpdf"

	"tubewright/pattern/sheet"
)

// EncodeBook writes sheets one after the other into one file, each a page of its
// own size at true scale. Layers of one name are one layer of the file. The
// title and the description are those of the first sheet. It panics where
// there is no sheet.
func EncodeBook(w io.Writer, sheets []*sheet.Sheet) error {
	first := sheets[0]
	all := &sheet.Sheet{Title: first.Title, Description: first.Description}
	for _, s := range sheets {
		all.Layers = append(all.Layers, s.Layers...)
	}
	e := &encoder{sheet: all}
	e.doc = fpdf.NewCustom(&fpdf.InitType{
		OrientationStr: "P", UnitStr: "mm",
		Size: fpdf.SizeType{Wd: first.Width, Ht: first.Height},
	})
	e.prepare()
	ids := map[string]int{}
	for _, s := range sheets {
		e.sheet, e.windows, e.layers = s, Pages(s), nil
		for _, l := range s.Layers {
			if _, ok := ids[l.Name]; !ok {
				ids[l.Name] = e.doc.AddLayer(l.Name, true)
			}
			e.layers = append(e.layers, ids[l.Name])
		}
		for i := range e.windows {
			e.page(i)
		}
	}
	return e.finish(w)
}
