package timeline

import (
	"fmt"
	"strings"

	"emberbeat/timeline/field"
)

// Aside is a record of a song that was taken out of it and not thrown away, with
// where it stood: the song has another recording now, in which that place is not
// heard. It is neither played nor checked, and comes back by BringBack.
type Aside struct {
	Base
	Kind      string   // of what it was: cue, marker, section, phrase, or lock for the user's word to the ear
	Was       ID       // its id; "" of a lock
	Fields    []string // what it said, each name=value as in a file
	Stood     Moment   // where it stood, on the beats and in the time of that recording
	Time      Time     // the same from the start of that recording
	Section   string   // in which section
	Recording string   // file hash of that recording
	Why       string
}

// Title says what was set aside, and where it stood: `cue at 17.3 in "Chorus"`.
func (a *Aside) Title() string {
	text := a.Kind + " at " + a.Stood.String()
	if a.Section != "" {
		text += fmt.Sprintf(" in %q", a.Section)
	}
	return text
}

// asideKinds are what can be set aside.
var asideKinds = []string{"cue", "marker", "section", "phrase", AsideLock}

// AsideLock is the kind of a lock that was set aside, which is no record but an
// item of its song.
const AsideLock = "lock"

func init() {
	registerInSong("aside", "asides", "what a song's new recording has no place for, kept with where it stood",
		func(s *Song) *[]*Aside { return &s.Asides },
		field.Choice("kind", "what it was", func(a *Aside) *string { return &a.Kind }, asideKinds),
		field.Parsed("was", "its id", func(a *Aside) *ID { return &a.Was }, func(id ID) string { return string(id) }, parseWas),
		field.TextList("fields", "what it said, each name=value", func(a *Aside) *[]string { return &a.Fields }),
		field.Parsed("stood", "where it stood in the old recording", func(a *Aside) *Moment { return &a.Stood }, Moment.String, ParseMoment),
		spanField("time", "the same from the start of the old recording", func(a *Aside) *Time { return &a.Time }),
		field.Text("section", "in which section it stood", func(a *Aside) *string { return &a.Section }),
		field.Text("recording", "hash of the old recording's file", func(a *Aside) *string { return &a.Recording }),
		field.Text("why", "why it was set aside", func(a *Aside) *string { return &a.Why }),
	)
}

func (a *Aside) defaults() { a.Kind = "cue" }

func parseWas(s string) (ID, error) {
	if s != "" && !ID(s).Valid() {
		return "", fmt.Errorf("is no id")
	}
	return ID(s), nil
}

// SetAside gives the record that keeps another one with where it stood; of a song
// whose recording is the one it stood on.
func SetAside(id ID, song *Song, r Record, stood Moment, why string) *Aside {
	k := kindOfRecord(r)
	a := &Aside{Base: Base{ID: id, Kept: r.base().Kept}, Kind: k.Name, Was: r.RecordID(), Stood: stood, Recording: song.Audio.FileHash, Why: why}
	for i := range k.Fields {
		if v := k.Fields[i].Get(r); !v.Equal(k.Fields[i].Default) {
			a.Fields = append(a.Fields, k.Fields[i].Name+"="+v.Text)
		}
	}
	a.place(song)
	return a
}

// place notes the time and the section that it stood at.
func (a *Aside) place(song *Song) {
	at, _ := a.Stood.In(song.Beats)
	a.Time = at.RoundTo(EntryStep)
	if s := song.SectionAt(at); s != nil {
		a.Section = s.Name
	}
}

// SectionAt gives the section of a song that holds a time from the start of its
// audio, or nil.
func (s *Song) SectionAt(at Time) *Section {
	var held *Section
	var since Time
	for _, x := range s.Sections {
		from, ok := x.At.In(s.Beats)
		if !ok || from > at || held != nil && from < since {
			continue
		}
		held, since = x, from
	}
	if held == nil || held.To == (Moment{}) {
		return held
	}
	if to, ok := held.To.In(s.Beats); ok && to <= at {
		return nil
	}
	return held
}

// Record gives what was set aside as it was, with an id; nil of a lock.
func (a *Aside) Record(id ID) (Record, error) {
	if a.Kind == AsideLock {
		return nil, nil
	}
	k := KindOf(a.Kind)
	if k == nil || !k.InSong || k.Name == "aside" {
		return nil, fmt.Errorf("aside %s: %q is nothing that can be set aside", a.ID, a.Kind)
	}
	r := k.New(id)
	for _, item := range a.Fields {
		name, value, _ := strings.Cut(item, "=")
		f := k.Field(name)
		if f == nil {
			return nil, fmt.Errorf("aside %s: a %s has no field %q", a.ID, k.Name, name)
		}
		if err := f.Set(r, Value{Text: value}); err != nil {
			return nil, err
		}
	}
	r.base().Kept = a.Kept
	return r, nil
}

// Back is where something that was set aside comes back to.
type Back struct {
	At   *Moment // nil is where it stood, on the recording it stood on
	Lane ID      // "" is its own
}

// BringBack gives the edit that brings back what was set aside. newID hands in an
// id where another record has taken its own.
func BringBack(song, aside ID, to Back, newID func(kind string, song ID) ID) Edit {
	return func(d *Draft) error {
		g := d.show.Song(song)
		if g == nil {
			return fmt.Errorf("the show has no song %q", song)
		}
		a := findRecord(g.Asides, aside)
		if a == nil {
			return fmt.Errorf("aside:%s/%s: there is no such record", song, aside)
		}
		if to.At == nil && a.Recording != g.Audio.FileHash {
			return &ValueError{Field: "at", Want: fmt.Sprintf("is not given, and it stood at %s of another recording; write where it stands now, such as 17.1 or 1:02.5", a.Stood)}
		}
		if err := d.Remove(Ref{"aside", song, aside}); err != nil {
			return err
		}
		if a.Kind == AsideLock {
			h := d.show.Song(song).SongHead
			h.Locks = append(h.Locks[:len(h.Locks):len(h.Locks)], a.Fields...)
			d.Put("", &h)
			return nil
		}
		id := a.Was
		if k := KindOf(a.Kind); k != nil && (id == "" || k.Find(d.show, song, id) != nil) {
			id = newID(a.Kind, song)
		}
		r, err := a.Record(id)
		if err != nil {
			return err
		}
		d.Put(song, moved(r, to))
		return nil
	}
}

// moved puts a record that came back where it is wanted. What has an end keeps its
// length in bars or time.
func moved(r Record, to Back) Record {
	if c, ok := r.(*Cue); ok && to.Lane != "" {
		c.Lane = to.Lane
	}
	if to.At == nil {
		return r
	}
	switch x := r.(type) {
	case *Cue:
		x.At = *to.At
	case *Marker:
		x.At = *to.At
	case *Section:
		x.At, x.To = *to.At, Moment{}
	case *Phrase:
		x.At, x.Until = *to.At, x.Until.after(x.At, *to.At)
	}
	return r
}

// after moves a moment as far as another one was moved, where both are of one sort.
func (m Moment) after(from, to Moment) Moment {
	switch {
	case m.OnBeat && from.OnBeat && to.OnBeat:
		return AtBar(BarBeat{m.Bar.Bar + to.Bar.Bar - from.Bar.Bar, m.Bar.Beat})
	case !m.OnBeat && !from.OnBeat && !to.OnBeat:
		return AtTime(m.Time + to.Time - from.Time)
	}
	return to
}
