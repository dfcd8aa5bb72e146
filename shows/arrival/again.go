package arrival

import (
	"emberbeat/audio"
	"emberbeat/timeline"
)

// Place says anew what carrying over comes to, with stretches that the user has put
// where they are and as the song stands now. What was said of cues, copies and the start
// stays, as far as their places do. Where it is refused the proposal stays as it was.
func (d *Desk) Place(a *Arrival, locked []timeline.TimeRun) error {
	was := a.Proposal
	if err := d.Again(a, Options{Locked: locked}); err != nil {
		return err
	}
	if was != nil {
		a.Proposal.KeepWords(was)
		a.Proposal.Start = was.Start
	}
	return nil
}

// Locked gives the stretches of the recording that the user has placed.
func (a *Arrival) Locked() []timeline.TimeRun { return a.locked }

// Accepted reports whether a song of a show has the recording, and its cues stand on it.
func (a *Arrival) Accepted(s *timeline.Show) bool {
	g := s.Song(a.Song)
	return (a.Verdict == Carries || a.Verdict == NoSong) && g != nil && a.Heard != nil && !g.Elsewhere() && g.Audio.FileHash == a.Heard.Ident.FileHash
}

// Old gives the file of the recording that a song's cues stand on, as it was found when
// recordings were looked at, and its peaks; "" and nil where that is not known.
func (d *Desk) Old(song timeline.ID) (file string, peaks *audio.Pyramid) {
	d.mu.Lock()
	defer d.mu.Unlock()
	k := d.songs[song]
	if k == nil || k.heard == nil {
		return "", nil
	}
	return k.file, k.heard.Peaks
}

// Beats gives the beats that were heard in a recording, nil for none.
func (a *Arrival) Beats() *timeline.BeatMap {
	if a.Heard == nil {
		return nil
	}
	r, _ := heardIn(a.Heard)
	return r.Beats
}

// Offered gives the start of timecode that the recording says, the song has not, and
// the show could take; nil for none.
func (a *Arrival) Offered(rate timeline.Rate) *Start {
	for i := range a.Starts {
		if s := &a.Starts[i]; s.offered(rate) {
			return s
		}
	}
	return nil
}

func (s *Start) offered(rate timeline.Rate) bool { return s.Rate == rate && !s.Is }
