package job

// Shop is what the shop decides beside the glass: words as pattern/shop knows
// them, looked up there. An empty word is the default of its setting.
type Shop struct {
	Colour, Glass, Changes         string
	OffCuts                        string
	Place, Exposure, Ambient       string
	Chart, Between                 string
	Supply, Current                string
	SupplyAt, SupplyIn             string
	Conduit, Leads                 string
	MainsVolts, MainsAmperes, Sets string
	Class, Currency                string
	Tables                         string // folder of the shop's own tables
}

// shopSettings are the settings of the shop's sheets. Their words are stored as
// written; the default word is stored as "".
func shopSettings() []Setting {
	word := func(key, help, preset string, field func(*Shop) *string) Setting {
		return Setting{Key: key, Kind: Name, Help: help, Default: preset, word: func(j *Job) *string { return field(&j.Shop) }}
	}
	choice := func(key, help string, choices []string, field func(*Shop) *string) Setting {
		s := word(key, help, choices[0], field)
		s.Kind, s.Choices = Choice, choices
		return s
	}
	tables := word("shop-tables", "folder of the shop's own tables, as tubewright tables --out writes them", "built in", func(s *Shop) *string { return &s.Tables })
	tables.Kind = Path
	return []Setting{
		word("colour", "lit colour: a row of the table colours", "clear-red", func(s *Shop) *string { return &s.Colour }),
		word("glass", "kind of glass: a row of the table glasses", "soda-lime", func(s *Shop) *string { return &s.Glass }),
		word("colour-changes", "other colours or glasses: U2 = blue; U3 @ 640 = ruby-red, lead-0010", "none", func(s *Shop) *string { return &s.Changes }),
		word("off-cuts", "glass in the rack, used before sticks are bought: 640mm; 412mm x 2; ruby-red 300mm", "none", func(s *Shop) *string { return &s.OffCuts }),
		word("place", "where the sign hangs: a row of the table places", "unstated", func(s *Shop) *string { return &s.Place }),
		choice("exposure", "outdoors, or indoors in a heated room", []string{"outdoors", "indoors"}, func(s *Shop) *string { return &s.Exposure }),
		word("ambient", "least temperature where it hangs, in °C", "unknown", func(s *Shop) *string { return &s.Ambient }),
		word("chart", "loading chart: a row of the table charts", "by place", func(s *Shop) *string { return &s.Chart }),
		choice("between-columns", "a tube between two diameters of the chart: refuse or interpolate", []string{"refuse", "interpolate"}, func(s *Shop) *string { return &s.Between }),
		choice("supply", "kind of supply: midpoint, end-grounded, isolated or electronic", []string{"midpoint", "end-grounded", "isolated", "electronic"}, func(s *Shop) *string { return &s.Supply }),
		word("supply-at", "where the supply stands, right and up from the left end of the baseline: 300mm, -500mm", "behind the middle of its circuit", func(s *Shop) *string { return &s.SupplyAt }),
		choice("supply-exposure", "the supply as the sign, outdoors, or indoors", []string{"as the sign", "outdoors", "indoors"}, func(s *Shop) *string { return &s.SupplyIn }),
		choice("conduit", "what the leads run in: unstated, metal, non-metallic or none", []string{"unstated", "metal", "non-metallic", "none"}, func(s *Shop) *string { return &s.Conduit }),
		word("leads", "measured first and last lead of circuits: C1 = 2.4m, 2.6m; C2 = 3m, 3m", "the straight way and some slack", func(s *Shop) *string { return &s.Leads }),
		word("current", "rated secondary current in mA", "30", func(s *Shop) *string { return &s.Current }),
		word("mains-volts", "voltage of the branch circuit in V", "by place", func(s *Shop) *string { return &s.MainsVolts }),
		word("mains-amperes", "rating of the branch circuit in A", "by place", func(s *Shop) *string { return &s.MainsAmperes }),
		word("sets", "how many identical signs", "1", func(s *Shop) *string { return &s.Sets }),
		choice("bend-class", "class of the price by length: block, straight or script", []string{"block", "straight", "script"}, func(s *Shop) *string { return &s.Class }),
		word("currency", "printed after amounts", "demo money", func(s *Shop) *string { return &s.Currency }),
		tables,
	}
}

// IsShop reports whether the setting bears on the shop's sheets alone.
func (s Setting) IsShop() bool { return s.word != nil }

// setShopWord stores the word of a shop setting.
func (j *Job) setShopWord(s Setting, v Value, word string) {
	switch {
	case word == s.Default:
		word = ""
	case s.Kind == Path:
		// A folder that bears the default's own name keeps its "./".
		if word = from(v.Place.dir(), word); word == s.Default {
			word = "./" + word
		}
	}
	*s.word(j) = word
}
