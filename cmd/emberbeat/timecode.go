package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"

	"github.com/spf13/cobra"

	"emberbeat/audio"
	"emberbeat/audio/ltc"
	"emberbeat/shows/intake"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

func timecodeCommand(t *talk) *cobra.Command {
	var channel int
	c := &cobra.Command{
		Use:   "timecode read FILE",
		Short: "read the linear timecode in a recording",
		Long: `Read linear timecode from a sound file: rate, drop-frame flag, first and last
label, and every jump of the labels. Any level and polarity, forwards or
backwards. Times are seconds from the start of the file.

Without --channel the first channel that holds timecode is read. The exit code
is 1 when there is none, or when labels jump.`,
		Example: `  emberbeat timecode read ltc.wav
  emberbeat timecode read ltc.wav --channel 1 --json`,
		Args:              takes("read", "FILE"),
		ValidArgsFunction: words(func() []string { return []string{"read"} }, nil),
		RunE: func(c *cobra.Command, args []string) error {
			if args[0] != "read" {
				return usage(fmt.Errorf("timecode can read; %q is nothing it does", args[0]))
			}
			if c.Flag("channel").Changed && channel < 1 {
				return usage(fmt.Errorf("channels count from 1"))
			}
			return t.readTimecode(c.Context(), args[1], channel)
		},
	}
	c.Flags().IntVar(&channel, "channel", 0, "read this channel, counted from 1 (default: the first that holds timecode)")
	return c
}

// timecodeReading is the reading as other programs get it; keys only grow.
type timecodeReading struct {
	File     string         `json:"file"`
	Channel  int            `json:"channel"` // 0 when none holds timecode
	Rate     string         `json:"rate"`    // "" without timecode
	Drop     bool           `json:"drop"`
	First    string         `json:"first"`
	Last     string         `json:"last"`
	Frames   int64          `json:"frames"`
	Start    float64        `json:"start"` // seconds at which the first frame starts
	End      float64        `json:"end"`   // and the last one ends
	FPS      float64        `json:"fps"`   // as measured
	Reverse  bool           `json:"reverse"`
	Level    float64        `json:"level"`   // dB below full scale
	Spoiled  int64          `json:"spoiled"` // frames that could not be read, or were out of line
	Jumps    []timecodeJump `json:"jumps"`   // never null; at most 1000
	Jumped   int            `json:"jump_count"`
	UserBits string         `json:"user_bits"` // of the first frame, hexadecimal
	Hz       int            `json:"sample_rate"`
	Warnings []string       `json:"warnings"`
}

type timecodeJump struct {
	At     float64 `json:"at"` // seconds at which the frame after it starts
	From   string  `json:"from"`
	To     string  `json:"to"`
	Labels int64   `json:"labels"` // left out; negative where they go back
	Gap    float64 `json:"gap"`    // seconds without timecode
}

func (t *talk) readTimecode(ctx context.Context, path string, channel int) error {
	step, done := t.progress("reading timecode of " + filepath.Base(path))
	r, info, channel, err := findTimecode(ctx, path, channel, step)
	done()
	if err != nil {
		return err
	}
	result := newTimecodeReading(path, channel, info, r)
	err = t.writeOut("", func(w io.Writer) error {
		if t.json {
			return wording.WriteJSON(w, result)
		}
		return result.describe(w)
	})
	if err == nil && (r.Frames == 0 || r.Jumped > 0) {
		return errFindings
	}
	return err
}

// findTimecode reads a channel, or the first that holds timecode.
func findTimecode(ctx context.Context, path string, channel int, step func(float64)) (*ltc.Reading, audio.Info, int, error) {
	part := func(done, total int64) {
		if total > 0 {
			step(float64(done) / float64(total))
		}
	}
	if channel > 0 {
		r, info, err := intake.ReadTimecode(ctx, path, channel, part)
		return r, info, channel, err
	}
	for channel = 1; ; channel++ {
		r, info, err := intake.ReadTimecode(ctx, path, channel, part)
		switch {
		case err != nil:
			return nil, info, channel, err
		case r.Frames > 0:
			return r, info, channel, nil
		case channel == info.Channels:
			return r, info, 0, nil
		}
	}
}

func newTimecodeReading(path string, channel int, info audio.Info, r *ltc.Reading) *timecodeReading {
	l := &timecodeReading{File: path, Channel: channel, Jumps: []timecodeJump{}, Hz: info.Rate, Warnings: append([]string{}, info.Warnings...), Spoiled: r.Spoiled}
	if r.Frames == 0 {
		return l
	}
	seconds := func(samples float64) float64 { return round(samples/float64(info.Rate), 6) }
	l.Rate, l.Drop, l.Frames, l.FPS = r.Rate.String(), r.Drop, r.Frames, round(r.FPS, 4)
	l.First, l.Last = labelText(r.Rate, r.First.Label), labelText(r.Rate, r.Last.Label)
	l.Start, l.End = seconds(min(r.First.Start, r.First.End)), seconds(max(r.Last.Start, r.Last.End))
	l.Reverse, l.Level, l.Jumped = r.First.Reverse(), round(20*math.Log10(r.Level), 1), r.Jumped
	l.UserBits = fmt.Sprintf("%08x", r.First.Word.UserBits())
	for _, j := range r.Jumps {
		l.Jumps = append(l.Jumps, timecodeJump{seconds(j.At), labelText(r.Rate, j.From), labelText(r.Rate, j.To), j.Labels, seconds(j.Gap)})
	}
	return l
}

// round keeps numbers short.
func round(v float64, digits int) float64 {
	unit := math.Pow(10, float64(digits))
	return math.Round(v*unit) / unit
}

// labelText writes a label as sheets do, one that the rate does not have as it
// was read.
func labelText(rate timeline.Rate, tc timeline.Timecode) string {
	frame, err := rate.Frame(tc)
	if err != nil {
		return tc.String()
	}
	return rate.Label(frame)
}

// describe writes the reading for people.
func (l *timecodeReading) describe(w io.Writer) error {
	if l.Frames == 0 {
		_, err := fmt.Fprintf(w, "%s holds no timecode\n", l.File)
		return err
	}
	direction := ""
	if l.Reverse {
		direction = ", played backwards"
	}
	fmt.Fprintf(w, "timecode at %s%s, on channel %d, %.4f frames a second as measured, %.1f dB below full scale\n", l.Rate, direction, l.Channel, l.FPS, -l.Level)
	fmt.Fprintf(w, "%d frames from %s at %.4f s to %s, which ends at %.4f s\n", l.Frames, l.First, l.Start, l.Last, l.End)
	for _, j := range l.Jumps {
		fmt.Fprintf(w, "jump at %.4f s from %s to %s", j.At, j.From, j.To)
		if j.Gap > 0 {
			fmt.Fprintf(w, ", after %.4f s without timecode", j.Gap)
		}
		fmt.Fprintln(w)
	}
	_, err := fmt.Fprintf(w, "%d jumps, %d spoiled frames\n", l.Jumped, l.Spoiled)
	return err
}
