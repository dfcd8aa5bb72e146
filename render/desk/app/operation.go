package app

import (
	"cmp"

	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// What the window does with operations.

// operationAt is where the window does an operation.
func (a *App) operationAt(on timeline.Ref) operation.At {
	w := a.work
	return operation.At{Plan: w.Plan, On: on, Stock: a.stockOf, Drawn: a.files.Drawing, Pictured: a.files.Picture, NewID: w.NewIDs(), Before: w.Session.Before, Heard: a.song.Strip().HeardIn, Found: func(rule string) (map[timeline.Ref][]string, error) {
		found := map[timeline.Ref][]string{}
		for i := range w.Findings {
			if x := &w.Findings[i]; x.Rule == rule {
				found[x.Ref] = append(found[x.Ref], x.Digest())
			}
		}
		return found, nil
	}}
}

// doOperation does an operation at once, with arguments that nobody is asked for. Where anything rests on stock that it changes, it says first
// what that comes to.
func (a *App) doOperation(o *operation.Operation, on timeline.Ref, args any) bool {
	edit, err := o.Edit(a.operationAt(on), args)
	if err != nil {
		a.fail(err)
		return false
	}
	if edit == nil {
		return true // nothing was left to do
	}
	return a.doAsked(change{o.Say(a.work.Session.Show(), args), []timeline.Edit{edit}}, nil)
}

// operationCommand is the menu entry of an operation, which ask opens. It is named after the operation where c gives no id.
func operationCommand(verb, name string, c command, ask func(*App, *operation.Operation)) command {
	c.op = operation.Find(verb, name)
	c.id, c.name, c.help, c.group = cmp.Or(c.id, c.op.ID()), c.op.Menu, c.op.Tip, cmp.Or(c.group, "Book")
	op := c.op
	c.run = func(a *App) { ask(a, op) }
	return c
}
