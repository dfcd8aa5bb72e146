package session

import (
	"errors"

	"emberbeat/timeline"
)

// span is a stretch of timecode, from midnight, the end excluded.
type span struct{ from, to timeline.Time }

// freeStart gives the first start of timecode at which a song claims nothing
// that another song claims: a whole hour from 1 to 23, else a half hour, else
// any minute. Hours keep songs apart for people who read timecode.
func freeStart(show *timeline.Show, song *timeline.SongHead) (timeline.Timecode, error) {
	var taken []span
	for _, g := range show.Songs {
		if s, ok := claim(show, &g.SongHead, g.Start); ok {
			taken = append(taken, s)
		}
	}
	for _, minutes := range [][]uint8{{0}, {30}, everyMinute()} {
		for h := uint8(0); h < 24; h++ {
			for _, m := range minutes {
				tc := timeline.Timecode{H: h, M: m}
				if h == 0 && len(minutes) == 1 {
					continue // pre-roll and commands before the song would fall before midnight
				}
				if s, ok := claim(show, song, tc); ok && isFree(s, taken) {
					return tc, nil
				}
			}
		}
	}
	return timeline.Timecode{}, errors.New("no free timecode is left for the song; move or remove other songs")
}

func everyMinute() []uint8 {
	list := make([]uint8, 60)
	for i := range list {
		list[i] = uint8(i)
	}
	return list
}

// claim gives the timecode of a song that would start at tc; false when that
// is no label of the rate, or the song would cross midnight.
func claim(show *timeline.Show, song *timeline.SongHead, tc timeline.Timecode) (span, bool) {
	rate := show.Head.Rate
	frame, err := rate.Frame(tc)
	if err != nil {
		return span{}, false
	}
	start := rate.At(frame)
	s := span{start - show.PreRollOf(song), start + song.Duration()}
	return s, s.from >= 0 && s.to <= rate.At(rate.DayFrames())
}

func isFree(s span, taken []span) bool {
	for _, t := range taken {
		if s.from < t.to && t.from < s.to || s.from == t.from {
			return false
		}
	}
	return true
}
