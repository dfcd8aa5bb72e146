package page

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Upper writes the first letter of a sentence large.
func Upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// CountedKind names a number of records of a kind.
func CountedKind(n int, kind *timeline.Kind) string {
	if n == 1 {
		return kind.Name
	}
	return fmt.Sprintf("%d %s", n, kind.Plural)
}

// BlankZero writes a count, nothing for none.
func BlankZero(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// Figure writes a figure with three digits, nothing for none.
func Figure(x float64) string {
	if x == 0 {
		return ""
	}
	return strconv.FormatFloat(x, 'g', 3, 64)
}

// Label makes a label of a field's name.
func Label(name string) string {
	switch name {
	case "nec", "un":
		return strings.ToUpper(name)
	}
	return Upper(strings.NewReplacer("_", " ", "-", " ").Replace(name))
}

// Short leaves out the zeros at the end of a number; nothing is left of 0.
func Short(number string) string {
	if strings.Contains(number, ".") {
		number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
	}
	if number == "0" {
		return ""
	}
	return number
}

// Digits gives how many bytes at the beginning of a text are digits.
func Digits(text string) int {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return n
}

// Find gives the record that a reference names, nil where it is not there.
func Find(s *timeline.Show, r timeline.Ref) timeline.Record {
	k := timeline.KindOf(r.Kind)
	if k == nil || k.InSong && s.Song(r.Song) == nil {
		return nil
	}
	return k.Find(s, r.Song, r.ID)
}

// LaneName gives what a lane is called: its name, else what it aims at.
func LaneName(s *timeline.Show, l *timeline.Lane) string { return s.Called(l) }

// NameOf gives the name of the record of one of some kinds with an id as the crew calls it, and "gone" where it is not there.
func NameOf(s *timeline.Show, kinds []string, song, id timeline.ID) string {
	if id == "" {
		return ""
	}
	for _, kind := range kinds {
		if r := Find(s, timeline.Ref{Kind: kind, Song: song, ID: id}); r != nil {
			return s.CalledIn(song, r)
		}
	}
	return string(id) + " (gone)"
}

// Put is the edit that puts records into a song, "" for those outside songs.
func Put(song timeline.ID, recs ...timeline.Record) timeline.Edit {
	return func(d *timeline.Draft) error {
		d.Put(song, recs...)
		return nil
	}
}

// Remove is the edit that takes records out; it is refused while others name them.
func Remove(refs ...timeline.Ref) timeline.Edit {
	return func(d *timeline.Draft) error {
		for _, r := range refs {
			if err := d.Remove(r); err != nil {
				return err
			}
		}
		return nil
	}
}

// NoVersions is said where there is no version of a song to choose.
const NoVersions = "there is no other version of the song yet: make one on the timeline with New version of a song…"

// HasVersions reports whether a show has versions of a song to choose from.
func HasVersions(s *timeline.Show) bool {
	return slices.ContainsFunc(s.Songs, func(g *timeline.Song) bool { return len(s.Versions(g.ID)) > 1 })
}

// Setlist gives the songs in the order they are listed: those played, then the others by timecode.
func Setlist(p *timeline.Plan) []*timeline.Song {
	var songs []*timeline.Song
	seen := map[timeline.ID]bool{}
	for i := range p.Songs {
		if s := p.Songs[i].Song; !seen[s.ID] {
			seen[s.ID] = true
			songs = append(songs, s)
		}
	}
	for _, s := range p.Show.SongsByStart() {
		if !seen[s.ID] {
			songs = append(songs, p.Show.Programmed(s))
		}
	}
	return songs
}

// MoveEntry plays the entry of a set at another place of its order, as one step; keys that repeat join it.
func MoveEntry(h Host, set *timeline.Set, from, to int) bool {
	name := string(set.Entries[from].Song)
	if s := h.Show().Song(set.Entries[from].Song); s != nil {
		name = s.FullTitle()
	}
	return h.DoAs("order "+string(set.ID), fmt.Sprintf("move %s to place %d", name, to+1), timeline.MoveEntry(set.ID, from, to))
}

// MoveKey names that change to those who are asked what it would come to.
func MoveKey(set *timeline.Set, from, to int) string {
	return fmt.Sprintf("order %s %d %d", set.ID, from, to)
}

// UseSet makes a set the one of the tour.
func UseSet(h Host, set *timeline.Set) {
	head := *h.Show().Head
	head.Set = set.ID
	h.Do("use set "+set.Name, Put("", &head))
}

// Where says in words where a finding stands.
func Where(f *rule.Finding, rate timeline.Rate) string {
	switch {
	case f.HasBar && f.HasTime:
		return f.Place() + "  " + rate.Label(f.Frame)
	case f.HasTime:
		return rate.Label(f.Frame)
	}
	return ""
}

// EntryOf gives the place in a set of an entry of the plan, -1 where the set does not hold it.
func EntryOf(set *timeline.Set, of timeline.Entry) int {
	if set == nil {
		return -1
	}
	return slices.IndexFunc(set.Entries, func(e timeline.Entry) bool { return e.Song == of.Song && !e.Out })
}
