package drawn

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"emberbeat/timeline/figure"
)

// Tie says where a point of a drawing is on our stage.
type Tie struct {
	Thing string     // the name of a thing there, "" for the coordinates There
	There figure.Vec // m, where no thing is named
	Here  figure.Vec // m, on our stage
	Above bool       // Here says a height as well
}

// ParseTie reads `NAME=x,y` or `x,y=x,y`: what of the drawing, and where that is on
// our stage, in metres. A height as third number ties the heights as well.
func ParseTie(text string) (Tie, error) {
	bad := errors.New("must be a name of the drawing, or x,y there, then = and x,y on our stage, in metres: \"Mark A=-6,0\"")
	k := strings.LastIndex(text, "=")
	if k < 0 {
		return Tie{}, bad
	}
	there, here := strings.TrimSpace(text[:k]), strings.TrimSpace(text[k+1:])
	v, n, err := parseVec(here)
	if err != nil || there == "" {
		return Tie{}, bad
	}
	t := Tie{Here: v, Above: n == 3}
	if v, _, err := parseVec(there); err == nil {
		t.There = v
	} else {
		t.Thing = there
	}
	return t, nil
}

// String writes the tie as ParseTie reads it.
func (t Tie) String() string {
	there := t.Thing
	if there == "" {
		there = writeVec(t.There, 3)
	}
	n := 2
	if t.Above {
		n = 3
	}
	return there + "=" + writeVec(t.Here, n)
}

// parseVec reads x,y or x,y,z, and gives how many there were.
func parseVec(text string) (figure.Vec, int, error) {
	parts := strings.Split(text, ",")
	if len(parts) != 2 && len(parts) != 3 {
		return figure.Vec{}, 0, errors.New("is no x,y")
	}
	var v [3]float64
	for i, p := range parts {
		x, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || !(math.Abs(x) < 1e5) {
			return figure.Vec{}, 0, errors.New("is no x,y")
		}
		v[i] = x + 0
	}
	return figure.Vec{X: v[0], Y: v[1], Z: v[2]}, len(parts), nil
}

func writeVec(v figure.Vec, n int) string {
	parts := []string{metres(v.X), metres(v.Y), metres(v.Z)}
	return strings.Join(parts[:n], ",")
}

// metres writes a length to the millimetre.
func metres(x float64) string { return strconv.FormatFloat(mm(x), 'f', -1, 64) }

// mm rounds a length to the millimetre.
func mm(x float64) float64 { return math.Round(x*1000)/1000 + 0 }

// frame leads from a drawing to our stage: a turn about the upright, then a shift.
type frame struct {
	sin, cos float64
	shift    figure.Vec
}

// place gives where a point of the drawing is on our stage.
func (f frame) place(v figure.Vec) figure.Vec {
	v = f.turn(v)
	return figure.Vec{X: v.X + f.shift.X, Y: v.Y + f.shift.Y, Z: v.Z + f.shift.Z}
}

// turn gives a direction of the drawing on our stage.
func (f frame) turn(v figure.Vec) figure.Vec {
	return figure.Vec{X: f.cos*v.X - f.sin*v.Y, Y: f.sin*v.X + f.cos*v.Y, Z: v.Z}
}

// Least and most of what two points can tell a turn by; judgements, no source.
const (
	leastApart = 0.5 // m between the two points
	mostScale  = 2.0 // times by which their distance may differ
)

// tied works out how a drawing lies on our stage, and says so. With two ties their
// middle and direction are kept: nothing is made longer, and how much the distance
// differs is told.
func (d *Drawing) tied(ties []Tie) (frame, []string, error) {
	f := frame{cos: 1}
	there := make([]figure.Vec, len(ties))
	for i, t := range ties {
		v, err := d.point(t)
		if err != nil {
			return f, nil, err
		}
		there[i] = v
	}
	var lines []string
	switch len(ties) {
	case 0:
		lines = append(lines, "no point is tied: origin and turn of the drawing are taken for those of the stage")
	case 1:
		f.shift = figure.Vec{X: ties[0].Here.X - there[0].X, Y: ties[0].Here.Y - there[0].Y}
		lines = append(lines, "one point is tied: the turn of the drawing is taken for that of the stage")
	case 2:
		line, err := f.byTwo(there, ties)
		if err != nil {
			return f, nil, err
		}
		lines = append(lines, line)
	default:
		return f, nil, fmt.Errorf("%d points are tied; give two", len(ties))
	}
	return f, append(lines, f.height(there, ties)), nil
}

// byTwo turns and shifts by two ties.
func (f *frame) byTwo(there []figure.Vec, ties []Tie) (string, error) {
	was := figure.Point{X: there[1].X - there[0].X, Y: there[1].Y - there[0].Y}
	is := figure.Point{X: ties[1].Here.X - ties[0].Here.X, Y: ties[1].Here.Y - ties[0].Here.Y}
	long, short := math.Hypot(was.X, was.Y), math.Hypot(is.X, is.Y)
	if long < leastApart || short < leastApart {
		return "", fmt.Errorf("the two points are %s m apart in the drawing and %s m on the stage; take points at least %s m apart", metres(long), metres(short), metres(leastApart))
	}
	if long > mostScale*short || short > mostScale*long {
		return "", fmt.Errorf("the two points are %s m apart in the drawing and %s m on the stage: they are not the same points, or the drawing has another unit", metres(long), metres(short))
	}
	f.cos = (was.X*is.X + was.Y*is.Y) / (long * short)
	f.sin = (was.X*is.Y - was.Y*is.X) / (long * short)
	mid := f.turn(figure.Vec{X: (there[0].X + there[1].X) / 2, Y: (there[0].Y + there[1].Y) / 2})
	f.shift = figure.Vec{X: (ties[0].Here.X+ties[1].Here.X)/2 - mid.X, Y: (ties[0].Here.Y+ties[1].Here.Y)/2 - mid.Y}
	turn := math.Atan2(f.sin, f.cos) * 180 / math.Pi
	return fmt.Sprintf("two points are tied: the drawing is turned by %s°; they are %s m apart there and %s m here: the distance differs by %s m, so each is off by %s m",
		strconv.FormatFloat(math.Round(turn*100)/100+0, 'f', -1, 64), metres(long), metres(short), metres(math.Abs(long-short)), metres(math.Abs(long-short)/2)), nil
}

// height ties the heights where a tie says one, and says so.
func (f *frame) height(there []figure.Vec, ties []Tie) string {
	var by []float64
	for i, t := range ties {
		if t.Above {
			by = append(by, t.Here.Z-there[i].Z)
		}
	}
	switch len(by) {
	case 0:
		return "no height is tied: heights are those of the drawing"
	case 1:
		f.shift.Z = by[0]
		return fmt.Sprintf("heights are those of the drawing and %s m", metres(f.shift.Z))
	}
	f.shift.Z = (by[0] + by[1]) / 2
	return fmt.Sprintf("heights are those of the drawing and %s m; the two points differ by %s m in it", metres(f.shift.Z), metres(math.Abs(by[0]-by[1])))
}

// point finds a point of the drawing.
func (d *Drawing) point(t Tie) (figure.Vec, error) {
	if t.Thing == "" {
		return t.There, nil
	}
	var found []*Thing
	for i := range d.Things {
		if x := &d.Things[i]; strings.EqualFold(x.Name, t.Thing) {
			found = append(found, x)
		}
	}
	switch {
	case len(found) == 0:
		return figure.Vec{}, fmt.Errorf("the drawing has nothing called %q; write a name of it, or x,y there", t.Thing)
	case len(found) > 1:
		return figure.Vec{}, fmt.Errorf("the drawing has %d things called %q; write the x,y of the one that is meant", len(found), t.Thing)
	case found[0].NoAt != "":
		return figure.Vec{}, fmt.Errorf("%q has no place in the drawing: %s", t.Thing, found[0].NoAt)
	}
	return found[0].At, nil
}
