package job

import (
	"reflect"
	"testing"

	"tubewright/geom"
)

// Places keep their sign and lengths their unit, in every form of a keep-out.
func TestKeepOutsAreReadWhereTheyLie(t *testing.T) {
	j, err := complete(t, `text = "A"
[[keep-out]]
name = "stud"
x = "-3mm"
y = "-1in"
width = "40mm"
height = "2ft"
gap = "5mm"
[[keep-out]]
x = "12mm"
y = "- 0.5mm"
radius = "1/2in"
[[keep-out]]
points = ["0mm -7mm", "-60cm 3mm"]
`)
	if err != nil {
		t.Fatal(err)
	}
	want := []KeepOut{
		{Name: "stud", At: [2]geom.Length{-3, -25.4}, Width: 40, Height: 609.6, Gap: 5},
		{At: [2]geom.Length{12, -0.5}, Radius: 12.7},
		{Points: [][2]geom.Length{{0, -7}, {-600, 3}}},
	}
	if !reflect.DeepEqual(j.KeepOuts, want) {
		t.Errorf("read %+v\nwant %+v", j.KeepOuts, want)
	}
}
