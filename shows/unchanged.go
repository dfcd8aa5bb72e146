package shows

import (
	"slices"

	"emberbeat/timeline"
)

// unchanged reports whether a file says the same about two shows, by looking
// at which of their parts are the very same.
func (j fileJob) unchanged(s, before *timeline.Show) bool {
	if j.of != nil {
		return j.playedUnchanged(before)
	}
	switch j.kind {
	case songKind, cuesKind, notesKind:
		return before.Song(j.song.ID) == j.song
	case venueKind, nightKind:
		k := timeline.KindOfRecord(j.own)
		return k.Find(before, "", j.own.RecordID()) == j.own
	case showKind:
		return s.Head == before.Head && slices.Equal(s.Sets, before.Sets) && slices.Equal(s.HandCues, before.HandCues) && slices.Equal(s.Persons, before.Persons)
	}
	sameKept := timeline.KeptOf(s.Head) == timeline.KeptOf(before.Head)
	switch j.kind {
	case stockKind:
		return sameKept && s.Stock == before.Stock
	case rigKind:
		return sameKept && s.Rig == before.Rig
	case rulesKind:
		return sameKept && slices.Equal(s.Settings, before.Settings) && slices.Equal(s.RuleSets, before.RuleSets)
	}
	return false
}
