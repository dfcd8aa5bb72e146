package sheet

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares with a file in testdata that is read in review.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), string(got))
}

func cueListOf(t *testing.T, night string, f Filter) *CueList {
	t.Helper()
	s := small(t)
	l, err := NewCueList(timeline.Compile(s, s.Night(timeline.ID(night))), f)
	require.NoError(t, err)
	return l
}

func TestCueListFiles(t *testing.T) {
	for _, c := range []struct {
		file  string
		write func(*CueList, *bytes.Buffer) error
	}{
		{"cuelist.csv", func(l *CueList, b *bytes.Buffer) error { return l.WriteCSV(b) }},
		{"cuelist.json", func(l *CueList, b *bytes.Buffer) error { return l.WriteJSON(b) }},
		{"cuelist.txt", func(l *CueList, b *bytes.Buffer) error { return l.WriteText(b) }},
	} {
		var b bytes.Buffer
		require.NoError(t, c.write(cueListOf(t, "n1", Filter{}), &b))
		golden(t, c.file, b.Bytes())
	}
}

// A cue list that was already short of time before the audio says so without a
// sign, and JSON keeps the number.
func TestCommandBeforeTheAudio(t *testing.T) {
	l := cueListOf(t, "", Filter{Bars: &Bars{0, 0}})
	require.Len(t, l.Lines, 1)
	require.Equal(t, "00:59:57:22", l.Lines[0].Timecode) // 1:00:00:00 - 2.12 s = 53 frames of 40 ms earlier
	require.Equal(t, "-2.1200", l.Lines[0].Command.String())
	require.Contains(t, cueColumns.csvCells(&l.Lines[0]), "before 2.1200")
}

func TestCueListOfOneSong(t *testing.T) {
	l := cueListOf(t, "", Filter{Song: "tide"})
	require.Len(t, l.Songs, 1)
	require.Len(t, l.Lines, 1)
	require.Equal(t, 1, l.Lines[0].Number)
	require.Equal(t, 2, l.Lines[0].SongNumber)
	require.Equal(t, []Lost{{"tide", "q2", string(timeline.LostBeats), "2.1"}}, l.Lost)
}

// The keys of a command that other programs rely on.
func TestCommandKeys(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, cueListOf(t, "n1", Filter{}).WriteJSON(&b))
	var list struct {
		Commands []map[string]any
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &list))
	require.Len(t, list.Commands, 8)
	for _, c := range list.Commands {
		for _, key := range []string{"number", "song", "song_number", "song_title", "action", "timecode", "residual", "bar", "hit_timecode",
			"hit", "command", "lead", "open", "outputs", "cue", "lane", "lane_name"} {
			require.Contains(t, c, key)
		}
	}
}

func TestCueListRefusesAStartThatIsNoLabel(t *testing.T) {
	s := small(t)
	head := *s.Head
	head.Rate = timeline.Rate2997DF
	s, err := s.Edit(func(d *timeline.Draft) error { d.Put("", &head); return nil })
	require.NoError(t, err)
	_, err = NewCueList(timeline.Compile(s, nil), Filter{})
	require.ErrorContains(t, err, `song "Tide": its start: timecode 02:01:00:00 does not exist`)
}

// trade-facts, section 1, check D: 25 fps, song start 01:00:00:00, hit at
// 42.480 s, lead 850 ms: command at 41.630 s, label 01:00:41:16, 10 ms late.
func TestPublishedTimingExample(t *testing.T) {
	s := small(t)
	jet := *s.Stock.Article("jet")
	jet.Lead = timeline.FromMillis(850)
	s, err := s.Edit(func(d *timeline.Draft) error {
		d.Put("", &jet)
		d.Put("ember", &timeline.Cue{Base: base{ID: "x"}, Lane: "ljet", At: timeline.AtTime(timeline.FromMillis(42480))})
		return nil
	})
	require.NoError(t, err)
	l, err := NewCueList(timeline.Compile(s, nil), Filter{})
	require.NoError(t, err)
	for _, line := range l.Lines {
		if line.Cue == "x" {
			require.Equal(t, "01:00:41:16", line.Timecode)
			require.Equal(t, "01:00:42:12", line.HitTimecode)
			require.Equal(t, "0.0100", line.Residual.String())
			require.Equal(t, "late 10.00", cueColumns.csvCells(&line)[5])
			return
		}
	}
	t.Fatal("the cue has no command")
}

func TestLevelValues(t *testing.T) {
	for _, c := range []struct{ from, to, percent, want int }{
		{255, 255, 100, 255}, {255, 255, 50, 128}, {255, 255, 1, 3}, {20, 220, 100, 220}, {20, 220, 0, 20}, {20, 220, 50, 120}, {65535, 65535, 50, 32768},
	} {
		require.Equal(t, c.want, levelValue(timeline.Slot{From: c.from, To: c.to}, c.percent), "%+v", c)
	}
}

// Two networks have a universe 1 each: then a slot's label names its network.
func TestLabelsOfSeveralNetworks(t *testing.T) {
	s := small(t)
	d := *s.Rig.Device("d1")
	d.Space = "stage left"
	s, err := s.Edit(func(draft *timeline.Draft) error {
		draft.Put("", &d, &timeline.Device{Base: base{ID: "d2"}, Name: "other", Type: "bar", Space: "truss"})
		return nil
	})
	require.NoError(t, err)
	l, err := NewCueList(timeline.Compile(s, nil), Filter{})
	require.NoError(t, err)
	require.Equal(t, "DMX 1.45 of stage left", l.Lines[4].Outputs[0].Label)
	require.Equal(t, "DMX 1.47 of stage left", l.Lines[3].Outputs[0].Label)
}

// At every rate each label stands for the frame nearest to its exact command
// time, residual included.
func TestLabelsAndResidualsAgree(t *testing.T) {
	base := small(t)
	for _, rate := range timeline.Rates() {
		s, err := base.Edit(func(d *timeline.Draft) error {
			return d.Set(timeline.Ref{Kind: "song", ID: "tide"}, "start", timeline.Value{Text: "02:00:00:00"})
		})
		require.NoError(t, err)
		s, err = AtRate(s, nil, rate)
		require.NoError(t, err)
		l, err := NewCueList(timeline.Compile(s, nil), Filter{})
		require.NoError(t, err)
		for _, line := range l.Lines {
			tc, err := timeline.ParseTimecode(line.Timecode)
			require.NoError(t, err)
			frame, err := rate.Frame(tc)
			require.NoError(t, err)
			start, err := rate.Frame(s.Song(timeline.ID(line.Song)).Start)
			require.NoError(t, err)
			require.Equal(t, rate.At(frame)-rate.At(start), timeline.Time(line.Command+line.Residual), "%s at %s", line.Timecode, rate)
			if line.Action == "hit" {
				require.LessOrEqual(t, max(line.Residual, -line.Residual), Seconds(rate.FrameTicks()/2))
			}
		}
	}
}
