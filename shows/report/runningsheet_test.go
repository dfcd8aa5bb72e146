package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

// The flame that hits at the start of the chorus is commanded before it, so that
// going on there does without it; bar 1 lies at the start of the audio.
func TestRunningSheet(t *testing.T) {
	s, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
		head := headOf(t, d, "ember")
		head.Audio = timeline.Audio{Path: "audio/ember mix.wav", FileHash: "0123456789abcdef", Rate: 48000, Frames: 48000 * 60}
		d.Put("", head)
		for id, at := range map[timeline.ID]timeline.Time{"verse": 10, "chorus": 20, "bridge": 30} {
			d.Put("ember", &timeline.Section{Base: timeline.Base{ID: id}, Name: string(id), At: timeline.AtTime(at * timeline.Second)})
		}
		return nil
	})
	require.NoError(t, err)
	run, err := NewRunningSheet(timeline.Compile(s, nil), Filter{})
	require.NoError(t, err)
	g := run.Songs[0]
	require.Equal(t, "ember mix.wav", g.File)
	require.Equal(t, "01234567", g.Hash)
	require.Equal(t, "01:00:00:00", g.BarOne)
	require.Equal(t, "00:59:55:00", g.PreRoll)
	var rows [][4]string
	for _, r := range g.Sections {
		rows = append(rows, [4]string{r.Name, strings.Join(r.Open, "; "), strings.Join(r.Arms, "; "), r.ReEntry})
	}
	require.Equal(t, [][4]string{
		{"start", "", "", "01:00:10:00 verse"},
		{"verse", "", "arm of bar 1 up 01:00:18:00", "01:00:20:00 chorus, without 1 hit"},
		{"chorus", "flame 1 until 01:00:20:16; arm of bar 1 until 01:00:22:01", "arm of bar 1 down 01:00:22:01", "01:00:30:00 bridge"},
		{"bridge", "", "arm of bar 1 up 01:00:40:00", ""},
	}, rows)
	require.Equal(t, 3, g.Sections[0].Commands)
	require.Empty(t, run.Songs[1].BarOne, "no beat map")
}

// headOf gives a copy of a song's record to be changed.
func headOf(t *testing.T, d *timeline.Draft, id timeline.ID) *timeline.SongHead {
	t.Helper()
	g := d.Show().Song(id)
	require.NotNil(t, g)
	head := g.SongHead
	return &head
}
