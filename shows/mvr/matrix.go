package mvr

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"emberbeat/timeline/figure"
)

// matrix leads from the frame of an object into the one that it stands in, in
// millimetres: p = x·u + y·v + z·w + o (DIN SPEC 15801, "matrix": u, v, w, o, three
// numbers each). Both frames are right-handed with Z up.
type matrix struct{ u, v, w, o figure.Vec }

func identity() matrix {
	return matrix{u: figure.Vec{X: 1}, v: figure.Vec{Y: 1}, w: figure.Vec{Z: 1}}
}

// most is the largest number that a matrix may hold, in millimetres: a thousand
// kilometres. A judgement.
const most = 1e9

// parseMatrix reads `{u,u,u}{v,v,v}{w,w,w}{o,o,o}`.
func parseMatrix(text string) (matrix, error) {
	var m matrix
	rest := strings.TrimSpace(text)
	for _, to := range []*figure.Vec{&m.u, &m.v, &m.w, &m.o} {
		body, after, ok := strings.Cut(strings.TrimPrefix(rest, "{"), "}")
		parts := strings.Split(body, ",")
		if !ok || !strings.HasPrefix(rest, "{") || len(parts) != 3 {
			return m, fmt.Errorf("its matrix must be four times three numbers, such as {1,0,0}{0,1,0}{0,0,1}{0,0,0}")
		}
		for i, x := range []*float64{&to.X, &to.Y, &to.Z} {
			n, err := strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
			if err != nil || !(math.Abs(n) <= most) {
				return m, fmt.Errorf("its matrix has %q for a number", shortened(strings.TrimSpace(parts[i])))
			}
			*x = n
		}
		rest = strings.TrimSpace(after)
	}
	if rest != "" {
		return m, fmt.Errorf("its matrix has more than four times three numbers")
	}
	return m, nil
}

// turned gives a direction of the object in the frame that it stands in.
func (m matrix) turned(d figure.Vec) figure.Vec {
	return figure.Vec{
		X: d.X*m.u.X + d.Y*m.v.X + d.Z*m.w.X,
		Y: d.X*m.u.Y + d.Y*m.v.Y + d.Z*m.w.Y,
		Z: d.X*m.u.Z + d.Y*m.v.Z + d.Z*m.w.Z,
	}
}

// in gives the matrix of an object that stands in another, in the frame of that one.
func (m matrix) in(outer matrix) matrix {
	o := outer.turned(m.o)
	return matrix{outer.turned(m.u), outer.turned(m.v), outer.turned(m.w), figure.Vec{X: o.X + outer.o.X, Y: o.Y + outer.o.Y, Z: o.Z + outer.o.Z}}
}

// straight reports whether a matrix only turns and shifts.
func (m matrix) straight() bool {
	dot := func(a, b figure.Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
	for _, x := range []float64{dot(m.u, m.u) - 1, dot(m.v, m.v) - 1, dot(m.w, m.w) - 1, dot(m.u, m.v), dot(m.v, m.w), dot(m.w, m.u)} {
		if !(math.Abs(x) < 0.01) {
			return false
		}
	}
	cross := figure.Vec{X: m.u.Y*m.v.Z - m.u.Z*m.v.Y, Y: m.u.Z*m.v.X - m.u.X*m.v.Z, Z: m.u.X*m.v.Y - m.u.Y*m.v.X}
	return dot(cross, m.w) > 0
}

// shortened is as much of a text as a sentence holds.
func shortened(text string) string {
	if r := []rune(text); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return text
}
