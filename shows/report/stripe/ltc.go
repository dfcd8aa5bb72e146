package stripe

import (
	"errors"
	"fmt"
	"io"

	"emberbeat/audio/ltc"
	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// StripeOptions say how a timecode stripe sounds.
type StripeOptions struct {
	SampleRate int
	Bits       int            // 16 or 24
	Level      float64        // of the peaks, dB below full scale
	PreRoll    *timeline.Time // instead of each song's own
}

// Stripe is the linear timecode of a plan's songs as a sound file: labels and
// nothing else. It starts on the first frame of the first song's pre-roll; the
// songs follow each other as in the running order, with silence between them.
type Stripe struct {
	ltc   ltc.Stripe
	Songs []StripeSong
}

// StripeSong is what a stripe holds of one song.
type StripeSong struct {
	Number      int
	Title       string
	First, Last string        // labels of the first and the last frame
	Audio       timeline.Time // where the song's audio starts in the file
	PreRoll     timeline.Time // timecode that runs before it
	Short       bool          // the song before leaves no room for the whole pre-roll
	Cut         bool          // the next song leaves no room for the end
}

// String says in one line what the stripe holds of a song.
func (s StripeSong) String() string {
	line := fmt.Sprintf("song %d %q: %s to %s, its audio starts %s s into the file, after %s s of timecode", s.Number, s.Title, s.First, s.Last,
		wording.Seconds(s.Audio), wording.Seconds(s.PreRoll))
	if s.Short {
		line += "; the song before leaves no room for more pre-roll"
	}
	if s.Cut {
		line += "; it ends early, for the next song starts at once"
	}
	return line
}

// NewStripe gives the stripe of the songs that the filter shows. Bars are not
// for stripes: a stripe runs through its song.
func NewStripe(p *timeline.Plan, f report.Filter, o StripeOptions) (*Stripe, error) {
	if f.Bars != nil {
		return nil, errors.New("a timecode stripe holds whole songs; leave the bars out")
	}
	b := stripeBuilder{options: o}
	for i := range p.Songs {
		ps := &p.Songs[i]
		if !f.Shows(ps.Song.ID) {
			continue
		}
		if ps.StartErr != nil {
			return nil, fmt.Errorf("song %q: its start: %w", ps.Song.FullTitle(), ps.StartErr)
		}
		if err := b.add(ps); err != nil {
			return nil, err
		}
	}
	if len(b.runs) == 0 {
		return nil, errors.New("there is no song to write timecode for")
	}
	s := b.stripe(p.Rate)
	return s, s.ltc.Check()
}

// stripeBuilder lines up songs. Times count from the set's first audio.
type stripeBuilder struct {
	options StripeOptions
	songs   []*timeline.PlanSong
	runs    []ltc.Run
	short   []bool
	cut     []bool
}

func (b *stripeBuilder) add(ps *timeline.PlanSong) error {
	preRoll := ps.PreRoll
	if b.options.PreRoll != nil {
		preRoll = *b.options.PreRoll
	}
	rate := ps.Rate
	midnight := ps.At + ps.TimeOf(0)
	first, last := rate.Floor(ps.At-preRoll-midnight), ps.Last()
	short := false
	if n := len(b.runs); n > 0 {
		before := &b.runs[n-1]
		if free := before.At + rate.At(before.Frames+1); midnight+rate.At(first) < free {
			first, short = rate.Ceil(free-midnight), true
		}
		// The start of the audio needs its own label, whatever is before it.
		if audio := rate.Floor(ps.At - midnight); first > audio {
			first = audio
			before.Frames, b.cut[n-1] = rate.Floor(midnight+rate.At(first)-before.At)-1, true
		}
		if before.Frames < 1 {
			return fmt.Errorf("song %q starts right after the one before it: there is no room for timecode between them; give the song before it a gap", ps.Song.FullTitle())
		}
	}
	if last <= first {
		return fmt.Errorf("song %q has no length: there is nothing to write timecode for", ps.Song.FullTitle())
	}
	b.songs, b.short, b.cut = append(b.songs, ps), append(b.short, short), append(b.cut, false)
	b.runs = append(b.runs, ltc.Run{At: midnight + rate.At(first), First: first, Frames: last - first})
	return nil
}

// stripe counts all times from the start of the file.
func (b *stripeBuilder) stripe(rate timeline.Rate) *Stripe {
	origin := b.runs[0].At
	s := &Stripe{ltc: ltc.Stripe{Rate: rate, SampleRate: b.options.SampleRate, Bits: b.options.Bits, Level: b.options.Level}}
	for i, r := range b.runs {
		ps := b.songs[i]
		r.At -= origin
		s.ltc.Runs = append(s.ltc.Runs, r)
		audio := ps.At - origin
		s.Songs = append(s.Songs, StripeSong{Number: ps.Number, Title: ps.Song.FullTitle(), First: dayLabel(rate, r.First),
			Last: dayLabel(rate, r.First+r.Frames-1), Audio: audio, PreRoll: audio - r.At, Short: b.short[i], Cut: b.cut[i]})
	}
	return s
}

// dayLabel is the label of a frame that may lie in the day before or after, as
// the stripe carries it.
func dayLabel(rate timeline.Rate, frame int64) string {
	day := rate.DayFrames()
	return rate.Label((frame%day + day) % day)
}

// WriteWAV writes the stripe as a WAV file of one channel. Memory does not
// grow with its length.
func (s *Stripe) WriteWAV(w io.Writer) error {
	n := s.ltc.Samples()
	if _, err := w.Write(waveHead(n, s.ltc.SampleRate, s.ltc.Bits)); err != nil {
		return err
	}
	if _, err := s.ltc.WriteTo(w); err != nil {
		return err
	}
	_, err := w.Write(wavePad(n, s.ltc.Bits))
	return err
}
