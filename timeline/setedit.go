package timeline

import (
	"fmt"
	"slices"
	"strconv"
)

// EditSet gives the edit that changes one set. The change is made in a copy of
// its own, and may write into its entries.
func EditSet(id ID, change func(s *Show, set *Set) error) Edit {
	return func(d *Draft) error {
		old := d.show.Set(id)
		if old == nil {
			return fmt.Errorf("set:%s: there is no such record", id)
		}
		set := *old
		ownLists(&set)
		if err := change(d.show, &set); err != nil {
			return err
		}
		return d.putRead(&set)
	}
}

// AddSet adds a running order.
func AddSet(set Set) Edit {
	return func(d *Draft) error {
		if d.show.Set(set.ID) != nil {
			return fmt.Errorf("set:%s is there already; choose another id, or change that record", set.ID)
		}
		return d.putRead(&set)
	}
}

// EditEntry changes one entry of a set by its index, for a table of entries in
// which a song may stand twice.
func EditEntry(id ID, index int, change func(*Entry)) Edit {
	return EditSet(id, func(_ *Show, set *Set) error {
		if index < 0 || index >= len(set.Entries) {
			return noEntry(set, index)
		}
		change(&set.Entries[index])
		return nil
	})
}

// MoveEntry takes an entry of a set from one index to another; the others keep
// their order.
func MoveEntry(id ID, from, to int) Edit {
	return EditSet(id, func(_ *Show, set *Set) error {
		for _, i := range []int{from, to} {
			if i < 0 || i >= len(set.Entries) {
				return noEntry(set, i)
			}
		}
		e := set.Entries[from]
		set.Entries = slices.Insert(slices.Delete(set.Entries, from, from+1), to, e)
		return nil
	})
}

func noEntry(set *Set, index int) error {
	return &ValueError{Kind: "set", Field: "entries", Value: strconv.Itoa(index + 1), Want: fmt.Sprintf("is no place in the set, which has %d", len(set.Entries))}
}

// OrderSet plays the named songs, in this order. Songs of the set that are not
// named stay in it, after them and left out; named songs that it does not hold
// come in.
func OrderSet(id ID, songs ...ID) Edit {
	return EditSet(id, func(s *Show, set *Set) error {
		var order []Entry
		for i, song := range songs {
			if slices.Contains(songs[:i], song) {
				return wrongEntry(s, song, "is named twice; name every song once")
			}
			e := Entry{Song: song}
			if k := set.entry(song); k >= 0 {
				e = set.Entries[k]
				set.Entries = slices.Delete(set.Entries, k, k+1)
			}
			e.Out = false
			order = append(order, e)
		}
		for _, e := range set.Entries {
			e.Out = true
			order = append(order, e)
		}
		set.Entries = order
		return nil
	})
}

// MoveInSet plays a song as number n of those that are played, from 1.
func MoveInSet(id, song ID, n int) Edit {
	return EditSet(id, func(s *Show, set *Set) error {
		from := set.entry(song)
		count := len(set.Order())
		switch {
		case from < 0:
			return wrongEntry(s, song, "is not in the set; bring it in first")
		case set.Entries[from].Out:
			return wrongEntry(s, song, "is left out of the set; bring it in first")
		case n < 1 || n > count:
			return &ValueError{Kind: "set", Field: "entries", Value: strconv.Itoa(n), Want: fmt.Sprintf("is no place in the order; the set plays 1 to %d", count)}
		}
		e := set.Entries[from]
		set.Entries = slices.Delete(set.Entries, from, from+1)
		set.Entries = slices.Insert(set.Entries, set.played(n), e)
		return nil
	})
}

// played gives the index of the n-th entry that is played, from 1; past the
// last it is the one after it.
func (s *Set) played(n int) int {
	last := 0
	for i, e := range s.Entries {
		if e.Out {
			continue
		}
		if n--; n == 0 {
			return i
		}
		last = i + 1
	}
	return last
}

// LeaveOut leaves songs out of a set; they keep their place.
func LeaveOut(id ID, songs ...ID) Edit {
	return EditSet(id, func(s *Show, set *Set) error {
		for _, song := range songs {
			k := set.entry(song)
			if k < 0 {
				return wrongEntry(s, song, "is not in the set, so it cannot be left out")
			}
			set.Entries[k].Out = true
		}
		return nil
	})
}

// BringIn plays songs that were left out, in their place, and puts others at
// the end.
func BringIn(id ID, songs ...ID) Edit {
	return EditSet(id, func(_ *Show, set *Set) error {
		for _, song := range songs {
			if k := set.entry(song); k >= 0 {
				set.Entries[k].Out = false
			} else {
				set.Entries = append(set.Entries, Entry{Song: song})
			}
		}
		return nil
	})
}

// GapAfter sets the time from a song's end to the next one's start, and, unless
// talk is nil, what happens in it.
func GapAfter(id, song ID, gap Time, talk *string) Edit {
	return EditSet(id, func(s *Show, set *Set) error {
		k := set.entry(song)
		if k < 0 {
			return wrongEntry(s, song, "is not in the set, so there is no gap after it")
		}
		if gap < 0 {
			return &ValueError{Kind: "set", Field: "entries", Value: gap.String(), Want: "is no gap; write 0 or more seconds"}
		}
		set.Entries[k].Gap = gap.RoundTo(EntryStep)
		if talk != nil {
			set.Entries[k].Talk = *talk
		}
		return nil
	})
}

// EncoreInSet says of songs whether they are encores.
func EncoreInSet(id ID, encore bool, songs ...ID) Edit {
	return editSongs(id, songs, func(e *Entry) { e.Encore = encore })
}

// AlternativesInSet makes songs alternatives of each other, of which one is
// played: two or more that no other word joins yet.
func AlternativesInSet(id ID, songs ...ID) Edit {
	return func(d *Draft) error {
		if len(songs) < 2 {
			return &ValueError{Kind: "set", Field: "entries", Value: strconv.Itoa(len(songs)), Want: "is no choice; alternatives are two songs or more"}
		}
		set := d.show.Set(id)
		if set == nil {
			return fmt.Errorf("set:%s: there is no such record", id)
		}
		word := set.freeWord()
		if err := editSongs(id, songs, func(e *Entry) { e.Alt = word })(d); err != nil {
			return err
		}
		return EditSet(id, PartLonely)(d)
	}
}

// NoAlternative plays songs whatever else is played. What had no other
// alternative than them has none any more.
func NoAlternative(id ID, songs ...ID) Edit {
	return func(d *Draft) error {
		if err := editSongs(id, songs, func(e *Entry) { e.Alt = "" })(d); err != nil {
			return err
		}
		return EditSet(id, PartLonely)(d)
	}
}

// freeWord gives a letter that joins no alternatives of the set yet.
func (s *Set) freeWord() string {
	for n := 0; ; n++ {
		word := string(rune('a' + n%26))
		if n >= 26 {
			word += strconv.Itoa(n / 26)
		}
		if !slices.ContainsFunc(s.Entries, func(e Entry) bool { return e.Alt == word }) {
			return word
		}
	}
}

// PartLonely takes the word from entries that share it with no other.
func PartLonely(_ *Show, s *Set) error {
	count := map[string]int{}
	for _, e := range s.Entries {
		count[e.Alt]++
	}
	for i := range s.Entries {
		if count[s.Entries[i].Alt] == 1 {
			s.Entries[i].Alt = ""
		}
	}
	return nil
}

// editSongs changes the entries of songs.
func editSongs(id ID, songs []ID, change func(*Entry)) Edit {
	return EditSet(id, func(s *Show, set *Set) error {
		for _, song := range songs {
			k := set.entry(song)
			if k < 0 {
				return wrongEntry(s, song, "is not in the set; bring it in first")
			}
			change(&set.Entries[k])
		}
		return nil
	})
}

// entry finds the first entry of a song, one that is played before one that is
// left out; -1 where there is none.
func (s *Set) entry(song ID) int {
	if i := slices.IndexFunc(s.Entries, func(e Entry) bool { return e.Song == song && !e.Out }); i >= 0 {
		return i
	}
	return slices.IndexFunc(s.Entries, func(e Entry) bool { return e.Song == song })
}

func wrongEntry(s *Show, song ID, want string) error {
	name := string(song)
	if g := s.Song(song); g != nil {
		name = g.FullTitle()
	}
	return &ValueError{Kind: "set", Field: "entries", Value: name, Want: want}
}
