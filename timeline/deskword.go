package timeline

import (
	"fmt"
	"slices"
	"strings"
)

// DeskWord is one thing that the show remembers of how the list is read that a
// firing desk has exported: an item of the show's own record.
type DeskWord struct {
	What string // one of DeskWhats
	Name string // what it is about: a field, a name in the list, a column; "" of those that stand alone
	Text string // what that is: a column, a name in the show, the text that a row must have
}

// What a DeskWord can say, those with a name first.
const (
	DeskMap       = "map"        // a field of a row is in this column
	DeskMeans     = "means"      // an address or action of the list is called so in the show
	DeskOnly      = "only"       // rows count where this column has this text
	DeskTimes     = "times"      // the times of the list are those of commands or of hits
	DeskSeparator = "separator"  // what parts the columns
	DeskNamesLine = "names-line" // the line with the names of the columns
	DeskRate      = "rate"       // timecode rate of the list, where it is not the show's
)

var deskNamed, deskAlone = []string{DeskMap, DeskMeans, DeskOnly}, []string{DeskTimes, DeskSeparator, DeskNamesLine, DeskRate}

// deskWords ends the help and the errors of items.
var deskWords = strings.Join(deskNamed, " NAME=TEXT, ") + " NAME=TEXT, " + strings.Join(deskAlone, "=, ") + "="

// String writes the item form: `map timecode=Time`, `times=hits`.
func (w DeskWord) String() string {
	if slices.Contains(deskAlone, w.What) {
		return Words{{Key: w.What, Value: w.Text, Pair: true}}.String()
	}
	return Words{{Key: w.What}, {Key: w.Name, Value: w.Text, Pair: true}}.String()
}

// ParseDeskWord reads the item form. What a name or text means is looked at where
// a list is read.
func ParseDeskWord(s string) (DeskWord, error) {
	ws, err := ParseWords(s)
	switch {
	case err != nil:
		return DeskWord{}, err
	case len(ws) == 2 && !ws[0].Pair && ws[1].Pair && slices.Contains(deskNamed, ws[0].Key) && ws[1].Key != "" && ws[1].Value != "":
		return DeskWord{ws[0].Key, ws[1].Key, ws[1].Value}, nil
	case len(ws) == 1 && ws[0].Pair && slices.Contains(deskAlone, ws[0].Key) && ws[0].Value != "":
		return DeskWord{What: ws[0].Key, Text: ws[0].Value}, nil
	}
	return DeskWord{}, fmt.Errorf("must be one of %s", deskWords)
}

// RememberDeskList gives the edit that keeps in the show how the list of its firing
// desk is read, in the place of what was kept; none forgets it.
func RememberDeskList(words []DeskWord) Edit {
	return func(d *Draft) error {
		h := *d.show.Head
		h.DeskList = slices.Clone(words)
		return d.putRead(&h)
	}
}
