package main

import (
	"context"

	"emberbeat/shows/session"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// changeStock is change for edits that may touch the stock: a dry run says what
// rests on it as well.
func (t *talk) changeStock(ctx context.Context, dir, label string, dry bool, edit func(*timeline.Plan) (timeline.Edit, error)) error {
	s, err := t.open(dir, dry)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	before := s.Show()
	e, err := edit(s.Plan(""))
	if err != nil {
		return usage(err)
	}
	next, err := before.Edit(e)
	if err != nil {
		return usage(err)
	}
	cs := timeline.Diff(before, next)
	list := sheet.NewChangeList(cs)
	if dry {
		if list.Consequences, err = consequences(ctx, s, next, cs); err != nil {
			return err
		}
	}
	if _, err := t.apply(s, label, dry, e); err != nil {
		return err
	}
	t.sayChanges(len(cs), dry)
	return t.printList(list)
}

// consequences says what an edit of the stock comes to; nil when it leaves the
// stock alone. The recordings are looked at once, since no edit changes them.
func consequences(ctx context.Context, s *session.Session, next *timeline.Show, cs timeline.Changes) (*sheet.Consequences, error) {
	refs := stockChanged(cs)
	if len(refs) == 0 {
		return nil, nil
	}
	was, is := timeline.Compile(s.Show(), nil), timeline.Compile(next, nil)
	facts := s.Facts(ctx)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return sheet.NewConsequences(was, is, refs, rule.Check(was, facts), rule.Check(is, facts), facts), nil
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
