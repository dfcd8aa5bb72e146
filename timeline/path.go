package timeline

import "emberbeat/timeline/figure"

// Path is what an effect passes over, on the stage plan: a line rocket along
// its line, a tilted shot as far as it comes down.
type Path struct {
	From, To Point
	Half     float64 // m that must stay free on both sides of it and at its ends
	Line     bool    // of a line; otherwise of a tilted shot
	Top      float64 // m above the stage floor, of the higher end of a line
}

// Path gives the path of an article at a unit; false where it stays over its
// unit, or stands nowhere. Half is the larger of half the article's corridor and
// its fallout radius. Throw is the part of a throw without drag that a tilted
// shot is taken to go: see figure.ThrowUpper.
func (u *Unit) Path(a *Article, throw float64) (Path, bool) {
	if u.Position == nil {
		return Path{}, false
	}
	from := Point{u.Position.X, u.Position.Y}
	if u.End != nil {
		return Path{from, Point{u.End.X, u.End.Y}, max(a.Corridor/2, a.Fallout), true, max(u.Position.Z, u.End.Z)}, true
	}
	if !a.Family.Thrown() || u.Placed.Pan == 0 && u.Placed.Tilt == 0 || a.Height == 0 {
		return Path{}, false
	}
	d := u.Placed.Direction()
	far, ok := figure.ThrowUpper(a.Height, u.Position.Z, d.Lean(), 0)
	if !ok {
		return Path{}, false
	}
	to, _ := d.Heading()
	return Path{From: from, To: Point{from.X + throw*far*to.X, from.Y + throw*far*to.Y}, Half: a.Fallout}, true
}

// Leaves reports whether anything at the unit could have a path: its line ends
// elsewhere, or it is tilted.
func (u *Unit) Leaves() bool { return u.End != nil || u.Placed.Pan != 0 || u.Placed.Tilt != 0 }

// Direction gives where a placed effect points that is turned from straight up by
// its pan and tilt.
func (p *Placed) Direction() figure.Vec { return figure.Direction(p.Pan, p.Tilt) }

// Away is the distance of a point from the path's line, in metres.
func (p *Path) Away(q Point) float64 {
	return figure.Point(q).ToPiece(figure.Point(p.From), figure.Point(p.To))
}

// AwayFromLine is the least distance between the path's line and another one.
func (p *Path) AwayFromLine(from, to Point) float64 {
	return figure.Apart(figure.Point(p.From), figure.Point(p.To), figure.Point(from), figure.Point(to))
}
