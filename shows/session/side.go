package session

import (
	"context"
	"errors"

	"emberbeat/audio"
	"emberbeat/audio/ltc"
	"emberbeat/audio/match"
)

// ReadSide reads the recording at path for matching, without the channels that
// hold timecode, and gives what was found wrong with the file and read around,
// in whole sentences. progress, which may be nil, hears what part is done, 0 to
// 1. Errors are *audio.FileError, or ctx.Err().
func ReadSide(ctx context.Context, path string, progress func(done float64)) (*match.Side, []string, error) {
	var codes *ltc.Finder
	var heard *[]int
	var warnings []string
	open := func() (audio.Source, error) {
		src, err := audio.Open(path)
		if err != nil {
			return nil, err
		}
		in := src.Info()
		tee := &teeSource{Source: src, channels: in.Channels}
		if heard != nil {
			tee.sinks = append(tee.sinks, only(*heard, in.Channels))
		} else {
			codes = ltc.NewFinder(in.Rate, in.Channels)
			tee.sinks = append(tee.sinks, codes.Write)
		}
		tee.closed = func() { warnings = src.Info().Warnings }
		return tee, nil
	}
	options := match.Options{Progress: func(done, total int64) {
		if progress != nil && total > 0 {
			progress(min(1, float64(done)/float64(total)))
		}
	}}
	s, err := match.Read(ctx, open, options)
	if err != nil {
		var of *audio.FileError
		if errors.As(err, &of) && of.Path == "" {
			of.Path = path
		}
		return nil, nil, err
	}
	found := codes.Close()
	all := []int{}
	for c := range s.Channels {
		all = append(all, c+1)
	}
	heard = &all
	if len(found) > 0 { // again, without them
		left := ltc.Heard(s.Channels, nil, found)
		heard = &left
		if s, err = match.Read(ctx, open, options); err != nil {
			return nil, nil, err
		}
		for _, f := range found {
			warnings = append(warnings, f.String())
		}
	}
	return s, warnings, nil
}

// opener opens a recording with the channels of music alone, counted from 1; nil is all.
func opener(path string, music []int) match.Opener {
	return func() (audio.Source, error) {
		src, err := audio.Open(path)
		if err != nil || music == nil {
			return src, err
		}
		channels := src.Info().Channels
		return &teeSource{Source: src, channels: channels, sinks: []func([]float32) error{only(music, channels)}}, nil
	}
}
