package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the files that tests compare with anew")

const thirdPartyHead = `# Work of others in the program

Written by a test from the module files; to renew it after a change of
dependencies: ` + "`go test ./cmd/tubewright -run ThirdParty -update`" + `.

The typefaces inside the program have their licences and copyright lines beside
them in ` + "`fonts/faces`" + `; ` + "`tubewright fonts NAME --licence`" + ` prints them. The Japanese
letters of the printed sheets are a part of M PLUS 1 Regular (SIL Open Font
Licence 1.1, Copyright 2002-2022 The M+ FONTS Project Authors); the licence stands
beside it in ` + "`pattern/sheet/pdf/font`" + `. The single-line
data is that of Dr. A. V. Hershey (US National Bureau of Standards), in the
format of James Hurt (Cognition, Inc.); it may not be converted to the format
of the NTIS.

The Go standard library is part of every Go program; it is under the licence
given below for golang.org/x/text, with the same copyright line.

github.com/golang/freetype may be used under the FreeType licence or the GPL;
this project takes it under the FreeType licence.

The page that ` + "`preview`" + ` writes holds three.js (MIT, Copyright the three.js
authors); its licence stands at the head of the script in the page and in
` + "`pattern/preview/page/bundle.js`" + `.

Tests use more modules (testscript, JSON Schema, property testing); none of
them is in the program.

`

// thirdParty makes THIRD-PARTY.md: every module that is linked into the
// program with its licence texts, equal texts once.
func thirdParty(t *testing.T) []byte {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Dir}}{{end}}{{end}}", ".")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.Bytes())
	}
	seen := map[string]bool{}
	users := map[string][]string{} // licence text → modules
	var texts []string             // in the order of first use
	for _, line := range sortedLines(string(out)) {
		path, dir, _ := strings.Cut(line, "\t")
		if seen[path] {
			continue
		}
		seen[path] = true
		text := licenceOf(t, dir)
		if len(users[text]) == 0 {
			texts = append(texts, text)
		}
		users[text] = append(users[text], path)
	}
	var b bytes.Buffer
	b.WriteString(thirdPartyHead)
	for _, text := range texts {
		fmt.Fprintf(&b, "## %s\n\n```\n%s\n```\n\n", strings.Join(users[text], ", "), text)
	}
	return append(bytes.TrimRight(b.Bytes(), "\n"), '\n')
}

// licenceOf returns the licence texts of a module, or says that it has none.
func licenceOf(t *testing.T, dir string) string {
	t.Helper()
	var texts []string
	for _, pattern := range []string{"LICENSE*", "LICENCE*", "COPYING*", "NOTICE*", "PATENTS", "licenses/ftl.txt"} {
		paths, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range paths {
			b, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			text := strings.ReplaceAll(string(b), "\r\n", "\n")
			texts = append(texts, strings.Trim(strings.ReplaceAll(text, "```", "'''"), "\n"))
		}
	}
	if len(texts) == 0 {
		return "(no licence file)"
	}
	return strings.Join(texts, "\n\n")
}

func TestThirdPartyLicencesAreCollected(t *testing.T) {
	path := filepath.Join("..", "..", "THIRD-PARTY.md")
	got := thirdParty(t)
	if *update {
		write(t, path, string(got))
	}
	if want := content(t, path); want != string(got) {
		t.Error("THIRD-PARTY.md is not what the modules linked into the program say; see its head for how to renew it")
	}
}

func sortedLines(s string) []string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	slices.Sort(lines)
	return lines
}
