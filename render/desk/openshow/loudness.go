package openshow

import (
	"slices"

	"emberbeat/audio"
	"emberbeat/render/desk/play"
	"emberbeat/timeline"
)

// loudness is how loud recordings are, as far as that was asked for. They are read beside the window, one at a time. Its fields belong to the
// window.
type loudness struct {
	known map[timeline.ID]loud
	now   *play.Sound // that is read; nil for none
}

// loud is how loud one recording is.
type loud struct {
	name   string
	only   []int
	levels []uint8
	why    string // there are none
}

// Loudness gives how loud a song's recording is, a level for each second, 255 for its loudest; where there are none, why.
func (w *Work) Loudness(song timeline.ID) (levels []uint8, why string) {
	g := w.Show.Song(song)
	if g == nil || g.Audio.Path == "" {
		return nil, "no recording"
	}
	l := &w.loudness
	if k, ok := l.known[song]; ok && k.name == g.Audio.Path && slices.Equal(k.only, g.Audio.Heard) {
		return k.levels, k.why
	}
	if l.known == nil {
		l.known = map[timeline.ID]loud{}
	}
	k := loud{name: g.Audio.Path, only: g.Audio.Heard}
	if s := w.Sounds[song]; s != nil && s.Name == k.name && s.Ready && s.Err == nil && s.Drawn() != nil {
		k.levels = levelsOf(s.Drawn(), g.Duration())
		l.known[song] = k
		return k.levels, ""
	}
	if l.now != nil {
		return nil, "not read yet"
	}
	path := w.Session.Recording(&g.SongHead)
	if path == "" {
		k.why = "recording is missing"
		l.known[song] = k
		return nil, k.why
	}
	var s *play.Sound
	s = play.LoadSound(path, k.only, 0, "", func() {}, func(_ *audio.PCM, err error) {
		w.window.Post(func() {
			if l.now == s {
				l.now = nil
			}
			if w.life.Err() != nil {
				return
			}
			if k.why = "cannot be read"; err == nil && s.Drawn() != nil {
				k.levels, k.why = levelsOf(s.Drawn(), g.Duration()), ""
			}
			l.known[song] = k
			w.window.Again()
			w.window.Log("loudness of %s read", song)
		})
	})
	l.now = s
	return nil, "being read"
}

// Listening reports whether a recording is read for its loudness.
func (w *Work) Listening() bool { return w.loudness.now != nil }

// stop ends what is read.
func (l *loudness) stop() {
	if l.now != nil {
		l.now.Stop()
	}
}

// levelsOf gives the loudness of each second of a song.
func levelsOf(p *audio.Pyramid, long timeline.Time) []uint8 {
	n := int((long + timeline.Second - 1) / timeline.Second)
	if n <= 0 {
		return nil
	}
	peaks := make([]audio.Peak, n)
	p.Range(0, (timeline.Time(n) * timeline.Second).Samples(p.Rate), peaks)
	most := uint16(1)
	for _, k := range peaks {
		most = max(most, k.RMS)
	}
	levels := make([]uint8, n)
	for i, k := range peaks {
		levels[i] = uint8(int(k.RMS) * 255 / int(most))
	}
	return levels
}
