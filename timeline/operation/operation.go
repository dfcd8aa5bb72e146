package operation

import (
	"slices"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/drawn"
	"emberbeat/timeline/grid"
)

// Operation is one thing a user can do.
type Operation struct {
	Verb, Name string // on the command line: night, swap; a verb that does one thing only has no name for it
	On         string // kind of the record that it is done to; "" is the show
	Menu       string // entry of the menu: "Swap…"
	Title      string // head of the form
	Button     string // of the form: what it does, in a word
	Tip        string // what it does, for menu and palette
	Help       string // what it does, for the verb's help; a line break stays one
	ToldBy     string // the operation whose line of help tells it, "" for one of its own
	First      bool   // on the command line its name stands before the show
	Args       []Argument
	Plays      bool // it changes what is played

	fresh func() any
	edit  func(At, any) (timeline.Edit, error)
	say   func(*timeline.Show, any) string
	tell  func(At, any) (Outcome, error) // nil is what a forecast says
	list  string                         // field of the night or venue in which it leaves items, "" for none
	items func(*timeline.Show, *timeline.Night) []Item
}

// At is where an operation is done.
type At struct {
	*timeline.Plan                                           // names and numbers are meant as in this one
	On             timeline.Ref                              // the record it is done to, such as a night; none for the show
	Stock          func(from string) (*timeline.Show, error) // the show whose stock is taken, handed in where that can be read
	NewID          func(kind string, song timeline.ID) timeline.ID
	// Drawn gives the drawing in a file, handed in where files can be read.
	Drawn func(file string) (*drawn.Drawing, error)
	// Pictured looks at a picture in a file, of a PDF at a page, and gives what it is
	// called and how large it is once it is kept with the show, not where it lies;
	// handed in where files can be read.
	Pictured func(file string, page int) (timeline.PlanPicture, error)
	// Carried gives the edit that takes songs over to recordings, handed in where
	// recordings can be compared.
	Carried func(*Carrying) (timeline.Edit, error)
	// Heard gives what the ear makes of a song's recording, with what is locked,
	// handed in where recordings can be listened to.
	Heard func(song timeline.ID) (*grid.Heard, error)
	// Before gives the show as it was when it last was so, handed in where older ones
	// are kept.
	Before func(so func(*timeline.Show) bool) (*timeline.Show, error)
	Found  func(rule string) (map[timeline.Ref][]string, error) // digests of what a rule finds now, by record
}

// New gives arguments of which none is given yet, as a pointer to a struct.
func (o *Operation) New() any { return o.fresh() }

// Edit gives the edit that the operation makes with arguments of its own. An
// error about an argument names it in braces, as Spell reads it. Neither edit
// nor error is there where nothing is left to do.
func (o *Operation) Edit(at At, args any) (timeline.Edit, error) { return o.edit(at, args) }

// Say tells what the operation does with arguments, or has done, in the one
// wording that journal, list and sheets have.
func (o *Operation) Say(s *timeline.Show, args any) string { return o.say(s, args) }

// ID names the operation in one word: night-swap.
func (o *Operation) ID() string { return strings.Join(strings.Fields(o.Verb+" "+o.Name), "-") }

// Called is what a user writes for it on the command line: night swap.
func (o *Operation) Called() string { return strings.TrimSpace(o.Verb + " " + o.Name) }

// Outcome is what an operation comes to, told before it is done: a table of
// what goes where, and what else is to be known. A form shows it in the place
// of a forecast; so does the dry run of a verb.
type Outcome struct {
	Columns []Column
	Rows    [][]string // a cell for each column
	Lines   []string   // below the table, each without a mark at its end
}

// Column is the head of a column of an outcome.
type Column struct {
	Title  string
	Number bool // it stands flush right
}

// columns heads the columns of an outcome; one of numbers has a # before it.
func columns(titles ...string) []Column {
	var list []Column
	for _, title := range titles {
		name, number := strings.CutPrefix(title, "#")
		list = append(list, Column{name, number})
	}
	return list
}

// Tells reports whether the operation tells itself what it comes to.
func (o *Operation) Tells() bool { return o.tell != nil }

// Outcome tells what the operation comes to with arguments of its own. What
// could be told of what is refused stands beside the error. An operation that
// does not tell has none.
func (o *Operation) Outcome(at At, args any) (Outcome, error) {
	if o.tell == nil {
		return Outcome{}, nil
	}
	return o.tell(at, args)
}

// Arg gives the argument with a name, or nil.
func (o *Operation) Arg(name string) *Argument {
	for i := range o.Args {
		if o.Args[i].Name == name {
			return &o.Args[i]
		}
	}
	return nil
}

// Spell puts into a text what the reader calls the arguments that it names in
// braces: a flag on the command line, a label in a form.
func (o *Operation) Spell(text string, call func(*Argument) string) string {
	for i := range o.Args {
		text = strings.ReplaceAll(text, "{"+o.Args[i].Name+"}", call(&o.Args[i]))
	}
	return text
}

// table holds the operations, verb by verb, each in the order of the verb's
// help. One function a group, in a file of its own. It is filled once, before
// anything runs, since taking back reads it.
var table []*Operation

func init() {
	table = slices.Concat(
		nightOperations(),
		setOperations(),
		venueOperations(),
		ruleSetOperations(),
		ruleOperations(),
		refillOperations(),
		swapBankOperations(),
		afterShowOperations(),
		confirmOperations(),
		groupOperations(),
		placeOperations(),
		snapOperations(),
		armsOperations(),
		phraseOperations(),
		stockOperations(),
		patchOperations(),
		wireOperations(),
		slotOperations(),
		rowOperations(),
		drawingOperations(),
		arrangeOperations(),
		carryOperations(),
		copyOperations(),
		gridOperations(),
	)
}

// All lists every operation.
func All() []*Operation { return table }

// Of lists the operations of a verb, in the order of its help.
func Of(verb string) []*Operation {
	var list []*Operation
	for _, o := range table {
		if o.Verb == verb {
			list = append(list, o)
		}
	}
	return list
}

// Find gives an operation of a verb, or nil. Its name is "" where the verb does
// one thing only.
func Find(verb, name string) *Operation {
	for _, o := range table {
		if o.Verb == verb && o.Name == name {
			return o
		}
	}
	return nil
}

// starter is an argument struct that begins with other values than Go's.
type starter interface{ start() }

// does completes the description of an operation with the functions that know
// the struct of its arguments.
func does[A any](o Operation, edit func(At, *A) (timeline.Edit, error), say func(*timeline.Show, *A) string) *Operation {
	o.fresh = func() any {
		args := new(A)
		if s, ok := any(args).(starter); ok {
			s.start()
		}
		return args
	}
	o.edit = func(at At, args any) (timeline.Edit, error) { return edit(at, args.(*A)) }
	o.say = func(s *timeline.Show, args any) string { return say(s, args.(*A)) }
	return &o
}

// tells has an operation tell itself what it comes to.
func tells[A any](o *Operation, outcome func(At, *A) (Outcome, error)) *Operation {
	o.tell = func(at At, args any) (Outcome, error) { return outcome(at, args.(*A)) }
	return o
}
