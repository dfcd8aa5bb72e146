package main

import (
	"context"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/audio/testsound"
	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// clickTimes gives where the clicks of the test's song are, in seconds: 0.6 to 0.9 s apart.
func clickTimes() []float64 {
	var list []float64
	for at, i := 1.0, 0; at < 35; i++ {
		list = append(list, at)
		at += 0.6 + 0.1*float64(i*i%4)
	}
	return list
}

// clickShow makes a show with one song of nothing but clicks, sharp at their beginning.
func clickShow(t *testing.T, home string) string {
	t.Helper()
	pcm := make([]int16, 37*recordRate)
	for _, at := range clickTimes() {
		for i, from := 0, int(math.Round(at*recordRate)); i < recordRate/200; i++ {
			pcm[from+i] = int16(20000 * math.Cos(float64(i)*2*math.Pi*2000/recordRate))
		}
	}
	wav, dir := filepath.Join(home, "clicks.wav"), filepath.Join(home, "show")
	require.NoError(t, testsound.WriteWAV16(wav, recordRate, 1, pcm))
	require.NoError(t, shows.Create(dir, timeline.NewShow(shows.NewID(), "Clicks", timeline.Rate25)))
	s, err := session.Open(dir, session.Options{})
	require.NoError(t, err)
	_, err = s.AddSong(context.Background(), wav, "Clicks", nil)
	require.NoError(t, err)
	require.NoError(t, s.Save())
	require.NoError(t, s.Close())
	return dir
}

// drawn is a place of the playhead and when it was drawn.
type drawn struct{ song, clock float64 } // seconds

var heardLine = regexp.MustCompile(`(?m)^heard at=([0-9.]+) clock=(\d+)$`)

func drawnIn(t *testing.T, log string) []drawn {
	t.Helper()
	var list []drawn
	for _, m := range heardLine.FindAllStringSubmatch(log, -1) {
		at, err := strconv.ParseFloat(m[1], 64)
		require.NoError(t, err)
		clock, err := strconv.ParseInt(m[2], 10, 64)
		require.NoError(t, err)
		list = append(list, drawn{at, seconds(time.Unix(0, clock))})
	}
	return list
}

// begun keeps seconds small enough for a float64 to hold microseconds; it is without the monotonic clock, which the window cannot tell.
var begun = time.Now().Round(0)

func seconds(t time.Time) float64 { return t.Sub(begun).Seconds() }

// place gives where the playhead was at a moment, between two drawings; false where it was not drawn around it.
func place(list []drawn, clock float64) (float64, bool) {
	i, _ := slices.BinarySearchFunc(list, clock, func(d drawn, c float64) int {
		if d.clock < c {
			return -1
		}
		return 1
	})
	if i == 0 || i == len(list) {
		return 0, false
	}
	a, b := list[i-1], list[i]
	return a.song + (b.song-a.song)*(clock-a.clock)/(b.clock-a.clock), true
}

// ahead gives, for each click found in the recording, how far ahead of it the playhead was, in ms.
func ahead(r *recorder, list []drawn) []float64 {
	var off []float64
	for _, onset := range r.onsets() {
		p, ok := place(list, seconds(r.when(onset)))
		if !ok {
			continue
		}
		nearest := math.Inf(1)
		for _, at := range clickTimes() {
			if d := p - at; math.Abs(d) < math.Abs(nearest) {
				nearest = d
			}
		}
		off = append(off, 1000*nearest)
	}
	return off
}

// playClicks lets the window play the clicks into a recorder and gives how far ahead of each its playhead was, by an output delay in ms.
func playClicks(t *testing.T, delay int) []float64 {
	t.Helper()
	d := newDesk(t)
	r := startRecorder(t)
	dir := clickShow(t, d.home)
	d.env = append(append(d.env, r.env...), "HOME="+d.home)
	state := filepath.Join(d.home, "state")
	require.NoError(t, os.MkdirAll(state, 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(state, "window.json"), []byte(`{"delay_ms":`+strconv.Itoa(delay)+`}`), 0o600))
	log := d.run(`
		log sound.ready
		log checked
		key space
		log playing.*silent=false
		log heard.at=36
		alive
	`, program, dir)
	r.stop()
	list := drawnIn(t, log)
	off := ahead(r, list)
	t.Logf("%d clicks played, %d found in the recording, the playhead drawn %d times", len(clickTimes()), len(r.onsets()), len(list))
	return off
}

// report logs median and worst of the distances, without those of the first seconds, in which a sound server starts up.
func report(t *testing.T, delay int, off []float64) (median float64) {
	t.Helper()
	const starting = 3 // clicks
	require.Greater(t, len(off), len(clickTimes())*9/10, "most clicks must be found")
	t.Logf("output delay %d ms: the first %d clicks %.1f ms", delay, starting, off[:starting])
	rest := slices.Clone(off[starting:])
	slices.Sort(rest)
	median = rest[len(rest)/2]
	spread := max(median-rest[0], rest[len(rest)-1]-median)
	near := 0
	for _, off := range rest {
		if math.Abs(off-median) <= 10 {
			near++
		}
	}
	t.Logf("output delay %d ms: playhead ahead of the sound by %.1f ms (median), %.1f to %.1f ms; at most %.1f ms from the median, %d of %d within 10 ms of it",
		delay, median, rest[0], rest[len(rest)-1], spread, near, len(rest))
	return median
}

// The playhead is compared with the sound that a device has played: first as it is, then with the output delay set to what was found, as a
// user would set it. The figures are the machine's; EMBERBEAT_EVAL_PLAYHEAD=1 asks for them.
func TestPlayheadAgainstRecording(t *testing.T) {
	if os.Getenv("EMBERBEAT_EVAL_PLAYHEAD") != "1" {
		t.Skip("takes more than a minute: make eval-playhead")
	}
	for _, tool := range []string{"pulseaudio", "parec"} {
		if _, err := exec.LookPath(tool); err != nil {
			missing(t, tool)
		}
	}
	off := playClicks(t, 0)
	median := report(t, 0, off)
	if delay := int(math.Round(median)); delay > 0 {
		report(t, delay, playClicks(t, delay))
	}
}
