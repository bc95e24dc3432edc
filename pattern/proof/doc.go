// Package proof draws the sign as the customer will see it: the front, lit, on a
// wall, right-reading, beside a person for scale.
//
//	pattern, lights ─ NewScene ─► Scene ─ Picture ─► PNG, a picture of any width
//	                                    └ WriteSVG ─► proof.svg, in mm
//
// All light is added up in linear light, as light adds up, and only the finished
// picture is put into the curve of a screen (sRGB). The wall is lit by the glass:
// a straight tube at a distance h lights a wall in proportion to h/(h² + r²); that
// curve is made of a few bell curves, each a box blur three times over. Some light
// is scattered in the eye or the lens as well, and is seen over everything.
//
// Nothing here is photometry: the hue of the light is that of package look, its
// strength against daylight is set by eye.
package proof
