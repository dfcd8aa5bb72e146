package page

import (
	"image"

	"emberbeat/render"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// Family is the pages that a room gives and the commands that go with them. It is made anew for each show that is opened, so that what its
// pages remember ends with the show; making it asks nothing of the host.
type Family struct {
	Pages    []Page
	Commands []Command
	State    any // what the pages remember, for those who drive the window to look at; the shell asks nothing of it
}

// Page is one page of the book: a table of records or a map of the rig that fills the window in place of the timeline. Command, menu,
// palette, keys and help follow from it.
type Page struct {
	ID   string // permanent; its command is "book-" and this
	Name string
	Part string // heading that it is listed under; pages of a part follow each other
	Help string // what it shows and what can be done there, a clause
	Keys []string
	Kind string // of the records it lists, so that the way to one of them leads here; "" for other pages
	Draw func(r image.Rectangle)
	// Moving draws what of it moves while something is heard, over it and more often; nil where nothing does.
	Moving func(s *render.Scene)

	Acts map[string]Act     // by command id: what commands of the timeline such as delete, copy and duplicate do here instead
	Rows Rows               // its table of records, nil where it has none
	Drop func([]string)     // takes files and folders that are dropped on the window; nil where they go to the show
	On   func(timeline.Ref) // shows a record that the page was turned to with; nil where it can stand on none

	Whole bool        // it fills the window: no list of pages, no panels, no bars
	Night bool        // it is looked at by night, whatever theme the window has, until the theme key steps on
	Only  []string    // the only commands that can be used on it, those that lead to a page apart; nil = all
	Runs  func() bool // whether anything of that moves
}

// Act is what a command does on a page.
type Act struct {
	Off func() string // why it cannot be done now, "" where it can
	Run func()        // may be nil where Off never gives ""
}

// Command is one thing that the user can do with a family's pages.
type Command struct {
	ID      string   // permanent; names it in the key file
	Name    string   // as menu and palette show it
	Help    string   // what it does, one sentence without its name
	Group   string   // menu that it stands in; "" = Book
	Keys    []string // as long as the user has not changed them
	Repeats bool     // while its key is held
	Off     func() string
	Run     func()
	Op      *operation.Operation // that it does, nil where it is none of the model
}

// Does is the command of an operation, named as the operation is.
func Does(o *operation.Operation, c Command) Command {
	c.Op, c.Name, c.Help = o, o.Menu, o.Tip
	if c.ID == "" {
		c.ID = o.ID()
	}
	return c
}

// Act gives what the command does, to be bound to another one on a page.
func (c *Command) Act() Act { return Act{c.Off, c.Run} }

// As gives what another command does, by its id, to be bound to one on a page.
func As(h Host, command string) Act {
	return Act{Off: func() string { return h.Off(command) }, Run: func() { h.Use(command) }}
}

// Rows is what the shell needs of a page's table of records.
type Rows interface {
	// Want chooses the rows of records when the table is drawn next.
	Want(refs []timeline.Ref)
	// Clear chooses none.
	Clear()
	// Records gives the records of the chosen rows, of whatever kinds, a row without one left out.
	Records() []timeline.Record
	// FocusFilter brings the focus to the filter, OtherColumns those columns into view that do not fit.
	FocusFilter()
	OtherColumns()
	// EditCell begins to edit a cell of the chosen rows; it gives false where none can be edited where it stands.
	EditCell() bool
	// Buttons are the ids of the commands above it, once it was drawn.
	Buttons() []string
}
