// Package grade judges how well a face suits one line of tube.
//
//	traced letters ─► Widths, Style ─► Findings     what make and check say of the face
//	               └► Grade         ─► Draw         what fonts says, and its specimen
//
// A tube has one width. A face suits it whose strokes have one width too, and
// leave room for the glass beside each other. So three things are measured on
// the centrelines that geom/trace found: how wide the strokes are and how
// evenly so; whether they are strokes at all, or the edges of strokes, as in
// outline and inline faces; and from which height on the glass has room.
//
// The limits are this program's own judgement, set by looking at the embedded
// faces and others beside them; none is a published figure.
//
//	measure.go  widths of strokes     style.go   what kind of face it is
//	room.go     least height          grade.go   a whole face, letter by letter
//	draw.go     the specimen          finding.go what a job is told
package grade
