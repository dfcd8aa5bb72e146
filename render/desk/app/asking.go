package app

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// ask is one value that a dialog asks for: a line of text, one of several names, several of them, or yes or no.
type ask struct {
	name              string   // the field that an error is about
	about             []string // other fields whose errors are about it
	label, hint, help string
	unit              string
	text              string
	names             []string // to choose one of; nil asks for text
	at                int
	many              []bool             // of names, which are chosen: several can be
	flag, on          bool               // asks for yes or no
	number            *widget.NumberSpec // asks for an amount, in units of measure
	amount            int64
	off               func(d *asking) string
}

// asking is a dialog of values that shows what they come to while they are changed, and makes the change as one step. What is shown and
// what is done is one outcome.
type asking struct {
	title, verb string
	fields      []*ask
	work        func(a *App, d *asking) outcome
	caution     string
	about       string       // above the fields
	then        func(a *App) // after the change is made, or nil

	out   outcome
	plan  *timeline.Plan // that out was worked out on
	stale bool           // a value has changed since
	sel   widget.Selection
	picks widget.Selection
}

// outcome is what the values of a dialog come to.
type outcome struct {
	change  change
	err     error    // why it cannot be done, and what would be valid
	head    []string // of the table that is shown
	rows    [][]string
	lines   []string // below the table
	foresee string   // what it is called in a forecast, which is then shown in the place of a table
	offer   string   // what would do instead, "" for nothing
	accept  func(d *asking)
}

// field gives the value with a name.
func (d *asking) field(name string) *ask {
	i := slices.IndexFunc(d.fields, func(f *ask) bool { return f.name == name })
	return d.fields[i]
}

// refresh works out anew what the values come to, if they or the show have changed.
func (d *asking) refresh(a *App) {
	if d.plan == a.work.plan && !d.stale {
		return
	}
	d.plan, d.stale = a.work.plan, false
	d.out = d.work(a, d)
	d.out.err = a.withName(d.out.err)
	if d.out.err == nil && len(d.out.change.edits) > 0 {
		_, d.out.err = a.work.s.Show().Edit(d.out.change.edits...)
	}
}

// has reports whether an error is about the field.
func (f *ask) has(bad *timeline.ValueError) bool {
	return f.name != "" && bad.Field == f.name || slices.Contains(f.about, bad.Field)
}

// wrong says what is wrong with the value of a field, "" where nothing is or the error is about none or another.
func (d *asking) wrong(f *ask) string {
	var bad *timeline.ValueError
	if errors.As(d.out.err, &bad) && f.has(bad) {
		return bad.Want
	}
	return ""
}

// problem says why the change cannot be made, with the field as it is called in the dialog.
func (d *asking) problem() string {
	var bad *timeline.ValueError
	if !errors.As(d.out.err, &bad) {
		return upper(d.out.err.Error())
	}
	for _, f := range d.fields {
		if f.has(bad) {
			if bad.Value == "" || strings.HasPrefix(bad.Want, bad.Value+" ") {
				if strings.HasPrefix(bad.Want, "is ") {
					return f.label + " " + bad.Want
				}
				return f.label + ": " + bad.Want
			}
			return fmt.Sprintf("%s: %q %s", f.label, bad.Value, bad.Want)
		}
	}
	return upper(bad.Error())
}

// why says why the change cannot be made.
func (d *asking) why() string {
	if d.out.err != nil {
		return d.problem()
	}
	if len(d.out.change.edits) == 0 {
		return "there is nothing to change"
	}
	return ""
}

// Size of such a dialog in logical pixels.
const (
	askWide  = 960
	askHigh  = 560
	askForm  = 330
	askLabel = 96
	askAbout = 60
	askBoxes = 6 // rows of a list of boxes
)

// withName puts the name of a record in the place of its id where that is the value an error is about.
func (a *App) withName(err error) error {
	var bad *timeline.ValueError
	if !errors.As(err, &bad) || !timeline.ID(bad.Value).Valid() || page.Digits(bad.Value) == len(bad.Value) {
		return err
	}
	for _, kind := range []string{"placed", "bank", "device", "group", "article", "devicetype", "banktype", "position", "lane"} {
		k := timeline.KindOf(kind)
		if r := find(a.work.shown, timeline.Ref{Kind: kind, Song: a.work.song, ID: timeline.ID(bad.Value)}); r != nil && k.NameOf(r) != "" {
			c := *bad
			c.Value = k.NameOf(r)
			return withValue(err, bad, &c)
		}
	}
	return err
}

// withValue puts another error about a value in the place of the one that an error is or wraps.
func withValue(err error, bad, better *timeline.ValueError) error {
	before, after, _ := strings.Cut(err.Error(), bad.Error())
	if before+after == "" {
		return better
	}
	return fmt.Errorf("%s%w%s", before, better, after)
}
