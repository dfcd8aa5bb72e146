package sheet

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

func cueListOf(t *testing.T, night string, f report.Filter) *report.CueList {
	t.Helper()
	s := testshow.Small(t)
	l, err := report.NewCueList(timeline.Compile(s, s.Night(timeline.ID(night))), f)
	require.NoError(t, err)
	return l
}

func TestCueListFiles(t *testing.T) {
	for _, c := range []struct {
		file  string
		write func(*report.CueList, *bytes.Buffer) error
	}{
		{"cuelist.csv", func(l *report.CueList, b *bytes.Buffer) error { return cueList{CueList: l}.WriteCSV(b) }},
		{"cuelist.json", func(l *report.CueList, b *bytes.Buffer) error { return l.WriteJSON(b) }},
		{"cuelist.txt", func(l *report.CueList, b *bytes.Buffer) error { return l.WriteText(b) }},
	} {
		var b bytes.Buffer
		require.NoError(t, c.write(cueListOf(t, "n1", report.Filter{}), &b))
		testshow.Golden(t, c.file, b.Bytes())
	}
}

// A cue list that was already short of time before the audio says so without a
// sign, and JSON keeps the number.
func TestCommandBeforeTheAudio(t *testing.T) {
	l := cueListOf(t, "", report.Filter{Bars: &report.Bars{From: 0, To: 0}})
	require.Len(t, l.Lines, 1)
	require.Equal(t, "00:59:57:22", l.Lines[0].Timecode) // 1:00:00:00 - 2.12 s = 53 frames of 40 ms earlier
	require.Equal(t, "-2.1200", l.Lines[0].Command.String())
	require.Contains(t, cueColumns.csvCells(&l.Lines[0]), "before 2.1200")
}

func TestCueListOfOneSong(t *testing.T) {
	l := cueListOf(t, "", report.Filter{Song: "tide"})
	require.Len(t, l.Songs, 1)
	require.Len(t, l.Lines, 1)
	require.Equal(t, 1, l.Lines[0].Number)
	require.Equal(t, 2, l.Lines[0].SongNumber)
	require.Len(t, l.Lost, 1)
	require.Equal(t, [4]string{"tide", "q2", string(timeline.LostBeats), "2.1"}, [4]string{l.Lost[0].Song, l.Lost[0].Cue, l.Lost[0].Reason, l.Lost[0].Name})
	require.Equal(t, "cue at 2.1: "+string(timeline.LostBeats)+" (2.1)", l.Lost[0].Said())
}

// The keys of a command that other programs rely on.
func TestCommandKeys(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, cueListOf(t, "n1", report.Filter{}).WriteJSON(&b))
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
	s := testshow.Small(t)
	head := *s.Head
	head.Rate = timeline.Rate2997DF
	s, err := s.Edit(func(d *timeline.Draft) error { d.Put("", &head); return nil })
	require.NoError(t, err)
	_, err = report.NewCueList(timeline.Compile(s, nil), report.Filter{})
	require.ErrorContains(t, err, `song "Tide": its start: timecode 02:01:00:00 does not exist`)
}

// Derived: 25 fps, song start 01:00:00:00, hit at
// 42.480 s, lead 850 ms: command at 41.630 s, label 01:00:41:16, 10 ms late.
func TestCommandTimeOfOneCue(t *testing.T) {
	s := testshow.Small(t)
	jet := *s.Stock.Article("jet")
	jet.Lead = timeline.FromMillis(850)
	s, err := s.Edit(func(d *timeline.Draft) error {
		d.Put("", &jet)
		d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: "x"}, Lane: "ljet", At: timeline.AtTime(timeline.FromMillis(42480))})
		return nil
	})
	require.NoError(t, err)
	l, err := report.NewCueList(timeline.Compile(s, nil), report.Filter{})
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
