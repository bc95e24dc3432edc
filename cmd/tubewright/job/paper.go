package job

// Paper is what the job says of its print: words, looked up where the pages are
// made. An empty word is the default of its setting.
type Paper struct {
	Size, Margin, Overlap string
	MeasuredX, MeasuredY  string // of the bars of 100 mm on a print
	OnePage               string // "yes": one page of any length
	UnitPages             string // "tiles": the units of bender.pdf as tiles
	Strips                string // "yes": bender.pdf shows each stick at true size
	Language              string
	HousingHole           string // diameter of the hole for an electrode's housing
	Order                 string // what the bender must know and the pattern does not
}

// paperSettings are the settings of the printed pages.
func paperSettings() []Setting {
	word := func(key, help, preset string, field func(*Paper) *string) Setting {
		return Setting{Key: key, Kind: Name, Help: help, Default: preset, word: func(j *Job) *string { return field(&j.Paper) }}
	}
	choice := func(key, help string, choices []string, field func(*Paper) *string) Setting {
		s := word(key, help, choices[0], field)
		s.Kind, s.Choices = Choice, choices
		return s
	}
	return []Setting{
		word("paper", "paper of tiles.pdf and bender.pdf: A4, Letter, A3, Tabloid, or as in 300mm x 450mm", "A4, or Letter by place", func(p *Paper) *string { return &p.Size }),
		word("margin", "white edge that the printer needs", "10mm", func(p *Paper) *string { return &p.Margin }),
		word("overlap", "strip that neighbouring tiles both show", "15mm", func(p *Paper) *string { return &p.Overlap }),
		word("measured-x", "what the bar of 100 mm across measures on a print: the next is corrected", "not measured", func(p *Paper) *string { return &p.MeasuredX }),
		word("measured-y", "what the bar of 100 mm up the page measures on a print", "not measured", func(p *Paper) *string { return &p.MeasuredY }),
		choice("one-page", "pattern.pdf longer than 5 m as one page: no or yes", []string{"no", "yes"}, func(p *Paper) *string { return &p.OnePage }),
		choice("unit-pages", "full-size drawings of bender.pdf: sheets, or tiles of the paper", []string{"sheets", "tiles"}, func(p *Paper) *string { return &p.UnitPages }),
		choice("strips", "each stick at true size in bender.pdf, to lay the glass on: no or yes", []string{"no", "yes"}, func(p *Paper) *string { return &p.Strips }),
		choice("language", "words of the printed sheets and the quote: en, de, es or ja", []string{"en", "de", "es", "ja"}, func(p *Paper) *string { return &p.Language }),
		word("housing-hole", "diameter of the hole for an electrode's housing", "the tables' jacket + clearance", func(p *Paper) *string { return &p.HousingHole }),
		word("order", "what the bender must know: buyer = Rye & Salt; mounted = loose glass", "blanks to fill in by hand", func(p *Paper) *string { return &p.Order }),
	}
}
