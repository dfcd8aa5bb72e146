package timeline

import (
	"fmt"
	"strconv"
	"strings"
)

// OutcomeState is what became of a load.
type OutcomeState string

// The states.
const (
	Fired    OutcomeState = "fired"
	Unfired  OutcomeState = "unfired"   // still loaded
	Misfired OutcomeState = "misfired"  // commanded, and it did not work as it should
	TakenOut OutcomeState = "taken-out" // unfired, and back in stock
)

var outcomeStates = []OutcomeState{Fired, Unfired, Misfired, TakenOut}

// Outcome is what became of what was loaded at one output on one night: an item
// of the night. It names the load as it was, so that it stays true when wiring
// or stock change afterwards.
type Outcome struct {
	Driver      ID // bank or device
	Output      int
	State       OutcomeState
	Placed      ID
	Article     ID
	Pieces      int
	ClearedBy   string // who cleared a misfire; "" = it is open
	ClearedNote string
}

const outcomeWords = "unit-id:output then fired, unfired, misfired or taken-out, placed= article= pieces= cleared-by= cleared-note="

// String writes the item form: `bank-a:7 misfired placed=mine-2 article=mine
// cleared-by="A. Name" cleared-note="soaked 30 min"`.
func (o Outcome) String() string {
	var w itemWriter
	w.head(o.Where())
	w.flag(string(o.State), true)
	w.pair("placed", string(o.Placed))
	w.pair("article", string(o.Article))
	if o.Pieces != 1 {
		w.pair("pieces", strconv.Itoa(o.Pieces))
	}
	w.pair("cleared-by", o.ClearedBy)
	w.pair("cleared-note", o.ClearedNote)
	return w.String()
}

// Where names the output as users write it: `bank-a:7`.
func (o Outcome) Where() string { return OutputRef{o.Driver, o.Output}.String() }

// Open reports whether it is a misfire nobody has cleared.
func (o Outcome) Open() bool { return o.State == Misfired && o.ClearedBy == "" }

// ParseOutcome reads the item form of an outcome.
func ParseOutcome(s string) (Outcome, error) {
	r := readItem(s)
	at := take2(r, r.head("an output such as bank-a:7"), parseOutputRef)
	o := Outcome{Driver: at.Driver, Output: at.Output, Pieces: 1}
	for _, state := range outcomeStates {
		if r.flag(string(state)) {
			if o.State != "" && r.err == nil {
				r.err = fmt.Errorf("says both %s and %s; write one", o.State, state)
			}
			o.State = state
		}
	}
	o.Placed, o.Article = take(r, "placed", parseID), take(r, "article", parseID)
	if n := take(r, "pieces", parsePieces); n != 0 {
		o.Pieces = n
	}
	o.ClearedBy, o.ClearedNote = r.value("cleared-by"), r.value("cleared-note")
	switch {
	case r.err != nil:
	case o.State == "":
		r.err = fmt.Errorf("says not what became of it; write fired, unfired, misfired or taken-out")
	case o.Placed == "" || o.Article == "":
		r.err = fmt.Errorf("names no load; write placed=placed-id article=article-id")
	case o.State != Misfired && o.ClearedBy+o.ClearedNote != "":
		r.err = fmt.Errorf("is %s: only a misfire is cleared", o.State)
	case o.ClearedBy == "" && o.ClearedNote != "":
		r.err = fmt.Errorf("has a note on clearing and no name; write cleared-by=")
	}
	return o, r.done(outcomeWords)
}

// String writes the output as users write it: `bank-a:7`.
func (o OutputRef) String() string { return fmt.Sprintf("%s:%d", o.Driver, o.Output) }

func parseOutputRef(s string) (OutputRef, error) {
	unit, number, ok := strings.Cut(s, ":")
	n, err := strconv.Atoi(number)
	if !ok || err != nil || n < 1 || n > 10000 || !ID(unit).Valid() {
		return OutputRef{}, fmt.Errorf("is no output; write the id of a bank or device and a number from 1 to 10000, such as bank-a:7")
	}
	return OutputRef{ID(unit), n}, nil
}

func parsePieces(s string) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 10000 {
		return 0, fmt.Errorf("must be a whole number from 1 to 10000")
	}
	return n, nil
}
