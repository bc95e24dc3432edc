package fit

import (
	"fmt"
	"testing"

	"tubewright/geom"
)

func BenchmarkCurve(b *testing.B) {
	cs := chains(b)
	long := cs[4] // spiral4
	exact := long.path()
	for _, bc := range []struct {
		name string
		pts  []geom.Point
		tol  float64
	}{
		{"script_e noisy", cs[8].noisy(), 0.15},
		{"spiral exact 200", exact.Samples(exact.Length() / 200), 0.1},
		{"spiral exact 2000", exact.Samples(exact.Length() / 2000), 0.1},
		{"wander 200", wander(3, 200), 0.1},
		{"wander 2000", wander(3, 2000), 0.1},
	} {
		r, _ := Curve(bc.pts, Options{Tol: bc.tol})
		b.Run(fmt.Sprintf("%s to %d pieces", bc.name, len(r.Path.Segments)), func(b *testing.B) {
			for b.Loop() {
				if _, err := Curve(bc.pts, Options{Tol: bc.tol}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
