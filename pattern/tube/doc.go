// Package tube holds the object that is bent: for one unit, the whole 3-D
// centreline from electrode to electrode, made of lines and arcs that meet
// with one tangent, each piece with its role.
//
// It also holds the ways to make such pieces: a control polygon with rounded
// corners (Fillet), a run lifted behind the face (Lift), and the search for
// glass that comes too near other glass: World for glass that is still being
// laid, by samples, and Clashes for finished tubes, along their whole length.
//
// Coordinates are the front frame in mm; nothing stands at z > 0.
package tube
