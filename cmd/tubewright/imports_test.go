package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// An arrow of the project's import table: which of the project's own packages
// a package may import, and which modules of others. Data flows fonts → geom →
// pattern → cmd, and every package knows only what lies below it. "…" at the
// end stands for any package of that beginning.
type arrow struct {
	from   string
	own    []string
	others []string
}

func importTable() []arrow {
	pieces := []string{"pattern/finding", "pattern/glass", "pattern/tube"}
	return []arrow{
		{"geom", nil, nil},
		{"geom/region", []string{"geom"}, nil},
		{"geom/network", []string{"geom"}, nil},
		{"geom/fit", []string{"geom"}, nil},
		{"geom/geomtest", []string{"geom"}, nil},
		{"geom/medial", []string{"geom", "geom/region", "geom/network", "geom/fit"}, nil},
		{"geom/trace", []string{"geom", "geom/region", "geom/network", "geom/fit", "geom/medial"}, nil},

		{"fonts", []string{"geom", "fonts/nearest", "fonts/sfnt", "fonts/stroke"}, nil},
		{"fonts/sfnt", []string{"geom"}, []string{"…"}}, // the one package with a font library
		{"fonts/stroke", []string{"geom"}, nil},
		{"fonts/nearest", nil, nil},
		{"fonts/artwork", []string{"geom", "geom/region"}, nil},

		{"pattern/glass", nil, nil},
		{"pattern/finding", []string{"geom"}, nil},
		{"pattern/tube", []string{"geom", "pattern/glass", "pattern/finding"}, nil},
		{"pattern/condition", append([]string{"geom", "geom/…"}, pieces...), nil},
		{"pattern/grade", append([]string{"geom", "geom/region", "geom/trace", "pattern/condition", "pattern/sheet"}, pieces...), nil},
		{"pattern/route", append([]string{"geom", "geom/…"}, pieces...), nil},
		{"pattern/bend", append([]string{"geom", "geom/…"}, pieces...), nil},
		{"pattern/order", append([]string{"geom", "pattern/bend"}, pieces...), nil},
		{"pattern/stick", append([]string{"geom", "pattern/bend"}, pieces...), nil},
		{"pattern/plan", append([]string{"geom", "pattern/bend", "pattern/order", "pattern/stick"}, pieces...), nil},
		{"pattern/sheet", []string{"geom"}, nil},
		{"pattern/words", []string{"geom"}, nil},
		{"pattern/sheet/paper", []string{"geom", "pattern/sheet", "pattern/words"}, nil},
		{"pattern/sheet/dxf", []string{"geom", "pattern/sheet"}, nil},
		{"pattern/tile", []string{"geom", "pattern/sheet", "pattern/sheet/paper"}, nil},
		{"pattern/support", []string{"geom", "pattern"}, nil},
		{"pattern/depthview", append([]string{"geom", "pattern", "pattern/sheet"}, pieces...), nil},
		{"pattern/mount", append([]string{"geom", "pattern", "pattern/sheet", "pattern/sheet/paper", "pattern/support", "pattern/words"}, pieces...), nil},
		{"pattern/bender", append([]string{"geom", "pattern", "pattern/bend", "pattern/card", "pattern/sheet", "pattern/sheet/paper", "pattern/tile", "pattern/words"}, pieces...), nil},
		{"pattern", append([]string{"geom", "geom/…", "pattern/condition", "pattern/grade", "pattern/route", "pattern/bend", "pattern/order", "pattern/plan", "pattern/stick", "pattern/sheet", "pattern/words"}, pieces...), nil},
		{"pattern/card", append([]string{"geom", "pattern", "pattern/bend", "pattern/order", "pattern/stick", "pattern/plan", "pattern/sheet", "pattern/sheet/paper", "pattern/words"}, pieces...), nil},
		{"pattern/look", append([]string{"geom", "pattern", "pattern/shop/table"}, pieces...), nil},
		{"pattern/proof", append([]string{"geom", "pattern", "pattern/look", "pattern/support"}, pieces...), []string{"golang.org/x/image/vector"}},
		{"pattern/preview", append([]string{"geom", "pattern", "pattern/bend", "pattern/card", "pattern/look", "pattern/plan", "pattern/support", "pattern/words"}, pieces...), nil},
		{"pattern/export", append([]string{"geom", "pattern", "pattern/bend", "pattern/route", "pattern/plan", "pattern/stick"}, pieces...), nil},
		{"pattern/patterntest", append([]string{"geom", "pattern", "pattern/bend"}, pieces...), nil},
		{"pattern/sheet/svg", []string{"geom", "pattern/sheet"}, nil},
		{"pattern/sheet/pdf", []string{"geom", "pattern/sheet", "pattern/words"}, []string{"codeberg.org/go-pdf/fpdf", "golang.org/x/image/font/gofont/…"}},

		{"pattern/shop/quantity", nil, nil},
		{"pattern/shop/table", []string{"pattern/shop/quantity"}, nil},
		{"pattern/shop/load", []string{"geom", "pattern/shop/quantity", "pattern/shop/table"}, nil},
		{"pattern/shop/process", []string{"pattern/shop/quantity", "pattern/shop/table"}, nil},
		{"pattern/shop/light", []string{"pattern/shop/quantity", "pattern/shop/table"}, nil},
		{"pattern/shop/record", []string{"pattern/shop/table"}, nil},
		{"pattern/shop", append([]string{"geom", "pattern", "pattern/bend", "pattern/stick", "pattern/support", "pattern/words", "pattern/shop/…"}, pieces...), nil},
		{"pattern/shopsheet", []string{"geom", "pattern", "pattern/finding", "pattern/sheet", "pattern/shop", "pattern/shop/quantity"}, nil},

		{"cmd/tubewright/job", []string{"geom", "fonts/nearest", "pattern/glass"}, []string{"github.com/pelletier/go-toml/v2"}},
		{"cmd/tubewright", []string{"…"}, []string{"github.com/spf13/pflag"}},
	}
}

// outerWorld is what only the command may touch: files, processes, the network.
func outerWorld() []string {
	return []string{"os", "os/…", "flag", "net", "net/…", "syscall", "unsafe", "plugin", "log", "log/…"}
}

type goPackage struct {
	ImportPath, Dir string
	GoFiles         []string
	CgoFiles        []string
	Imports         []string
}

// listPackages returns the project's packages as the go tool sees them.
func listPackages(t *testing.T) []goPackage {
	t.Helper()
	cmd := exec.Command("go", "list", "-e", "-json=ImportPath,Dir,GoFiles,CgoFiles,Imports", "./...")
	cmd.Dir = filepath.Join("..", "..")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.Bytes())
	}
	var all []goPackage
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p goPackage
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

const module = "tubewright/"

func TestImportsPointOneWay(t *testing.T) {
	packages := listPackages(t)
	if len(packages) < 10 {
		t.Fatalf("go list shows %d packages; there are more", len(packages))
	}
	for _, p := range packages {
		if len(p.GoFiles) > 0 {
			checkImports(t, p)
		}
		if len(p.CgoFiles) > 0 {
			t.Errorf("%s uses cgo: the program must build without a C compiler", p.ImportPath)
		}
	}
}

func checkImports(t *testing.T, p goPackage) {
	t.Helper()
	name := strings.TrimPrefix(p.ImportPath, module)
	i := slices.IndexFunc(importTable(), func(a arrow) bool { return a.from == name })
	if i < 0 {
		t.Errorf("package %s is not in the import table: add it with what it may import", name)
		return
	}
	may := importTable()[i]
	for _, imp := range p.Imports {
		own, isOwn := strings.CutPrefix(imp, module)
		domain, _, _ := strings.Cut(imp, "/")
		switch {
		case isOwn && !listed(may.own, own):
			t.Errorf("%s imports %s, which its row of the import table does not allow", name, own)
		case !isOwn && strings.Contains(domain, ".") && !listed(may.others, imp):
			t.Errorf("%s imports %s: a library belongs behind the package that wraps it", name, imp)
		case listed(outerWorld(), imp) && name != "cmd/tubewright":
			t.Errorf("%s imports %s: only the command touches files, flags and the outer world", name, imp)
		}
	}
}

// listed reports whether a path is in the list, where "x/…" stands for all
// below x.
func listed(list []string, path string) bool {
	return slices.ContainsFunc(list, func(l string) bool {
		start, open := strings.CutSuffix(l, "…")
		return l == path || open && strings.HasPrefix(path, start)
	})
}

// The same input gives the same bytes on every day: nothing reads the clock.
func TestNothingReadsTheClock(t *testing.T) {
	for _, p := range listPackages(t) {
		if !slices.Contains(p.Imports, "time") {
			continue
		}
		for _, f := range p.GoFiles {
			src, err := os.ReadFile(filepath.Join(p.Dir, f))
			if err != nil {
				t.Fatal(err)
			}
			for _, call := range []string{"time.Now(", "time.Since(", "time.Until("} {
				if bytes.Contains(src, []byte(call)) {
					t.Errorf("%s/%s calls %s…)", strings.TrimPrefix(p.ImportPath, module), f, call)
				}
			}
		}
	}
}
