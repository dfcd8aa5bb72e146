package timeline

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"emberbeat/timeline/field"
)

// PlanPicture is a picture that lies under the stage plan of a venue, such as the
// venue's own plan. It is there to be looked at: no rule reads it, and nothing is
// measured on it. The zero value is none.
type PlanPicture struct {
	File       string  // in the show's folder: plans/NAME.png
	Wide, High int     // pixels
	At         Point   // where its upper left corner is on the stage plan
	Metre      float64 // metres a pixel
	Turn       float64 // degrees, against the clock, that its right side is turned from the audience's right
}

// PictureCaution stands wherever such a picture does.
const PictureCaution = "picture, not measured"

// MostPixels is the longest side that a picture under the plan may have; a judgement.
const MostPixels = 8000

var pictureFile = regexp.MustCompile(`^plans/[a-z0-9-]{1,80}\.png$`)

// IsPlanPicture reports whether a name in a show's folder is one of a picture under
// a stage plan.
func IsPlanPicture(name string) bool { return pictureFile.MatchString(name) }

// Place gives where a pixel of the picture is on the stage plan; pixels count from
// the upper left corner, to the right and down.
func (p PlanPicture) Place(x, y float64) Point {
	sin, cos := math.Sincos(p.Turn * math.Pi / 180)
	return Point{p.At.X + p.Metre*(cos*x+sin*y), p.At.Y + p.Metre*(sin*x-cos*y)}
}

// Laid lays the picture so that two of its points are where they are on the stage
// plan, and gives it.
func (p PlanPicture) Laid(a, b, onA, onB Point) (PlanPicture, error) {
	far, near := math.Hypot(b.X-a.X, b.Y-a.Y), math.Hypot(onB.X-onA.X, onB.Y-onA.Y)
	if far < 10 || near < 0.1 {
		return p, fmt.Errorf("the two points are %s pixels and %s m apart; take points farther apart, such as two corners of the stage", field.FormatNumber(math.Round(far)), field.FormatNumber(near))
	}
	p.Metre = near / far
	turn := math.Atan2(onB.Y-onA.Y, onB.X-onA.X) - math.Atan2(a.Y-b.Y, b.X-a.X)
	p.Turn = math.Round(math.Remainder(turn*180/math.Pi, 360)*1e4)/1e4 + 0
	p.At = Point{}
	off := p.Place(a.X, a.Y)
	round := func(x float64) float64 { return math.Round(x*1e4)/1e4 + 0 }
	p.At = Point{round(onA.X - off.X), round(onA.Y - off.Y)}
	p.Metre = math.Round(p.Metre*1e9) / 1e9
	return p, p.check()
}

// String writes the item form: `plans/hall.png size=800x600 at=-10,8 metre=0.025
// turn=3`; "" for none.
func (p PlanPicture) String() string {
	if p == (PlanPicture{}) {
		return ""
	}
	var w itemWriter
	w.head(p.File)
	w.pair("size", fmt.Sprintf("%dx%d", p.Wide, p.High))
	w.pair("at", p.At.String())
	w.pair("metre", field.FormatNumber(p.Metre))
	if p.Turn != 0 {
		w.pair("turn", field.FormatNumber(p.Turn))
	}
	return w.String()
}

// ParsePlanPicture reads what PlanPicture.String writes.
func ParsePlanPicture(s string) (PlanPicture, error) {
	if strings.TrimSpace(s) == "" {
		return PlanPicture{}, nil
	}
	r := readItem(s)
	number := func(text string) (float64, error) {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return 0, fmt.Errorf("must be a number")
		}
		return x + 0, nil
	}
	p := PlanPicture{File: r.head("a file, such as plans/hall.png")}
	size := take(r, "size", func(text string) ([2]int, error) {
		w, h, ok := strings.Cut(text, "x")
		wide, err1 := strconv.Atoi(w)
		high, err2 := strconv.Atoi(h)
		if !ok || err1 != nil || err2 != nil {
			return [2]int{}, fmt.Errorf("must be pixels, such as 800x600")
		}
		return [2]int{wide, high}, nil
	})
	p.Wide, p.High = size[0], size[1]
	p.At, p.Metre, p.Turn = take(r, "at", parsePoint), take(r, "metre", number), take(r, "turn", number)
	if err := r.done("file size=800x600 at=x,y metre= turn="); err != nil {
		return PlanPicture{}, err
	}
	return p, p.check()
}

func (p PlanPicture) check() error {
	switch {
	case !IsPlanPicture(p.File):
		return fmt.Errorf("must name a picture in the show's folder, such as plans/hall.png")
	case p.Wide < 1 || p.High < 1 || p.Wide > MostPixels || p.High > MostPixels:
		return fmt.Errorf("must have size= of 1 to %d pixels a side", MostPixels)
	case !(p.Metre > 0 && p.Metre <= 10):
		return fmt.Errorf("must have metre= of more than 0 and up to 10 metres a pixel")
	case !(math.Abs(p.Turn) <= 360) || !(math.Abs(p.At.X) < 1e5 && math.Abs(p.At.Y) < 1e5):
		return fmt.Errorf("must have turn= from -360 to 360, and lie on the stage plan")
	}
	return nil
}
