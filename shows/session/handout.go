package session

import (
	"context"
	"errors"

	"emberbeat/audio"
	"emberbeat/audio/ltc"
	"emberbeat/timeline"
)

// Handout gives the sound of a song to be passed on, small: the channels that may be
// heard, and never one with timecode, for which the very samples that are given are
// searched. Errors are *audio.FileError, ctx.Err(), or say that there is nothing to
// be heard.
func (s *Session) Handout(ctx context.Context, song *timeline.SongHead) ([]byte, error) {
	path := s.Recording(song)
	if path == "" {
		return nil, errors.New("the song has no audio yet")
	}
	src, err := audio.Open(path)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	in := src.Info()
	pcm, codes := audio.NewPCM(src), ltc.NewFinder(in.Rate, in.Channels)
	if err := audio.Run(ctx, src, 0, pcm.Write, codes.Write); err != nil {
		return nil, err
	}
	heard := ltc.Heard(in.Channels, song.Audio.Heard, codes.Close())
	if len(heard) == 0 {
		return nil, errors.New("none of its channels may be heard: they hold timecode, or are not the song's")
	}
	pcm.Leave(heard)
	return audio.SmallWAV(pcm), nil
}
