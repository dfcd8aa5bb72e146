package timeline

import (
	"fmt"
	"strconv"
	"strings"
)

// Hours are hours of timecode, as a set: bit n is the hour from n to n+1.
type Hours uint32

// Has reports whether an hour is in the set.
func (h Hours) Has(n int) bool { return n >= 0 && n < 24 && h>>n&1 == 1 }

// String lists the hours: `1,2,14`.
func (h Hours) String() string {
	var list []string
	for n := range 24 {
		if h.Has(n) {
			list = append(list, strconv.Itoa(n))
		}
	}
	return strings.Join(list, ",")
}

func parseHours(s string) (h Hours, err error) {
	for _, word := range strings.Split(s, ",") {
		n, err := strconv.Atoi(word)
		if s != "" && (err != nil || n < 0 || n > 23) {
			return 0, fmt.Errorf("must be hours from 0 to 23 with commas between, such as 1,2,14")
		}
		if s != "" {
			h |= 1 << n
		}
	}
	return h, nil
}

// HoursBetween gives the hours that a stretch of timecode, from midnight, touches.
func HoursBetween(from, to Time) (h Hours) {
	for n := range 24 {
		if from < Time(n+1)*Hour && to > Time(n)*Hour {
			h |= 1 << n
		}
	}
	return h
}

// Hours gives the hours of timecode that the songs of a plan run in, with their
// pre-roll.
func (p *Plan) Hours() (h Hours) {
	for i := range p.Songs {
		ps := &p.Songs[i]
		if frame, err := p.Rate.Frame(ps.Song.Start); err == nil {
			start := p.Rate.At(frame)
			h |= HoursBetween(start-p.Show.PreRollOf(&ps.Song.SongHead), start+ps.Song.Duration())
		}
	}
	return h
}

// OnPaper gives the hours of timecode that printed sheets and nights that were
// played have used. Who holds such a sheet reads them as the songs that stood there.
func (s *Show) OnPaper() (h Hours) {
	marks := s.Head.Printed
	for _, n := range s.Nights {
		marks = append(marks[:len(marks):len(marks)], n.Printed...)
	}
	for _, m := range marks {
		h |= m.Hours
	}
	for _, k := range s.Played {
		h |= Compile(k.Show, k.Show.Night(k.Night)).Hours()
	}
	return h
}
