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
