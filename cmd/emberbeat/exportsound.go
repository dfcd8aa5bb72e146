package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// soundFlags say how sound files are written.
type soundFlags struct {
	rate, bits int
	level      float64
	preRoll    string
}

func (s *soundFlags) flags(c *cobra.Command) {
	f := c.Flags()
	f.IntVar(&s.rate, "sample-rate", 48000, "samples a second of ltc and ticks")
	f.IntVar(&s.bits, "bits", 16, "bits a sample of ltc and ticks: 16 or 24")
	f.Float64Var(&s.level, "level", -12, "peaks of ltc and ticks, in dB below full scale")
	f.StringVar(&s.preRoll, "pre-roll", "", "seconds of ltc before each song (default: the song's or the show's)")
	flagWords(c, "sample-rate", "44100", "48000", "96000")
	flagWords(c, "bits", "16", "24")
}

func (s *soundFlags) options() (sheet.StripeOptions, error) {
	o := sheet.StripeOptions{SampleRate: s.rate, Bits: s.bits, Level: s.level}
	if s.preRoll != "" {
		t, err := timeline.ParseTime(s.preRoll)
		if err == nil && t < 0 {
			err = fmt.Errorf("the pre-roll is negative")
		}
		if err != nil {
			return o, usage(fmt.Errorf("--pre-roll: %w", err))
		}
		o.PreRoll = &t
	}
	return o, nil
}

// soundExport is what the export verb is asked to write for another program to
// play or read.
type soundExport struct {
	kind, format, rate, out string
	pick                    *choice
	sound                   *soundFlags
}

// soundSheet makes a file of a plan: the function that writes it, and lines
// that say what is in it.
type soundSheet func(*timeline.Plan, sheet.Filter, sheet.StripeOptions) (write func(io.Writer) error, lines []string, err error)

var soundSheets = map[string]soundSheet{"ltc": stripeSheet, "ticks": ticksSheet, "midi": midiSheet}

// soundWords lists them for people.
func soundWords() []string { return []string{"ltc", "ticks", "midi"} }

// soundFormats are their only formats.
var soundFormats = map[string]string{"ltc": "wav", "ticks": "wav", "midi": "mid"}

func (t *talk) exportSound(dir string, e soundExport, of soundSheet) error {
	switch {
	case t.json:
		return usage(errors.New(e.kind + " has no JSON form; leave --json out"))
	case e.format != "" && e.format != soundFormats[e.kind]:
		return usage(fmt.Errorf("%s has no format %q; its format is %s", e.kind, e.format, soundFormats[e.kind]))
	case e.out == "":
		return hint(usage(fmt.Errorf("no file is named for %s", e.kind)), "add --out FILE."+soundFormats[e.kind]+"; --out - writes it to stdout")
	}
	o, err := e.sound.options()
	if err != nil {
		return err
	}
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	p, f, err := planAt(l.Show, e.pick, e.rate)
	if err != nil {
		return err
	}
	write, lines, err := of(p, f, o)
	if err != nil {
		return usage(err)
	}
	if err := t.writeOut(e.out, write); err != nil {
		return err
	}
	for _, line := range lines {
		t.say("%s", line)
	}
	return nil
}

func stripeSheet(p *timeline.Plan, f sheet.Filter, o sheet.StripeOptions) (func(io.Writer) error, []string, error) {
	s, err := sheet.NewStripe(p, f, o)
	if err != nil {
		return nil, nil, err
	}
	lines := []string{"timecode at " + p.Rate.String() + ", nothing else"}
	for _, song := range s.Songs {
		lines = append(lines, song.String())
	}
	return s.WriteWAV, lines, nil
}

func ticksSheet(p *timeline.Plan, f sheet.Filter, o sheet.StripeOptions) (func(io.Writer) error, []string, error) {
	ticks, err := sheet.NewTicks(p, f, o)
	if err != nil {
		return nil, nil, err
	}
	lines := []string{fmt.Sprintf("%d ticks on hits; for rehearsal only", ticks.Count)}
	if ticks.Outside > 0 {
		lines = append(lines, fmt.Sprintf("%d hits lie before the audio and are not in the file", ticks.Outside))
	}
	return ticks.WriteWAV, lines, nil
}

func midiSheet(p *timeline.Plan, f sheet.Filter, _ sheet.StripeOptions) (func(io.Writer) error, []string, error) {
	switch {
	case f.Song == "":
		return nil, nil, errors.New("a MIDI file holds one song; add --song with a title, folder, id or number")
	case f.Bars != nil:
		return nil, nil, errors.New("a MIDI file holds a whole song; leave the bars out")
	}
	ps := songIn(p, f.Song)
	m, err := sheet.NewMIDI(ps.SongPlan)
	if err != nil {
		return nil, nil, err
	}
	var lines []string
	if ps.Song.Beats.Empty() {
		lines = append(lines, "the song has no beat map: its tempo stands at 120")
	}
	if m.Left > 0 {
		lines = append(lines, fmt.Sprintf("%d sections and markers lie before the audio, or on bars the song does not have, and are not in the file", m.Left))
	}
	return func(w io.Writer) error { _, err := m.WriteTo(w); return err }, lines, nil
}
