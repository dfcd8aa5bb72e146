package session

import (
	"context"
	"errors"
	"io/fs"
	"time"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Facts looks at the recordings of all songs: whether they are there and still
// what the songs were programmed to. Today is that of the session's clock.
func (s *Session) Facts(ctx context.Context) rule.Facts {
	f := rule.Facts{Audio: map[timeline.ID]rule.AudioFact{}, Today: s.clock().Format(time.DateOnly)}
	for _, g := range s.Show().Songs {
		if g.Audio.Path != "" && ctx.Err() == nil {
			fact := s.audioFact(ctx, g.Audio)
			s.addTimecode(ctx, g.Audio, &fact)
			f.Audio[g.ID] = fact
		}
	}
	return f
}

// addTimecode adds which channels hold timecode. A recording that nobody has
// listened to here is read for it where channels are named that are to be heard:
// else none of those is played that holds any.
func (s *Session) addTimecode(ctx context.Context, a timeline.Audio, fact *rule.AudioFact) {
	if fact.State != rule.AudioPresent && fact.State != rule.AudioChanged {
		return
	}
	path := s.pathOf(a.Path)
	hash, err := s.hashOf(ctx, path)
	if err != nil {
		return
	}
	found, known := heardCache{s.cache, hash, ear.Locks{}, nil}.timecode()
	if !known && len(a.Heard) > 0 {
		if found, err = s.timecodeOf(ctx, path, hash); err != nil {
			return // which audioFact says, or the next who reads it
		}
	}
	for _, f := range found {
		fact.Timecode = append(fact.Timecode, rule.TimecodeFact{Channel: f.Channel, Rate: f.Rate, First: f.First})
	}
}

func (s *Session) audioFact(ctx context.Context, a timeline.Audio) rule.AudioFact {
	if err := s.outward(a.Path); err != nil {
		return rule.AudioFact{State: rule.AudioMissing, Detail: err.Error()}
	}
	hash, err := s.hashOf(ctx, s.pathOf(a.Path))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return rule.AudioFact{State: rule.AudioMissing, Detail: "there is no such file in the show folder"}
	case err != nil:
		return rule.AudioFact{State: rule.AudioUnread, Detail: err.Error()}
	case a.FileHash == "" || hash == a.FileHash:
		return rule.AudioFact{State: rule.AudioPresent}
	}
	ident, err := s.identOf(ctx, a.Path, hash)
	switch {
	case err != nil:
		return rule.AudioFact{State: rule.AudioUnread, Detail: err.Error()}
	case ident.PCMHash == a.PCMHash:
		return rule.AudioFact{State: rule.AudioPresent, Detail: "another file with the same samples"}
	}
	return rule.AudioFact{State: rule.AudioChanged, Detail: changeOf(a, ident)}
}

// changeOf says how a recording differs from the one of the song.
func changeOf(a timeline.Audio, is audio.Ident) string {
	if a.Rate == is.Rate && a.Frames == is.Frames {
		return "the same length, other samples"
	}
	if is.Rate <= 0 || a.Rate <= 0 {
		return "another recording"
	}
	was, now := timeline.FromSamples(a.Frames, a.Rate), timeline.FromSamples(is.Frames, is.Rate)
	return "it is " + now.Clock(4) + " long, and was " + was.Clock(4)
}
