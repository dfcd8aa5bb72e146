package app

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/units"
)

// form asks for the arguments of an operation. It says what they come to while they are changed, and makes the change as one step: what is
// shown and what is done is one outcome.
type form struct {
	title, verb string
	op          *operation.Operation
	on          timeline.Ref
	spec        page.Form
	told        units.System // in which amounts are typed
	fields      []*formField
	rows        []*formRow
	args        any // as the fields stand

	out   outcome
	plan  *timeline.Plan // that out was worked out on
	stale bool           // a value has changed since
	sel   widget.Selection
	picks widget.Selection
}

// formRow is one argument of a form.
type formRow struct {
	arg    *operation.Argument
	kind   *formField // of which kind it is, where it can be of several; else nil
	value  *formField
	values []page.Choice // among which it is chosen; nil for what is written
	parts  []*formField  // in the place of value, one for each item of a list
}

// formField is one value that a form asks for: a line of text, one of several names, several of them, or yes or no.
type formField struct {
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
	perUnit           int64         // of amount, what one of the argument's unit counts
	off               func() string // why nothing can be entered, nil where it always can
}

// outcome is what the values of a form come to.
type outcome struct {
	page.Outcome // a table, and what else is to be known
	change       change
	err          error       // why it cannot be done, and what would be valid
	foresee      string      // what it is called in a forecast, which is then shown in the place of a table
	offer        *page.Offer // what would do instead, nil for nothing
}

// askOperation opens the form of an operation that is done to a record.
func (a *App) askOperation(o *operation.Operation, on timeline.Ref, spec page.Form) *form {
	f := &form{title: cmp.Or(spec.Title, o.Title), verb: cmp.Or(spec.Button, o.Button), op: o, on: on, spec: spec, args: o.New(), told: a.work.Show.Told()}
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
	r := &formRow{arg: arg, value: &formField{name: arg.Name, label: arg.Label, hint: arg.Hint, help: upper(f.op.Spell(arg.Help, labelOf)), unit: arg.Unit, about: arg.About}}
	if parts, ok := f.spec.Parts[arg.Name]; ok {
		r.parts = []*formField{}
		for _, p := range parts {
			r.parts = append(r.parts, &formField{name: p.Name, label: p.Label, text: p.Text, hint: p.Hint, unit: p.Unit, help: p.Help})
		}
		f.fields, f.rows = append(f.fields, r.parts...), append(f.rows, r)
		return
	}
	if len(arg.Ref) > 1 && arg.Kinded && arg.Type != field.ListType && f.spec.Choices[arg.Name] == nil {
		r.kind = &formField{name: arg.Name + "-kind", label: "What"}
		for _, kind := range arg.Ref {
			r.kind.names = append(r.kind.names, kindWord(kind))
		}
		f.fields = append(f.fields, r.kind)
	}
	text := arg.Get(f.args).String()
	if given, ok := f.spec.Given[arg.Name]; ok {
		text = given
	}
	if kind, _, ok := strings.Cut(text, "="); ok && r.kind != nil {
		r.kind.at = max(slices.Index(arg.Ref, kind), 0)
	}
	switch spec, number := numberSpec(f.told, arg.Unit); {
	case arg.Type == field.FlagType:
		r.value.flag, r.value.on = true, text == "true"
	case number:
		x, _ := strconv.ParseFloat(text, 64)
		r.value.number, r.value.perUnit, r.value.amount = &spec.NumberSpec, spec.perUnit, int64(math.Round(x*float64(spec.perUnit)))
	default:
		r.value.text = text
	}
	if off := f.spec.Off[arg.Name]; off != nil {
		r.value.off = func() string { return off(f.args) }
	}
	f.fields, f.rows = append(f.fields, r.value), append(f.rows, r)
}

// measured is how an amount is typed, and what one of its argument's unit counts in it.
type measured struct {
	widget.NumberSpec
	perUnit int64
}

// numberSpec gives how an amount of a unit is typed in the units of the reader; false where it is typed as text.
func numberSpec(told units.System, unit string) (measured, bool) {
	switch unit {
	case "m":
		spec := page.Length(told)
		spec.Min = 0
		return measured{spec, page.PerMetre}, true
	case "kg":
		return measured{page.Mass(told), page.PerKg}, true
	}
	spec, ok := numberSpecs[unit]
	if !ok {
		return measured{}, false
	}
	return measured{spec, spec.Units[0].Num}, true
}

// numberSpecs are the units that every reader types alike.
var numberSpecs = map[string]widget.NumberSpec{
	"s":         {Units: []widget.Unit{{Name: "s", Num: 10000, Den: 1}, {Name: "ms", Num: 10, Den: 1}}, Digits: 4, Min: -36000000, Max: 36000000, Step: 100, Fine: 10, Big: 1000},
	"× fallout": {Units: []widget.Unit{{Name: "× fallout", Num: 1000, Den: 1}}, Digits: 2, Max: 100_000, Step: 500},
}

// field gives the value with a name.
func (f *form) field(name string) *formField {
	i := slices.IndexFunc(f.fields, func(v *formField) bool { return v.name == name })
	return f.fields[i]
}
