package intake

import (
	"math"
	"strconv"
	"strings"

	"emberbeat/timeline/figure"
)

// The names of geometries that matter for where a device points.
const (
	beamGeometry = "Beam"
	axisGeometry = "Axis" // turns with what stands on it
)

// aimer looks for the beams of a mode.
type aimer struct {
	all    *gdtfGeometry
	aims   []figure.Vec
	turned bool // a beam stands on what the device turns
	broken bool // a position that cannot be read
}

// aim gives the direction in which the beams of a device go, or why that is not
// known. A beam goes to the negative Z of its geometry (DIN SPEC 15800, "geometry
// type beam"); that a reference's position stands in the place of the one of what it
// refers to is from memory.
func (g *gdtfGeometry) aim(root *gdtfGeometry) (figure.Vec, string) {
	a := &aimer{all: g}
	a.walk(root, root.Turned, identity(), false)
	switch {
	case a.broken:
		return figure.Vec{}, "a position in its device file cannot be read"
	case len(a.aims) == 0:
		return figure.Vec{}, "its device file has no beam"
	case a.turned:
		return figure.Vec{}, "the device turns its beam"
	}
	for _, d := range a.aims[1:] {
		if !sameWay(d, a.aims[0]) {
			return figure.Vec{}, "its beams point to several sides"
		}
	}
	return a.aims[0], ""
}

// walk notes the beams in a geometry that stands as turned says in one of turn m.
// How deep and how many they are was looked at before, as channels were placed.
func (a *aimer) walk(g *gdtfGeometry, turned string, m turn, moves bool) {
	own, ok := parseTurn(turned)
	if !ok {
		a.broken = true
		return
	}
	m = m.times(own)
	moves = moves || g.XMLName.Local == axisGeometry
	if g.XMLName.Local == beamGeometry {
		a.aims = append(a.aims, m.of(figure.Down))
		a.turned = a.turned || moves
	}
	for i := range g.Parts {
		part := &g.Parts[i]
		if part.XMLName.Local != "GeometryReference" {
			a.walk(part, part.Turned, m, moves)
		} else if to := a.all.part(part.Refers); to != nil {
			a.walk(to, part.Turned, m, moves)
		}
	}
}

// sameWay reports whether two directions are less than half a degree apart, which
// nobody sets a device by; a judgement.
func sameWay(a, b figure.Vec) bool {
	return a.X*b.X+a.Y*b.Y+a.Z*b.Z > math.Cos(0.5*math.Pi/180)
}

// turn is the turning part of a position, by rows.
type turn [3][3]float64

func identity() turn { return turn{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} }

func (a turn) times(b turn) (c turn) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				c[i][j] += a[i][k] * b[k][j]
			}
		}
	}
	return c
}

// of gives a direction as it is turned, at length 1.
func (a turn) of(v figure.Vec) figure.Vec {
	in := [3]float64{v.X, v.Y, v.Z}
	var out [3]float64
	for i := range 3 {
		for k := range 3 {
			out[i] += a[i][k] * in[k]
		}
	}
	long := math.Sqrt(out[0]*out[0] + out[1]*out[1] + out[2]*out[2])
	return figure.Vec{X: out[0] / long, Y: out[1] / long, Z: out[2] / long}
}

// straight reports whether a turn is one, and neither scales nor mirrors.
func (a turn) straight() bool {
	for i := range 3 {
		for j := range 3 {
			want := 0.0
			if i == j {
				want = 1
			}
			dot := a[i][0]*a[j][0] + a[i][1]*a[j][1] + a[i][2]*a[j][2]
			if !(math.Abs(dot-want) < 0.01) {
				return false
			}
		}
	}
	return a[0][0]*(a[1][1]*a[2][2]-a[1][2]*a[2][1])-a[0][1]*(a[1][0]*a[2][2]-a[1][2]*a[2][0])+a[0][2]*(a[1][0]*a[2][1]-a[1][1]*a[2][0]) > 0
}

// parseTurn reads the turning part of a position, `{a,b,c,x}{d,e,f,y}{g,h,i,z}{0,0,0,1}`
// by rows (DIN SPEC 15800, "matrix"); "" is none.
func parseTurn(text string) (turn, bool) {
	if text = strings.TrimSpace(text); text == "" {
		return identity(), true
	}
	var m turn
	rows := strings.FieldsFunc(text, func(r rune) bool { return r == '{' || r == '}' || r == ' ' || r == '\n' || r == '\t' })
	if len(rows) < 3 {
		return m, false
	}
	for i := range 3 {
		parts := strings.Split(rows[i], ",")
		if len(parts) < 3 {
			return m, false
		}
		for j := range 3 {
			x, err := strconv.ParseFloat(strings.TrimSpace(parts[j]), 64)
			if err != nil {
				return m, false
			}
			m[i][j] = x
		}
	}
	return m, m.straight()
}
