package beats

import (
	"context"
	"errors"

	"emberbeat/timeline"
	"emberbeat/timeline/grid"
)

// listen begins to listen to the recording of a song, unless that was done.
func (s *Strip) listen(g *timeline.Song) {
	e := s.ear[g.ID]
	if g.Audio.Path == "" || e != nil && e.file == g.Audio.Path {
		return
	}
	s.hear(g, grid.Locks{}, false)
}

// hear listens to a recording beside the window. With again, the grid that is heard is tried once it is there.
func (s *Strip) hear(g *timeline.Song, locks grid.Locks, again bool) {
	was := s.ear[g.ID]
	e := &listening{file: g.Audio.Path, busy: true, again: again}
	if was != nil && was.file == e.file {
		e.heard = was.heard // it is shown until the new one is there
	}
	s.ear[g.ID] = e
	session, head, id := s.h.Work().Session, g.SongHead, g.ID
	s.h.Work().Beside(func(ctx context.Context) {
		told := 0.0
		heard, err := session.HeardGrid(ctx, &head, locks, func(done float64) {
			if done-told >= 0.05 {
				told = done
				s.h.Post(func() { e.part = done; s.again(id) })
			}
		})
		s.h.Post(func() {
			e.busy = false
			if ctx.Err() != nil {
				return
			}
			if e.err = err; err == nil {
				e.heard = heard
			}
			s.took(id, e)
		})
	})
}

// took takes what was heard.
func (s *Strip) took(id timeline.ID, e *listening) {
	s.h.Log("beats heard song=%s", id)
	if w := s.h.Work(); e.again && e.err == nil && w != nil && s.Open() && w.Song == id && s.ear[id] == e {
		if g := w.Session.Show().Song(id); g != nil {
			copied := *g
			copied.Locks = s.locksNow(g).Texts()
			if c, err := grid.Listened(&copied, *e.heard); err != nil {
				s.h.Warn(err.Error())
			} else {
				s.tried = []grid.Correction{c}
			}
		}
	}
	s.again(id)
	s.h.Again() // who snaps to hits sees them now
}

// again shows the strip anew where it is of a song.
func (s *Strip) again(id timeline.ID) {
	if s.Open() && s.song == id {
		s.changed()
	}
}

// Listen listens to the recording again: what is locked stays.
func (s *Strip) Listen() {
	s.show()
	g := s.h.Work().Session.Show().Song(s.song)
	switch {
	case g == nil:
	case g.Audio.Path == "":
		s.h.Warn("the song has no recording to listen to")
	case s.ear[g.ID] != nil && s.ear[g.ID].busy:
		s.h.Tell("the recording is being listened to")
	default:
		s.hear(g, s.locksNow(g), true)
		s.changed()
	}
}

// HeardIn gives what the ear makes of the recording of a song, and begins to listen to it where that was not done. The error says why it is not
// there.
func (s *Strip) HeardIn(song timeline.ID) (*grid.Heard, error) {
	g := s.h.Work().Session.Show().Song(song)
	if g == nil {
		return nil, errors.New("the song is gone")
	}
	s.listen(g)
	if e := s.ear[song]; e != nil && e.heard != nil {
		return e.heard, nil
	}
	return nil, errors.New(s.quiet(g))
}

// Attacks gives the hits that are heard in the recording of a song; none while it is listened to. It makes no garbage: it is asked while the
// song plays.
func (s *Strip) Attacks(song timeline.ID) []grid.Attack {
	if g := s.h.Work().Session.Show().Song(song); g != nil {
		s.listen(g)
	}
	if e := s.ear[song]; e != nil && e.heard != nil {
		return e.heard.Attacks
	}
	return nil
}

// Unheard says why no hits are heard in a song, "" where they are.
func (s *Strip) Unheard(song timeline.ID) string {
	if _, err := s.HeardIn(song); err != nil {
		return err.Error()
	}
	return ""
}
