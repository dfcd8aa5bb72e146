package rule

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"emberbeat/timeline"
)

// Severity says how much a finding matters.
type Severity string

// The severities, gravest first.
const (
	Error   Severity = "error"   // the plan cannot be played as it stands
	Warning Severity = "warning" // somebody must look at it
	Note    Severity = "note"    // worth knowing
)

// rank orders severities, gravest first.
func (s Severity) rank() int {
	switch s {
	case Error:
		return 0
	case Warning:
		return 1
	}
	return 2
}

// Scope says how much of a plan a rule must see at once.
type Scope string

// The scopes.
const (
	InSong     Scope = "song"       // one song by itself
	Neighbours Scope = "neighbours" // a song and those played before it
	WholeSet   Scope = "set"        // the set, the rig or the venue as a whole
)

// Finding is one thing a rule has found. It says what is wrong and never that
// something is right.
type Finding struct {
	Rule     string
	Severity Severity
	Text     string
	Ref      timeline.Ref   // the record it is about
	Others   []timeline.Ref // further records it takes to see it
	Song     timeline.ID    // "" for a finding about the rig or the whole show
	Number   int            // the song's place in the running order, from 1; 0 without a song
	HasTime  bool           // At and Frame are given
	At       timeline.Time  // from the start of the song's audio: the hit of a cue
	Frame    int64          // nearest frame to At, from timecode midnight
	HasBar   bool
	Bar      timeline.BarBeat
	Values   []Value  // the numbers it rests on; an acceptance ends when they change
	Grounds  []Ground // where the limits it compares with stand
	Spans    []Span   // the events in time, for a drawing
	Help     string   // a concrete change that would make it valid
	Fix      *Fix     // nil where no edit of the show can solve it
	Accepted *timeline.Acceptance

	who []string // units or devices that share the finding, see songRun.add
}

// Place says where in its song a finding stands, as a person says it: "bar 13 beat
// 1", "before the song" for what happens before the recording begins, "" where no
// bar is known.
func (f *Finding) Place() string {
	switch {
	case !f.HasBar:
		return ""
	case f.HasTime && f.At < 0:
		return "before the song"
	}
	bar, beat := f.Bar.Spoken()
	return "bar " + bar + " beat " + beat
}

// Value is one number or word a finding rests on, in canonical text.
type Value struct {
	Name   string
	Text   string
	Unit   string // "s", "m", "kg" …, or ""
	Number bool   // Text is a decimal number
}

// Span is one event of a finding in time, from the start of the song's audio.
// An instant has To = From.
type Span struct {
	Name     string
	From, To timeline.Time
}

// Fix is a change of the show that solves a finding.
type Fix struct {
	Label string       // what it does, as an order: "set pre-roll to 2.0000 s"
	On    timeline.Ref // the record that it is done to
	Field string       // what of it is changed; "" = it is taken out
	Text  string       // the one value that is written there; "" = it is a list, or several
	Edits []timeline.Edit
}

// Digest is a short text that changes when the values of a finding change; an
// acceptance of a night holds it.
func (f *Finding) Digest() string {
	h := sha256.New()
	for _, v := range f.Values {
		fmt.Fprintf(h, "%q=%q %q\n", v.Name, v.Text, v.Unit)
	}
	return hex.EncodeToString(h.Sum(nil)[:6])
}

// Acceptance gives what a night must hold to accept the finding.
func (f *Finding) Acceptance(by, reason string) timeline.Acceptance {
	return timeline.Acceptance{Rule: f.Rule, Record: f.Ref.String(), Values: f.Digest(), By: by, Reason: reason}
}
