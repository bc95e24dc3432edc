package job

// Proof is what the job says of the lit proof: words, looked up where it is drawn.
// An empty word is the default of its setting.
type Proof struct {
	Wall, Picture string // Picture is a file, shown in place of the wall
	Time          string // "day", or "both": a second picture
	Width         string // pixels
	Person        string // "no": none for scale
}

// proofSettings are the settings of the lit proof.
func proofSettings() []Setting {
	word := func(key, help, preset string, field func(*Proof) *string) Setting {
		return Setting{Key: key, Kind: Name, Help: help, Default: preset, word: func(j *Job) *string { return field(&j.Proof) }}
	}
	choice := func(key, help string, choices []string, field func(*Proof) *string) Setting {
		s := word(key, help, choices[0], field)
		s.Kind, s.Choices = Choice, choices
		return s
	}
	picture := word("proof-picture", "PNG or JPEG file of the wall, shown in place of proof-wall", "none", func(p *Proof) *string { return &p.Picture })
	picture.Kind = Path
	return []Setting{
		choice("proof-wall", "wall of the lit proof: dark, brick or light", []string{"dark", "brick", "light"}, func(p *Proof) *string { return &p.Wall }),
		picture,
		choice("proof-time", "when the proof is seen: night, day or both", []string{"night", "day", "both"}, func(p *Proof) *string { return &p.Time }),
		word("proof-width", "width of the proof in pixels, 200 to 8000", "1600", func(p *Proof) *string { return &p.Width }),
		choice("proof-person", "a person for scale on the proof: yes or no", []string{"yes", "no"}, func(p *Proof) *string { return &p.Person }),
	}
}
