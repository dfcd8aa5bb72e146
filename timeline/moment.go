package timeline

import "fmt"

// Moment is the anchor of a cue, section or marker in its song: exactly one of
// a beat position, which follows the beat map, or a time from the start of the
// song's audio.
type Moment struct {
	OnBeat bool
	Bar    BarBeat // used when OnBeat
	Time   Time    // used otherwise; from the start of the audio
}

// AtBar gives the moment of a beat position.
func AtBar(b BarBeat) Moment { return Moment{OnBeat: true, Bar: b} }

// AtTime gives the moment of a song time, rounded to EntryStep.
func AtTime(t Time) Moment { return Moment{Time: t.RoundTo(EntryStep)} }

// In gives the moment's time from the start of the audio. The second result is
// false when the moment is a beat and the song has no beat map; the time is
// then 0.
func (m Moment) In(beats *BeatMap) (Time, bool) {
	if !m.OnBeat {
		return m.Time, true
	}
	if beats.Empty() {
		return 0, false
	}
	return beats.At(m.Bar), true
}

// String writes the moment in the position grammar: `17.3+1/2` or `0:12.5000`.
func (m Moment) String() string {
	if m.OnBeat {
		return m.Bar.String()
	}
	return m.Time.Clock(4)
}

// ParseMoment reads a bar position or a time. A timecode is refused here: it
// means a song time only together with a start and a rate (see
// Show.MomentAt).
func ParseMoment(s string) (Moment, error) {
	p, err := ParsePosition(s)
	if err != nil {
		return Moment{}, err
	}
	switch p.Kind {
	case PositionBar:
		return AtBar(p.Bar), nil
	case PositionTime:
		return AtTime(p.Time), nil
	}
	return Moment{}, fmt.Errorf("is a timecode; here write a bar such as 17.3+1/2 or a time such as 1:02.5")
}
