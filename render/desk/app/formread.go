package app

import (
	"errors"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/operation"
)

// What stands in a form, and what that comes to.

// chosen gives the values that are chosen for an argument; before anything is, what the field begins with.
func (r *formRow) chosen() []string {
	var list []string
	switch {
	case r.values == nil && r.arg.Commas:
		list = field.Split(strings.ReplaceAll(r.value.text, ",", ";"))
	case r.values == nil:
		list = field.Split(r.value.text)
	case r.value.many != nil:
		for i, on := range r.value.many {
			if on {
				list = append(list, r.values[i].Value)
			}
		}
	case r.value.at < len(r.values):
		list = append(list, r.values[r.value.at].Value)
	}
	return list
}

// given gives the value that stands in a field, and whether there is one.
func (r *formRow) given() (field.Value, bool) {
	v := r.value
	switch {
	case r.parts != nil:
		var items []string
		for _, part := range r.parts {
			items = append(items, part.name+"="+strings.TrimSpace(part.text))
		}
		return field.Value{Items: items}, true
	case r.arg.Type == field.ListType:
		list := r.chosen()
		if v.names != nil && v.many == nil && len(list) > 0 {
			list = field.Split(list[0])
		}
		return field.Value{Items: list}, len(list) > 0
	case v.names != nil:
		list := r.chosen()
		if len(list) == 0 {
			return field.Value{}, false
		}
		return field.Value{Text: list[0]}, list[0] != ""
	case v.flag:
		return field.Value{Text: strconv.FormatBool(v.on)}, true
	case v.number != nil:
		return field.Value{Text: strconv.FormatFloat(float64(v.amount)/float64(v.perUnit), 'f', -1, 64)}, v.amount != 0
	}
	text := strings.TrimSpace(v.text)
	return field.Value{Text: text}, text != ""
}

// read puts what stands in the fields into arguments.
func (f *form) read(a *App) error {
	f.args = f.op.New()
	if f.spec.Begin != nil {
		f.spec.Begin(f.args)
	}
	for _, r := range f.rows {
		if off := f.spec.Off[r.arg.Name]; off != nil && off(f.args) != "" {
			continue
		}
		v, ok := r.given()
		switch {
		case !ok && r.value.names != nil && len(r.values) == 0 && r.arg.Need != "":
			return errors.New(noneOf(r.kindNow()))
		case !ok && r.arg.Need != "":
			return &timeline.ValueError{Field: r.arg.Name, Want: f.op.Spell(r.arg.Need, labelOf)}
		case !ok && !r.arg.Empty:
			continue
		}
		set := func() error { return r.arg.Set(f.args, v) }
		switch offered := r.arg.Offers(a.work.Show) != nil; {
		case (offered || r.values == nil) && r.arg.Type == field.ListType:
			set = func() error { return r.arg.Give(a.work.Plan, f.args, v.Items...) }
		case offered || len(r.arg.Ref) == 0 && r.arg.Type != field.ListType:
			set = func() error { return r.arg.Give(a.work.Plan, f.args, v.Text) }
		}
		if err := set(); err != nil {
			return err
		}
	}
	return nil
}

func (r *formRow) kindNow() string {
	if r.kind != nil {
		return r.arg.Ref[r.kind.at]
	}
	if len(r.arg.Ref) > 0 {
		return r.arg.Ref[0]
	}
	return r.arg.Name
}

// labelOf calls an argument as the form does.
func labelOf(arg *operation.Argument) string { return strconv.Quote(arg.Label) }

// comesTo is what the fields come to.
func (f *form) comesTo(a *App) outcome {
	f.fill(a)
	if err := f.read(a); err != nil {
		return outcome{err: err}
	}
	at := a.operationAt(f.on)
	var told outcome
	edit, err := f.op.Edit(at, f.args)
	if f.op.Tells() {
		t, tellErr := f.op.Outcome(at, f.args)
		if err == nil {
			err = tellErr
		}
		for _, c := range t.Columns {
			told.Columns = append(told.Columns, c.Title)
		}
		told.Rows = t.Rows
		for _, line := range t.Lines {
			told.Lines = append(told.Lines, upper(line)+".")
		}
	}
	if err != nil {
		var bad *timeline.ValueError
		refused := err
		if text := f.op.Spell(err.Error(), labelOf); text != err.Error() && !errors.As(err, &bad) {
			err = errors.New(text)
		}
		told.err = err
		if f.spec.Offer != nil {
			told.offer = f.spec.Offer(refused)
		}
		return told
	}
	label := f.op.Say(a.work.Session.Show(), f.args)
	out := outcome{foresee: f.key()}
	switch {
	case f.op.Tells():
		out = told
	case f.spec.Show != nil:
		out = outcome{}
		out.Outcome, out.err = f.spec.Show(f.args)
	}
	out.Lines = append(out.Lines, f.spec.Lines...)
	if edit != nil {
		out.change = change{label, []timeline.Edit{edit}}
	}
	return out
}

// key names what the form would do, so that a forecast is known for its own. The wording would not: it need not tell all that is given.
func (f *form) key() string {
	parts := []string{f.op.ID(), f.on.String()}
	for i := range f.op.Args {
		parts = append(parts, f.op.Args[i].Get(f.args).String())
	}
	return strings.Join(parts, "\x00")
}

// refresh works out anew what the values come to, if they or the show have changed.
func (f *form) refresh(a *App) {
	if f.plan == a.work.Plan && !f.stale {
		return
	}
	f.plan, f.stale = a.work.Plan, false
	f.out = f.comesTo(a)
	f.out.err = a.withName(f.out.err)
	if f.out.err == nil && len(f.out.change.edits) > 0 {
		_, f.out.err = a.work.Session.Show().Edit(f.out.change.edits...)
	}
}
