package words_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"tubewright/pattern/words"
)

// What the packages of the pattern file as findings and remedies: the sentence after
// What or Remedy, as a text or as a format, and those given to plan's report.
var filed = []*regexp.Regexp{
	regexp.MustCompile(`\b(?:What|Remedy|what|remedy)\s*(?::|=|:=)\s*(?:fmt\.Sprintf\(\s*)?"((?:[^"\\]|\\.)+)"`),
	regexp.MustCompile(`\breport\(finding\.\w+, "[\w-]+", [^"]*"((?:[^"\\]|\\.)+)",\s*(?:"((?:[^"\\]|\\.)+)")?`),
}

// Every sentence that a finding of the pattern is made of has its message, so that no
// sheet in another language tells one in English.
func TestEveryFindingHasItsMessage(t *testing.T) {
	w := words.English()
	seen := 0
	err := filepath.WalkDir("..", func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() {
			switch e.Name() {
			case "shop", "shopsheet", "patterntest", "preview", "words":
				return filepath.SkipDir // told on the shop's sheets, or no findings of the pattern
			}
			return nil
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, re := range filed {
			for _, m := range re.FindAllStringSubmatch(string(src), -1) {
				for _, s := range m[1:] {
					if !strings.Contains(s, " ") || strings.HasSuffix(s, " ") { // no sentence, or a part of one
						continue
					}
					seen++
					said := regexp.MustCompile(`%[\d.]*[a-z]`).ReplaceAllString(s, "5")
					if _, _, ok := w.Sentence(strings.ReplaceAll(said, "%%", "%")); !ok {
						t.Errorf("%s: no message for %q", path, s)
					}
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 20 {
		t.Errorf("only %d sentences of findings were found", seen)
	}
}
