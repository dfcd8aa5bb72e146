package reach

import (
	"fmt"
	"math"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/figure"
)

// Turned says in words where pan and tilt point: "upright", "straight down",
// "leans 80° to the audience".
func Turned(pan, tilt float64) string {
	d := figure.Direction(pan, tilt)
	to, ok := d.Heading()
	switch lean := d.Lean(); {
	case !ok && lean < 90:
		return "upright"
	case !ok:
		return "straight down"
	default:
		return fmt.Sprintf("leans %s° %s", trim(lean), strings.Join(ways(to), " and "))
	}
}

// Printed says where an effect points as it stands on a sheet, with its pan and
// tilt: "pan 0°, tilt −80°: leans 80° to the audience", "upright".
func Printed(u *timeline.Unit, a *timeline.Article) string {
	words := Aim(u, a)
	if u.End != nil || u.Placed.Pan == 0 && u.Placed.Tilt == 0 {
		return words
	}
	return fmt.Sprintf("pan %s°, tilt %s°: %s", signed(u.Placed.Pan), signed(u.Placed.Tilt), words)
}

// signed writes a number with the sign that print uses.
func signed(x float64) string { return strings.Replace(trim(x), "-", "−", 1) }

// ways names the directions on the plan of which a heading has a good part: half
// of its larger part.
func ways(to figure.Point) (list []string) {
	if math.Abs(to.Y) >= math.Abs(to.X)/2 {
		list = append(list, map[bool]string{true: "to the audience", false: "upstage"}[to.Y < 0])
	}
	if math.Abs(to.X) >= math.Abs(to.Y)/2 {
		list = append(list, map[bool]string{true: "to the audience's left", false: "to the audience's right"}[to.X < 0])
	}
	return list
}

func trim(x float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", x), ".0") }

// Front says how an effect is turned to who sees it from the audience: where it
// leans in the picture ("12° outward"), and where it leans out of it ("8°
// upstage"); "" where it does not. Outward is away from the middle of the stage,
// on which x says the side.
func Front(d figure.Vec, x float64) (side, depth string) {
	if a := math.Atan2(math.Abs(d.X), d.Z) * 180 / math.Pi; math.Abs(d.X) > 1e-9 && trim(a) != "0" {
		way := "to the audience's right"
		switch {
		case x*d.X > 0:
			way = "outward"
		case x*d.X < 0:
			way = "inward"
		case d.X < 0:
			way = "to the audience's left"
		}
		side = trim(a) + "° " + way
	}
	if a := math.Atan2(math.Abs(d.Y), math.Hypot(d.X, d.Z)) * 180 / math.Pi; trim(a) != "0" {
		depth = trim(a) + "° " + map[bool]string{true: "to the audience", false: "upstage"}[d.Y < 0]
	}
	return side, depth
}
