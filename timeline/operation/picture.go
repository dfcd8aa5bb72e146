package operation

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// VenuePicture are the arguments of a picture that is laid under the stage plan of a
// venue.
type VenuePicture struct {
	File   string // as At.Pictured takes it; "" is the one that the venue has
	Page   int    // of a PDF, from 1
	Points []PicturePoint
	Off    bool // the venue has none any more
}

func (a *VenuePicture) start() { a.Page = 1 }

// PicturePoint says where a point of a picture is on the stage plan.
type PicturePoint struct {
	X, Y float64 // pixels from the upper left corner, to the right and down
	Part bool    // they are hundredths of its width and height
	On   timeline.Point
}

// String writes `120,340=-6,0`, or `12%,34%=-6,0`.
func (p PicturePoint) String() string {
	sign := ""
	if p.Part {
		sign = "%"
	}
	return field.FormatNumber(p.X) + sign + "," + field.FormatNumber(p.Y) + sign + "=" + p.On.String()
}

// ParsePicturePoint reads what PicturePoint.String writes.
func ParsePicturePoint(text string) (PicturePoint, error) {
	bad := errors.New("must be x,y in the picture, in pixels from its upper left corner or in %, then = and x,y on the stage in metres: 120,340=-6,0")
	there, here, ok := strings.Cut(text, "=")
	x, y, both := strings.Cut(there, ",")
	var p PicturePoint
	if !ok || !both {
		return p, bad
	}
	px, partX := strings.CutSuffix(strings.TrimSpace(x), "%")
	py, partY := strings.CutSuffix(strings.TrimSpace(y), "%")
	var err1, err2 error
	p.X, err1 = strconv.ParseFloat(px, 64)
	p.Y, err2 = strconv.ParseFloat(py, 64)
	on, err3 := timeline.ParsePoint(strings.TrimSpace(here))
	if err1 != nil || err2 != nil || err3 != nil || partX != partY || !(p.X >= 0 && p.X <= 1e5 && p.Y >= 0 && p.Y <= 1e5) || partX && (p.X > 100 || p.Y > 100) {
		return PicturePoint{}, bad
	}
	p.X, p.Y, p.Part, p.On = p.X+0, p.Y+0, partX, on
	return p, nil
}

// in gives the point in pixels of a picture.
func (p PicturePoint) in(pic timeline.PlanPicture) timeline.Point {
	if p.Part {
		return timeline.Point{X: p.X / 100 * float64(pic.Wide), Y: p.Y / 100 * float64(pic.High)}
	}
	return timeline.Point{X: p.X, Y: p.Y}
}

func planPicture() *Operation {
	type A = VenuePicture
	points := field.List("at", "where two points of it are on the stage: 120,340=-6,0 in pixels or %; twice", func(a *A) *[]PicturePoint { return &a.Points }, PicturePoint.String, ParsePicturePoint)
	page := field.Parsed("page", "which page of a PDF", func(a *A) *int { return &a.Page }, strconv.Itoa, wholeCount)
	page.Type = field.WholeType
	return tells(does(Operation{Verb: "venue", On: "venue", Name: "picture", Menu: "Picture under the plan…", Title: "Picture under the stage plan", Button: "Lay",
		Tip:  "lays a picture of the venue's own plan pale under the stage plan, by two points; nothing is measured on it",
		Help: "a PNG, SVG or PDF page pale under the stage plan, laid by two --at; no FILE lays the one that is there anew",
		Args: []Argument{
			{Field: trimmed(field.Text("file", "the picture", func(a *A) *string { return &a.File }), func(a *A) *string { return &a.File }), Word: "FILE", Optional: true, Label: "File", Hint: "/home/me/hall.pdf; empty = the one that is there"},
			{Field: points, Label: "Two points", Hint: "120,340=-6,0; 820,340=6,0"},
			{Field: page, Label: "Page"},
			{Field: field.Flag("off", "takes the picture away", func(a *A) *bool { return &a.Off }), Label: "Off", Hint: "take it away"},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			pic, err := a.laid(at)
			if err != nil {
				return nil, err
			}
			return func(d *timeline.Draft) error {
				return d.Set(at.On, "picture", timeline.Value{Text: pic.String()})
			}, nil
		},
		func(_ *timeline.Show, a *A) string {
			if a.Off {
				return "take the picture under the plan away"
			}
			return "lay a picture under the plan"
		}),
		func(at At, a *A) (Outcome, error) {
			pic, err := a.laid(at)
			if err != nil || a.Off {
				return Outcome{}, err
			}
			return a.told(pic), nil
		})
}

// laid gives the picture as it lies.
func (a *VenuePicture) laid(at At) (timeline.PlanPicture, error) {
	v := at.Show.Venue(at.On.ID)
	switch {
	case v == nil:
		return timeline.PlanPicture{}, errors.New("the venue is gone")
	case a.Off && (a.File != "" || len(a.Points) > 0):
		return timeline.PlanPicture{}, errors.New("{off} takes the picture away; leave out {file} and {at}")
	case a.Off:
		return timeline.PlanPicture{}, nil
	}
	pic := v.Picture
	if a.File != "" {
		if at.Pictured == nil {
			return pic, errors.New("pictures cannot be read here")
		}
		var err error
		if pic, err = at.Pictured(a.File, a.Page); err != nil {
			return pic, err
		}
	}
	switch {
	case pic.File == "":
		return pic, errors.New("the venue has no picture; give {file}")
	case len(a.Points) != 2:
		return pic, fmt.Errorf("the picture has %d by %d pixels; say with {at} where two points of it are on the stage", pic.Wide, pic.High)
	}
	return pic.Laid(a.Points[0].in(pic), a.Points[1].in(pic), a.Points[0].On, a.Points[1].On)
}

// told tells how a picture lies.
func (a *VenuePicture) told(pic timeline.PlanPicture) Outcome {
	out := Outcome{Columns: columns("Corner of the picture", "#x, m", "#y, m"), Lines: []string{
		fmt.Sprintf("%s, %d by %d pixels, %.4g m a pixel, turned by %g°", pic.File, pic.Wide, pic.High, pic.Metre, pic.Turn), timeline.PictureCaution}}
	for _, c := range []struct {
		name string
		x, y int
	}{{"upper left", 0, 0}, {"upper right", pic.Wide, 0}, {"lower left", 0, pic.High}, {"lower right", pic.Wide, pic.High}} {
		p := pic.Place(float64(c.x), float64(c.y))
		out.Rows = append(out.Rows, []string{c.name, fmt.Sprintf("%.2f", p.X), fmt.Sprintf("%.2f", p.Y)})
	}
	return out
}
