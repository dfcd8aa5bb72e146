package operation

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/field"
)

// arrangeOperations make versions of a song, and say whose cues they play.
func arrangeOperations() []*Operation {
	return []*Operation{newVersion(), shareCues(), separateCues(), goWithout(), mapVersion()}
}

// versionSong reads the song of an arrangement.
func versionSong[A any](help string, at func(*A) *timeline.ID) Argument {
	return Argument{Field: id("song", help, at, "song"), Word: "SONG", Label: "Song", Need: "no song is chosen"}
}

// NewVersion are the arguments of a version that is made.
type NewVersion struct {
	Song  timeline.ID
	Name  string
	Start *timeline.Timecode // nil is the first that is free
	ID    timeline.ID        // "" is a free one
}

func newVersion() *Operation {
	type A = NewVersion
	return does(Operation{Verb: "arrange", Name: "new", Menu: "New version of a song…", Title: "New version of a song", Button: "Make",
		Tip:  "makes another version of a song, which shares its cues until they are made its own",
		Help: "a version of a song: with its recording, length and beats until it is given others, sharing its cues, and with a start of its own",
		Args: []Argument{
			versionSong("the song, by title, folder, id or number", func(a *A) *timeline.ID { return &a.Song }),
			{Field: trimmed(field.Text("name", "what makes it another version", func(a *A) *string { return &a.Name }), func(a *A) *string { return &a.Name }), Word: "NAME", Label: "Version", Hint: "festival edit", Need: "says nothing; write what makes it another version"},
			{Field: optional("start", "timecode of its start (default: the first free hour)", func(a *A) **timeline.Timecode { return &a.Start }, timeline.Timecode.String, timeline.ParseTimecode), Label: "Start", Hint: "empty = the first free hour"},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			v := timeline.NewVersion{ID: cmp.Or(a.ID, at.NewID("song", "")), Of: a.Song, Name: a.Name}
			switch g := at.Show.Song(a.Song); {
			case a.Start != nil:
				v.Start = *a.Start
			case g != nil:
				start, err := at.Show.FreeStart(&g.SongHead)
				if err != nil {
					return nil, err
				}
				v.Start = start
			}
			return timeline.AddVersion(v), nil
		},
		func(s *timeline.Show, a *A) string {
			return fmt.Sprintf("add version %q of %s", a.Name, s.Named("song", a.Song))
		})
}

// Sharing are the arguments of a version that shares the cues of its song.
type Sharing struct {
	Song  timeline.ID
	Twice bool
}

func shareCues() *Operation {
	type A = Sharing
	return tells(does(Operation{Verb: "arrange", Name: "share", Menu: "Share cues…", Title: "Share the cues of the song", Button: "Share", Plays: true,
		Tip:  "has a version play the cues of the song that it is a version of, and keeps what differs as its own",
		Help: "the version plays the cues of the song it is a version of; what differs stays its own. --twice plays what is heard twice twice",
		Args: []Argument{
			versionSong("the version", func(a *A) *timeline.ID { return &a.Song }),
			{Field: field.Flag("twice", "what is heard twice in it plays twice", func(a *A) *bool { return &a.Twice }), Label: "Twice"},
		}},
		func(_ At, a *A) (timeline.Edit, error) { return timeline.ShareCues(a.Song, a.Twice), nil },
		func(s *timeline.Show, a *A) string { return "share the cues of " + s.Named("song", a.Song) }), func(at At, a *A) (Outcome, error) {
		x, err := at.Show.SharingOf(a.Song, a.Twice)
		if err != nil {
			return Outcome{}, err
		}
		return sharingTold(at.Show, a.Song, x, a.Twice), nil
	})
}

// sharingTold tells what sharing comes to, what differs first.
func sharingTold(s *timeline.Show, song timeline.ID, x *timeline.Sharing, twice bool) Outcome {
	out := Outcome{Columns: columns("What", "Place", "Comes to")}
	g := s.Song(song)
	base := s.Song(g.VersionOf)
	names := s.Names()
	place := func(of *timeline.Song, kind string, id timeline.ID) string {
		if c, ok := timeline.KindOf(kind).Find(s, of.ID, id).(*timeline.Cue); ok {
			return c.At.String()
		}
		return ""
	}
	for _, r := range x.Own {
		out.Rows = append(out.Rows, []string{names.NamedRef(r), place(g, r.Kind, r.ID), "stays its own"})
	}
	for _, id := range x.Without {
		out.Rows = append(out.Rows, []string{names.NamedRef(timeline.Ref{Kind: "cue", Song: base.ID, ID: id}), place(base, "cue", id), "left out: it has no such cue"})
	}
	for _, a := range x.Astray {
		out.Rows = append(out.Rows, []string{names.NamedRef(timeline.Ref{Kind: "cue", Song: base.ID, ID: a.Cue.ID}), a.Cue.At.String(), "not played: " + string(a.Why)})
	}
	shared := 0
	for _, r := range x.Same {
		if r.Kind == "cue" {
			shared++
		}
	}
	if shared > 0 {
		out.Lines = append(out.Lines, timeline.Counted(shared, "cue")+" of its own that say the same become shared ones")
	}
	if x.Again > 0 && !twice {
		out.Lines = append(out.Lines, timeline.Counted(x.Again, "place")+" at which a cue is heard once more stay without it")
	}
	if x.Unsure > 0 {
		out.Lines = append(out.Lines, timeline.Counted(x.Unsure, "cue")+" to be looked at: the map is not sure of their places")
	}
	return out
}

// OfVersion names a version.
type OfVersion struct{ Song timeline.ID }

func separateCues() *Operation {
	type A = OfVersion
	return tells(does(Operation{Verb: "arrange", Name: "separate", Menu: "Make cues its own…", Title: "Make the cues of the version its own", Button: "Separate",
		Tip:  "gives a version copies of its own of the cues that it shares, so that they can be changed by themselves",
		Help: "the version gets copies of its own of all that it plays; what has no place in it is not copied",
		Args: []Argument{versionSong("the version", func(a *A) *timeline.ID { return &a.Song })}},
		func(_ At, a *A) (timeline.Edit, error) { return timeline.SeparateCues(a.Song), nil },
		func(s *timeline.Show, a *A) string {
			return "make the cues of " + s.Named("song", a.Song) + " its own"
		}), func(at At, a *A) (Outcome, error) {
		g := at.Show.Song(a.Song)
		if g == nil {
			return Outcome{}, nil
		}
		p := at.Show.Programmed(g)
		var out Outcome
		if n := p.Lent(); n > 0 {
			out.Lines = append(out.Lines, timeline.Counted(n, "cue")+" copied")
		}
		if n := len(p.Astray); n > 0 {
			out.Lines = append(out.Lines, timeline.Counted(n, "cue")+" without a place in it not copied")
		}
		return out, nil
	})
}

// Leaving are the arguments of shared cues that a version goes without.
type Leaving struct {
	Song  timeline.ID
	Cues  []timeline.ID
	Again bool
}

func goWithout() *Operation {
	type A = Leaving
	cues := field.List("cues", "cues of the song that it shares with, by name, place or id", func(a *A) *[]timeline.ID { return &a.Cues },
		func(id timeline.ID) string { return string(id) }, func(s string) (timeline.ID, error) { return timeline.ID(s), nil })
	return does(Operation{Verb: "arrange", Name: "without", Menu: "Leave shared cues out…", Title: "Leave shared cues out of the version", Button: "Leave out", Plays: true,
		Tip:  "has a version go without some of the cues that it shares, or play them again",
		Help: "the version goes without some of the shared cues; with --again it plays them",
		Args: []Argument{
			versionSong("the version", func(a *A) *timeline.ID { return &a.Song }),
			{Field: cues, Word: "CUE…", Label: "Cues", Need: "no cue is named", Hint: "17.1, 21.1"},
			{Field: field.Flag("again", "it plays them again", func(a *A) *bool { return &a.Again }), Label: "Play again"},
		}},
		func(at At, a *A) (timeline.Edit, error) {
			cues, err := a.cues(at)
			return timeline.GoWithout(a.Song, a.Again, cues...), err
		},
		func(s *timeline.Show, a *A) string {
			if a.Again {
				return "play " + timeline.Counted(len(a.Cues), "shared cue") + " again in " + s.Named("song", a.Song)
			}
			return "leave " + timeline.Counted(len(a.Cues), "shared cue") + " out of " + s.Named("song", a.Song)
		})
}

// cues finds the cues that are written by name or place in the song that lends them.
func (a *Leaving) cues(at At) ([]timeline.ID, error) {
	var base *timeline.Song
	if g := at.Show.Song(a.Song); g != nil {
		base = at.Show.LentBy(g)
	}
	if base == nil {
		return a.Cues, nil // which the edit refuses
	}
	cues, held := slices.Clone(a.Cues), at.Show.Programmed(base)
	for i, id := range cues {
		if held.Cue(id) != nil {
			continue
		}
		ref, err := at.FindRecord("cue:" + base.Slug + "/" + string(id))
		if err != nil {
			return nil, err
		}
		cues[i] = ref.ID
	}
	return cues, nil
}

// Mapping are the arguments of a map from the recording of a song to that of its
// version.
type Mapping struct {
	Song timeline.ID
	Runs []timeline.TimeRun // none is bar for bar
}

func mapVersion() *Operation {
	type A = Mapping
	runs := field.List("runs", "stretches of the song's recording and where they are in the version's: from..to to=from..to exact sure=", func(a *A) *[]timeline.TimeRun { return &a.Runs }, timeline.TimeRun.String, timeline.ParseTimeRun)
	return tells(does(Operation{Verb: "arrange", Name: "map", Menu: "Map of a version…", Title: "Where the recording is in the version's", Button: "Set", Plays: true,
		Tip:  "says where the stretches of a song's recording are in that of its version, so that shared cues stand at their places",
		Help: "where stretches of the song's recording are in the version's, such as \"0..1:02.5 to=0.4..1:02.9\"; none: bar for bar",
		Args: []Argument{
			versionSong("the version", func(a *A) *timeline.ID { return &a.Song }),
			{Field: runs, Word: "RUN…", Optional: true, Label: "Runs", Hint: "0..1:02.5 to=0.4..1:02.9"},
		}},
		func(_ At, a *A) (timeline.Edit, error) { return timeline.MapVersion(a.Song, a.Runs...), nil },
		func(s *timeline.Show, a *A) string {
			return "map of " + s.Named("song", a.Song) + ": " + timeline.Counted(len(a.Runs), "run")
		}), func(at At, a *A) (Outcome, error) {
		next, err := at.Show.Edit(timeline.MapVersion(a.Song, a.Runs...))
		if err != nil {
			return Outcome{}, err
		}
		g := next.Song(a.Song)
		p := next.Programmed(g)
		out := Outcome{Columns: columns("Cue", "In the song", "In the version")}
		if base := next.LentBy(g); base != nil {
			names := next.Names()
			for _, c := range next.Programmed(base).Cues {
				to := ""
				for _, q := range p.Cues {
					if r := p.RefOf("cue", q.ID); r.Song != g.ID && r.ID == c.ID {
						to += ", " + q.At.String()
					}
				}
				out.Rows = append(out.Rows, []string{names.Called(base.ID, c), c.At.String(), cmp.Or(trimComma(to), "nowhere")})
			}
		}
		out.Lines = append(out.Lines, strconv.Itoa(len(p.Astray))+" without a place")
		return out, nil
	})
}

func trimComma(s string) string {
	if s == "" {
		return ""
	}
	return s[2:]
}

// versions offers the songs of which there are several versions.
func versions(s *timeline.Show) []Offer {
	list := []Offer{}
	for _, g := range s.SongsByStart() {
		if len(s.Versions(g.ID)) > 1 {
			list = append(list, Offer{string(g.ID), g.FullTitle()})
		}
	}
	return list
}

// versionWords are the arguments of another version that is played of a song.
func versionWords[A any](song, version func(*A) *timeline.ID) []Argument {
	read := func(name, help string, at func(*A) *timeline.ID) field.Field { return id(name, help, at, "song") }
	return []Argument{
		{Field: read("song", "the song, by title, folder, id or number", song), Word: "SONG", Label: "Song", Need: "no song is chosen", offer: versions},
		{Field: read("version", "the version, by title with its name in brackets, folder or id", version), Word: "VERSION", Label: "Version", Need: "no version is chosen", offer: versions},
	}
}

func nightVersion() *Operation {
	type A = timeline.TonightsVersion
	o := does(Operation{Verb: "night", On: "night", Name: "version", Menu: "Another version tonight…", Title: "Another version for the night", Button: "Play", Plays: true,
		Tip:  "plays another version of a song on the night in view; the tour stays as it is",
		Help: "another version of a song is played, by its title with the version in brackets; the song itself ends that",
		Args: append(versionWords(func(v *A) *timeline.ID { return &v.For }, func(v *A) *timeline.ID { return &v.Version }),
			reason("Reason", signed, func(v *A) *string { return &v.Reason }))},
		func(at At, v *A) (timeline.Edit, error) { return timeline.VersionTonight(onNight(at), *v), nil },
		func(s *timeline.Show, v *A) string {
			return fmt.Sprintf("play %s for %s", s.VersionNamed(v.Version), s.VersionNamed(v.For))
		})
	return leaves(o, list[A, A]{field: "versions", at: func(n *timeline.Night) *[]A { return &n.Versions }, why: func(v A) string { return v.Reason }})
}

// SetVersion are the arguments of another version that a set plays.
type SetVersion struct{ Song, Version timeline.ID }

func setVersion() *Operation {
	type A = SetVersion
	return does(Operation{Verb: "set", On: "set", Name: "version", Menu: "Play another version…", Title: "Another version of a song", Button: "Play", Plays: true,
		Tip:  "plays another version of a song in its place of the running order",
		Help: "plays another version of a song in its place",
		Args: versionWords(func(a *A) *timeline.ID { return &a.Song }, func(a *A) *timeline.ID { return &a.Version })},
		func(at At, a *A) (timeline.Edit, error) {
			return timeline.VersionInSet(at.On.ID, a.Song, a.Version), nil
		},
		func(s *timeline.Show, a *A) string {
			return fmt.Sprintf("play %s for %s", s.VersionNamed(a.Version), s.VersionNamed(a.Song))
		})
}
