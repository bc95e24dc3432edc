package main

import (
	"io"

	"tubewright/pattern"
	"tubewright/pattern/depthview"
	"tubewright/pattern/sheet/svg"
)

// depthView is the drawing of how the glass runs in depth.
func depthView(p pattern.Pattern) output {
	return output{"depth.svg", `data-frame="front"`, func(w io.Writer) error { return svg.Encode(w, depthview.Draw(p)) }}
}
