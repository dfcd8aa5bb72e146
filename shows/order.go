package shows

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// The order in which records stand in a file, made for people who read it and
// for version control that compares it. Every order ends with the id.

// ordered gives the records of a kind in the order of their file.
func ordered(k *timeline.Kind, s *timeline.Show, song timeline.ID) []timeline.Record {
	recs := slices.Clone(k.List(s, song)) // sorted by id
	switch k.Name {
	case "article":
		rank := map[string]int{}
		for i, f := range timeline.Families() {
			rank[string(f)] = i
		}
		slices.SortStableFunc(recs, func(a, b timeline.Record) int {
			x, y := a.(*timeline.Article), b.(*timeline.Article)
			return cmp.Or(rank[string(x.Family)]-rank[string(y.Family)], strings.Compare(x.Name, y.Name))
		})
	case "placed":
		slices.SortStableFunc(recs, func(a, b timeline.Record) int {
			x, y := a.(*timeline.Placed), b.(*timeline.Placed)
			return cmp.Or(strings.Compare(string(x.Position), string(y.Position)), strings.Compare(x.Name, y.Name))
		})
	case "wire":
		slices.SortStableFunc(recs, func(a, b timeline.Record) int {
			x, y := a.(*timeline.Wire), b.(*timeline.Wire)
			return cmp.Or(strings.Compare(string(x.Driver), string(y.Driver)), x.Output-y.Output)
		})
	case "section", "marker", "note":
		sortByMoment(recs, s.Song(song).Beats)
	case "setting":
	default:
		sortByName(k, recs)
	}
	return recs
}

func sortByName(k *timeline.Kind, recs []timeline.Record) {
	f := k.Field("name")
	if f == nil {
		return
	}
	slices.SortStableFunc(recs, func(a, b timeline.Record) int {
		return strings.Compare(f.Get(a).Text, f.Get(b).Text)
	})
}

// instant is a moment made ready for sorting: beats without a beat map come
// after all times.
type instant struct {
	lost bool
	at   timeline.Time
	bar  timeline.BarBeat
}

func instantOf(m timeline.Moment, beats *timeline.BeatMap) instant {
	at, ok := m.In(beats)
	return instant{!ok, at, m.Bar}
}

func (a instant) compare(b instant) int {
	switch {
	case a.lost != b.lost:
		if b.lost {
			return -1
		}
		return 1
	case a.lost:
		return a.bar.Cmp(b.bar)
	}
	return cmp.Compare(a.at, b.at)
}

func sortByMoment(recs []timeline.Record, beats *timeline.BeatMap) {
	type timed struct {
		at  instant
		rec timeline.Record
	}
	list := make([]timed, len(recs))
	for i, r := range recs {
		list[i] = timed{instantOf(momentOf(r), beats), r}
	}
	slices.SortStableFunc(list, func(a, b timed) int { return a.at.compare(b.at) })
	for i := range list {
		recs[i] = list[i].rec
	}
}

func momentOf(r timeline.Record) timeline.Moment {
	switch r := r.(type) {
	case *timeline.Section:
		return r.At
	case *timeline.Marker:
		return r.At
	case *timeline.Note:
		return r.At
	case *timeline.Cue:
		return r.At
	}
	return timeline.Moment{}
}

// cueLane is the cues of one lane in the order of their file.
type cueLane struct {
	lane timeline.ID
	cues []timeline.Record
}

// lanesOf gives the cues of a song by lane: lanes in the order of song.toml,
// then those that are gone, by id. Lanes without cues are left out unless
// something is kept about them.
func lanesOf(s *timeline.Show, song *timeline.Song, kept keptPart) []cueLane {
	byLane := map[timeline.ID][]timeline.Record{}
	for _, c := range song.Cues {
		byLane[c.Lane] = append(byLane[c.Lane], c)
	}
	for _, id := range kept.lanes() {
		if _, ok := byLane[id]; !ok {
			byLane[id] = nil
		}
	}
	var list []cueLane
	take := func(id timeline.ID) {
		if cues, ok := byLane[id]; ok {
			sortByMoment(cues, song.Beats)
			list = append(list, cueLane{id, cues})
			delete(byLane, id)
		}
	}
	for _, r := range ordered(timeline.KindOf("lane"), s, song.ID) {
		take(r.RecordID())
	}
	var gone []timeline.ID
	for id := range byLane {
		gone = append(gone, id)
	}
	slices.Sort(gone)
	for _, id := range gone {
		take(id)
	}
	return list
}

// lanes lists the lanes that something is kept about in cues.toml.
func (p keptPart) lanes() (ids []timeline.ID) {
	if p.kept == nil {
		return nil
	}
	add := func(name string) {
		if rest, ok := strings.CutPrefix(name, p.prefix); ok && prefixed(rest) {
			id, _, _ := strings.Cut(rest, laneMark)
			ids = append(ids, timeline.ID(id))
		}
	}
	for name := range p.kept.Keys {
		add(name)
	}
	for _, u := range p.kept.Unknown {
		add(u.Key)
	}
	return ids
}
