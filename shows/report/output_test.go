package report

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

func TestLevelValues(t *testing.T) {
	for _, c := range []struct{ from, to, percent, want int }{
		{255, 255, 100, 255}, {255, 255, 50, 128}, {255, 255, 1, 3}, {20, 220, 100, 220}, {20, 220, 0, 20}, {20, 220, 50, 120}, {65535, 65535, 50, 32768},
	} {
		require.Equal(t, c.want, levelValue(timeline.Slot{From: c.from, To: c.to}, c.percent), "%+v", c)
	}
}

// Two networks have a universe 1 each: then a slot's label names its network.
func TestLabelsOfSeveralNetworks(t *testing.T) {
	s := testshow.Small(t)
	d := *s.Rig.Device("d1")
	d.Space = "stage left"
	s, err := s.Edit(func(draft *timeline.Draft) error {
		draft.Put("", &d, &timeline.Device{Base: timeline.Base{ID: "d2"}, Name: "other", Type: "bar", Space: "truss"})
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
	base := testshow.Small(t)
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
				require.LessOrEqual(t, max(line.Residual, -line.Residual), wording.Seconds(rate.FrameTicks()/2))
			}
		}
	}
}
