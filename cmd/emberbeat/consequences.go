package main

import (
	"context"

	"emberbeat/shows/session"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// looking is how a verb looks at what its change comes to.
type looking struct {
	always bool   // when the change is saved as well, not only for a dry run
	night  string // only on this night; "" is wherever the change concerns
	more   func(was, is *timeline.Show, list *sheet.ChangeList)
}

// changeStock is change for edits of any record: a dry run says what rests on
// what is changed of the stock, and which findings come and go.
func (t *talk) changeStock(ctx context.Context, dir, label string, dry bool, edit func(*timeline.Plan) (timeline.Edit, error)) error {
	return t.changeLooking(ctx, dir, label, dry, looking{}, func(s *session.Session) (timeline.Edit, error) { return edit(s.Plan("")) })
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
	next, err := before.Edit(e)
	if err != nil {
		return usage(err)
	}
	cs := timeline.Diff(before, next)
	list := sheet.NewChangeList(cs)
	if (dry || look.always) && len(cs) > 0 {
		if err := look.at(ctx, s, next, cs, list); err != nil {
			return err
		}
	}
	if _, err := t.apply(s, label, dry, e); err != nil {
		return err
	}
	t.sayChanges(len(cs), dry)
	if look.more != nil {
		look.more(before, next, list)
	}
	return t.printList(list)
}

// at says what a change comes to. The recordings are looked at once, since no
// edit changes them.
func (l *looking) at(ctx context.Context, s *session.Session, next *timeline.Show, cs timeline.Changes, list *sheet.ChangeList) error {
	on := timeline.Concerned(s.Show(), next, cs)
	if l.night != "" {
		n, err := next.FindNight(l.night)
		if err != nil {
			return usage(err)
		}
		on = []timeline.Concern{{Was: s.Show().Night(n.ID), Is: n}}
	}
	if len(on) == 0 {
		return nil
	}
	facts := s.Facts(ctx)
	if err := ctx.Err(); err != nil {
		return err
	}
	refs := stockChanged(cs)
	if len(refs) == 0 {
		list.Findings = sheet.NewEditFindings(s.Show(), next, on, facts)
		return nil
	}
	was, is := timeline.Compile(s.Show(), on[0].Was), timeline.Compile(next, on[0].Is)
	list.Consequences = sheet.NewConsequences(was, is, refs, rule.Check(was, facts), rule.Check(is, facts), facts)
	return nil
}

func stockChanged(cs timeline.Changes) []timeline.Ref {
	var refs []timeline.Ref
	for _, c := range cs {
		if c.Before != nil && c.After != nil && timeline.KindOf(c.Ref.Kind).Part == timeline.StockPart {
			refs = append(refs, c.Ref)
		}
	}
	return refs
}
