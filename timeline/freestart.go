package timeline

import "errors"

// FreeStart gives the first start of timecode at which a song claims nothing that
// another song claims: a whole hour from 1 to 23, else a half hour, else any
// minute. Hours keep songs apart for people who read timecode, so an hour is left
// alone that stands on a printed sheet, or was played, for a song that is elsewhere now.
// A start that is liked comes before all of these, where it is as free.
func (s *Show) FreeStart(song *SongHead, liked ...Timecode) (Timecode, error) {
	var taken []TimeSpan
	for _, g := range s.Songs {
		if span, ok := s.claim(&g.SongHead, g.Start); ok {
			taken = append(taken, span)
		}
	}
	paper := s.OnPaper()
	for _, span := range taken {
		paper &^= HoursBetween(span.From, span.To) // those are looked at to the minute
	}
	for _, tc := range liked {
		if span, ok := s.claim(song, tc); ok && isFree(span, taken) && paper&HoursBetween(span.From, span.To) == 0 {
			return tc, nil
		}
	}
	for _, minutes := range [][]uint8{{0}, {30}, everyMinute()} {
		for h := uint8(0); h < 24; h++ {
			for _, m := range minutes {
				tc := Timecode{H: h, M: m}
				if h == 0 && len(minutes) == 1 {
					continue // pre-roll and commands before the song would fall before midnight
				}
				if span, ok := s.claim(song, tc); ok && isFree(span, taken) && paper&HoursBetween(span.From, span.To) == 0 {
					return tc, nil
				}
			}
		}
	}
	return Timecode{}, errors.New("no free timecode is left for the song; move or remove other songs")
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
func (s *Show) claim(song *SongHead, tc Timecode) (TimeSpan, bool) {
	rate := s.Head.Rate
	frame, err := rate.Frame(tc)
	if err != nil {
		return TimeSpan{}, false
	}
	start := rate.At(frame)
	span := TimeSpan{start - s.PreRollOf(song), start + song.Duration()}
	return span, span.From >= 0 && span.To <= rate.At(rate.DayFrames())
}

func isFree(s TimeSpan, taken []TimeSpan) bool {
	for _, t := range taken {
		if s.From < t.To && t.From < s.To || s.From == t.From {
			return false
		}
	}
	return true
}
