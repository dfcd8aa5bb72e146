package main

import (
	"context"

	"emberbeat/shows/report/changed"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// looking is how a verb looks at what its change comes to.
type looking struct {
	always bool   // when the change is saved as well, not only for a dry run
	night  string // only on this night; "" is wherever the change concerns
	more   func(was, is *timeline.Show, list *changed.List)
	label  func() string                                                 // of the change, once the edit is known; nil is what the verb says
	stock  *timeline.Show                                                // whose stock is taken
	plan   bool                                                          // how the plans differ as wholes is told as well
	never  bool                                                          // not even for a dry run, which says what goes where
	told   func(p *timeline.Plan, args any, out operation.Outcome) error // what an operation has told
	result func() error                                                  // writes what the verb says, in place of the list of changes
}

// changeLooking is change for verbs that say what their change comes to.
func (t *talk) changeLooking(ctx context.Context, dir, label string, dry bool, look looking, edit func(*session.Session) (timeline.Edit, error)) error {
	s, err := t.open(dir, dry)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	before := s.Show()
	e, err := edit(s)
	if err != nil {
		return usage(err)
	}
	tried, err := s.Try(e)
	if err != nil {
		return usage(err)
	}
	cs := tried.Changes()
	list := changed.NewList(before, tried.Show, cs)
	if (dry || look.always) && !look.never && len(cs) > 0 {
		if err := look.at(ctx, s, tried, cs, list); err != nil {
			return err
		}
	}
	if look.label != nil {
		label = look.label()
	}
	if err := t.keep(s, label, dry, tried); err != nil {
		return err
	}
	if look.result != nil {
		t.saySaved(dry)
		return look.result()
	}
	t.sayChanges(len(cs), dry)
	if look.more != nil {
		look.more(before, tried.Show, list)
	}
	return t.printList(list)
}

// at says what a change comes to. Stock that others rest on says so for the
// first that it concerns, the tour, where all of it is.
func (l *looking) at(ctx context.Context, s *session.Session, tried *session.Tried, cs timeline.Changes, list *changed.List) error {
	on := timeline.Concerned(s.Show(), tried.Show, cs)
	if l.night != "" {
		n, err := tried.Show.FindNight(l.night)
		if err != nil {
			return usage(err)
		}
		on = []timeline.Concern{tried.On(n.ID)}
	}
	if len(on) == 0 {
		return nil
	}
	if len(changed.StockChanged(cs)) > 0 {
		on = on[:1]
	}
	each, err := s.Foresee(ctx, tried, on...)
	if err != nil {
		return err
	}
	if list.Consequences = each[0].Rests; list.Consequences == nil {
		list.Findings = changed.FindingsOn(on, each)
	}
	if l.plan {
		list.Plan = each[0].Plan
	}
	return nil
}
