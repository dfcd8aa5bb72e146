package timeline

import "emberbeat/timeline/field"

// Entry is one place in a set's running order.
type Entry struct {
	Song   ID
	Gap    Time   // from the end of this song to the start of the next: changeover, talk, applause
	Talk   string // what happens in the gap
	Alt    string // entries with the same word are alternatives: one of them is played
	Encore bool
	Out    bool // left out, kept in its place
}

// String writes the item form: `ember gap=30.0000 talk="thanks" encore`.
func (e Entry) String() string {
	var w itemWriter
	w.head(string(e.Song))
	if e.Gap != 0 {
		w.pair("gap", e.Gap.String())
	}
	w.pair("talk", e.Talk)
	w.pair("alt", e.Alt)
	w.flag("encore", e.Encore)
	w.flag("out", e.Out)
	return w.String()
}

// ParseEntry reads the item form of a running order's entry.
func ParseEntry(s string) (Entry, error) {
	r := readItem(s)
	e := Entry{Song: take2(r, r.head("the id of a song"), parseID)}
	e.Gap = take(r, "gap", parseSpan)
	e.Talk, e.Alt = r.value("talk"), r.value("alt")
	e.Encore, e.Out = r.flag("encore"), r.flag("out")
	return e, r.done("song-id gap= talk= alt= encore out")
}

// Set is a running order.
type Set struct {
	Base
	Name    string
	Entries []Entry
	Refills []Refill // planned in its gaps
	Note    string
}

// Order gives the songs that are played, in order: entries left out are
// skipped, alternatives are all there.
func (s *Set) Order() []Entry {
	var order []Entry
	for _, e := range s.Entries {
		if !e.Out {
			order = append(order, e)
		}
	}
	return order
}

func init() {
	register("set", "sets", "a running order of songs", showPart,
		func(s *Show, _ ID) []*Set { return s.Sets },
		func(d *Draft, _ ID) *[]*Set { return &d.show.Sets },
		field.Text("name", "what the crew calls it", func(s *Set) *string { return &s.Name }),
		withRef(field.List("entries", "songs in order: song-id gap= talk= alt= encore out", func(s *Set) *[]Entry { return &s.Entries }, Entry.String, ParseEntry), "song"),
		withRef(field.List("refills", "planned in the gaps: "+refillWords, func(s *Set) *[]Refill { return &s.Refills }, Refill.String, ParseRefill), "supply"),
		field.Text("note", "", func(s *Set) *string { return &s.Note }),
	)
}
