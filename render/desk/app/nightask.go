package app

import (
	"fmt"
	"image"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// tonightForm is what a dialog about one night asks for.
type tonightForm struct {
	title, verb string
	rows        int // of fields
	draw        func(a *App, f *widget.Form, d *tonightDialog)
	edit        func(a *App, d *tonightDialog) (label string, e timeline.Edit, err error)
}

// tonightDialog changes one night, and says what would come of it before it is confirmed.
type tonightDialog struct {
	form      tonightForm
	night     timeline.ID
	what      int // of the form's kinds
	which, to timeline.ID
	reason    string
	text      string
	number    int64
	second    int64
	bad       string
	sel       widget.Selection
}

func (a *App) askTonight(f tonightForm) {
	a.dialog = &tonightDialog{form: f, night: a.work.night}
}

func (d *tonightDialog) draw(a *App) bool {
	u := a.ui
	high := 150 + d.form.rows*(widget.RowHeight+6) + 190
	b := u.BeginDialog("tonight", d.form.title, 720, high)
	k := u.Stack(b.Body, 8)
	f := u.Form(k.Top(d.form.rows*(widget.RowHeight+6)), 100)
	d.form.draw(a, &f, d)
	label, edit, err := d.form.edit(a, d)
	why := ""
	if err != nil {
		why = err.Error()
	}
	d.foresee(a, k.Rest(), label, edit, err)
	choice := b.Buttons(widget.Choice{Label: "Cancel"}, widget.Choice{Label: d.form.verb, Main: true, Off: why})
	b.End()
	if choice == 1 && edit != nil {
		if !a.do(change{label, []timeline.Edit{edit}}) {
			d.bad = a.note.text
			return false
		}
		return true
	}
	return choice == 0 || b.Closed
}

// foresee shows what the edit would change.
func (d *tonightDialog) foresee(a *App, r image.Rectangle, label string, edit timeline.Edit, err error) {
	u := a.ui
	k := u.Stack(r, 4)
	if err != nil {
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkSecondary, upper(err.Error())+".")
		return
	}
	f := a.foresee("tonight "+label, edit)
	h := u.ParagraphHeight(k.Rest().Dx(), render.TypeLabel, f.text())
	u.Paragraph(k.Top(h*100/int(u.Scene().Scale)+2), render.TypeLabel, render.InkText, f.text())
	if f != nil && f.done && f.err == nil {
		a.diffTable("diff", k.Rest(), &d.sel, f.Findings, "No finding comes or goes.")
	}
}

// choose draws a choice of records by id; a choice that is not among them any more falls back to the first.
func (d *tonightDialog) choose(a *App, key string, r image.Rectangle, now *timeline.ID, ids, names []string, none string) {
	why := ""
	if len(ids) == 0 {
		why = none
	}
	at := slices.Index(ids, string(*now))
	if at < 0 && len(ids) > 0 {
		at, *now = 0, timeline.ID(ids[0])
	}
	if len(ids) == 0 {
		*now = ""
	}
	if i, changed := a.ui.Off(why).Dropdown(key, r, names, at); changed {
		*now = timeline.ID(ids[i])
	}
}

// kinds draws the choice of what is cut, swapped or taken out.
func (d *tonightDialog) kinds(a *App, r image.Rectangle, words []string) string {
	names := make([]string, len(words))
	for i, w := range words {
		names[i] = map[string]string{"placed": "placed effect"}[w]
		if names[i] == "" {
			names[i] = w
		}
	}
	if now, changed := a.ui.Dropdown("what", r, names, d.what); changed {
		d.what, d.which = now, ""
	}
	return words[d.what]
}

// line draws a field of text.
func (d *tonightDialog) line(a *App, key string, r image.Rectangle, text *string, hint string) {
	e := a.ui.TextField(key, r, *text, widget.TextSpec{Hint: hint})
	*text = newest(*text, e)
}

// cutKinds are what can be cut or swapped.
var cutKinds = []string{"family", "article", "placed", "lane", "song", "cue"}

// pick draws the two choices of a selector.
func (d *tonightDialog) pick(a *App, f *widget.Form) {
	what := d.kinds(a, f.Row("What"), cutKinds)
	ids, names := a.selectorChoices(what)
	none := "the show has none"
	if what == "cue" {
		none = "no cue is selected in the timeline"
	}
	d.choose(a, "which", f.Row("Which"), &d.which, ids, names, none)
}

func (d *tonightDialog) selector() timeline.Selector {
	return timeline.Selector{What: cutKinds[d.what], ID: string(d.which)}
}

func (d *tonightDialog) picked() error {
	if d.which == "" {
		return fmt.Errorf("there is no %s to choose", cutKinds[d.what])
	}
	return nil
}

func cutForm() tonightForm {
	return tonightForm{title: "Cut for the night", verb: "Cut", rows: 3,
		draw: func(a *App, f *widget.Form, d *tonightDialog) {
			d.pick(a, f)
			d.line(a, "reason", f.Row("Reason"), &d.reason, "stands on the cut list that is signed")
		},
		edit: func(a *App, d *tonightDialog) (string, timeline.Edit, error) {
			c := timeline.Cut{Selector: d.selector(), Reason: strings.TrimSpace(d.reason)}
			return "cut " + a.selectorText(c.Selector), timeline.CutTonight(d.night, c), d.picked()
		}}
}

func swapForm() tonightForm {
	return tonightForm{title: "Swap for the night, same hits", verb: "Swap", rows: 4,
		draw: func(a *App, f *widget.Form, d *tonightDialog) {
			d.pick(a, f)
			ids, names := a.recordChoices("article")
			d.choose(a, "to", f.Row("For"), &d.to, ids, names, "the stock has no article")
			d.line(a, "reason", f.Row("Reason"), &d.reason, "stands on the cut list that is signed")
		},
		edit: func(a *App, d *tonightDialog) (string, timeline.Edit, error) {
			s := timeline.Swap{Selector: d.selector(), To: d.to, Reason: strings.TrimSpace(d.reason)}
			return "swap " + a.selectorText(s.Selector) + " for " + a.nameOf([]string{"article"}, "", d.to), timeline.SwapTonight(d.night, s), d.picked()
		}}
}

// outKinds are what can be taken out of the rig.
var outKinds = []string{"bank", "device", "placed"}

func outForm() tonightForm {
	return tonightForm{title: "Take out of the night's rig", verb: "Take out", rows: 3,
		draw: func(a *App, f *widget.Form, d *tonightDialog) {
			kind := d.kinds(a, f.Row("What"), outKinds)
			ids, names := a.recordChoices(kind)
			d.choose(a, "which", f.Row("Which"), &d.which, ids, names, "the rig has none")
			d.line(a, "reason", f.Row("Why"), &d.reason, "dead at sound-check")
		},
		edit: func(a *App, d *tonightDialog) (string, timeline.Edit, error) {
			kind := outKinds[d.what]
			if d.which == "" {
				return "", nil, fmt.Errorf("the rig has no %s to choose", kind)
			}
			c := timeline.RigChange{Kind: kind, ID: d.which, Why: strings.TrimSpace(d.reason)}
			return "take " + kind + " " + a.nameOf([]string{kind}, "", d.which) + " out for the night", timeline.TakeOutTonight(d.night, c), nil
		}}
}

// shiftSpec is how a shift is typed: seconds, kept to 0.1 ms.
var shiftSpec = widget.NumberSpec{Units: []widget.Unit{{Name: "s", Num: 10000, Den: 1}, {Name: "ms", Num: 10, Den: 1}}, Digits: 4, Min: -36000000, Max: 36000000, Step: 100, Fine: 10, Big: 1000}

func shiftForm() tonightForm {
	return tonightForm{title: "Move a song for the night", verb: "Move", rows: 3,
		draw: func(a *App, f *widget.Form, d *tonightDialog) {
			ids, names := a.selectorChoices("song")
			d.choose(a, "which", f.Row("Song"), &d.which, ids, names, "the show has no song")
			if e := a.ui.Number("by", f.Row("Everything by"), d.number, &shiftSpec); e.Changed {
				d.number = e.Value
			}
			a.ui.Tip("Later is more than 0: playback starts that much after timecode", "")
			d.line(a, "start", f.Row("Start at"), &d.text, "another timecode, as in 05:00:00:00; empty = the tour's")
		},
		edit: func(a *App, d *tonightDialog) (string, timeline.Edit, error) {
			h := timeline.Shift{Song: d.which, By: timeline.Time(d.number) * timeline.EntryStep}
			if text := strings.TrimSpace(d.text); text != "" {
				tc, err := timeline.ParseTimecode(text)
				if err != nil {
					return "", nil, fmt.Errorf("start: %w", err)
				}
				h.Start = &tc
			}
			if d.which == "" {
				return "", nil, fmt.Errorf("the show has no song to move")
			}
			if h.By == 0 && h.Start == nil {
				return "", nil, fmt.Errorf("say by how much, or where the song starts")
			}
			return "move " + a.shiftText(h), timeline.ShiftTonight(d.night, h), nil
		}}
}

func conditionForm() tonightForm {
	return tonightForm{title: "Condition of the authority", verb: "Enter", rows: 1,
		draw: func(a *App, f *widget.Form, d *tonightDialog) {
			d.line(a, "text", f.Row("Condition"), &d.text, "in the officer's words")
		},
		edit: func(_ *App, d *tonightDialog) (string, timeline.Edit, error) {
			if strings.TrimSpace(d.text) == "" {
				return "", nil, fmt.Errorf("write what was demanded; no rule reads it, it stands on the sheets")
			}
			return "enter condition: " + d.text, timeline.ConditionTonight(d.night, d.text), nil
		}}
}

// toWhom are the people a distance keeps away.
var toWhom = []timeline.DistanceTo{timeline.ToAudience, timeline.ToPerformers, timeline.ToPersons}

// distanceFields draws the fields of a distance: used for nights and venues.
func (d *tonightDialog) distanceFields(a *App, f *widget.Form) {
	names := []string{"the audience", "performers", "all persons"}
	if now, changed := a.ui.Dropdown("whom", f.Row("To"), names, d.what); changed {
		d.what = now
	}
	if m, ok := a.length("metres", f.Row("At least"), float64(d.number)/1000, 0); ok {
		d.number = int64(m*1000 + 0.5)
	}
	times := widget.NumberSpec{Units: []widget.Unit{{Name: "× fallout", Num: 1000, Den: 1}}, Digits: 2, Max: 100_000, Step: 500}
	if e := a.ui.Number("times", f.Row("Or"), d.second, &times); e.Changed {
		d.second = e.Value
	}
	a.ui.Tip("The larger of both holds; 0 leaves one out", "")
	ids, labels := []string{""}, []string{"every effect"}
	for _, what := range []string{"family", "article"} {
		i, n := a.selectorChoices(what)
		for k := range i {
			ids, labels = append(ids, what+"="+i[k]), append(labels, what+" "+n[k])
		}
	}
	d.choose(a, "from", f.Row("From"), &d.which, ids, labels, "")
	d.line(a, "clause", f.Row("Clause"), &d.reason, "who asks for it, or where it is written")
}

// distance gives the distance that the fields hold.
func (d *tonightDialog) distance() (timeline.Distance, error) {
	x := timeline.Distance{To: toWhom[d.what], AtLeast: float64(d.number) / 1000, Fallout: float64(d.second) / 1000, Clause: strings.TrimSpace(d.reason)}
	switch what, id, _ := strings.Cut(string(d.which), "="); what {
	case "family":
		x.Families = []timeline.Family{timeline.Family(id)}
	case "article":
		x.Articles = []timeline.ID{timeline.ID(id)}
	}
	if x.AtLeast == 0 && x.Fallout == 0 {
		return x, fmt.Errorf("a distance of 0 m asks for nothing; give metres, a multiple of the fallout radius, or both. Label, permit and authority come first")
	}
	return x, nil
}

func distanceForm() tonightForm {
	return tonightForm{title: "Distance the authority asks for", verb: "Enter", rows: 5,
		draw: func(a *App, f *widget.Form, d *tonightDialog) { d.distanceFields(a, f) },
		edit: func(a *App, d *tonightDialog) (string, timeline.Edit, error) {
			x, err := d.distance()
			return "enter distance: " + a.distanceText(x), timeline.DistanceTonight(d.night, x), err
		}}
}

func fillForm() tonightForm {
	return tonightForm{title: "Weigh a supply", verb: "Enter", rows: 2,
		draw: func(a *App, f *widget.Form, d *tonightDialog) {
			ids, names := a.recordChoices("supply")
			d.choose(a, "which", f.Row("Supply"), &d.which, ids, names, "the rig has no supply")
			kg := widget.NumberSpec{Units: []widget.Unit{{Name: "kg", Num: 1000, Den: 1}, {Name: "g", Num: 1, Den: 1}}, Digits: 3, Max: 1_000_000_000, Step: 100}
			if e := a.ui.Number("kg", f.Row("Holds"), d.number, &kg); e.Changed {
				d.number = e.Value
			}
		},
		edit: func(a *App, d *tonightDialog) (string, timeline.Edit, error) {
			fill := timeline.Fill{Supply: d.which, Kg: float64(d.number) / 1000}
			if d.which == "" {
				return "", nil, fmt.Errorf("the rig has no supply to weigh")
			}
			return "weigh " + a.nameOf([]string{"supply"}, "", d.which) + ": " + strconv.FormatFloat(fill.Kg, 'f', -1, 64) + " kg", timeline.FillTonight(d.night, fill), nil
		}}
}
