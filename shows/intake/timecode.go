package intake

import (
	"context"
	"fmt"

	"emberbeat/audio"
	"emberbeat/audio/ltc"
)

// ReadTimecode reads the linear timecode of one channel of a sound file,
// counted from 1. progress, which may be nil, hears of frames done and in all.
func ReadTimecode(ctx context.Context, path string, channel int, progress func(done, total int64)) (*ltc.Reading, audio.Info, error) {
	src, err := audio.Open(path)
	if err != nil {
		return nil, audio.Info{}, err
	}
	defer src.Close()
	info := src.Info()
	if channel < 1 || channel > info.Channels {
		return nil, info, fmt.Errorf("%s has no channel %d; it has %d", path, channel, info.Channels)
	}
	r := ltc.NewReader(info.Rate)
	var one []float32
	err = audio.Run(ctx, src, 0, func(frames []float32) error {
		one = one[:0]
		for i := channel - 1; i < len(frames); i += info.Channels {
			one = append(one, frames[i])
		}
		return r.Write(one)
	}, audio.Progress(src, progress))
	if err != nil {
		return nil, info, err
	}
	return r.Close(), src.Info(), nil
}
