package export

import (
	"io"

	"tubewright/pattern"
	"tubewright/pattern/bend"
)

// WriteBends writes bends.csv; the package comment describes its columns. It
// returns the first error of w.
func WriteBends(w io.Writer, p pattern.Pattern) error {
	var units []bend.Listed
	for _, u := range p.Units {
		units = append(units, bend.Listed{Unit: u.ID, Table: u.Table, Heats: u.Heats})
	}
	return bend.WriteTable(w, units)
}
