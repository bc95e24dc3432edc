package trace

import (
	"tubewright/geom"
	"tubewright/geom/fit"
)

// fitRun fits a smooth stretch of centres.
func fitRun(pts []geom.Point, opt fit.Options) (fit.Result, error) {
	return fit.Curve(pts, opt)
}
