package main

import (
	"fmt"
	"io"
	"math"
	"path/filepath"

	"github.com/spf13/cobra"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/shows/session"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

func analyseCommand(t *talk) *cobra.Command {
	return &cobra.Command{
		Use:   "analyse FILE",
		Short: "listen to a recording: tempo, beats, bars, hits, sections",
		Long: `Listen to a recording and say what is heard: tempo, beats, the starts of bars,
onsets, hits with their kind and strength, sections, loudness, and how sure each
is. It is a suggestion; no show is touched. Times are seconds from the first
sample of the decoded recording.`,
		Example: "  emberbeat analyse song.wav\n  emberbeat analyse song.wav --json",
		Args:    takes("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			step, done := t.progress("listening to " + filepath.Base(args[0]))
			heard, err := session.Listen(c.Context(), audio.OpenCache(""), args[0], ear.Locks{}, step)
			done()
			if err != nil {
				return err
			}
			for _, w := range heard.Warnings {
				t.warn("%s: %s", args[0], w)
			}
			return t.writeOut("", func(w io.Writer) error {
				if t.json {
					return sheet.WriteJSON(w, newAnalysis(args[0], heard.Analysis))
				}
				return describe(w, heard.Analysis)
			})
		},
	}
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
}

type tempo struct {
	From   decimal `json:"from"`
	BPM    decimal `json:"bpm"`
	Steady bool    `json:"steady"`
}

type hit struct {
	At       decimal   `json:"at"`
	Strength decimal   `json:"strength"`
	Label    ear.Label `json:"label"`
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
		Tempo: []tempo{}, Hits: []hit{}, Sections: []section{},
		Loudness:   loudness{decimal(a.Loudness.Integrated), decimal(a.Loudness.Range), decimal(a.Loudness.Peak)},
		Confidence: sureness{decimal(a.Confidence.Tempo), decimal(a.Confidence.Beats), decimal(a.Confidence.Downbeats)}}
	for _, p := range a.Parts {
		n.Tempo = append(n.Tempo, tempo{decimal(p.From), decimal(p.BPM), p.Steady})
	}
	for _, h := range a.Hits {
		n.Hits = append(n.Hits, hit{decimal(h.At), decimal(h.Strength), h.Label})
	}
	for _, s := range a.Sections {
		n.Sections = append(n.Sections, section{decimal(s.From), decimal(s.To), s.Label, decimal(s.Energy)})
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
