package session

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/audio/ear"
	"emberbeat/shows"
	"emberbeat/timeline"
)

// AddSong listens to the recording at path and adds a song for it (AddHeard). An
// empty title is taken from the file's name. progress, which may be nil, hears
// what part is done, 0 to 1. Errors are *audio.FileError, *shows.FileError,
// ctx.Err(), those of Takes, or that the timecode is used up.
func (s *Session) AddSong(ctx context.Context, path, title string, progress func(done float64)) (timeline.ID, error) {
	if err := s.Takes(path, title); err != nil {
		return "", err
	}
	heard, err := Listen(ctx, s.cache, path, ear.Locks{}, progress)
	if err != nil {
		return "", err
	}
	return s.AddHeard(ctx, path, title, heard)
}

// AddHeard adds a song, as one step, for the recording at path that was listened
// to: it copies it into the show's audio folder unless it is in the show already,
// gives the song the first free hour of timecode, or a start that is liked and free, and puts it at the end of the
// main set if there is one. Beats and sections are the ear's suggestion, not
// confirmed; where the rig is the invented one that shows begin with, the song has its
// lanes (shows.StarterLanes). What is refused leaves no copy behind.
func (s *Session) AddHeard(ctx context.Context, path, title string, heard *Heard, liked ...timeline.Timecode) (timeline.ID, error) {
	if s.ReadOnly() {
		return "", ErrReadOnly
	}
	s.hear(heard.Warnings)
	if title == "" {
		title = titleOf(path)
	}
	show := s.Show()
	song := &timeline.Song{SongHead: *timeline.KindOf("song").New(shows.NewIDFor(show, "song", "")).(*timeline.SongHead)}
	song.Title = title
	song.Audio = timeline.Audio{FileHash: heard.Ident.FileHash, PCMHash: heard.Ident.PCMHash, Rate: heard.Ident.Rate, Frames: heard.Ident.Frames}
	var err error
	if song.Start, err = show.FreeStart(&song.SongHead, liked...); err != nil {
		return "", err
	}
	if song.Beats, err = heard.Analysis.BeatMap(); err != nil {
		s.hear([]string{fmt.Sprintf("the beats that were heard make no beat map, and the song is added without one: %v", err)})
		song.Beats = nil
	}
	song.Sections = sectionsOf(heard.Analysis, song.Beats)
	song.Lanes = shows.StarterLanes(show)
	_, err = s.Bring(ctx, path, heard.Ident.FileHash, fmt.Sprintf("add song %q", title), func(path string) timeline.Edit {
		song.Audio.Path = path
		return addSong(song)
	})
	if err != nil {
		return "", err
	}
	return song.ID, nil
}

// Takes says, before anybody listens, why no song could be added for a recording
// under a title, or nil.
func (s *Session) Takes(path, title string) error {
	if s.ReadOnly() {
		return ErrReadOnly
	}
	if title == "" {
		title = titleOf(path)
	}
	show := s.Show()
	song := timeline.KindOf("song").New(shows.NewIDFor(show, "song", "")).(*timeline.SongHead)
	song.Title = title
	var err error
	if song.Start, err = show.FreeStart(song); err != nil {
		return err
	}
	if inside, ok := s.inside(path); ok { // a copy is given a name that will do
		song.Audio.Path = inside
	}
	_, err = show.Edit(addSong(&timeline.Song{SongHead: *song}))
	return err
}

// hear keeps what was wrong with a recording for RecordingWarnings.
func (s *Session) hear(warnings []string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.heard = append(s.heard, warnings...)
}

// RecordingWarnings tells what was found wrong with the recordings of the songs
// added in this session, and read around: a file cut short, damaged frames,
// beats that make no beat map.
func (s *Session) RecordingWarnings() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.heard)
}

// titleOf makes a title of a file's name.
func titleOf(path string) string {
	base := filepath.Base(path)
	title := strings.TrimSpace(strings.ReplaceAll(strings.TrimSuffix(base, filepath.Ext(base)), "_", " "))
	if title = timeline.CleanText(strings.ToValidUTF8(title, "\uFFFD")); title == "" {
		return "Untitled"
	}
	return title
}

// addSong puts in a song, under a free name, and at the end of the main set.
func addSong(song *timeline.Song) timeline.Edit {
	return func(d *timeline.Draft) error {
		head := song.SongHead
		head.Slug = d.Show().FreeSlug(timeline.KindOf("song"), head.Title)
		d.Put("", &head)
		for _, r := range song.Sections {
			d.Put(song.ID, r)
		}
		for _, l := range song.Lanes {
			d.Put(song.ID, l)
		}
		if set := d.Show().SetOf(nil); set != nil {
			c := timeline.KindOf("set").Clone(set).(*timeline.Set)
			c.Entries = append(c.Entries[:len(c.Entries):len(c.Entries)], timeline.Entry{Song: song.ID})
			d.Put("", c)
		}
		return nil
	}
}

// sectionsOf turns the ear's sections into records, at the bars it heard them
// at. Where it heard no beats they stand at times.
func sectionsOf(a *ear.Analysis, beats *timeline.BeatMap) []*timeline.Section {
	at := func(seconds float64) timeline.Moment {
		t := timeline.FromSeconds(seconds)
		if beats.Empty() {
			return timeline.AtTime(t)
		}
		return timeline.AtBar(beats.Snap(t, timeline.Rat{})) // a section starts with a bar
	}
	list := make([]*timeline.Section, len(a.Sections))
	for i, h := range a.Sections {
		list[i] = &timeline.Section{Base: timeline.Base{ID: shows.NewID()}, Name: h.Label,
			At: at(h.From), Energy: int(math.Round(100 * min(max(h.Energy, 0), 1)))}
		if i+1 < len(a.Sections) && a.Sections[i+1].From > h.To {
			list[i].To = at(h.To)
		}
	}
	return list
}
