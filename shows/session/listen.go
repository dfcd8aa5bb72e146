package session

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"emberbeat/audio"
	"emberbeat/audio/ear"
	"emberbeat/audio/ltc"
	"emberbeat/audio/match"
)

// Heard is what one recording is and what the ear made of it.
type Heard struct {
	Ident    audio.Ident
	Peaks    *audio.Pyramid
	Analysis *ear.Analysis
	Timecode []ltc.Found // channels that hold timecode, which were not listened to
	Warnings []string    // what was found wrong with the file and read around, in whole sentences
}

// heardVersion changes when an entry of the cache other than the analysis would
// be read differently.
const heardVersion = 2

// Listen decodes the recording at path once for all of Heard, or takes it from
// the cache. progress, which may be nil, hears what part is done, 0 to 1.
// Errors are *audio.FileError, or ctx.Err().
func Listen(ctx context.Context, cache *audio.Cache, path string, locks ear.Locks, progress func(done float64)) (*Heard, error) {
	return ListenTo(ctx, cache, path, nil, locks, progress)
}

// ListenTo is Listen to some channels alone, counted from 1; none are all. Those
// that hold timecode are never listened to.
func ListenTo(ctx context.Context, cache *audio.Cache, path string, wanted []int, locks ear.Locks, progress func(done float64)) (*Heard, error) {
	d := decoding{path: path, wanted: wanted, locks: locks}
	return d.listen(ctx, cache, progress)
}

// ListenToMatch is ListenTo, and gives the recording for matching as well, of the same
// decoding where it is not in the cache. What of it is compared is there; Match reads
// the sound again. progress may be nil. Errors are *audio.FileError, also for what
// cannot be matched, or ctx.Err().
func ListenToMatch(ctx context.Context, cache *audio.Cache, path string, wanted []int, progress func(done float64)) (*Heard, *match.Side, error) {
	d := decoding{path: path, wanted: wanted, match: true}
	h, err := d.listen(ctx, cache, progress)
	if err == nil && d.side == nil { // it was in the cache
		d.side, err = match.Read(ctx, opener(path, d.music(h)), match.Options{})
	}
	var of *audio.FileError
	if errors.As(err, &of) && of.Path == "" {
		of.Path = path
	}
	if err != nil {
		return nil, nil, err
	}
	d.side.Compact()
	return h, d.side, nil
}

// music gives the channels, counted from 1, that are wanted and hold no timecode; nil is all.
func (d *decoding) music(h *Heard) []int {
	heard := ltc.Heard(h.Ident.Channels, d.wanted, h.Timecode)
	if len(heard) == h.Ident.Channels {
		return nil
	}
	return append([]int{}, heard...) // none is not all
}

// decoding is one recording while it is read.
type decoding struct {
	path   string
	wanted []int // channels, counted from 1; none are all
	locks  ear.Locks
	match  bool        // the side is asked for
	side   *match.Side // nil until it was read
}

func (d *decoding) listen(ctx context.Context, cache *audio.Cache, progress func(float64)) (*Heard, error) {
	hash, err := audio.HashFile(ctx, d.path)
	if err != nil {
		return nil, err
	}
	c := heardCache{cache, hash, d.locks, d.wanted}
	if h := c.get(); h != nil {
		if progress != nil {
			progress(1)
		}
		return h, nil
	}
	h, err := d.decode(ctx, progress)
	if err != nil {
		return nil, err
	}
	h.Ident.FileHash = hash
	c.put(h)
	return h, nil
}

// decode reads a recording to its end and makes everything of it on the way. One
// of which not all channels are heard, since they are not wanted or hold timecode,
// is read again: the ear hears the others alone.
func (d *decoding) decode(ctx context.Context, progress func(float64)) (*Heard, error) {
	h, err := d.decodeOf(ctx, nil, progress)
	if err != nil {
		return nil, err
	}
	heard := d.music(h)
	if heard == nil {
		return h, nil
	}
	music, err := d.decodeOf(ctx, &heard, nil)
	if err != nil {
		return nil, err
	}
	h.Peaks, h.Analysis = music.Peaks, music.Analysis
	for _, f := range h.Timecode {
		h.Warnings = append(h.Warnings, f.String())
	}
	return h, nil
}

// decodeOf reads a recording; the channels that are not heard are silent. nil
// hears all, and looks for timecode.
func (d *decoding) decodeOf(ctx context.Context, heard *[]int, progress func(float64)) (*Heard, error) {
	src, err := audio.Open(d.path)
	if err != nil {
		return nil, err
	}
	defer src.Close()
	in := src.Info()
	sum := audio.NewPCMHash(in.Rate, in.Channels)
	peaks := audio.NewBuilder(in.Rate, in.Channels)
	codes := ltc.NewFinder(in.Rate, in.Channels)
	tee := &teeSource{Source: src, channels: in.Channels, sinks: []func([]float32) error{sum.Write, peaks.Write, codes.Write}}
	if heard != nil {
		tee.sinks = []func([]float32) error{only(*heard, in.Channels), peaks.Write}
	}
	var side *match.Reader
	if d.match {
		var music []int
		if heard != nil {
			music = *heard
		}
		if side, err = match.NewReader(in, opener(d.path, music)); err != nil {
			return nil, err
		}
		tee.sinks = append(tee.sinks, side.Write)
	}
	a, err := ear.Analyse(ctx, tee, ear.Options{Locks: d.locks, Progress: progress})
	if err != nil {
		return nil, err
	}
	if side != nil {
		d.side = side.Finish()
	}
	return &Heard{
		Timecode: codes.Close(),
		Ident:    audio.Ident{PCMHash: sum.Sum(), Rate: in.Rate, Channels: in.Channels, Frames: tee.frames},
		Peaks:    peaks.Finish(),
		Analysis: a,
		Warnings: src.Info().Warnings,
	}, nil
}

// only silences the channels that are not heard, counted from 1, in place.
func only(heard []int, channels int) func([]float32) error {
	return func(frames []float32) error {
		for i := range frames {
			if !slices.Contains(heard, i%channels+1) {
				frames[i] = 0
			}
		}
		return nil
	}
}

// teeSource hands what is read to others as well.
type teeSource struct {
	audio.Source
	channels int
	sinks    []func([]float32) error
	frames   int64
	closed   func() // if not nil, is told that the source is about to close
}

// Close tells closed and closes the source.
func (t *teeSource) Close() error {
	if t.closed != nil {
		t.closed()
	}
	return t.Source.Close()
}

// Read reads on and feeds the sinks.
func (t *teeSource) Read(dst []float32) (int, error) {
	n, err := t.Source.Read(dst)
	t.frames += int64(n)
	for _, sink := range t.sinks {
		if n > 0 {
			if err := sink(dst[:n*t.channels]); err != nil {
				return n, err
			}
		}
	}
	return n, err
}

// heardCache keeps Heard under the hash of the recording's file.
type heardCache struct {
	*audio.Cache
	hash   string
	locks  ear.Locks
	wanted []int // channels that are heard; none are all but those that hold timecode
}

// Kinds of entries in the cache.
const (
	identEntry    = "ident"
	warningsEntry = "warnings"
	timecodeEntry = "timecode"
	peaksEntry    = "peaks heard" // of what is heard
	analysisEntry = "analysis"
)

func (c heardCache) identKey() audio.Key {
	return audio.Key{Hash: c.hash, Kind: identEntry, Version: heardVersion}
}

func (c heardCache) warningsKey() audio.Key {
	return audio.Key{Hash: c.hash, Kind: warningsEntry, Version: heardVersion}
}

func (c heardCache) timecodeKey() audio.Key {
	return audio.Key{Hash: c.hash, Kind: timecodeEntry, Version: heardVersion}
}

func (c heardCache) peaksKey() audio.Key {
	return audio.Key{Hash: c.hash, Kind: c.ofWanted(peaksEntry), Version: audio.PyramidVersion}
}

func (c heardCache) analysisKey() audio.Key {
	kind := c.ofWanted(analysisEntry)
	if b, err := json.Marshal(c.locks); err == nil {
		kind = fmt.Sprintf("%s %s", kind, b)
	}
	return audio.Key{Hash: c.hash, Kind: kind, Version: ear.Version}
}

// putTimecode caches which channels hold timecode.
func (c heardCache) putTimecode(found []ltc.Found) {
	if b, err := json.Marshal(found); err == nil {
		_ = c.Put(c.timecodeKey(), b)
	}
}

// ofWanted names an entry after the channels that it was made of.
func (c heardCache) ofWanted(entry string) string {
	if len(c.wanted) == 0 {
		return entry
	}
	return fmt.Sprintf("%s of channels %d", entry, c.wanted)
}

// timecode gives the channels that hold timecode, false where nobody has looked.
func (c heardCache) timecode() (found []ltc.Found, known bool) {
	b, ok := c.Get(c.timecodeKey())
	return found, ok && json.Unmarshal(b, &found) == nil
}

// get gives what is cached, nil unless all of it is.
func (c heardCache) get() *Heard {
	h := &Heard{Analysis: &ear.Analysis{}}
	ident, ok1 := c.Get(c.identKey())
	analysis, ok2 := c.Get(c.analysisKey())
	h.Peaks = c.peaks()
	warnings, ok3 := c.Get(c.warningsKey())
	timecode, ok4 := c.timecode()
	if !ok1 || !ok2 || !ok3 || !ok4 || h.Peaks == nil || json.Unmarshal(ident, &h.Ident) != nil || json.Unmarshal(analysis, h.Analysis) != nil ||
		json.Unmarshal(warnings, &h.Warnings) != nil {
		return nil
	}
	h.Timecode = timecode
	return h
}

func (c heardCache) peaks() *audio.Pyramid {
	b, ok := c.Get(c.peaksKey())
	if !ok {
		return nil
	}
	p, err := audio.DecodePyramid(b)
	if err != nil {
		return nil
	}
	return p
}

// put caches. Where that fails it is made again the next time.
func (c heardCache) put(h *Heard) {
	if b, err := json.Marshal(h.Ident); err == nil {
		_ = c.Put(c.identKey(), b)
	}
	if b, err := json.Marshal(h.Warnings); err == nil {
		_ = c.Put(c.warningsKey(), b)
	}
	c.putTimecode(h.Timecode)
	if b, err := json.Marshal(h.Analysis); err == nil {
		_ = c.Put(c.analysisKey(), b)
	}
	_ = c.Put(c.peaksKey(), h.Peaks.Encode())
}
