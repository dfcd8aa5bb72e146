package stripe

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// SoundOffer is one kind of file for another program to play or read. None of
// them holds a command.
type SoundOffer struct {
	Name    string // "ltc": the word in commands and file names
	Title   string // "Timecode stripe"
	Help    string // what is in it, a sentence without its full stop
	Warning string // what who takes it has to know, in one line; "" = nothing
	Format  string // "wav": its only format
	OneSong bool   // it holds one song, which a Filter must name
	Sound   bool   // StripeOptions count

	of func(*timeline.Plan, report.Filter, StripeOptions) (SoundFile, error)
}

// SoundFile is such a file, ready to be written.
type SoundFile struct {
	Write func(io.Writer) error
	Lines []string // what is in it, for people
	Bytes int64    // its size, as far as it is known before; else 0
}

var soundOffers = []SoundOffer{
	{Name: "ltc", Title: "Timecode stripe", Format: "wav", Sound: true, of: stripeFile,
		Help:    "linear timecode as a WAV file, of a song or of the whole running order with silence between songs; timecode alone",
		Warning: "whatever chases this file will run with it, firing systems too: play it to nothing that is armed"},
	{Name: "ticks", Title: "Ticks for rehearsal", Format: "wav", Sound: true, of: ticksFile,
		Help: "a WAV file with a click on every hit, for rehearsal; it starts with the audio of the song, or of the first one"},
	{Name: "midi", Title: "MIDI file", Format: "mid", OneSong: true, of: midiFile,
		Help: "a song's tempo map, time signatures, sections and markers as a Standard MIDI File, tick 0 at the start of its audio"},
}

// SoundOffers lists the kinds of files for other programs.
func SoundOffers() []SoundOffer { return slices.Clone(soundOffers) }

// SoundOfferNamed finds a kind by its name.
func SoundOfferNamed(name string) (SoundOffer, bool) {
	i := slices.IndexFunc(soundOffers, func(o SoundOffer) bool { return o.Name == name })
	if i < 0 {
		return SoundOffer{}, false
	}
	return soundOffers[i], true
}

// Make makes the file of what a filter shows of a plan. What cannot be is an
// error that says what would be right.
func (o SoundOffer) Make(p *timeline.Plan, f report.Filter, with StripeOptions) (SoundFile, error) {
	return o.of(p, f, with)
}

func stripeFile(p *timeline.Plan, f report.Filter, o StripeOptions) (SoundFile, error) {
	s, err := NewStripe(p, f, o)
	if err != nil {
		return SoundFile{}, err
	}
	file := SoundFile{Write: s.WriteWAV, Lines: []string{"timecode at " + p.Rate.String() + ", nothing else"}}
	file.Bytes = s.ltc.Samples() * int64(o.Bits/8)
	for _, song := range s.Songs {
		file.Lines = append(file.Lines, song.String())
	}
	return file, nil
}

func ticksFile(p *timeline.Plan, f report.Filter, o StripeOptions) (SoundFile, error) {
	ticks, err := NewTicks(p, f, o)
	if err != nil {
		return SoundFile{}, err
	}
	file := SoundFile{Write: ticks.WriteWAV, Lines: []string{fmt.Sprintf("%d ticks on hits; for rehearsal only", ticks.Count)}}
	if ticks.Outside > 0 {
		file.Lines = append(file.Lines, fmt.Sprintf("%d hits lie before the audio and are not in the file", ticks.Outside))
	}
	return file, nil
}

func midiFile(p *timeline.Plan, f report.Filter, _ StripeOptions) (SoundFile, error) {
	at := slices.IndexFunc(p.Songs, func(ps timeline.PlanSong) bool { return ps.Song.ID == f.Song })
	switch {
	case f.Song == "":
		return SoundFile{}, errors.New("a MIDI file holds one song; choose which")
	case f.Bars != nil:
		return SoundFile{}, errors.New("a MIDI file holds a whole song; leave the bars out")
	case at < 0:
		return SoundFile{}, fmt.Errorf("the running order does not play song %q", f.Song)
	}
	ps := &p.Songs[at]
	m, err := NewMIDI(ps.SongPlan)
	if err != nil {
		return SoundFile{}, err
	}
	file := SoundFile{Write: func(w io.Writer) error { _, err := m.WriteTo(w); return err }}
	if ps.Song.Beats.Empty() {
		file.Lines = append(file.Lines, "the song has no beat map: its tempo stands at 120")
	}
	if m.Left > 0 {
		file.Lines = append(file.Lines, fmt.Sprintf("%d sections and markers lie before the audio, or on bars the song does not have, and are not in the file", m.Left))
	}
	return file, nil
}
