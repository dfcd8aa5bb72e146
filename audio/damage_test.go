package audio_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/audio"
	"emberbeat/audio/testsound"
	"emberbeat/timeline/testtool"
)

func TestFilesCutShort(t *testing.T) {
	for format, file := range testsound.Files(t, 60000) {
		whole, warnings := testsound.RequireBearable(t, file)
		require.EqualValues(t, 60000, whole, format)
		require.Empty(t, warnings, format)
		for cut := range 40 {
			frames, _ := testsound.RequireBearable(t, file[:len(file)*cut/40])
			require.LessOrEqual(t, frames, whole, format)
		}
		frames, warnings := testsound.RequireBearable(t, file[:len(file)/2])
		require.InDelta(t, whole/2, frames, 22000, format)
		require.NotEmpty(t, warnings, format)
	}
}

func TestFilesWithDamage(t *testing.T) {
	for _, file := range testsound.Files(t, 60000) {
		for i := range 200 {
			b := bytes.Clone(file)
			for _, v := range testsound.Noise(1+i%5, uint64(i)) {
				b[int(uint16(v))%len(b)] ^= byte(i) + 1
			}
			testsound.RequireBearable(t, b)
			head := bytes.Clone(file)
			head[i%min(len(head), 190)] ^= 1 << (i % 8)
			testsound.RequireBearable(t, head)
		}
	}
}

func TestFilesThatAreNoSound(t *testing.T) {
	dir := t.TempDir()
	put := func(name string, b []byte) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, b, 0o644))
		return path
	}
	for path, what := range map[string]string{
		filepath.Join(dir, "missing.wav"): "does not exist",
		dir:                               "is not a file",
		put("empty.mp3", nil):             "is empty (0 bytes)",
		put("text.wav", []byte("Dear all,\nthe song is in the mail.")):                                              "is a text file",
		put("utf16.wav", []byte("\xff\xfeD\x00e\x00a\x00r\x00")):                                                    "is a text file",
		put("zeros.wav", make([]byte, 5000)):                                                                        "is not a sound file",
		put("noise.mp3", testsound.WAVKind{Tag: 1, Bits: 24}.Make(44100, 1, testsound.Tones(44100, 1, 9000))[100:]): "is not a sound file",
		put("opus.ogg", []byte("OggS\x00\x02\x00\x00OpusHead")):                                                     "is an Ogg file with Opus",
		put("song.m4a", []byte("\x00\x00\x00\x20ftypM4A \x00\x00")):                                                 "is an MP4, M4A or MOV file",
		put("song.aiff", []byte("FORM\x00\x00\x00\x20AIFFCOMM")):                                                    "is an AIFF file",
		put("tag.mp3", []byte("ID3\x03\x00\x00\x00\x00\x00\x05hello")):                                              "holds nothing but a tag",
		put("short.flac", []byte("fLaC\x00\x00\x00\x22")):                                                           "ends inside its header",
		put("short.wav", []byte("RIFF\x00\x00\x00\x00WAVEfm")):                                                      "without a fmt chunk",
	} {
		_, err := audio.Open(path)
		var fe *audio.FileError
		require.ErrorAs(t, err, &fe, path)
		require.Equal(t, path, fe.Path)
		require.Contains(t, fe.What, what, path)
		require.NotEmpty(t, fe.Want, path)
		require.Contains(t, err.Error(), path)
	}
	_, err := audio.Open(filepath.Join(dir, "missing.wav"))
	require.ErrorIs(t, err, os.ErrNotExist)
}

func TestContentNotNameTellsTheFormat(t *testing.T) {
	for format, file := range testsound.Files(t, 60000) {
		path := filepath.Join(t.TempDir(), "song.doc")
		require.NoError(t, os.WriteFile(path, file, 0o644))
		in, _ := testsound.ByUs(t, path)
		require.Equal(t, format, in.Format)
	}
}

func TestRunStopsWhenToldTo(t *testing.T) {
	b := testsound.WAVKind{Tag: 1, Bits: 16}.Make(44100, 2, testsound.Tones(44100, 2, 44100*10))
	src, err := testsound.Open(b)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	blocks := 0
	err = audio.Run(ctx, src, 0, func([]float32) error {
		if blocks++; blocks == 3 {
			cancel()
		}
		return nil
	})
	require.ErrorIs(t, err, context.Canceled)
	require.Equal(t, 3, blocks)

	mine := errors.New("mine")
	require.ErrorIs(t, audio.Run(context.Background(), src, 10, func([]float32) error { return mine }), mine)
}

func TestOneReadingFeedsAll(t *testing.T) {
	path, samples := testsound.WriteClicked(t, 44100, 2, 50000)
	src, err := audio.Open(path)
	require.NoError(t, err)
	pcm, peaks := audio.NewPCM(src), audio.NewBuilder(44100, 2)
	loud, sum := audio.NewLoudness(44100, 2), audio.NewPCMHash(44100, 2)
	var reports []int64
	progress := audio.Progress(src, func(done, total int64) {
		require.EqualValues(t, 50000, total)
		reports = append(reports, done)
	})
	require.NoError(t, audio.Run(context.Background(), src, 0, pcm.Write, peaks.Write, loud.Write, sum.Write, progress))
	require.Equal(t, samples, pcm.Samples)
	require.EqualValues(t, 50000, peaks.Finish().Frames)
	require.Equal(t, 11, loud.Steps())
	require.EqualValues(t, 50000, reports[len(reports)-1])
	id, err := audio.Identify(context.Background(), path, nil)
	require.NoError(t, err)
	require.Equal(t, id.PCMHash, sum.Sum())
}

// Once a decoder has its buffers, reading allocates nothing.
func TestReadingAllocatesNothing(t *testing.T) {
	for format, file := range testsound.Files(t, 600000) {
		src, err := testsound.Open(file)
		require.NoError(t, err)
		block := make([]float32, 2*1000)
		read := func() {
			if n, err := src.Read(block); n != 1000 || err != nil {
				panic("short read")
			}
		}
		for range 350 {
			read()
		}
		require.Zero(t, testing.AllocsPerRun(200, read), format)
	}
}

// One pass over four minutes of MP3, as when a song is added, without the ear.
func BenchmarkOneReadingOfFourMinutes(b *testing.B) {
	path, _ := testsound.LAME(b, 44100, 2, 240*44100, "-b", "192")
	for b.Loop() {
		src, err := audio.Open(path)
		require.NoError(b, err)
		pcm, peaks := audio.NewPCM(src), audio.NewBuilder(44100, 2)
		loud, sum := audio.NewLoudness(44100, 2), audio.NewPCMHash(44100, 2)
		require.NoError(b, audio.Run(context.Background(), src, 0, pcm.Write, peaks.Write, loud.Write, sum.Write))
		require.Len(b, pcm.Samples, 2*240*44100)
		require.NoError(b, src.Close())
	}
}

func TestIdentity(t *testing.T) {
	testtool.Need(t, "flac")
	wav, samples := testsound.WriteClicked(t, 48000, 2, 30000)
	flac, wide, other := wav[:len(wav)-3]+"flac", wav+"24.wav", wav+"other.wav"
	testsound.Output(t, "flac", "-s", "-o", flac, wav)
	exact := make([]float64, len(samples))
	for i, v := range samples {
		exact[i] = float64(v) / (1 << 15) * (1 << 23) / (1<<23 - 1)
	}
	require.NoError(t, os.WriteFile(wide, testsound.WAVKind{Tag: 1, Bits: 24, Extra: true}.Make(48000, 2, exact), 0o644))
	samples[777]++
	require.NoError(t, testsound.WriteWAV16(other, 48000, 2, samples))

	identify := func(path string) audio.Ident {
		id, err := audio.Identify(context.Background(), path, nil)
		require.NoError(t, err)
		require.EqualValues(t, 30000, id.Frames)
		require.Equal(t, 48000, id.Rate)
		require.Equal(t, 2, id.Channels)
		return id
	}
	a := identify(wav)
	for _, path := range []string{flac, wide} {
		b := identify(path)
		require.Equal(t, a.PCMHash, b.PCMHash, "the same music")
		require.NotEqual(t, a.FileHash, b.FileHash, "in another file")
	}
	require.NotEqual(t, a.PCMHash, identify(other).PCMHash, "one sample differs")
	sum, err := audio.HashFile(context.Background(), wav)
	require.NoError(t, err)
	require.Equal(t, a.FileHash, sum)

	gone, cancel := context.WithTimeout(context.Background(), -time.Second)
	defer cancel()
	_, err = audio.Identify(gone, wav, nil)
	require.ErrorIs(t, err, context.DeadlineExceeded)
	_, err = audio.HashFile(gone, wav)
	require.ErrorIs(t, err, context.DeadlineExceeded)
}

func TestToPCM(t *testing.T) {
	for v := -32768; v <= 32767; v++ {
		if got := audio.ToPCM(float32(v) / (1 << 15)); int(got) != v {
			t.Fatalf("%d comes back as %d", v, got)
		}
	}
	for v, want := range map[float32]int16{1: 32767, 2: 32767, -1.5: -32768, 0.5 / (1 << 15): 0, 1.5 / (1 << 15): 2, 2.6 / (1 << 15): 3} {
		require.Equal(t, want, audio.ToPCM(v), "%g", v)
	}
}

func FuzzWAV(f *testing.F) {
	testsound.Seeds(f, audio.WAV)
	f.Fuzz(func(t *testing.T, b []byte) { testsound.RequireBearable(t, b) })
}

// The checksums of pages are put right, so that damage reaches what lies below.
func FuzzOgg(f *testing.F) {
	testsound.Seeds(f, audio.OGG)
	f.Fuzz(func(t *testing.T, b []byte) {
		testsound.RequireBearable(t, b)
		audio.RepairOgg(b)
		testsound.RequireBearable(t, b)
	})
}
