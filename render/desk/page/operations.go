package page

import (
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// Operations is what a page needs of the shell to have an operation done.
type Operations interface {
	// Carry does an operation at once, with arguments that nobody is asked for; where it is refused, it says why and gives false. Where
	// anything rests on stock that it changes, it says first what that comes to.
	Carry(o *operation.Operation, on timeline.Ref, args any) bool
	// AskFor opens the form of an operation on a record, with what the page adds to it.
	AskFor(o *operation.Operation, on timeline.Ref, f Form)
}

// Form is what is added to the form of an operation: what was chosen before it was opened, and what it shows. Maps go by argument.
type Form struct {
	Title   string                           // in place of the operation's
	Button  string                           // in place of the operation's
	About   string                           // above the fields
	Caution string                           // below what it comes to
	Given   map[string]string                // what fields hold to begin with
	Begin   func(args any)                   // sets what was chosen before, where the form does not ask for it
	Choices map[string]func() []Choice       // what can be chosen, in place of all records of an argument's kinds
	Sets    map[string]bool                  // lists of which one of several is chosen: the value of a choice is a whole list
	Off     map[string]func(args any) string // why an argument cannot be given, as the others stand
	Show    func(args any) (Outcome, error)  // what it comes to, where the operation does not tell it; the form adds the change itself
	Parts   map[string][]Part                // fields in which a list is asked for item by item, each name=text
	Lines   []string                         // what else is to be known, below what it comes to
	Offer   func(error) *Offer               // what would do instead of what is refused, nil for nothing
	Done    func(args any)                   // after the change is made
}

// Part is the field of one item of a list.
type Part struct {
	Name, Label, Text, Hint, Unit string
	Help                          string // a sentence
	Kept                          string // what is handed on where Text is left as it is; "" = Text
	In                            string // unit of a number alone, where that is another than the argument's; else ""
}

// Offer is what would do in the place of what stands in a form.
type Offer struct {
	Label string
	Texts map[string]string // of fields, by argument
}

// Outcome is what an operation comes to as a page tells it: a table, and sentences below it.
type Outcome struct {
	Columns []string // titles
	Rows    [][]string
	Lines   []string
}

// Choice is one of the values that can be chosen for an argument, with what it is called.
type Choice struct{ Value, Name string }
