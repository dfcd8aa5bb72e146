package changed

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// SongDiff is what two songs, or two versions of one, play differently. Records that a
// version shares or has copied are known by their ids; all others by what drives them
// and the place in bars, or in time, at which they stand. Its JSON keys are relied on:
// they only grow.
type SongDiff struct {
	Old      SongSide  `json:"old"`
	New      SongSide  `json:"new"`
	Head     []string  `json:"head"` // start, length, recording, tempo
	Sections []string  `json:"sections"`
	Same     int       `json:"same"` // cues that are alike, at the same place
	Moved    int       `json:"moved"`
	Changed  int       `json:"changed"`
	Gone     int       `json:"gone"`
	Added    int       `json:"added"`
	Cues     []SongCue `json:"cues"` // that are not the same, in the order of the old song, then of the new one
}

// SongSide names one of two songs.
type SongSide struct {
	Song  string `json:"song"` // id
	Title string `json:"title"`
}

// SongCue is a cue that two songs have differently, or one of them alone.
type SongCue struct {
	What   string        `json:"what"` // "moved", "changed", "gone" or "added"
	Name   string        `json:"name"`
	Was    string        `json:"was"` // its place; "" of one that is added
	Is     string        `json:"is"`
	Fields []FieldChange `json:"fields"`
}

// NewSongDiff compares what two songs play; they may be of two shows. A song that is
// not there is an error.
func NewSongDiff(a, b *timeline.Show, old, is timeline.ID) (*SongDiff, error) {
	was, now := a.Song(old), b.Song(is)
	for id, g := range map[timeline.ID]*timeline.Song{old: was, is: now} {
		if g == nil {
			return nil, fmt.Errorf("the show has no song %q", id)
		}
	}
	was, now = a.Programmed(was), b.Programmed(now)
	d := &SongDiff{Old: SongSide{string(old), was.FullTitle()}, New: SongSide{string(is), now.FullTitle()}, Head: headWords(a, b, was, now), Sections: sectionWords(was, now), Cues: []SongCue{}}
	pairs := cuePairs(was, now)
	names := [2]*timeline.Names{a.Names(), b.Names()}
	for _, p := range pairs {
		d.add(names, a, b, was, now, p)
	}
	return d, nil
}

// Alike reports whether the two play the same.
func (d *SongDiff) Alike() bool {
	return len(d.Head)+len(d.Sections)+d.Moved+d.Changed+d.Gone+d.Added == 0
}

// headWords says what differs about the songs themselves.
func headWords(a, b *timeline.Show, was, now *timeline.Song) []string {
	list := []string{}
	differs := func(what, before, after string) {
		if before != after {
			list = append(list, what+" "+cmp.Or(before, "none")+" → "+cmp.Or(after, "none"))
		}
	}
	differs("start", was.Start.String(), now.Start.String())
	differs("length", was.Duration().Text(2)+" s", now.Duration().Text(2)+" s")
	differs("recording", was.Audio.Path, now.Audio.Path)
	differs("pre-roll", a.PreRollOf(&was.SongHead).Text(2)+" s", b.PreRollOf(&now.SongHead).Text(2)+" s")
	if !was.Beats.Equal(now.Beats) {
		differs("beat map", beatWords(was.Beats), beatWords(now.Beats))
		if beatWords(was.Beats) == beatWords(now.Beats) {
			list = append(list, "beat map otherwise")
		}
	}
	return list
}

// beatWords says of a beat map where it begins and how many anchors it has.
func beatWords(m *timeline.BeatMap) string {
	if m.Empty() {
		return ""
	}
	anchors := m.Anchors()
	first := anchors[0]
	return fmt.Sprintf("from %s at %s s with %s", timeline.AtBar(first.Place()), first.At.Text(2), timeline.Counted(len(anchors), "anchor"))
}

// sectionWords says which sections came and went, and which stand elsewhere.
func sectionWords(was, now *timeline.Song) []string {
	list := []string{}
	count := map[string]int{}
	key := func(s *timeline.Section) string {
		count[s.Name]++
		return fmt.Sprint(s.Name, count[s.Name])
	}
	before := map[string]*timeline.Section{}
	var order []string
	for _, s := range was.Sections {
		k := key(s)
		before[k], order = s, append(order, k)
	}
	clear(count)
	for _, s := range now.Sections {
		k := key(s)
		old := before[k]
		delete(before, k)
		switch {
		case old == nil:
			list = append(list, fmt.Sprintf("section %q added at %s", s.Name, s.At))
		case old.At != s.At:
			list = append(list, fmt.Sprintf("section %q at %s → %s", s.Name, old.At, s.At))
		}
	}
	for _, k := range order {
		if s := before[k]; s != nil {
			list = append(list, fmt.Sprintf("section %q gone, was at %s", s.Name, s.At))
		}
	}
	return list
}

// cuePair is a cue of the old song and the one of the new song that is meant to be it;
// either may be nil.
type cuePair struct{ was, is *timeline.Cue }

// cuePairs puts the cues of two songs together, each once: by id, then by what drives
// them at the same place.
func cuePairs(was, now *timeline.Song) []cuePair {
	taken := map[timeline.ID]bool{}
	pairs := make([]cuePair, 0, len(was.Cues))
	for _, q := range was.Cues {
		x := now.Cue(q.ID)
		if x != nil {
			taken[x.ID] = true
		}
		pairs = append(pairs, cuePair{q, x})
	}
	type spot struct {
		at  timeline.Moment
		aim timeline.ID
		arm timeline.SlotRole
	}
	spotOf := func(g *timeline.Song, q *timeline.Cue) spot {
		s := spot{at: q.At, aim: aim(g, q)}
		if l := g.Lane(q.Lane); l != nil {
			s.arm = l.Role
		}
		return s
	}
	there := map[spot][]*timeline.Cue{}
	for _, x := range now.Cues {
		if !taken[x.ID] {
			there[spotOf(now, x)] = append(there[spotOf(now, x)], x)
		}
	}
	for i := range pairs {
		if s := spotOf(was, pairs[i].was); pairs[i].is == nil && len(there[s]) > 0 {
			pairs[i].is, there[s] = there[s][0], there[s][1:]
			taken[pairs[i].is.ID] = true
		}
	}
	for _, x := range now.Cues {
		if !taken[x.ID] {
			pairs = append(pairs, cuePair{nil, x})
		}
	}
	return pairs
}

// add counts a pair and lists it unless both are alike; names are those of both shows.
func (d *SongDiff) add(names [2]*timeline.Names, a, b *timeline.Show, was, now *timeline.Song, p cuePair) {
	c := SongCue{Fields: []FieldChange{}}
	switch {
	case p.is == nil:
		c.What, c.Name, c.Was = "gone", CueName(names[0], a, was, p.was), p.was.At.String()
		d.Gone++
	case p.was == nil:
		c.What, c.Name, c.Is = "added", CueName(names[1], b, now, p.is), p.is.At.String()
		d.Added++
	default:
		c.Name, c.Was, c.Is = CueName(names[1], b, now, p.is), p.was.At.String(), p.is.At.String()
		c.Fields = append(c.Fields, cueFields(names, a, b, was, now, p)...)
		switch {
		case p.was.At != p.is.At:
			c.What = "moved"
			d.Moved++
		case len(c.Fields) > 0:
			c.What = "changed"
			d.Changed++
		default:
			d.Same++
			return
		}
	}
	d.Cues = append(d.Cues, c)
}

// cueFields says in which fields two cues differ besides their place; the lane is told
// by what it drives.
func cueFields(names [2]*timeline.Names, a, b *timeline.Show, was, now *timeline.Song, p cuePair) []FieldChange {
	var list []FieldChange
	k := timeline.KindOf("cue")
	for i := range k.Fields {
		f := &k.Fields[i]
		switch f.Name {
		case "at", "lane", "target", "article":
			continue
		}
		if x, y := f.Get(p.was), f.Get(p.is); !x.Equal(y) {
			list = append(list, FieldChange{f.Name, x.String(), y.String(), names[0].Said(f, was.ID, x), names[1].Said(f, now.ID, y)})
		}
	}
	if x, y := aim(was, p.was), aim(now, p.is); x != y {
		list = append(list, FieldChange{"target", string(x), string(y), calledBy(a, x, "group", "placed"), calledBy(b, y, "group", "placed")})
	}
	if x, y := plays(was, p.was), plays(now, p.is); x != y {
		list = append(list, FieldChange{"article", string(x), string(y), calledBy(a, x, "article"), calledBy(b, y, "article")})
	}
	return list
}

// CueName calls a cue as the crew does: by its lane and what it aims at, from the
// names of its show.
func CueName(names *timeline.Names, s *timeline.Show, g *timeline.Song, q *timeline.Cue) string {
	lane, target := g.Lane(q.Lane), aim(g, q)
	for _, kind := range []string{"group", "placed"} {
		if rec := timeline.KindOf(kind).Find(s, "", target); rec != nil {
			if lane == nil {
				return names.Called("", rec)
			}
			return wording.JoinGiven(", ", lane.Name, names.Called("", rec))
		}
	}
	if lane == nil {
		return ""
	}
	return names.Called(g.ID, lane)
}

// calledBy names a record that a cue names, "" for none.
func calledBy(s *timeline.Show, id timeline.ID, kinds ...string) string {
	if id == "" {
		return ""
	}
	return s.CalledBy(id, kinds...)
}

// WriteText writes the difference for people.
func (d *SongDiff) WriteText(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "%q → %q\n", d.Old.Title, d.New.Title)
	for _, s := range slices.Concat(d.Head, d.Sections) {
		fmt.Fprintln(out, s)
	}
	var parts []string
	for _, n := range []struct {
		count int
		what  string
	}{{d.Same, "as they are"}, {d.Moved, "elsewhere"}, {d.Changed, "changed"}, {d.Gone, fmt.Sprintf("in %q alone", d.Old.Title)}, {d.Added, fmt.Sprintf("in %q alone", d.New.Title)}} {
		if n.count > 0 {
			parts = append(parts, timeline.Counted(n.count, "cue")+" "+n.what)
		}
	}
	fmt.Fprintln(out, cmp.Or(strings.Join(parts, ", "), "no cues"))
	t := &wording.Table{Columns: []wording.Column{{Name: "cue"}, {Name: "name"}, {Name: "was"}, {Name: "is"}, {Name: "what"}}}
	for _, c := range d.Cues {
		var fields []string
		for _, f := range c.Fields {
			fields = append(fields, fmt.Sprintf("%s %s → %s", f.Field, cmp.Or(f.was, "none"), cmp.Or(f.is, "none")))
		}
		t.Rows = append(t.Rows, []string{c.What, c.Name, cmp.Or(c.Was, "–"), cmp.Or(c.Is, "–"), strings.Join(fields, ", ")})
	}
	if len(t.Rows) > 0 {
		if err := t.Write(out); err != nil {
			return err
		}
	}
	return out.Flush()
}

// WriteJSON writes it as one JSON object.
func (d *SongDiff) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, d) }
