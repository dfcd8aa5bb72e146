package app

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// What is wrong with what stands in a form, and at which field it is said.

// has reports whether an error is about the field.
func (v *formField) has(bad *timeline.ValueError) bool {
	return v.name != "" && bad.Field == v.name || slices.Contains(v.about, bad.Field)
}

// wrong says what is wrong with the value of a field, "" where nothing is or the error is about none or another.
func (f *form) wrong(v *formField) string {
	var bad *timeline.ValueError
	if errors.As(f.out.err, &bad) && v.has(bad) {
		return bad.Want
	}
	return ""
}

// problem says why the change cannot be made, with the field as it is called in the dialog.
func (f *form) problem() string {
	var bad *timeline.ValueError
	if !errors.As(f.out.err, &bad) {
		return upper(f.out.err.Error())
	}
	for _, v := range f.fields {
		if v.has(bad) {
			if bad.Value == "" || strings.HasPrefix(bad.Want, bad.Value+" ") {
				if strings.HasPrefix(bad.Want, "is ") {
					return v.label + " " + bad.Want
				}
				return v.label + ": " + bad.Want
			}
			return fmt.Sprintf("%s: %q %s", v.label, bad.Value, bad.Want)
		}
	}
	return upper(bad.Error())
}

// why says why the change cannot be made.
func (f *form) why() string {
	if f.out.err != nil {
		return f.problem()
	}
	if len(f.out.change.edits) == 0 {
		return "there is nothing to change"
	}
	return ""
}

// withName puts the name of a record in the place of its id where that is the value an error is about.
func (a *App) withName(err error) error {
	var bad *timeline.ValueError
	if !errors.As(err, &bad) || !timeline.ID(bad.Value).Valid() || page.Digits(bad.Value) == len(bad.Value) {
		return err
	}
	for _, kind := range []string{"placed", "bank", "device", "group", "article", "devicetype", "banktype", "position", "lane"} {
		if r := find(a.work.Show, timeline.Ref{Kind: kind, Song: a.work.Song, ID: timeline.ID(bad.Value)}); r != nil {
			c := *bad
			c.Value = a.work.Show.CalledIn(a.work.Song, r)
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
