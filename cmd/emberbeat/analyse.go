package main

import (
	"context"
	"fmt"
	"image/png"
	"io"
	"math"
	"path/filepath"
	"runtime/debug"
	"slices"

	"github.com/spf13/cobra"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/audio/ltc"
	"emberbeat/shows/report/wording"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

func analyseCommand(t *talk) *cobra.Command {
	var word said
	var picture, click string
	c := &cobra.Command{
		Use:   "analyse FILE",
		Short: "listen to a recording: tempo, beats, bars, hits, sections",
		Long: `Listen to a recording and say what is heard: tempo, beats, the starts of bars,
onsets, hits with their kind and strength, sections, loudness, and how sure each
is. It is a suggestion; no show is touched. Times are seconds from the first
sample of the decoded recording.

Your word stands above what is heard. Half or double as fast: --bpm. Bars on the
wrong beat, or beats between the beats: --bar-one with the time of any bar's
start. Three in a bar: --metre 3/4. Or tap along: --tap four times or more.`,
		Example: `  emberbeat analyse song.wav
  emberbeat analyse song.wav --json
  emberbeat analyse song.wav --picture heard.png --click-out click.wav
  emberbeat analyse song.wav --bpm 87 --bar-one 0:12.48`,
		Args: takes("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			locks, err := word.locks()
			if err != nil {
				return err
			}
			debug.SetMemoryLimit(softLimit)
			step, done := t.progress("listening to " + filepath.Base(args[0]))
			heard, err := session.Listen(c.Context(), audio.OpenCache(""), args[0], locks, step)
			done()
			if err != nil {
				return err
			}
			for _, w := range heard.Warnings {
				t.warn("%s: %s", args[0], w)
			}
			if picture != "" {
				err := t.writeOut(picture, func(w io.Writer) error { return png.Encode(w, ear.Draw(heard.Analysis, heard.Peaks)) })
				if err != nil {
					return err
				}
			}
			if click != "" {
				if err := t.writeClick(c.Context(), args[0], click, heard); err != nil {
					return err
				}
			}
			if picture == "-" || click == "-" {
				return nil
			}
			return t.writeOut("", func(w io.Writer) error {
				if t.json {
					return wording.WriteJSON(w, newAnalysis(args[0], heard.Analysis))
				}
				return describe(w, heard.Analysis)
			})
		},
	}
	word.flags(c)
	c.Flags().StringVar(&picture, "picture", "", "draw waveform, onsets, beats, bars, sections and doubt to this PNG file")
	c.Flags().StringVar(&click, "click-out", "", "write the song with a click on every beat to this WAV file")
	return c
}

// softLimit is the memory, in bytes, above which the collector works harder
// rather than let the heap double: a recording of hours fits in it.
const softLimit = 240 << 20

// said is what the user knows about a recording, as text.
type said struct {
	bpm           float64
	barOne, metre string
	taps          []string
}

func (s *said) flags(c *cobra.Command) {
	f := c.Flags()
	f.Float64Var(&s.bpm, "bpm", 0, "the song runs at this many beats a minute")
	f.StringVar(&s.barOne, "bar-one", "", "a bar begins at this time, such as 1:02.5")
	f.StringVar(&s.metre, "metre", "", "beats in a bar, such as 3/4")
	f.StringSliceVar(&s.taps, "tap", nil, "times of beats tapped along, four or more, such as 10.1,10.6,11.1,11.6")
}

// locks reads the texts.
func (s *said) locks() (l ear.Locks, err error) {
	if s.bpm != 0 && (s.bpm < 20 || s.bpm > 400) {
		return l, usage(fmt.Errorf("--bpm %v is no tempo: give 20 to 400 beats a minute", s.bpm))
	}
	l.BPM = s.bpm
	if s.barOne != "" {
		at, err := timeline.ParseTime(s.barOne)
		if err != nil {
			return l, usage(fmt.Errorf("--bar-one: %w", err))
		}
		l.BarOne = &at
	}
	if s.metre != "" {
		if l.Metre, err = timeline.ParseMetre(s.metre); err != nil {
			return l, usage(fmt.Errorf("--metre: %w", err))
		}
	}
	for _, text := range s.taps {
		at, err := timeline.ParseTime(text)
		if err != nil {
			return l, usage(fmt.Errorf("--tap: %w", err))
		}
		l.Taps = append(l.Taps, at)
	}
	slices.Sort(l.Taps)
	if n := len(l.Taps); n > 0 && n < ear.LeastTaps {
		return l, usage(fmt.Errorf("--tap: %d taps are too few to tell a tempo: give at least %d", n, ear.LeastTaps))
	}
	return l, nil
}

// writeClick writes the song with a click over it, without channels that hold
// timecode.
func (t *talk) writeClick(ctx context.Context, file, out string, h *session.Heard) error {
	pcm, err := audio.Decode(ctx, file, nil)
	if err != nil {
		return err
	}
	pcm.Leave(ltc.Heard(pcm.Channels, nil, h.Timecode))
	h.Analysis.MixClick(pcm)
	return t.writeOut(out, func(w io.Writer) error { return audio.EncodeWAV16(w, pcm.Rate, pcm.Channels, pcm.Samples) })
}

// analysis is the JSON form that others rely on: keys only grow. Times are
// seconds.
type analysis struct {
	File       string    `json:"file"`
	Duration   decimal   `json:"duration"`
	Rate       int       `json:"sample_rate"`
	BPM        decimal   `json:"bpm"`
	Steady     bool      `json:"steady"`
	Tempo      []tempo   `json:"tempo"`
	Meter      string    `json:"meter"`
	Beats      []decimal `json:"beats"`
	Downbeats  []decimal `json:"downbeats"`
	Onsets     []decimal `json:"onsets"`
	Hits       []hit     `json:"hits"`
	Sections   []section `json:"sections"`
	Loudness   loudness  `json:"loudness"`
	Confidence sureness  `json:"confidence"`
	// Alternatives are other ways to count the same pulse.
	Alternatives []alternative `json:"alternatives"`
	// Energy is loudness over time, 0 to 1, EnergyRate values a second.
	Energy     []decimal `json:"energy"`
	EnergyRate int       `json:"energy_rate"`
}

type alternative struct {
	Name  string  `json:"name"`
	BPM   decimal `json:"bpm"`
	Share decimal `json:"share"`
}

type tempo struct {
	From   decimal `json:"from"`
	BPM    decimal `json:"bpm"`
	Steady bool    `json:"steady"`
	To     decimal `json:"to"`
	Offset decimal `json:"offset"` // the time of one beat of a steady part
	Doubt  decimal `json:"doubt"`
}

type hit struct {
	At       decimal   `json:"at"`
	Strength decimal   `json:"strength"`
	Label    ear.Label `json:"label"`
	// Probability of each label, by name.
	Probability map[ear.Label]decimal `json:"probability"`
	Sigma       decimal               `json:"sigma"` // seconds
	Band        string                `json:"band"`
	Accent      bool                  `json:"accent,omitempty"`
	Stop        bool                  `json:"stop,omitempty"`
	AfterRest   bool                  `json:"after_rest,omitempty"`
}

type section struct {
	From   decimal `json:"from"`
	To     decimal `json:"to"`
	Label  string  `json:"label"`
	Energy decimal `json:"energy"`
}

type loudness struct {
	Integrated decimal `json:"integrated"` // LUFS
	Range      decimal `json:"range"`      // LU
	Peak       decimal `json:"peak"`       // dBFS
}

type sureness struct {
	Tempo     decimal `json:"tempo"`
	Beats     decimal `json:"beats"`
	Downbeats decimal `json:"downbeats"`
}

// decimal is a number with at most six decimals: a millionth of a second is far
// below what is heard.
type decimal float64

// MarshalJSON writes the number; what is no number cannot come from the ear.
func (d decimal) MarshalJSON() ([]byte, error) {
	return fmt.Appendf(nil, "%.6f", float64(d)), nil
}

func decimals(times []float64) []decimal {
	all := make([]decimal, len(times))
	for i, t := range times {
		all[i] = decimal(t)
	}
	return all
}

func newAnalysis(file string, a *ear.Analysis) *analysis {
	n := &analysis{File: file, Duration: decimal(a.Duration), Rate: a.Rate, BPM: decimal(a.BPM), Steady: a.Steady, Meter: a.Metre.String(),
		Beats: decimals(a.Beats), Downbeats: decimals(a.Downbeats), Onsets: decimals(a.Onsets),
		Tempo: []tempo{}, Hits: []hit{}, Sections: []section{}, Alternatives: []alternative{},
		Loudness:   loudness{decimal(a.Loudness.Integrated), decimal(a.Loudness.Range), decimal(a.Loudness.Peak)},
		Confidence: sureness{decimal(a.Confidence.Tempo), decimal(a.Confidence.Beats), decimal(a.Confidence.Downbeats)}}
	for _, p := range a.Parts {
		n.Tempo = append(n.Tempo, tempo{decimal(p.From), decimal(p.BPM), p.Steady, decimal(p.To), decimal(p.Offset), decimal(p.Doubt)})
	}
	for _, h := range a.Hits {
		n.Hits = append(n.Hits, newHit(h))
	}
	for _, x := range a.Alternatives {
		n.Alternatives = append(n.Alternatives, alternative{x.Name, decimal(x.BPM), decimal(x.Share)})
	}
	n.Energy, n.EnergyRate = make([]decimal, len(a.Energy)), ear.EnergyRate
	for i, e := range a.Energy {
		n.Energy[i] = decimal(e)
	}
	for _, s := range a.Sections {
		n.Sections = append(n.Sections, section{decimal(s.From), decimal(s.To), s.Label, decimal(s.Energy)})
	}
	return n
}

func newHit(h ear.Hit) hit {
	n := hit{At: decimal(h.At), Strength: decimal(h.Strength), Label: h.Label, Probability: map[ear.Label]decimal{},
		Sigma: decimal(h.Sigma), Band: h.Band, Accent: h.Accent, Stop: h.Stop, AfterRest: h.AfterRest}
	for i, l := range ear.Labels {
		n.Probability[l] = decimal(h.Probability[i])
	}
	return n
}

// describe says the same in a few lines for people.
func describe(w io.Writer, a *ear.Analysis) error {
	clock := func(s float64) string { return timeline.FromSeconds(s).Clock(3) }
	percent := func(x float64) string { return fmt.Sprintf("%d %%", int(math.Round(100*x))) }
	fmt.Fprintf(w, "length    %s at %d samples a second\n", clock(a.Duration), a.Rate)
	fmt.Fprintf(w, "loudness  %.1f LUFS, range %.1f LU, peak %.1f dBFS\n", a.Loudness.Integrated, a.Loudness.Range, a.Loudness.Peak)
	if len(a.Beats) == 0 {
		fmt.Fprintln(w, "tempo     no beat was found")
	} else {
		fmt.Fprintf(w, "tempo     %.3f beats a minute, sure to %s\n", a.BPM, percent(a.Confidence.Tempo))
	}
	for _, p := range a.Parts[min(1, len(a.Parts)):] {
		fmt.Fprintf(w, "          %.3f from %s\n", p.BPM, clock(p.From))
	}
	fmt.Fprintf(w, "metre     %s, bars sure to %s\n", a.Metre, percent(a.Confidence.Downbeats))
	fmt.Fprintf(w, "heard     %d beats (sure to %s), %d bars, %d onsets, %d hits\n", len(a.Beats), percent(a.Confidence.Beats),
		len(a.Downbeats), len(a.Onsets), len(a.Hits))
	for _, x := range a.Alternatives[:min(3, len(a.Alternatives))] {
		fmt.Fprintf(w, "or        %.2f beats a minute (%s), %s likely\n", x.BPM, x.Name, percent(x.Share))
	}
	for i, s := range a.Sections {
		head := "          "
		if i == 0 {
			head = "sections  "
		}
		if _, err := fmt.Fprintf(w, "%s%s to %s  %s, energy %s\n", head, clock(s.From), clock(s.To), s.Label, percent(s.Energy)); err != nil {
			return err
		}
	}
	return nil
}
