package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"emberbeat/shows"
	"emberbeat/shows/mvr"
	"emberbeat/shows/picture"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/report/wording"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/field"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
)

// operated is a verb whose actions are operations: what it takes after SHOW, its
// flags, help and completion are read off them.
type operated struct {
	verb string
	ops  []*operation.Operation

	bare   bool     // help of flags does not say to which actions they belong
	column int      // where the help of the actions begins
	also   []string // actions that only ask, and are no operations
}

func operatedBy(verb string) *operated {
	return &operated{verb: verb, ops: operation.Of(verb), column: 23}
}

// takes checks what stands after the verb.
func (v *operated) takes() cobra.PositionalArgs {
	if o := operation.Find(v.verb, ""); o != nil {
		return takes(append([]string{"SHOW"}, wordsTaken(o)...)...)
	}
	return actionArgs(v.actions())
}

// actions gives what each action takes.
func (v *operated) actions() []verbAction {
	var list []verbAction
	for _, o := range v.ops {
		a := verbAction{name: o.Name}
		var needed []string
		for i := range o.Args {
			arg := &o.Args[i]
			switch {
			case arg.Flag():
				a.flags = append(a.flags, arg.Name)
			case arg.NoVerb:
			default:
				if a.most++; !arg.Optional {
					a.least, needed = a.least+1, append(needed, arg.Word)
				}
				if arg.Type == field.ListType {
					a.most = many
				}
			}
		}
		a.takes = strings.Join(needed, " ")
		list = append(list, a)
	}
	return list
}

// help lists the actions with what they take and do, in lines of the width of
// --help.
func (v *operated) help() string {
	const wide = 80
	var b strings.Builder
	for _, o := range v.ops {
		if o.ToldBy != "" {
			continue
		}
		line := "  " + strings.Join(append([]string{o.Name}, wordsTaken(o)...), " ")
		if n := len([]rune(line)); n < v.column {
			line += strings.Repeat(" ", v.column-n)
		} else {
			line += "   "
		}
		empty := true // nothing of the help stands on the line yet
		for i, part := range strings.Split(o.Help, "\n") {
			for k, word := range strings.Fields(part) {
				if i > 0 && k == 0 || !empty && len([]rune(line))+1+len([]rune(word)) > wide {
					b.WriteString(line + "\n")
					line, empty = strings.Repeat(" ", v.column), true
				}
				if !empty {
					line += " "
				}
				line, empty = line+word, false
			}
		}
		b.WriteString(line + "\n")
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// wordsTaken are the words that an action takes, as a usage line has them.
func wordsTaken(o *operation.Operation) []string {
	var list []string
	for i := range o.Args {
		switch a := &o.Args[i]; {
		case a.Flag() || a.NoVerb:
		case a.Optional && a.Type != field.ListType:
			list = append(list, "["+a.Word+"]")
		default:
			list = append(list, a.Word)
		}
	}
	return list
}

// flags declares the flags of all actions that the command has not yet, each
// with the actions that it belongs to before its help.
func (v *operated) flags(c *cobra.Command) {
	type told struct {
		help    string
		actions []string
	}
	of, begins := map[string][]told{}, map[string]string{}
	var args []*operation.Argument
	for _, o := range v.ops {
		for i := range o.Args {
			a := &o.Args[i]
			if !a.Flag() {
				continue
			}
			if len(of[a.Name]) == 0 {
				args, begins[a.Name] = append(args, a), a.Get(o.New()).Text
			}
			help := o.Spell(a.Help, flagOrWord)
			k := slices.IndexFunc(of[a.Name], func(x told) bool { return x.help == help })
			if k < 0 {
				k = len(of[a.Name])
				of[a.Name] = append(of[a.Name], told{help: help})
			}
			of[a.Name][k].actions = append(of[a.Name][k].actions, o.Name)
		}
	}
	for _, a := range args {
		if c.Flags().Lookup(a.Name) != nil {
			continue
		}
		var parts []string
		for _, x := range of[a.Name] {
			said := strings.TrimPrefix(strings.Join(x.actions, ", ")+": ", ": ")
			if v.bare {
				said = ""
			}
			parts = append(parts, said+x.help)
		}
		declare(c, a, begins[a.Name], strings.Join(parts, "; "))
	}
}

// declare adds the flag of an argument, with what it is where nothing is given.
func declare(c *cobra.Command, a *operation.Argument, begins, help string) {
	switch f := c.Flags(); {
	case a.Type == field.NumberType:
		x, _ := strconv.ParseFloat(begins, 64) // 0 is what no text means
		f.Float64(a.Name, x, help)
	case a.Type == field.WholeType:
		n, _ := strconv.Atoi(begins) // likewise
		f.Int(a.Name, n, help)
	case a.Type == field.FlagType:
		f.Bool(a.Name, begins == "true", help)
	case a.Type == field.ListType && a.Commas:
		f.StringSlice(a.Name, nil, help)
	case a.Type == field.ListType:
		f.StringArray(a.Name, nil, help)
	default:
		f.String(a.Name, begins, help)
	}
	if len(a.Choices) > 0 {
		flagWords(c, a.Name, a.Choices...)
	}
}

// asked gives the operation that words ask for, SHOW first, and the words that
// stand after it. Whether there is one was looked at with the arguments.
func (v *operated) asked(args []string) (*operation.Operation, []string) {
	if o := operation.Find(v.verb, ""); o != nil {
		return o, args[1:]
	}
	return operation.Find(v.verb, args[1]), args[2:]
}

// complete completes ACTION, where the verb has some, and after it words and
// names of the show.
func (v *operated) complete() func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, cobra.ShellCompDirectiveDefault
		}
		o, k := operation.Find(v.verb, ""), len(args)-1
		if o == nil {
			if k == 0 {
				return append(slices.Clone(v.also), actionNames(v.actions())...), cobra.ShellCompDirectiveNoFileComp
			}
			if o, k = operation.Find(v.verb, args[1]), k-1; o == nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
		}
		list := wordArgs(o)
		if n := len(list); n > 0 && k >= n && list[n-1].Type == field.ListType {
			k = n - 1
		}
		if k >= len(list) {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return completions(args[0], list[k]), cobra.ShellCompDirectiveNoFileComp
	}
}

// completions gives what an argument can be in the show of a folder.
func completions(dir string, a *operation.Argument) []string {
	list := slices.Clone(a.Choices)
	l, err := shows.Load(dir)
	if err != nil {
		return list
	}
	if offers := a.Offers(l.Show); offers != nil {
		for _, x := range offers {
			list = append(list, x.Value)
		}
		return list
	}
	names := l.Show.Names()
	for _, kind := range a.Ref {
		before := ""
		if len(a.Ref) > 1 && strings.Contains(a.Word, "=") {
			before = kind + "="
		}
		if kind == "family" {
			for _, f := range timeline.Families() {
				list = append(list, before+string(f))
			}
			continue
		}
		k := timeline.KindOf(kind)
		if k.InSong {
			continue // too many, and told apart by their song
		}
		for _, r := range k.List(l.Show, "") {
			list = append(list, before+names.Called("", r))
		}
	}
	return list
}

// wordArgs are the arguments that stand after the action.
func wordArgs(o *operation.Operation) []*operation.Argument {
	var list []*operation.Argument
	for i := range o.Args {
		if a := &o.Args[i]; !a.Flag() && !a.NoVerb {
			list = append(list, a)
		}
	}
	return list
}

// arguments reads what an operation is given on the command line: words after
// the action, and flags.
func (v *operated) arguments(c *cobra.Command, p *timeline.Plan, o *operation.Operation, texts []string) (any, error) {
	args := o.New()
	if err := needed(c, o); err != nil {
		return nil, err
	}
	for i, a := range wordArgs(o) {
		if i >= len(texts) {
			break
		}
		given := texts[i : i+1]
		if a.Type == field.ListType {
			given = texts[i:]
		}
		if err := a.Give(p, args, given...); err != nil {
			return nil, refused(o, a, err)
		}
	}
	for i := range o.Args {
		a := &o.Args[i]
		if given := flagTexts(c, a); a.Flag() && len(given) > 0 {
			if err := a.Give(p, args, given...); err != nil {
				return nil, refused(o, a, err)
			}
		}
	}
	return args, nil
}

// needed says which flag an operation cannot do without.
func needed(c *cobra.Command, o *operation.Operation) error {
	for i := range o.Args {
		if a := &o.Args[i]; a.Flag() && a.Need != "" && len(flagTexts(c, a)) == 0 {
			return spelled(o, errors.New(a.Need))
		}
	}
	return nil
}

// flagTexts gives what stands in a flag; an empty text is not given, unless the
// argument takes it for something else.
func flagTexts(c *cobra.Command, a *operation.Argument) []string {
	f := c.Flags().Lookup(a.Name)
	if f == nil || !f.Changed {
		return nil
	}
	if list, ok := f.Value.(pflag.SliceValue); ok {
		return list.GetSlice()
	}
	if text := f.Value.String(); text != "" || a.Empty {
		return []string{text}
	}
	return nil
}

// refused says what is wrong with an argument as it was written.
func refused(o *operation.Operation, a *operation.Argument, err error) error {
	var bad *timeline.ValueError
	if !errors.As(err, &bad) || bad.Field != a.Name || bad.Kind != "" {
		return err
	}
	switch {
	case a.Flag() && len(a.Choices) > 0:
		return fmt.Errorf("%s %s: %q: %s", o.Called(), a.Name, bad.Value, bad.Want)
	case a.Flag():
		return fmt.Errorf("--%s: %s", a.Name, bad.Want)
	}
	return fmt.Errorf("%s: %q %s", o.Called(), bad.Value, bad.Want)
}

// spelled calls the arguments that an error names, or is about, as the command
// line does.
func spelled(o *operation.Operation, err error) error {
	var bad *timeline.ValueError
	if errors.As(err, &bad) && bad.Kind == "" && o.Arg(bad.Field) != nil {
		return fmt.Errorf("%s: %q %s", flagOrWord(o.Arg(bad.Field)), bad.Value, bad.Want)
	}
	if text := o.Spell(err.Error(), flagOrWord); text != err.Error() {
		return errors.New(text)
	}
	return err
}

func flagOrWord(a *operation.Argument) string {
	if a.Flag() {
		return "--" + a.Name
	}
	return a.Word
}

// operate does the operation that a verb's words ask for, SHOW first, and says
// what it comes to: as the operation tells, or by what would play otherwise and
// which findings come and go. on gives the plan in which names are meant, and the
// record it is done to.
func (t *talk) operate(c *cobra.Command, v *operated, args []string, dry bool, look looking, on func(*session.Session, *operation.Operation) (*timeline.Plan, timeline.Ref, error)) error {
	o, texts := v.asked(args)
	label := o.Called()
	look.label = func() string { return label }
	var out operation.Outcome
	if more := look.more; o.Tells() && dry && look.result == nil {
		look.more = func(was, is *timeline.Show, list *changed.List) {
			t.sayOutcome(out)
			if more != nil {
				more(was, is, list)
			}
		}
	}
	return t.changeLooking(c.Context(), args[0], label, dry, look, func(s *session.Session) (timeline.Edit, error) {
		p, ref, err := on(s, o)
		if err != nil {
			return nil, err
		}
		values, err := v.arguments(c, p, o, texts)
		if err != nil {
			return nil, err
		}
		where := at(c.Context(), s, p, ref)
		where.Stock = func(string) (*timeline.Show, error) { return look.stock, nil }
		edit, err := o.Edit(where, values)
		if err == nil && (dry || look.told != nil) {
			out, err = o.Outcome(where, values)
		}
		if err != nil {
			return nil, spelled(o, err)
		}
		if look.told != nil {
			if err := look.told(p, values, out); err != nil {
				return nil, err
			}
		}
		label = o.Say(p.Show, values)
		if edit == nil {
			edit = func(*timeline.Draft) error { return nil }
		}
		return edit, nil
	})
}

// onShow does an operation to the show as the tour has it.
func onShow(s *session.Session, _ *operation.Operation) (*timeline.Plan, timeline.Ref, error) {
	return s.Plan(""), timeline.Ref{}, nil
}

// sayOutcome says what an operation comes to, beside the list of what changes.
func (t *talk) sayOutcome(out operation.Outcome) {
	var b strings.Builder
	if err := writeOutcome(&b, out); err == nil && b.Len() > 0 {
		t.say("%s", b.String())
	}
}

// writeOutcome writes an outcome as text.
func writeOutcome(w io.Writer, out operation.Outcome) error {
	table := &wording.Table{Rows: out.Rows}
	for _, c := range out.Columns {
		table.Columns = append(table.Columns, wording.Column{Name: strings.ToLower(c.Title), Right: c.Number})
	}
	if len(out.Rows) > 0 {
		if err := table.Write(w); err != nil {
			return err
		}
	}
	for _, line := range out.Lines {
		if _, err := fmt.Fprintln(w, line); err != nil {
			return err
		}
	}
	return nil
}

// at is where a verb does an operation.
func at(ctx context.Context, s *session.Session, p *timeline.Plan, on timeline.Ref) operation.At {
	return operation.At{Plan: p, On: on,
		NewID:  func(kind string, song timeline.ID) timeline.ID { return shows.NewIDFor(p.Show, kind, song) },
		Before: s.Before,
		Drawn:  mvr.ReadFile,
		Pictured: func(file string, page int) (timeline.PlanPicture, error) {
			pic, err := picture.ReadFile(ctx, file, page)
			if err != nil {
				return timeline.PlanPicture{}, err
			}
			return pic.Plan(), nil
		},
		Heard: heardIn(ctx, s),
		Found: func(name string) (map[timeline.Ref][]string, error) { return foundBy(ctx, s, p, name) }}
}

// foundBy gives the digests of what a rule finds in a plan, by record.
func foundBy(ctx context.Context, s *session.Session, p *timeline.Plan, name string) (map[timeline.Ref][]string, error) {
	if r, known := rule.Lookup(name); !known || r.OfSheet() {
		return nil, hint(usage(fmt.Errorf("there is no rule %q", name)), "emberbeat explain lists the rules")
	}
	_, found, err := checkPlan(ctx, s, p, "")
	digests := map[timeline.Ref][]string{}
	for i := range found {
		if f := &found[i]; f.Rule == name {
			digests[f.Ref] = append(digests[f.Ref], f.Digest())
		}
	}
	return digests, err
}
