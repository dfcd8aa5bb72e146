package operation

import (
	"errors"
	"fmt"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/drawn"
	"emberbeat/timeline/field"
)

// drawingOperations take over what others drew.
func drawingOperations() []*Operation { return []*Operation{takeDrawing()} }

// TakingDrawing are the arguments of a drawing that is taken over.
type TakingDrawing struct {
	File string // as At.Drawn takes it
	drawn.Taking
}

func takeDrawing() *Operation {
	type A = TakingDrawing
	words := func(name, help string, at func(*A) *[]string) field.Field { return field.TextList(name, help, at) }
	means := field.List("means", "what things are in our stock: THEIRS=OURS, an article or a device type; once for each", func(a *A) *[]drawn.Meaning { return &a.Means },
		func(m drawn.Meaning) string { return m.Theirs + "=" + m.Ours.Kind + ":" + string(m.Ours.ID) }, parseMeaning)
	ties := field.List("at", "where two points of it are on our stage: NAME=x,y or x,y=x,y in metres; a third number ties the height", func(a *A) *[]drawn.Tie { return &a.Ties }, drawn.Tie.String, drawn.ParseTie)
	return tells(does(Operation{Verb: "import", Menu: "Take over a drawing…", Title: "Take over a drawing", Button: "Take over",
		Tip:  "makes positions, devices and effects of an MVR drawing, told thing by thing before it is done; what the show has is changed only where you say so",
		Help: "makes positions, devices and effects of an MVR drawing",
		Args: []Argument{
			{Field: trimmed(field.Text("file", "the drawing, an MVR file", func(a *A) *string { return &a.File }), func(a *A) *string { return &a.File }), Word: "FILE", Label: "File", Hint: "/home/me/stage.mvr", Need: "no file is given"},
			{Field: words("only", "takes only what is so called: a name, number, type or group, * for anything", func(a *A) *[]string { return &a.Only }), Label: "Only", Hint: "names, types; * for anything"},
			{Field: words("layer", "takes only what is on this layer; once for each", func(a *A) *[]string { return &a.Layers }), Label: "Layers", Hint: "all"},
			{Field: words("positions", "takes what is so called as positions alone", func(a *A) *[]string { return &a.Positions }), Label: "As positions", Hint: "names, types; * for anything"},
			{Field: means, Label: "Means", Hint: "Cold jet=article:CO2 jet", read: readMeaning},
			{Field: ties, Label: "Two points", Hint: "Mark A=-6,0; Mark B=6,0"},
			{Field: trimmed(field.Text("space", "address space of new devices", func(a *A) *string { return &a.Space }), func(a *A) *string { return &a.Space }), Label: "Space"},
			{Field: field.Flag("replace", "what the show has by the same name goes where the drawing says", func(a *A) *bool { return &a.Replace }), Label: "Same names", Hint: "put them where the drawing says"},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			p, err := a.plan(at)
			if err != nil || p.Empty() {
				return nil, err
			}
			return p.Edit(), nil
		},
		func(*timeline.Show, *A) string { return "take over a drawing" }),
		func(at At, a *A) (Outcome, error) {
			p, err := a.plan(at)
			if err != nil {
				return Outcome{}, err
			}
			return drawingTold(p), nil
		})
}

// parseMeaning reads THEIRS=kind:id.
func parseMeaning(text string) (drawn.Meaning, error) {
	k := strings.LastIndex(text, "=")
	if k < 1 {
		return drawn.Meaning{}, errors.New("must be THEIRS=OURS: what things are called in the drawing, and an article or device type of ours")
	}
	kind, id, _ := strings.Cut(text[k+1:], ":")
	if kind != "article" && kind != "devicetype" || !timeline.ID(id).Valid() {
		return drawn.Meaning{}, errors.New("must name an article or device type of ours after the =")
	}
	return drawn.Meaning{Theirs: strings.TrimSpace(text[:k]), Ours: timeline.Ref{Kind: kind, ID: timeline.ID(id)}}, nil
}

// readMeaning finds what a thing means in the stock.
func readMeaning(p *timeline.Plan, text string) (field.Value, error) {
	k := strings.LastIndex(text, "=")
	if k < 1 {
		_, err := parseMeaning(text)
		return field.Value{}, &timeline.ValueError{Field: "means", Value: text, Want: err.Error()}
	}
	ref, err := p.FindOneOf(strings.TrimSpace(text[k+1:]), "article", "devicetype")
	return field.Value{Text: text[:k] + "=" + ref.Kind + ":" + string(ref.ID)}, err
}

// plan reads the drawing, and works out what it comes to.
func (a *TakingDrawing) plan(at At) (*drawn.Plan, error) {
	switch {
	case a.File == "":
		return nil, errors.New("no file is given")
	case at.Drawn == nil:
		return nil, errors.New("drawings cannot be read here")
	}
	d, err := at.Drawn(a.File)
	if err != nil {
		return nil, err
	}
	k := a.Taking
	k.Drawing = d
	return k.Plan(at.Show, func(kind string) timeline.ID { return at.NewID(kind, "") })
}

// drawingTold tells what becomes of each thing of a drawing.
func drawingTold(p *drawn.Plan) Outcome {
	out := Outcome{Columns: columns("Name", "Drawn as", "#x, m", "#y, m", "#z, m", "Device type", "Address", "Direction", "What happens"), Lines: []string{
		"x to the audience's right, y upstage, z up, from the middle of the stage's front edge; a drawing of this kind is in millimetres, z up"}}
	for _, r := range p.Rows {
		x, y, z := "", "", ""
		if r.Place {
			x, y, z = fmt.Sprintf("%.3f", r.At.X), fmt.Sprintf("%.3f", r.At.Y), fmt.Sprintf("%.3f", r.At.Z)
		}
		out.Rows = append(out.Rows, []string{r.Name, r.Drawn, x, y, z, r.Type, r.Address, r.Direction, r.Happens})
	}
	out.Lines = append(out.Lines, p.Lines...)
	return out
}
