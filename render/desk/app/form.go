package app

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/operation"
)

// formSpec is what the window adds to the form of an operation: what was chosen before it was opened, and what it shows.
type formSpec struct {
	title   string                              // in place of the operation's
	about   string                              // above the fields
	given   map[string]string                   // what fields hold to begin with, by argument
	begin   func(args any)                      // sets what was chosen before, where the form does not ask for it
	show    func(a *App, args any) outcome      // what it comes to, where the operation does not tell it, in place of a forecast; the form adds the change itself
	off     map[string]func(args any) string    // why an argument cannot be given, as the others stand
	choices map[string]func(*App) []formValue   // what can be chosen for an argument, in place of all records of its kinds
	sets    map[string]bool                     // lists of which one of several is chosen: a value of theirs is a whole list
	done    func(a *App, args any)              // after the change is made
	parts   map[string][]*ask                   // fields in which a list is asked for item by item, each name=text
	offer   func(error) (string, func(*asking)) // what would do instead of what is refused, "" for nothing
	lines   []string                            // what else is to be known
	caution string
}

// formValue is one of the values that can be chosen for an argument.
type formValue struct{ value, name string }

// form asks for the arguments of an operation. It says what they come to while they are changed, and makes the change as one step. What is
// asked, drawn and refused is the work of asking; what stands in the fields is read off the operation.
type form struct {
	asking
	op   *operation.Operation
	on   timeline.Ref
	spec formSpec
	rows []*formRow
	args any // as the fields stand
}

// formRow is one argument of a form.
type formRow struct {
	arg    *operation.Argument
	kind   *ask // of which kind it is, where it can be of several; else nil
	value  *ask
	values []formValue // among which it is chosen; nil for what is written
	parts  []*ask      // in the place of value, one for each item of a list
}

// askOperation opens the form of an operation that is done to a record.
func (a *App) askOperation(o *operation.Operation, on timeline.Ref, spec formSpec) *form {
	f := &form{op: o, on: on, spec: spec}
	f.title, f.verb, f.caution, f.about = cmp.Or(spec.title, o.Title), o.Button, spec.caution, spec.about
	f.asking.work = func(a *App, _ *asking) outcome { return f.comesTo(a) }
	f.asking.then = func(a *App) {
		if spec.done != nil {
			spec.done(a, f.args)
		}
	}
	f.args = o.New()
	for i := range o.Args {
		if arg := &o.Args[i]; !arg.NoForm && arg.Label != "" {
			f.add(arg)
		}
	}
	a.stockRead = stockRead{} // a form reads it anew
	f.fill(a)
	f.stale = true
	a.dialog = f
	return f
}

// add gives an argument its fields.
func (f *form) add(arg *operation.Argument) {
	r := &formRow{arg: arg, value: &ask{name: arg.Name, label: arg.Label, hint: arg.Hint, help: upper(f.op.Spell(arg.Help, labelOf)), unit: arg.Unit, about: arg.About}}
	if parts, ok := f.spec.parts[arg.Name]; ok {
		r.parts = append([]*ask{}, parts...)
		f.fields, f.rows = append(f.fields, parts...), append(f.rows, r)
		return
	}
	if len(arg.Ref) > 1 && arg.Kinded && arg.Type != field.ListType && f.spec.choices[arg.Name] == nil {
		r.kind = &ask{name: arg.Name + "-kind", label: "What"}
		for _, kind := range arg.Ref {
			r.kind.names = append(r.kind.names, kindWord(kind))
		}
		f.fields = append(f.fields, r.kind)
	}
	text := arg.Get(f.args).String()
	if given, ok := f.spec.given[arg.Name]; ok {
		text = given
	}
	if kind, _, ok := strings.Cut(text, "="); ok && r.kind != nil {
		r.kind.at = max(slices.Index(arg.Ref, kind), 0)
	}
	switch spec, number := numberSpecs[arg.Unit]; {
	case arg.Type == field.FlagType:
		r.value.flag, r.value.on = true, text == "true"
	case number:
		x, _ := strconv.ParseFloat(text, 64)
		r.value.number, r.value.amount = &spec, int64(math.Round(x*float64(spec.Units[0].Num)))
	default:
		r.value.text = text
	}
	if off := f.spec.off[arg.Name]; off != nil {
		r.value.off = func(*asking) string { return off(f.args) }
	}
	f.fields, f.rows = append(f.fields, r.value), append(f.rows, r)
}

// kindWord is what a kind is called in a choice of kinds.
func kindWord(kind string) string {
	if kind == "placed" {
		return "placed effect"
	}
	return kind
}

// numberSpecs are the units of measure that are typed, and stepped, as numbers.
var numberSpecs = map[string]widget.NumberSpec{
	"s":         {Units: []widget.Unit{{Name: "s", Num: 10000, Den: 1}, {Name: "ms", Num: 10, Den: 1}}, Digits: 4, Min: -36000000, Max: 36000000, Step: 100, Fine: 10, Big: 1000},
	"kg":        {Units: []widget.Unit{{Name: "kg", Num: 1000, Den: 1}, {Name: "g", Num: 1, Den: 1}}, Digits: 3, Max: 1_000_000_000, Step: 100},
	"m":         {Units: page.Length.Units, Digits: 3, Max: 9999_000, Step: 100, Fine: 10, Big: 1000},
	"× fallout": {Units: []widget.Unit{{Name: "× fallout", Num: 1000, Den: 1}}, Digits: 2, Max: 100_000, Step: 500},
}

// fill gives the fields what can be chosen in the show as it stands.
func (f *form) fill(a *App) {
	for _, r := range f.rows {
		arg := r.arg
		if len(arg.Ref)+len(arg.Choices) == 0 && f.spec.choices[arg.Name] == nil && arg.Offers(a.work.shown) == nil {
			continue
		}
		f.choose(a, r)
	}
}

// choose lists what can be chosen for an argument; what was chosen and is no more falls back to the first.
func (f *form) choose(a *App, r *formRow) {
	was := r.chosen()
	kinds, none := r.arg.Ref, ""
	if r.kind != nil {
		kinds = kinds[r.kind.at : r.kind.at+1]
	}
	if r.values, r.value.names = f.valuesOf(a, r, kinds), []string{}; len(r.values) == 0 && len(kinds) > 0 {
		none = noneOf(kinds[0])
	}
	var many []bool
	r.value.at = 0
	for i, v := range r.values {
		r.value.names = append(r.value.names, v.name)
		many = append(many, slices.Contains(was, v.value))
		if len(was) > 0 && was[0] == v.value {
			r.value.at = i
		}
	}
	if r.value.text = ""; r.arg.Type == field.ListType && !f.spec.sets[r.arg.Name] {
		r.value.many = slices.Clip(append([]bool{}, many...))
	}
	if f.spec.off[r.arg.Name] == nil {
		r.value.off = func(*asking) string { return none }
	}
}

// valuesOf gives what an argument can be, of the kinds that are asked for.
func (f *form) valuesOf(a *App, r *formRow, kinds []string) []formValue {
	arg := r.arg
	if own := f.spec.choices[arg.Name]; own != nil {
		return own(a)
	}
	var list []formValue
	if offers := arg.Offers(a.work.shown); offers != nil {
		for _, x := range offers {
			list = append(list, formValue{x.Value, x.Name})
		}
		return list
	}
	for _, word := range arg.Choices {
		list = append(list, formValue{word, cmp.Or(word, "none")})
	}
	if len(arg.Ref) > 0 && arg.Need == "" && arg.Type != field.ListType {
		list = append(list, formValue{"", "none"})
	}
	for _, kind := range kinds {
		ids, names := a.selectorChoices(kind)
		for i, id := range ids {
			v := formValue{id, names[i]}
			if arg.Kinded {
				v.value = kind + "=" + id
			}
			switch {
			case arg.Kinded && len(kinds) > 1:
				v.name = kindWord(kind) + " " + v.name
			case len(kinds) > 1:
				v.name += "  (" + kindWord(kind) + ")"
			}
			list = append(list, v)
		}
	}
	return list
}

// noneOf says that there is nothing of a kind to choose.
func noneOf(kind string) string {
	k := timeline.KindOf(kind)
	switch {
	case kind == "cue":
		return "no cue is selected in the timeline"
	case k == nil:
		return "the rig has no effect of any " + kind
	case k.Part == timeline.StockPart:
		return "the stock has no " + kindWord(kind)
	case k.Part == timeline.RigPart:
		return "the rig has no " + kindWord(kind)
	}
	return "the show has no " + kindWord(kind)
}

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
				list = append(list, r.values[i].value)
			}
		}
	case r.value.at < len(r.values):
		list = append(list, r.values[r.value.at].value)
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
		return field.Value{Text: strconv.FormatFloat(float64(v.amount)/float64(v.number.Units[0].Num), 'f', -1, 64)}, v.amount != 0
	}
	text := strings.TrimSpace(v.text)
	return field.Value{Text: text}, text != ""
}

// read puts what stands in the fields into arguments.
func (f *form) read(a *App) error {
	f.args = f.op.New()
	if f.spec.begin != nil {
		f.spec.begin(f.args)
	}
	for _, r := range f.rows {
		if off := f.spec.off[r.arg.Name]; off != nil && off(f.args) != "" {
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
		switch offered := r.arg.Offers(a.work.shown) != nil; {
		case (offered || r.values == nil) && r.arg.Type == field.ListType:
			set = func() error { return r.arg.Give(a.work.plan, f.args, v.Items...) }
		case offered || len(r.arg.Ref) == 0 && r.arg.Type != field.ListType:
			set = func() error { return r.arg.Give(a.work.plan, f.args, v.Text) }
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
			told.head = append(told.head, c.Title)
		}
		told.rows = t.Rows
		for _, line := range t.Lines {
			told.lines = append(told.lines, upper(line)+".")
		}
	}
	if err != nil {
		var bad *timeline.ValueError
		if text := f.op.Spell(err.Error(), labelOf); text != err.Error() && !errors.As(err, &bad) {
			err = errors.New(text)
		}
		told.err = err
		if f.spec.offer != nil {
			told.offer, told.accept = f.spec.offer(err)
		}
		return told
	}
	label := f.op.Say(a.work.s.Show(), f.args)
	out := outcome{foresee: f.key()}
	switch {
	case f.op.Tells():
		out = told
	case f.spec.show != nil:
		out = f.spec.show(a, f.args)
	}
	out.lines = append(out.lines, f.spec.lines...)
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

// operationAt is where the window does an operation.
func (a *App) operationAt(on timeline.Ref) operation.At {
	w := a.work
	return operation.At{Plan: w.plan, On: on, Stock: a.stockOf, NewID: w.ids(), Found: func(rule string) (map[timeline.Ref][]string, error) {
		found := map[timeline.Ref][]string{}
		for i := range w.findings {
			if x := &w.findings[i]; x.Rule == rule {
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
	return a.doAsked(change{o.Say(a.work.s.Show(), args), []timeline.Edit{edit}}, nil)
}

// operationCommand is the menu entry of an operation, which ask opens. It is named after the operation where c gives no id.
func operationCommand(verb, name string, c command, ask func(*App, *operation.Operation)) command {
	c.op = operation.Find(verb, name)
	c.id, c.name, c.help, c.group = cmp.Or(c.id, c.op.ID()), c.op.Menu, c.op.Tip, cmp.Or(c.group, "Book")
	op := c.op
	c.run = func(a *App) { ask(a, op) }
	return c
}
