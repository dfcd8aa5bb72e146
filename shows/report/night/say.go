package night

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// Need is what a sentence about a night is of: whoever shows it knows where that is
// looked after.
type Need string

// What there can be to do, by how soon.
const (
	NeedMisfires Need = "misfires"
	NeedLoaded   Need = "loaded"
	NeedLost     Need = "lost cues"
	NeedSupply   Need = "supply"
	NeedClose    Need = "close by hand"
	NeedChanges  Need = "changes"
	NeedLoad     Need = "load"
	NeedPrint    Need = "print"
	NeedSign     Need = "sign"
)

// Sentence is one thing that is to be done on a night, in words.
type Sentence struct {
	Need   Need
	Text   string // a clause with its number: "28 pieces to load on 3 banks"
	Detail string
	Ref    timeline.Ref // a record that it begins with; empty = none
	Grave  bool         // it was not meant to be so
}

// Sentences says what there is to do beside the findings, the most urgent first:
// what earlier nights have left, what is lost, what runs out, what is closed by hand,
// what changes from the tour, what is loaded, printed and signed. What there is
// nothing of has none.
func (t *Tonight) Sentences() []Sentence {
	var list []Sentence
	say := func(n Need, grave bool, ref timeline.Ref, text, detail string) {
		list = append(list, Sentence{n, text, detail, ref, grave})
	}
	if n := len(t.Misfires); n > 0 {
		say(NeedMisfires, true, timeline.Ref{}, timeline.Counted(n, "misfire")+" of earlier nights not settled", leftText(t.Misfires))
	}
	if n := len(t.Loaded); n > 0 {
		say(NeedLoaded, false, timeline.Ref{}, timeline.Counted(n, "output")+" still loaded by earlier nights", leftText(t.Loaded))
	}
	t.sayLost(say)
	t.saySupplies(say)
	if n := len(t.ByHand); n > 0 {
		o := &t.ByHand[0]
		song := ""
		if o.SongNumber >= 1 && o.SongNumber <= len(t.Songs) {
			song = t.Songs[o.SongNumber-1].Song
		}
		say(NeedClose, false, timeline.Ref{Kind: "cue", Song: timeline.ID(song), ID: timeline.ID(o.Cue)}, timeline.Counted(n, "output")+" open when a song ends, to be closed by hand", fmt.Sprintf("first %s of song %d", o.What, o.SongNumber))
	}
	t.sayChanges(say)
	if t.Used.Pieces > 0 {
		banks, by := 0, []string{}
		for i := range t.Load {
			b := &t.Load[i]
			if b.Used.Pieces == 0 {
				continue
			}
			if by = append(by, fmt.Sprintf("%s %d", b.Name, b.Used.Pieces)); b.ID != "" { // what is not wired is at none
				banks++
			}
		}
		say(NeedLoad, false, timeline.Ref{}, fmt.Sprintf("%s to load on %s, NEC %s g", timeline.Counted(t.Used.Pieces, "piece"), timeline.Counted(banks, "bank"), strconv.FormatFloat(t.Used.NEC, 'f', -1, 64)), strings.Join(by, ", "))
	}
	if n := len(t.Sign); n > 0 {
		var who []string
		for _, s := range t.Sign {
			who = append(who, s.Role)
		}
		say(NeedSign, false, timeline.Ref{}, timeline.Counted(n, "signature")+" to get", strings.Join(slices.Compact(who), ", "))
	}
	return list
}

type sayer func(n Need, grave bool, ref timeline.Ref, text, detail string)

// leftText names what is left, each place once.
func leftText(list []Left) string {
	var names []string
	for _, l := range list {
		if name := l.PlacedName + " (" + l.Night + ")"; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// sayLost tells of cues that lead to nothing, or to less than they ask for.
func (t *Tonight) sayLost(say sayer) {
	n, thin := 0, 0
	var where []string
	first := timeline.Ref{}
	for i := range t.Songs {
		s := &t.Songs[i]
		if s.Thin {
			thin++
		}
		if lost := s.Lost + s.Partly; lost > 0 {
			if n == 0 {
				first = timeline.Ref{Kind: "song", ID: timeline.ID(s.Song)}
			}
			n += lost
			where = append(where, fmt.Sprintf("%s %d", s.Title, lost))
		}
	}
	if n == 0 {
		return
	}
	text := timeline.Counted(n, "cue") + " lost, or played in part"
	if thin > 0 {
		text += fmt.Sprintf("; %s thin", timeline.Counted(thin, "song"))
	}
	say(NeedLost, true, first, text, strings.Join(where, ", "))
}

// saySupplies tells of supplies that one filling does not serve.
func (t *Tonight) saySupplies(say sayer) {
	for i := range t.Supplies {
		s := &t.Supplies[i]
		ref := timeline.Ref{Kind: "supply", ID: timeline.ID(s.Supply)}
		switch {
		case s.Short:
			say(NeedSupply, true, ref, s.Name+": one hit takes more than a full one holds above its reserve", fmt.Sprintf("uses %s of %s", t.Told.Say("kg", s.Uses, 2), t.Told.Say("kg", s.Usable, 2)))
		case len(s.Swaps) > 0:
			x := &s.Swaps[0]
			say(NeedSupply, false, ref, s.Name+" to be swapped, "+timeline.Counted(len(s.Swaps), "time"), fmt.Sprintf("first after hit %d of song %d %q, %s", x.Hit, x.SongNumber, x.SongTitle, x.Timecode))
		}
	}
}

// sayChanges tells what changes from the tour.
func (t *Tonight) sayChanges(say sayer) {
	cut, swapped, silent := 0, 0, 0
	for i := range t.Songs {
		cut, swapped = cut+t.Songs[i].Cut, swapped+t.Songs[i].Swapped
	}
	for _, c := range t.Changes {
		if c.Reason == "" {
			silent++
		}
	}
	if len(t.Changes)+len(t.NotPlayed) == 0 {
		return
	}
	text := fmt.Sprintf("%s from the tour: %s cut, %d swapped", timeline.Counted(len(t.Changes), "change"), timeline.Counted(cut, "cue"), swapped)
	var more []string
	if n := len(t.NotPlayed); n > 0 {
		more = append(more, timeline.Counted(n, "song")+" not played")
	}
	if silent > 0 {
		more = append(more, fmt.Sprintf("%d without a reason", silent))
	}
	for _, c := range t.Changes {
		more = append(more, c.Text)
	}
	say(NeedChanges, false, timeline.Ref{}, text, strings.Join(more, "; "))
}
