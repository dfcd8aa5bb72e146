package app

import (
	"errors"
	"slices"
	"strings"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// needAccept says why the finding last gone to cannot be accepted. A tour accepts nothing: what is seen and taken is one night's.
func needAccept(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	f := a.chosenFinding()
	switch {
	case a.work.night == "":
		return "choose a night first: a finding is accepted for one night"
	case f == nil:
		return "go to a finding first, with " + a.key("finding-on")
	case f.Accepted != nil:
		return "it is accepted already, by " + f.Accepted.By + ": " + f.Accepted.Reason
	}
	return ""
}

// accepting gives the edit that has a night accept a finding. Other acceptances stay, also those of the same record: it may have several
// findings.
func accepting(night timeline.ID, f *rule.Finding, by, reason string) change {
	return change{"accept " + f.Rule, []timeline.Edit{func(d *timeline.Draft) error {
		n := d.Show().Night(night)
		if n == nil {
			return errors.New("the night is gone; choose another")
		}
		now := f.Acceptance(by, reason)
		kept := slices.DeleteFunc(slices.Clone(n.Accepted), func(old timeline.Acceptance) bool {
			return old.Rule == now.Rule && old.Record == now.Record && old.Values == now.Values
		})
		items := make([]string, 0, len(kept)+1)
		for _, old := range append(kept, now) {
			items = append(items, old.String())
		}
		return d.Set(timeline.Ref{Kind: "night", ID: night}, "accepted", timeline.Value{Items: items})
	}}}
}

// acceptDialog asks why a finding is accepted, and by whom.
type acceptDialog struct {
	finding    rule.Finding // as it was when asked: checks go on beside
	night      timeline.ID
	reason, by string
	bad        bool // something was missing when it was tried
}

func (a *App) askAccept() {
	a.dialog = &acceptDialog{finding: *a.chosenFinding(), night: a.work.night, by: a.prefs.Name}
}

// missing says what a field still needs.
func (d *acceptDialog) missing(text, what string) string {
	if d.bad && strings.TrimSpace(text) == "" {
		return what
	}
	return ""
}

func (d *acceptDialog) draw(a *App) bool {
	u := a.ui
	b := u.BeginDialog("accept", "Accept this finding for the night", 560, 236)
	k := u.Stack(b.Body, 8)
	u.Label(k.Top(20), render.TypeLabel, render.InkText, d.finding.Rule+": "+d.finding.Text)
	f := u.Form(k.Rest(), 90)
	reason := u.TextField("reason", f.Row("Reason"), d.reason, widget.TextSpec{Hint: "what was looked at, and why it may stay", Error: d.missing(d.reason, "write why it may stay")})
	d.reason = newest(d.reason, reason)
	by := u.TextField("by", f.Row("Name"), d.by, widget.TextSpec{Hint: "who takes it", Error: d.missing(d.by, "write who takes it")})
	d.by = newest(d.by, by)
	choice := b.Buttons(widget.Choice{Label: "Cancel"}, widget.Choice{Label: "Accept", Main: true})
	b.End()
	if choice == 1 || reason.Enter || by.Enter {
		return d.take(a)
	}
	return choice == 0 || b.Closed || a.escaped()
}

// newest gives a field's text after an event.
func newest(text string, e widget.TextEvent) string {
	if e.Changed || e.Committed {
		return e.Text
	}
	return text
}

// take accepts, if reason and name are there.
func (d *acceptDialog) take(a *App) bool {
	reason, by := strings.TrimSpace(d.reason), strings.TrimSpace(d.by)
	if d.bad = reason == "" || by == ""; d.bad {
		a.again = true
		return false
	}
	if !a.do(accepting(d.night, &d.finding, by, reason)) {
		return false
	}
	a.prefs.Name = by
	a.prefs.save()
	a.say("accepted %s", d.finding.Rule)
	return true
}
