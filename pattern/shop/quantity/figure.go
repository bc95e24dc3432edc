package quantity

// Figure is one printed quantity: what it is, how it is written, and by which
// rule of which source.
type Figure struct {
	Name     string
	Value    Quantity
	To       *Quantity // the upper end, where the figure is a range from Value
	Unit     Unit
	Decimals int
	Text     string // printed in place of Value, for a range or a word
	Rule     string // how it was reckoned, in words
	Source   string // keys, or "computed"
	Grade    string
}

// String prints the value with its unit.
func (f Figure) String() string {
	if f.Text != "" || f.IsBlank() {
		return f.Text
	}
	if f.To != nil {
		return f.Value.Number(f.Unit, f.Decimals) + " to " + f.To.Format(f.Unit, f.Decimals)
	}
	return f.Value.Format(f.Unit, f.Decimals)
}

// IsBlank reports whether there is nothing to print: an empty cell.
func (f Figure) IsBlank() bool { return f.Text == "" && f.Value.si == nil }

// Cite prints source and grade in brackets.
func (f Figure) Cite() string {
	switch {
	case f.Source == "" && f.Grade == "":
		return ""
	case f.Source == "":
		return "[" + f.Grade + "]"
	case f.Grade == "":
		return "[" + f.Source + "]"
	}
	return "[" + f.Source + ", " + f.Grade + "]"
}
