package sfnt

import (
	"encoding/binary"
	"errors"
	"fmt"

	psinterpreter "github.com/go-text/typesetting/font/cff/interpreter"
)

// Bounds on CFF outlines. Subroutines may call subroutines ten deep, so a file
// of a kilobyte can ask for more work than there is time: neither library
// counts. checkCFF runs every glyph once with a meter and draws nothing. Real
// glyphs stay far below: of 848 fonts tried, none takes more than 1,017.
const (
	maxGlyphOperators = 200_000
	maxFontOperators  = 50_000_000
)

// cffTable is what the bounds need from a CFF table. See Adobe Technical Note
// 5176, "The Compact Font Format Specification".
type cffTable struct {
	glyphs [][]byte   // charstrings
	global [][]byte   // subroutines
	local  [][][]byte // subroutines of each font dict
	dictOf func(glyph int) int
}

// checkCFF returns an error if a CFF glyph, or all of them together, take more
// operators than the bounds allow. A font without a CFF table passes. A glyph
// that breaks off for another fault passes too; the shaper will refuse it.
func checkCFF(dir directory) error {
	data := dir.find("CFF ")
	if data == nil {
		return nil
	}
	t, err := readCFF(data)
	if err != nil {
		return fmt.Errorf("CFF table: %w", err)
	}
	total := 0
	for i := range t.glyphs {
		n, err := t.operators(i)
		if errors.Is(err, errMeter) {
			return fmt.Errorf("glyph %d takes more than %d drawing operators", i, maxGlyphOperators)
		}
		if total += n; total > maxFontOperators {
			return fmt.Errorf("the outlines take more than %d drawing operators", maxFontOperators)
		}
	}
	return nil
}

// operators counts the operators that drawing a glyph takes. The error says
// why it broke off; errMeter, that there are more than the bound.
func (t *cffTable) operators(glyph int) (int, error) {
	d := t.dictOf(glyph)
	if d >= len(t.local) {
		return 0, fmt.Errorf("glyph %d belongs to font dict %d of %d", glyph, d, len(t.local))
	}
	var machine psinterpreter.Machine
	var m meter
	err := machine.Run(t.glyphs[glyph], t.local[d], t.global, &m)
	return m.operators, err
}

var errMeter = errors.New("over the bound")

// meter runs a charstring for its calls and hints alone, counting operators.
type meter struct {
	operators int
	hints     psinterpreter.CharstringReader // how many bytes a hint mask has
}

// Context makes the machine read numbers as charstrings write them.
func (m *meter) Context() psinterpreter.Context { return psinterpreter.Type2Charstring }

// Apply carries out one operator (Adobe Technical Note 5177, appendix A).
func (m *meter) Apply(state *psinterpreter.Machine, op psinterpreter.Operator) error {
	if m.operators++; m.operators > maxGlyphOperators {
		return errMeter
	}
	if !op.IsEscaped {
		switch op.Operator {
		case 10: // callsubr
			return psinterpreter.LocalSubr(state)
		case 29: // callgsubr
			return psinterpreter.GlobalSubr(state)
		case 11: // return
			return state.Return()
		case 14: // endchar
			return psinterpreter.ErrInterrupt
		case 19, 20: // hintmask, cntrmask
			m.hints.Hintmask(state)
			return nil
		case 1, 18: // hstem, hstemhm
			m.hints.Hstem(state)
		case 3, 23: // vstem, vstemhm
			m.hints.Vstem(state)
		}
	}
	state.ArgStack.Clear()
	return nil
}

// readCFF finds the charstrings and subroutines of a CFF table.
func readCFF(data []byte) (cffTable, error) {
	var t cffTable
	if len(data) < 4 {
		return t, errors.New("it ends inside the header")
	}
	at := int(data[2])
	var err error
	var tops [][]byte
	for _, into := range []*[][]byte{nil, &tops, nil, &t.global} { // names, top dicts, strings, subroutines
		var items [][]byte
		if items, at, err = readIndex(data, at); err != nil {
			return t, err
		}
		if into != nil {
			*into = items
		}
	}
	if len(tops) == 0 {
		return t, errors.New("it has no font")
	}
	top, err := readDict(tops[0], psinterpreter.TopDict)
	if err != nil {
		return t, err
	}
	if t.glyphs, _, err = readIndex(data, top.charStrings); err != nil {
		return t, err
	}
	dicts := []cffDict{top}
	t.dictOf = func(int) int { return 0 }
	if top.fontDicts > 0 {
		if dicts, err = readFontDicts(data, top.fontDicts); err != nil {
			return t, err
		}
		if t.dictOf, err = readSelect(data, top.dictSelect); err != nil {
			return t, err
		}
	}
	for _, d := range dicts {
		subrs, err := localSubroutines(data, d)
		if err != nil {
			return t, err
		}
		t.local = append(t.local, subrs)
	}
	return t, nil
}

// readFontDicts reads the font DICTs of a font keyed by character identifiers.
func readFontDicts(data []byte, at int) ([]cffDict, error) {
	raw, _, err := readIndex(data, at)
	if err != nil {
		return nil, err
	}
	var dicts []cffDict
	for _, r := range raw {
		d, err := readDict(r, psinterpreter.TopDict)
		if err != nil {
			return nil, err
		}
		dicts = append(dicts, d)
	}
	return dicts, nil
}

// localSubroutines returns the subroutines of one font dict, if it has any.
func localSubroutines(data []byte, d cffDict) ([][]byte, error) {
	if d.privateSize == 0 {
		return nil, nil
	}
	if d.private < 0 || d.privateSize < 0 || d.private > len(data)-d.privateSize {
		return nil, errors.New("a private dict lies outside it")
	}
	private, err := readDict(data[d.private:d.private+d.privateSize], psinterpreter.PrivateDict)
	if err != nil || private.subrs == 0 {
		return nil, err
	}
	subrs, _, err := readIndex(data, d.private+private.subrs)
	return subrs, err
}

// readIndex returns the items of the INDEX at the given place, and where it
// ends (5176, section 5).
func readIndex(data []byte, at int) (items [][]byte, end int, err error) {
	bad := errors.New("an index lies outside it")
	if at < 0 || at > len(data)-2 {
		return nil, 0, bad
	}
	count := int(binary.BigEndian.Uint16(data[at:]))
	if at += 2; count == 0 {
		return nil, at, nil
	}
	if at >= len(data) {
		return nil, 0, bad
	}
	size := int(data[at])
	at++
	offsets := data[at:]
	if size < 1 || size > 4 || len(offsets) < (count+1)*size {
		return nil, 0, bad
	}
	base := at + (count+1)*size - 1 // offsets count from 1
	place := func(i int) int {
		v := 0
		for _, b := range offsets[i*size : (i+1)*size] {
			v = v<<8 | int(b)
		}
		return base + v
	}
	for i := range count {
		from, to := place(i), place(i+1)
		if from <= base || from > to || to > len(data) {
			return nil, 0, bad
		}
		items = append(items, data[from:to])
	}
	return items, place(count), nil
}

// readSelect returns which font dict each glyph belongs to (5176, section 19).
func readSelect(data []byte, at int) (func(glyph int) int, error) {
	bad := errors.New("the choice of font dicts lies outside it")
	if at <= 0 || at > len(data)-3 {
		return nil, bad
	}
	list := data[at+1:]
	switch data[at] {
	case 0: // one byte a glyph
		return func(glyph int) int {
			if glyph >= len(list) {
				return len(data) // no dict
			}
			return int(list[glyph])
		}, nil
	case 3: // ranges: first glyph, dict
		count := int(binary.BigEndian.Uint16(list))
		ranges := list[2:]
		if len(ranges) < 3*count {
			return nil, bad
		}
		return func(glyph int) int {
			dict := len(data) // no dict
			for i := range count {
				if int(binary.BigEndian.Uint16(ranges[3*i:])) > glyph {
					break
				}
				dict = int(ranges[3*i+2])
			}
			return dict
		}, nil
	}
	return nil, fmt.Errorf("font dicts are chosen in the unknown format %d", data[at])
}

// cffDict has the entries of a DICT that lead to charstrings (5176, section 9).
type cffDict struct {
	context              psinterpreter.Context
	charStrings          int
	private, privateSize int
	subrs                int // from the private dict
	fontDicts            int
	dictSelect           int
}

// readDict reads a top, font or private DICT.
func readDict(data []byte, context psinterpreter.Context) (cffDict, error) {
	d := cffDict{context: context}
	var machine psinterpreter.Machine
	return d, machine.Run(data, nil, nil, &d)
}

// Context makes the machine read numbers as the kind of DICT writes them.
func (d *cffDict) Context() psinterpreter.Context { return d.context }

// Apply takes one entry: its operands are on the stack.
func (d *cffDict) Apply(state *psinterpreter.Machine, op psinterpreter.Operator) error {
	stack := &state.ArgStack
	operands := stack.Vals[:stack.Top]
	last := func(back int) int {
		if len(operands) < back {
			return 0
		}
		return int(operands[len(operands)-back])
	}
	switch {
	case op.IsEscaped && op.Operator == 36:
		d.fontDicts = last(1)
	case op.IsEscaped && op.Operator == 37:
		d.dictSelect = last(1)
	case op.IsEscaped:
	case op.Operator == 17:
		d.charStrings = last(1)
	case op.Operator == 18:
		d.privateSize, d.private = last(2), last(1)
	case op.Operator == 19:
		d.subrs = last(1)
	}
	stack.Clear()
	return nil
}
