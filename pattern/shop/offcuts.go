package shop

import (
	"fmt"
	"strconv"
	"strings"

	"tubewright/geom"
)

// OffCut is glass left from other jobs that is used before sticks are bought.
type OffCut struct {
	Colour string // a row of the table colours; "" for the job's own
	Length float64
}

// mostOffCuts is how many off-cuts one job may name.
const mostOffCuts = 200

// ParseOffCuts reads "640mm; 412mm x 2; ruby-red 300mm".
func ParseOffCuts(text string) ([]OffCut, error) {
	var out []OffCut
	for _, part := range strings.Split(text, ";") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		bad := fmt.Errorf("off-cut %q: write it as in 640mm, 412mm x 2, or ruby-red 300mm", part)
		length, count, many := strings.Cut(part, " x ")
		n := 1
		if many {
			var err error
			if n, err = strconv.Atoi(strings.TrimSpace(count)); err != nil || n < 1 || n > mostOffCuts {
				return nil, bad
			}
		}
		colour, rest, named := strings.Cut(strings.TrimSpace(length), " ")
		if !named {
			colour, rest = "", colour
		}
		l, err := geom.ParseLength(rest)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", bad, err)
		}
		if !(l > 0 && l <= 10*geom.Metre) {
			return nil, fmt.Errorf("%w: a length up to 10 m", bad)
		}
		for range n {
			out = append(out, OffCut{colour, float64(l)})
		}
	}
	if len(out) > mostOffCuts {
		return nil, fmt.Errorf("%d off-cuts; one job may name at most %d", len(out), mostOffCuts)
	}
	return out, nil
}
