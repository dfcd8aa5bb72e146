package paper

import (
	"image"
	"slices"

	"emberbeat/render"
)

// Sheet is what stands on printed pages, before it is laid out on a paper: a
// title block and a foot that every page carries, and parts one below the other.
type Sheet struct {
	Title string
	Facts []Fact // of the title block
	Parts []Part
	Foot  string // cautions
	Stamp string // what no page may be without seeing: a bar below the title; "" = none
	Wide  bool   // on the paper's long side
	Uncut string // label of the entry of the title block that is never cut: its text is the program's own, and of some lines at most
}

// Fact is one entry of a title block.
type Fact struct{ Label, Text string }

// Part is a heading with what stands below it, in the order of the fields, a
// table last. Parts whose columns have the same names have them equally wide.
// Every row has a cell for each column.
type Part struct {
	Heading string
	NewPage bool // it starts a page
	Whole   bool // it is not parted where a page can hold it
	With    bool // it does not begin a page alone: the last row of the table before stands with it, where a page can hold both
	Notes   []string
	Figures []Fact // few numbers, set large to be found at a glance
	Entries []Fact // of a form; one without a text is a line to write on
	Art     *Art
	Columns []Column
	Rows    []Row
	Tall    bool // its boxes are high enough to sign in
	Dense   bool // its rows stand close, for long tables whose rows are a line each
	Large   bool // its rows are set to be read in the dark at arm's length
	Beside  int  // of a table of few and narrow columns: how often it stands beside itself, read from the left; 0 = it has the page's width
}

// Art is a drawing that takes what is left of its page, at least so many logical
// pixels. It draws inside the area, and the same each time.
type Art struct {
	Least int
	Draw  func(s *render.Scene, area image.Rectangle)
}

// Column is a column of a table.
type Column struct {
	Name  string
	Right bool // numbers stand to the right
	Words bool `json:",omitempty"` // what stands to the right is no number, whatever it looks like
	Box   bool // its cells are empty boxes to write in, where a row is not strong
	Tick  bool `json:",omitempty"` // such a box has room for a tick alone
}

// Row is a line of a table; strong ones are totals.
type Row struct {
	Cells  []string
	Strong bool
	Across bool `json:",omitempty"` // its first cell, which alone has a text, has the room of all: a heading within the table
	With   bool `json:",omitempty"` // it stands on one page with the row before, where a page can hold both
}

// pageScale is the scale at which pages are laid out: 288 dots an inch, four to
// a point. PDF and PNG share it, so that they break lines and pages alike.
const pageScale render.Scale = 300

// Paper gives the size of the sheet's pages on a paper.
func (sh *Sheet) Paper(size Size) Size {
	if sh.Wide {
		return size.Sideways()
	}
	return size
}

// Pages lays the sheet out. Nothing is left out of tables, and no text leaves
// its column: rows wrap, words longer than a column are broken, and tables go
// on on the next page below their headings. Only in the title block are texts
// of more than three lines cut, with an ellipsis, but for the one that is never cut. Names that no font here can set
// are listed at the end.
func (sh *Sheet) Pages(faces *render.Faces, size Size) []*render.Scene {
	return sh.flowed(faces, size).draw(faces)
}

// flowed puts all parts on pages, with what no font can set as one more.
func (sh *Sheet) flowed(faces *render.Faces, size Size) *layout {
	if unset, ok := sh.unset(); ok {
		more := *sh
		more.Parts = append(slices.Clone(sh.Parts), unset)
		sh = &more
	}
	l := newLayout(sh, faces, sh.Paper(size))
	l.flow()
	return l
}

// draw draws the pages that parts have been put on.
func (l *layout) draw(faces *render.Faces) []*render.Scene {
	pages := make([]*render.Scene, len(l.pages))
	for i, blocks := range l.pages {
		s := render.NewScene(faces)
		s.Reset(l.size, pageScale)
		l.frame(s, i+1)
		for _, b := range blocks {
			b.draw(s, b.top)
		}
		pages[i] = s
	}
	return pages
}
