package timeline

import "fmt"

// dayRange is where a song stands in a day of timecode: what it claims before
// and after its start, in frames.
type dayRange struct {
	rate                Rate
	start, before, last int64 // before: from the first frame claimed to the start; last: from the start to the end
}

// rangeOf gives where a song stands with a start and a shift; false where the
// start is no label of the rate, which the rule timecode-start tells.
func (s *Show) rangeOf(song *SongHead, start Timecode, by Time) (dayRange, bool) {
	p := &SongPlan{Rate: s.Head.Rate, By: by, Duration: song.Duration(), PreRoll: s.PreRollOf(song)}
	p.Start, p.StartErr = p.Rate.Frame(start)
	return dayRange{p.Rate, p.Start, p.Start - p.First(), p.Last() - p.Start}, p.StartErr == nil && p.Rate.FrameTicks() != 0
}

// over gives how many frames of a song lie on another day.
func (r dayRange) over() int64 {
	return max(0, r.before-r.start) + max(0, r.start+r.last-r.rate.DayFrames())
}

// canStart says from when to when the song can start without a frame on
// another day.
func (r dayRange) canStart() string {
	earliest, latest := max(0, r.before), min(r.rate.DayFrames()-1, r.rate.DayFrames()-r.last)
	if latest < earliest {
		return "wherever it starts: pre-roll and length are more than a day"
	}
	return fmt.Sprintf("with its pre-roll and length the song can start from %s to %s", r.rate.Label(earliest), r.rate.Label(latest))
}

// checkDay refuses an edit that takes a song's timecode across midnight, on the
// tour or on a night that shifts it, or further across. A show that was loaded
// with such a song stays editable; the rule timecode-midnight tells.
func (d *Draft) checkDay(r Ref) error {
	switch r.Kind {
	case "song":
		return d.checkSongDay(r.ID, "")
	case "show":
		for _, g := range d.show.Songs {
			if err := d.checkSongDay(g.ID, "show"); err != nil {
				return err
			}
		}
	case "night":
		n := d.show.Night(r.ID)
		for _, h := range n.Shifts {
			if g := d.show.Song(n.version(h.Song)); g != nil {
				if over, r := d.worse(g.ID, n); over {
					return &ValueError{Kind: "night", Field: "shifts", Value: h.String(), Want: "crosses midnight: " + r.canStart()}
				}
			}
		}
	}
	return nil
}

// checkSongDay looks at a song on the tour and on every night that shifts it.
// Kind says whose field is to blame: "" for the song's.
func (d *Draft) checkSongDay(id ID, kind string) error {
	song := d.show.Song(id)
	if song == nil {
		return nil
	}
	if over, r := d.worse(id, nil); over {
		return d.blame(song, kind, "crosses midnight: "+r.canStart())
	}
	for _, n := range d.show.Nights {
		if by, start := n.ShiftOf(id); by == 0 && start == nil {
			continue
		}
		if over, r := d.worse(id, n); over {
			return d.blame(song, kind, fmt.Sprintf("crosses midnight on the night %q, which shifts the song: %s", d.show.Called(n), r.canStart()))
		}
	}
	return nil
}

// worse reports whether more of a song lies on another day than before the
// edit, and where it stands now.
func (d *Draft) worse(id ID, night *Night) (bool, dayRange) {
	is, ok := standing(d.show, id, night)
	if !ok || is.over() == 0 {
		return false, is
	}
	if night != nil {
		night = d.base.Night(night.ID)
	}
	was, ok := standing(d.base, id, night)
	return !ok || is.over() > was.over(), is
}

func standing(s *Show, id ID, night *Night) (dayRange, bool) {
	g := s.Song(id)
	if g == nil {
		return dayRange{}, false
	}
	by, start := night.ShiftOf(id)
	if start == nil {
		start = &g.Start
	}
	return s.rangeOf(&g.SongHead, *start, by)
}

// blame names the field that took a song across midnight: the first that
// differs from before, of those that its range rests on.
func (d *Draft) blame(song *Song, kind, want string) error {
	fields, rec, old := []string{"start", "pre-roll", "length", "frames", "sample-rate"}, Record(&song.SongHead), Record(nil)
	if was := d.base.Song(song.ID); was != nil {
		old = &was.SongHead
	}
	if kind == "show" {
		fields, rec, old = []string{"pre-roll", "rate"}, d.show.Head, d.base.Head
		want = fmt.Sprintf("song %q %s", song.FullTitle(), want)
	}
	k := kindOfRecord(rec)
	blamed := k.Field(fields[0])
	for _, name := range fields {
		if f := k.Field(name); old != nil && !f.Get(rec).Equal(f.Get(old)) {
			blamed = f
			break
		}
	}
	return &ValueError{Kind: k.Name, Field: blamed.Name, Value: blamed.Get(rec).String(), Want: want}
}
