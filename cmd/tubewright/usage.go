package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"tubewright/cmd/tubewright/job"
)

// overview is the help of the program as a whole.
func overview() string {
	var b strings.Builder
	b.WriteString(`tubewright makes full-size bending patterns for hand-bent luminous lettering.

usage: tubewright COMMAND [JOB.toml] [flags]

`)
	for _, cmd := range commands() {
		fmt.Fprintf(&b, "  %-9s%s\n", cmd.name, cmd.summary)
	}
	b.WriteString(`  help     this text, or the flags of one command: tubewright help make
  version  the version of the program

for example:
  tubewright make --text "RYE & SALT" --height 150mm --tube 12mm
  tubewright new rye.toml && tubewright make rye.toml

exit status: 0 a clean pattern; 1 no pattern could be made; 2 wrong usage;
3 all was written, and an error or a warning is among what make, check or trace
tell of the glass, the shop's sheets or the centrelines (notes do not count).
`)
	return b.String()
}

// usage is the help of one command.
func usage(name string) string {
	switch name {
	case "make":
		return `usage: tubewright make JOB.toml [flags]
       tubewright make --text "RYE & SALT" [flags]
       tubewright make DIR/record.json --unit U2 [--out DIR]

Writes into a folder: pattern.svg and pattern.pdf (full size, bench frame:
mirrored), tiles.pdf (the same on small paper), bender.pdf (all that a remote
bender needs), mount.svg, .pdf and .dxf (front: holes and supports), depth.svg
(how the glass runs in depth), bends.csv and heats.csv (the bend table and the
heats in the order of making), result.json; for the shop shop.pdf, shop.csv and cuts.csv (loading, wiring,
materials, processing cards, price); for the customer quote.pdf, proof.png and
proof.svg (the sign lit) and preview.html (in 3-D, heat by heat); and
record.json, from which one unit can be made again years later: the same bytes,
or it is said where they differ. All files are written, or none; a file that is
not tubewright's is not overwritten.
JOB.toml may be - for standard input.

` + flagTable(makeSettings(), flagHelp{"--unit UNIT", "the sheets of one unit alone, as U2"}, forceFlag(), quietFlag())
	case "proof":
		return `usage: tubewright proof JOB.toml [flags]
       tubewright proof --text "RYE & SALT" [flags]

Writes proof.png and proof.svg, what make writes of them alone: the lit sign on its
wall, front frame, for the customer. With --proof-time both also proof-day.png and
proof-day.svg.

` + flagTable(makeSettings(), forceFlag(), quietFlag())
	case "preview":
		return `usage: tubewright preview JOB.toml [flags]
       tubewright preview --text "RYE & SALT" [flags]

Writes preview.html, which make writes too: the glass in 3-D and heat by heat, one
page for any browser that needs no network.

` + flagTable(makeSettings(), flagHelp{"--open", "show it in the browser of this desktop"}, forceFlag(), quietFlag())
	case "check":
		return `usage: tubewright check JOB.toml [flags]
       tubewright check --text "RYE & SALT" [flags]

Makes the pattern and the shop's sheets, writes no file, and tells the findings
of both, as make does, and the least height at which the wording can be bent in
this tube.

` + flagTable(checkSettings(), flagHelp{"--format FORMAT", "text or json, on standard output (default: text)"}, quietFlag())
	case "trace":
		return `usage: tubewright trace JOB.toml [flags]
       tubewright trace --text "RYE & SALT" [flags]
       tubewright trace ARTWORK.svg [--height HEIGHT] [flags]

Writes the centrelines of the letters, before any tube is bent along them, with
the drawn capital H as tall as the height. Front frame.

Of an artwork the filled shapes are traced, each connected piece by itself, at
the size the file gives in mm or inches, or with the whole of it as tall as
--height. Text, strokes without a fill and pictures in it are named, with what
to do about them.

` + flagTable(traceSettings(), flagHelp{"--format FORMAT", "json or svg (default: json)"},
			flagHelp{"--out FILE", "where to write (default: standard output)"}, forceFlag(), quietFlag())
	case "fonts":
		return `usage: tubewright fonts [NAME-or-FILE] [flags]

Lists the built-in faces, or grades one face or font file for tube: how even its
strokes are, from which height on the tube has room in each letter, how well the
strokes give the ink back, which letters need care and why, and what would serve
where one line of tube cannot show the face. With --out it draws a specimen,
specimen.svg and specimen.pdf, one A4 page. The letters are those of --text, or
A to Z, a to z and 0 to 9, or those of the face's own script.

` + flagTable(gradeSettings(), flagHelp{"--format FORMAT", "text or json (default: text)"},
			flagHelp{"--out DIR", "where to write the specimen"},
			flagHelp{"--licence", "the whole licence of the face, and nothing else"}, forceFlag(), quietFlag())
	}
	if name == "tables" {
		return `usage: tubewright tables [NAME] [flags]

Lists the shop's reference tables, or prints one, each row with its source and
grade: P published, D derived, C common practice, M from memory, invented. With
--out it writes them as files to start a shop's own from: a job that names that
folder as shop-tables lays their rows over the built-in ones.

` + flagTable(nil, flagHelp{"--format FORMAT", "text or csv, for one table (default: text)"},
			flagHelp{"--out DIR", "write each table as NAME.csv"},
			flagHelp{"--shop-tables DIR", "with the shop's own rows laid over"}, forceFlag(), quietFlag())
	}
	return `usage: tubewright new JOB.toml [flags]

Writes a job file that states every setting, with what it means and its
default, and shows the tables for what no flag can say: [[letter]], what the
bender asks for one letter (order and direction of strokes, breaks, joins,
doublings, electrodes), and [[keep-out]], where no electrode may stand. The
flags go into the file. An existing file is not overwritten.

` + flagTable(newSettings(), flagHelp{"--force", "replace an existing file"}, quietFlag())
}

// A flag that is no setting, and its help.
type flagHelp = [2]string

func forceFlag() flagHelp { return flagHelp{"--force", "replace files that are not tubewright's"} }
func quietFlag() flagHelp { return flagHelp{"--quiet", "say nothing but errors"} }

// flagTable lists the flags of settings, from the list that defines them, and more.
func flagTable(settings []job.Setting, more ...flagHelp) string {
	var b strings.Builder
	row := func(flag, help string) {
		if len(flag) > helpIndent-3 {
			fmt.Fprintf(&b, "  %s\n", flag)
			flag = ""
		}
		for i, line := range wrapped(help, screenWide-helpIndent) {
			if i > 0 {
				flag = ""
			}
			fmt.Fprintf(&b, "  %-*s %s\n", helpIndent-3, flag, line)
		}
	}
	for _, s := range settings {
		help := s.Help
		if s.Default != "" {
			help += " (default: " + s.Default + ")"
		}
		row("--"+s.Key+" "+s.ValueName(), help)
	}
	for _, m := range more {
		row(m[0], m[1])
	}
	return b.String()
}

// screenWide is the width that help keeps to, and helpIndent where the help of
// a flag begins.
const (
	screenWide = 80
	helpIndent = 31
)

// wrapped breaks text at spaces into lines of at most so many characters.
func wrapped(text string, wide int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= wide:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	return append(lines, line)
}
