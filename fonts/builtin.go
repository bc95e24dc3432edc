package fonts

import (
	"embed"
	"fmt"
	"slices"
	"strings"

	"tubewright/fonts/stroke"
)

// Kind says what a face is drawn with.
type Kind int

const (
	Outline    Kind = iota // contours; centrelines are to be found
	SingleLine             // strokes, used as they are
)

// String returns "outline" or "single-line".
func (k Kind) String() string {
	if k == SingleLine {
		return "single-line"
	}
	return "outline"
}

// Info describes a face inside the program.
type Info struct {
	Name         string // short and stable, as --font takes it
	Family       string
	File         string // within the program's faces folder
	Kind         Kind
	Licence      string // SPDX identifier, or a few words
	LicenceFile  string // beside File
	Copyright    string // one line, as the owner states it
	ReservedName string // reserved font name, or ""
	Source       string // where the file comes from
	Note         string // one line for someone choosing a face
}

//go:embed faces
var faceFiles embed.FS

const (
	hersheyLicence = "hershey.debian-copyright.txt"
	hersheyOwner   = "1967 Dr. A. V. Hershey, U. S. National Bureau of Standards; format by James Hurt, Cognition, Inc."
	hersheySource  = "Debian hershey-fonts-data 0.1, data only, unmodified"
)

// Builtin returns the faces inside the program: first the outline faces, then
// the single-line faces, each in the order they are recommended.
func Builtin() []Info {
	return []Info{
		{
			Name: "comfortaa-light", Family: "Comfortaa Light", File: "Comfortaa-Light.ttf",
			Licence: "OFL-1.1", LicenceFile: "comfortaa.debian-copyright.txt",
			Copyright:    `Copyright 2011 The Comfortaa Project Authors (aajohan@gmail.com), with Reserved Font Name "Comfortaa".`,
			ReservedName: "Comfortaa", Source: "Debian fonts-comfortaa, unmodified",
			Note: "round block letters of even stroke; Latin, Greek, Cyrillic",
		},
		{
			Name: "quicksand-light", Family: "Quicksand Light", File: "Quicksand-Light.ttf",
			Licence: "OFL-1.1", LicenceFile: "quicksand.debian-copyright.txt",
			Copyright:    `Copyright 2011 The Quicksand Project Authors (https://github.com/andrew-paglinawan/QuicksandFamily), with Reserved Font Name “Quicksand”.`,
			ReservedName: "Quicksand", Source: "Debian fonts-quicksand, unmodified",
			Note: "open geometric block letters; Latin",
		},
		{
			Name: "m-plus-rounded-1c-light", Family: "M PLUS Rounded 1c Light", File: "MPLUSRounded1c-Light-LatinKana.ttf",
			Licence: "OFL-1.1", LicenceFile: "m-plus-rounded-1c.OFL.txt",
			Copyright: "Copyright 2016 The Rounded M+ Project Authors.",
			Source:    "npm @fontsource/m-plus-rounded-1c, Latin and kana merged and converted",
			Note:      "rounded block letters; Latin, Japanese kana without む and モ, no kanji",
		},
		{
			Name: "playwrite-de-la-thin", Family: "Playwrite DE LA Thin", File: "PlaywriteDELA-Thin.ttf",
			Licence: "OFL-1.1", LicenceFile: "playwrite-de-la.OFL.txt",
			Copyright: "Copyright 2023 The Playwrite Project Authors (https://github.com/TypeTogether/Playwrite)",
			Source:    "npm @fontsource-variable/playwrite-de-la, static instance at weight 100",
			Note:      "joined school hand, the best script for tube; Latin",
		},
		{
			Name: "vibur", Family: "Vibur", File: "Vibur-Regular.ttf",
			Licence: "OFL-1.1", LicenceFile: "vibur.OFL.txt",
			Copyright: "Copyright (c) 2010, Johan Kallas (johan.kallas@gmail.com). All rights reserved. Licenced under SIL OFL v1.1",
			Source:    "npm @fontsource/vibur, converted",
			Note:      "upright lively script; Latin",
		},
		{
			Name: "league-spartan-extralight", Family: "League Spartan ExtraLight", File: "LeagueSpartan-ExtraLight.otf",
			Licence: "OFL-1.1", LicenceFile: "league-spartan.debian-copyright.txt",
			Copyright: "Copyright 2011-2020 Micah Rich, 2011-2018 Caroline Hadilaksono, 2011-2020 Tyler Finck",
			Source:    "Debian fonts-league-spartan, unmodified",
			Note:      "thin geometric block letters; Latin",
		},
		{
			Name: "jura-light", Family: "Jura Light", File: "Jura-Light.otf",
			Licence: "OFL-1.1; the Kayah Li block OFL-1.1 or GPL-3.0", LicenceFile: "jura.debian-copyright.txt",
			Copyright: "Copyright 2016 The Jura Font Project Authors (daniel@danieljohnson.name)",
			Source:    "Debian fonts-jura, unmodified",
			Note:      "squared block letters of very even stroke; Latin, Greek, Cyrillic",
		},
		{
			Name: "noto-kufi-arabic-extralight", Family: "Noto Kufi Arabic ExtraLight", File: "NotoKufiArabic-ExtraLight.ttf",
			Licence: "OFL-1.1", LicenceFile: "noto-kufi-arabic.OFL.txt",
			Copyright: "Copyright 2019-2022 Google LLC. All Rights Reserved.",
			Source:    "npm @fontsource/noto-kufi-arabic, converted",
			Note:      "Arabic of even stroke, written right to left; no Latin letters or digits",
		},
		hershey("futural", "Hershey Sans Simplex", "plain block letters of one stroke width"),
		hershey("rowmans", "Hershey Roman Simplex", "plain block letters with a little more shape"),
		hershey("scripts", "Hershey Script Simplex", "script whose small letters join; digits and signs are drawn with two lines"),
		hershey("cursive", "Hershey Script Simplex, plain digits", "the letters of scripts with digits and signs of one line"),
		hershey("greeks", "Hershey Greek Simplex", "Greek letters, typed in Greek or on the Latin keys of the set"),
	}
}

// hershey describes one of the single-line sets, which share all but a name.
func hershey(name, family, note string) Info {
	return Info{
		Name: name, Family: family, File: name + ".jhf", Kind: SingleLine,
		Licence: "Hershey font data terms", LicenceFile: hersheyLicence,
		Copyright: hersheyOwner, Source: hersheySource, Note: note,
	}
}

// LicenceText returns the copyright line and the full licence text of a face
// inside the program.
func (i Info) LicenceText() (string, error) {
	text, err := faceFiles.ReadFile("faces/" + i.LicenceFile)
	if err != nil {
		return "", fmt.Errorf("licence of face %q: %w", i.Name, err)
	}
	return i.Copyright + "\n\n" + string(text), nil
}

// Open returns the face inside the program with the given name. Case does not
// matter and spaces may stand for hyphens. An unknown name gives *UnknownFace.
func Open(name string) (*Face, error) {
	key := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), " ", "-")
	all := Builtin()
	i := slices.IndexFunc(all, func(i Info) bool { return i.Name == key })
	if i < 0 {
		return nil, unknownFace(name, key, all)
	}
	info := all[i]
	data, err := faceFiles.ReadFile("faces/" + info.File)
	if err != nil {
		return nil, fmt.Errorf("face %q: %w", info.Name, err)
	}
	var f *Face
	if info.Kind == SingleLine {
		f, err = parseSingleLine(data, info.Name)
	} else {
		f, err = Parse(data, info.Name)
	}
	if err != nil {
		return nil, err
	}
	f.family, f.copyright = info.Family, info.Copyright
	if f.licence, err = info.LicenceText(); err != nil {
		return nil, err
	}
	return f, nil
}

// parseSingleLine reads the data of a single-line set.
func parseSingleLine(data []byte, name string) (*Face, error) {
	set, err := stroke.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("face %q: %w", name, err)
	}
	return newFace(name, data, nil, set), nil
}
