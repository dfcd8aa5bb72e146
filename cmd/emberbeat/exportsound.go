package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"emberbeat/render/sheet"
	"emberbeat/shows/report/stripe"
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

func (s *soundFlags) options() (stripe.StripeOptions, error) {
	o := stripe.StripeOptions{SampleRate: s.rate, Bits: s.bits, Level: s.level}
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

// soundWords lists what can be exported for another program.
func soundWords() []string {
	var words []string
	for _, o := range stripe.SoundOffers() {
		words = append(words, o.Name)
	}
	return words
}

func (t *talk) exportSound(dir string, e soundExport, of stripe.SoundOffer) error {
	format, err := formatFor(e.format, e.out, of.Format, append(sheet.Formats(), of.Format))
	switch {
	case t.json:
		return usage(errors.New(e.kind + " has no JSON form; leave --json out"))
	case err != nil:
		return usage(err)
	case format != of.Format:
		return usage(fmt.Errorf("%s has no format %q; its format is %s", e.kind, format, of.Format))
	case e.out == "":
		return hint(usage(fmt.Errorf("no file is named for %s", e.kind)), "add --out FILE."+of.Format)
	case e.out == "-":
		return hint(usage(fmt.Errorf("%s goes into a file and nowhere else: what reads stdout could run with it", e.kind)), "add --out FILE."+of.Format)
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
	file, err := of.Make(p, f, o)
	switch {
	case err != nil && of.OneSong && f.Song == "":
		return hint(usage(err), "add --song with a title, folder, id or number")
	case err != nil:
		return usage(err)
	}
	if err := t.writeFile(e.out, file.Write); err != nil {
		return err
	}
	if of.Warning != "" {
		t.warn("%s", of.Warning)
	}
	for _, line := range file.Lines {
		t.say("%s", line)
	}
	return nil
}
