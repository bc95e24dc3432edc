package order

import (
	"math"

	"tubewright/geom"
)

// frame is a place and three unit axes, right-handed; X points along the
// travel. It maps local coordinates to those it is given in.
type frame struct {
	o       geom.Point3
	x, y, z geom.Vec3
}

func identity() frame {
	return frame{x: geom.Vec3{X: 1}, y: geom.Vec3{Y: 1}, z: geom.Vec3{Z: 1}}
}

// at returns the place of local point p.
func (f frame) at(p geom.Point3) geom.Point3 {
	return f.o.Add(f.x.Mul(p.X)).Add(f.y.Mul(p.Y)).Add(f.z.Mul(p.Z))
}

func (f frame) dir(v geom.Vec3) geom.Vec3 {
	return f.x.Mul(v.X).Add(f.y.Mul(v.Y)).Add(f.z.Mul(v.Z))
}

// then returns the frame g, given in the coordinates of f.
func (f frame) then(g frame) frame {
	return frame{f.at(g.o), f.dir(g.x), f.dir(g.y), f.dir(g.z)}
}

// inverse undoes f.
func (f frame) inverse() frame {
	x := geom.Vec3{X: f.x.X, Y: f.y.X, Z: f.z.X}
	y := geom.Vec3{X: f.x.Y, Y: f.y.Y, Z: f.z.Y}
	z := geom.Vec3{X: f.x.Z, Y: f.y.Z, Z: f.z.Z}
	o := f.o.Sub(geom.Point3{})
	return frame{geom.Point3{X: -o.Dot(f.x), Y: -o.Dot(f.y), Z: -o.Dot(f.z)}, x, y, z}
}

// along moves the frame n mm along its travel.
func (f frame) along(n float64) frame { f.o = f.o.Add(f.x.Mul(n)); return f }

// turned turns the axes about a unit vector given in the outer coordinates.
func (f frame) turned(axis geom.Vec3, a geom.Angle) frame {
	f.x, f.y, f.z = f.x.Turned(axis, a), f.y.Turned(axis, a), f.z.Turned(axis, a)
	return f
}

// straightened returns the axes nearest to those of f that are square to each
// other and of length 1, with travel d.
func (f frame) straightened(d geom.Vec3) frame {
	f.x = d.Unit()
	f.y = f.y.Sub(f.x.Mul(f.y.Dot(f.x))).Unit()
	f.z = f.x.Cross(f.y)
	return f
}

// local returns the components of v along the axes of f.
func (f frame) local(v geom.Vec3) geom.Vec3 {
	return geom.Vec3{X: v.Dot(f.x), Y: v.Dot(f.y), Z: v.Dot(f.z)}
}

// alongDir returns a frame at o with travel d and any roll.
func alongDir(o geom.Point3, d geom.Vec3) frame {
	other := geom.Vec3{Z: 1}
	if math.Abs(d.Z) > 0.9 {
		other = geom.Vec3{Y: 1}
	}
	y := other.Cross(d).Unit()
	return frame{o, d, y, d.Cross(y)}
}

// swing is how a rotation carries an arm that points along the travel: the arm
// is turned by angle about axis, square to the travel before and after, while it
// rolls by roll about itself. It is the way a bender goes who keeps the arm in
// the plane of where it was and where it will be.
type swing struct {
	axis        geom.Vec3
	angle, roll float64
}

// swingOf returns the swing that takes the axes of identity to those of f; of
// the angles that differ by full turns, the one nearest to hint, the sum of
// axis·angle of the bends: it tells which way the glass went.
func swingOf(f frame, hint geom.Vec3) swing {
	along := geom.Vec3{X: 1}
	s := swing{axis: along.Cross(f.x), angle: float64(along.AngleTo(f.x))}
	if s.axis.Norm() < 1e-6 { // straight on or straight back: the bends tell the axis
		s.axis = geom.Vec3{Y: hint.Y, Z: hint.Z}
	}
	if s.axis.Norm() < 1e-9 {
		s.axis = geom.Vec3{Z: 1}
	}
	s.axis = s.axis.Unit()
	turns := math.Round((hint.Dot(s.axis) - s.angle) / (2 * math.Pi))
	s.angle += 2 * math.Pi * turns
	rolled := f.turned(s.axis, geom.Angle(-s.angle))
	s.roll = math.Atan2(rolled.y.Z, rolled.y.Y)
	return s
}

// back returns the swing of the other side, seen from the one that swings here: the
// same in the end, and like this one on the way, in that its own arm stays in a plane.
func (s swing) back() swing {
	return swing{axis: s.axis.Turned(geom.Vec3{X: 1}, geom.Angle(-s.roll)), angle: -s.angle, roll: -s.roll}
}

// at returns the axes at a fraction k of the swing.
func (s swing) at(k float64) frame {
	f := identity().turned(geom.Vec3{X: 1}, geom.Angle(k*s.roll))
	return f.turned(s.axis, geom.Angle(k*s.angle))
}

// speed bounds how fast a point at a distance from the joint goes, in mm for
// the whole swing.
func (s swing) speed(distance float64) float64 {
	return (math.Abs(s.angle) + math.Abs(s.roll)) * distance
}
