package timeline_test

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"emberbeat/timeline"

	"emberbeat/timeline/testtool"
	"github.com/stretchr/testify/require"
)

func mustTimecode(t *testing.T, s string) timeline.Timecode {
	tc, err := timeline.ParseTimecode(s)
	require.NoError(t, err)
	return tc
}

// Derived by hand from the counting rule of SMPTE ST 12-1: with M minutes
// passed, 2*(M - M/10) frame numbers have been dropped. The rule is from
// memory; TestDayOfLabelsAgreesWithNpm confirms it for every frame of the day.
func TestDropFrameCounting(t *testing.T) {
	for label, frame := range map[string]int64{
		"00:00:00;00": 0,
		"00:00:59;29": 1799,
		"00:01:00;02": 1800,
		"00:02:00;02": 3598,
		"00:09:59;29": 17981,
		"00:10:00;00": 17982,
		"01:00:00;00": 107892,
		"10:00:00;00": 1078920,
		"23:59:59;29": 2589407,
	} {
		got, err := timeline.Rate2997DF.Frame(mustTimecode(t, label))
		require.NoError(t, err, label)
		require.Equal(t, frame, got, label)
		require.Equal(t, label, timeline.Rate2997DF.Label(frame))
	}
}

// Derived: 107,892 frames of 1001/30000 s, and 108,000 without dropping.
func TestHourOfLabelsOnTheClock(t *testing.T) {
	hour := timeline.Timecode{H: 1}
	for rate, text := range map[timeline.Rate]string{
		timeline.Rate23976:   "3603.6000",
		timeline.Rate24:      "3600.0000",
		timeline.Rate25:      "3600.0000",
		timeline.Rate2997DF:  "3599.9964",
		timeline.Rate2997NDF: "3603.6000",
		timeline.Rate30:      "3600.0000",
	} {
		frame, err := rate.Frame(hour)
		require.NoError(t, err)
		require.Equal(t, text, rate.At(frame).String(), rate)
	}
	// Frame lengths in ms, derived.
	require.Equal(t, "0.041667", timeline.Rate24.FrameTicks().Text(6))
	require.Equal(t, "0.040000", timeline.Rate25.FrameTicks().Text(6))
	require.Equal(t, "0.033367", timeline.Rate2997DF.FrameTicks().Text(6))
	require.Equal(t, "0.033333", timeline.Rate30.FrameTicks().Text(6))
}

func TestDroppedLabels(t *testing.T) {
	for _, label := range []string{"00:01:00;00", "00:01:00;01", "23:59:00:01"} {
		_, err := timeline.Rate2997DF.Frame(mustTimecode(t, label))
		require.ErrorContains(t, err, "does not exist at frame rate 29.97df")
		require.ErrorContains(t, err, "the next label is "+label[:8]+";02")
		_, err = timeline.Rate2997NDF.Frame(mustTimecode(t, label))
		require.NoError(t, err)
	}
}

func TestLabelsOutOfRange(t *testing.T) {
	for _, c := range []struct {
		rate timeline.Rate
		tc   timeline.Timecode
		say  string
	}{
		{timeline.Rate25, timeline.Timecode{F: 25}, "timecode 00:00:00:25 is out of range at frame rate 25: frames run from 00 to 24, the last label is 23:59:59:24"},
		{timeline.Rate24, timeline.Timecode{F: 24}, "00 to 23"},
		{timeline.Rate2997DF, timeline.Timecode{H: 24}, "the last label is 23:59:59;29"},
		{timeline.Rate30, timeline.Timecode{M: 60}, "00:60:00:00 is out of range"},
		{timeline.Rate30, timeline.Timecode{S: 255}, "00:00:255:00 is out of range"},
	} {
		_, err := c.rate.Frame(c.tc)
		require.ErrorContains(t, err, c.say)
	}
}

func TestMidnightIsNotCrossed(t *testing.T) {
	for _, rate := range timeline.Rates() {
		for _, frame := range []int64{-1, rate.DayFrames()} {
			_, err := rate.Timecode(frame)
			require.ErrorContains(t, err, "does not cross midnight")
		}
		require.Equal(t, "before 00:00:00:00", rate.Label(-1))
	}
	require.Equal(t, "after 23:59:59:24", timeline.Rate25.Label(2160000))
	require.Equal(t, "after 23:59:59;29", timeline.Rate2997DF.Label(2589408))
}

func TestParseTimecode(t *testing.T) {
	require.Equal(t, timeline.Timecode{H: 1, M: 2, S: 3, F: 4}, mustTimecode(t, "01:02:03:04"))
	require.Equal(t, "23:59:59:29", mustTimecode(t, "23:59:59;29").String())
	for _, text := range []string{
		"", "1:02:03:04", "01:02:03", "01:02:03.04", "01;02:03:04", "01:02:03:4", "01:02:03:04:05", "24:00:00:00",
		"00:60:00:00", "00:00:60:00", "00:00:00:30", "-1:00:00:00", "+1:00:00:00", "01:02:03:04 ", "0١:00:00:0",
	} {
		_, err := timeline.ParseTimecode(text)
		require.ErrorContains(t, err, "write hh:mm:ss:ff such as 01:00:41:16", text)
	}
}

// Every frame of the day has one label, in order, and each label leads back.
func TestEveryLabelOfTheDay(t *testing.T) {
	for _, rate := range timeline.Rates() {
		before := timeline.Timecode{}
		for frame := range rate.DayFrames() {
			tc, err := rate.Timecode(frame)
			back, backErr := rate.Frame(tc)
			if err != nil || backErr != nil || back != frame {
				t.Fatalf("%s: frame %d has label %s, which is frame %d (%v, %v)", rate, frame, tc, back, err, backErr)
			}
			if frame > 0 && !isLater(tc, before) {
				t.Fatalf("%s: label %s follows %s", rate, tc, before)
			}
			before = tc
		}
	}
}

func isLater(a, b timeline.Timecode) bool {
	key := func(tc timeline.Timecode) uint32 {
		return uint32(tc.H)<<24 | uint32(tc.M)<<16 | uint32(tc.S)<<8 | uint32(tc.F)
	}
	return key(a) > key(b)
}

// Source: npm package smpte-timecode 1.3.6. It takes a rate as numerator and
// denominator with a flag for dropping, so all six rates are compared, every
// frame of the day both ways, and the labels that it refuses as well.
func TestDayOfLabelsAgreesWithNpm(t *testing.T) {
	if testing.Short() {
		t.Skip("compares 14 million labels")
	}
	dir := testtool.NPM(t, "smpte-timecode", "1.3.6")
	for _, rate := range timeline.Rates() {
		t.Run(rate.String(), func(t *testing.T) {
			t.Parallel()
			compareDay(t, rate, labelsCommand(t, dir, rate))
		})
	}
}

// labelsCommand returns the command that prints the package's labels.
func labelsCommand(t *testing.T, dir string, rate timeline.Rate) *exec.Cmd {
	script, err := filepath.Abs("testdata/labels.cjs")
	require.NoError(t, err)
	drop := 0
	if rate.Drop() {
		drop = 1
	}
	fps := framesPerSecond[rate]
	cmd := exec.Command("node", script, fps.Num().String(), fps.Denom().String(), fmt.Sprint(drop), fmt.Sprint(rate.DayFrames()))
	cmd.Env = append(os.Environ(), "NODE_PATH="+filepath.Join(dir, "node_modules"))
	cmd.Stderr = os.Stderr
	return cmd
}

func compareDay(t *testing.T, rate timeline.Rate, cmd *exec.Cmd) {
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	defer cmd.Process.Kill()
	lines := bufio.NewScanner(out)

	frame := int64(0)
	for ; lines.Scan() && lines.Text() != ""; frame++ {
		label := lines.Text()
		if ours := rate.Label(frame); ours != label {
			t.Fatalf("frame %d is %s here and %s there", frame, ours, label)
		}
		if back, err := rate.Frame(mustTimecode(t, label)); err != nil || back != frame {
			t.Fatalf("label %s is frame %d, not %d (%v)", label, back, frame, err)
		}
	}
	require.Equal(t, rate.DayFrames(), frame, "labels compared")

	var refused []string
	for lines.Scan() {
		refused = append(refused, lines.Text())
	}
	require.NoError(t, lines.Err())
	require.NoError(t, cmd.Wait())
	require.Equal(t, refusedHere(rate), refused)
}

// refusedHere returns the labels refused among the first three of each minute.
func refusedHere(rate timeline.Rate) []string {
	var refused []string
	for minute := range uint8(60) {
		for f := range uint8(3) {
			if _, err := rate.Frame(timeline.Timecode{M: minute, F: f}); err != nil {
				refused = append(refused, timeline.Timecode{M: minute, F: f}.String())
			}
		}
	}
	var day []string
	for hour := range 24 {
		for _, label := range refused {
			day = append(day, fmt.Sprintf("%02d%s", hour, label[2:]))
		}
	}
	return day
}

func FuzzParseTimecode(f *testing.F) {
	for _, s := range []string{"01:02:03:04", "23:59:59;29", "00:01:00;00", "24:00:00:00", "::::"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		tc, err := timeline.ParseTimecode(s)
		if err != nil {
			return
		}
		require.Equal(t, tc, mustTimecode(t, tc.String()))
		for _, rate := range timeline.Rates() {
			frame, err := rate.Frame(tc)
			if err != nil {
				continue
			}
			back, err := rate.Timecode(frame)
			require.NoError(t, err)
			require.Equal(t, tc, back)
			require.Equal(t, tc, mustTimecode(t, rate.Label(frame)))
		}
	})
}

// What is appended is the label, for each rate, and makes no garbage.
func TestAppendLabel(t *testing.T) {
	var room [32]byte
	for _, r := range append(timeline.Rates(), timeline.RateUnset) {
		for _, frame := range []int64{-1, 0, 1, 29, 30, 1799, 1800, 107892, r.DayFrames() - 1, r.DayFrames()} {
			require.Equal(t, "at "+r.Label(frame), string(r.AppendLabel([]byte("at "), frame)), "%s, frame %d", r, frame)
		}
	}
	require.Zero(t, testing.AllocsPerRun(10, func() { timeline.Rate25.AppendLabel(room[:0], 90000) }))
}

func TestAppendTenths(t *testing.T) {
	for _, c := range []struct {
		t    timeline.Time
		want string
	}{{0, "0.0"}, {-timeline.Second, "0.0"}, {99 * timeline.Millisecond, "0.0"}, {100 * timeline.Millisecond, "0.1"}, {1999 * timeline.Millisecond, "1.9"}, {125 * timeline.Second, "125.0"}} {
		require.Equal(t, c.want, string(c.t.AppendTenths(nil)), "%s", c.t)
	}
}
