package report

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report/testshow"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// sectioned is the charged show with sections and a chase too fast to call.
func sectioned(t testing.TB) *timeline.Show {
	t.Helper()
	s, err := testshow.Charged(t).Edit(func(d *timeline.Draft) error {
		d.Put("ember", &timeline.Section{Base: timeline.Base{ID: "v"}, Name: "Verse", At: timeline.AtBar(timeline.BarBeat{Bar: 1})},
			&timeline.Section{Base: timeline.Base{ID: "c"}, Name: "Chorus", At: timeline.AtBar(timeline.BarBeat{Bar: 9})})
		d.Put("ember", &timeline.Marker{Base: timeline.Base{ID: "m"}, Name: "drums stop", At: timeline.AtTime(timeline.FromMillis(20100))})
		for i, at := range []int64{24000, 24500, 25000, 25500, 26500} {
			d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: timeline.ID([]string{"k1", "k2", "k3", "k4", "k5"}[i])}, Lane: "ljet", At: timeline.AtTime(timeline.FromMillis(at))})
		}
		return nil
	})
	require.NoError(t, err)
	return s
}

func TestManualGo(t *testing.T) {
	l, err := NewManualGo(timeline.Compile(sectioned(t), nil), Filter{Song: "ember"})
	require.NoError(t, err)
	require.Len(t, l.Songs, 1)
	type call struct {
		call    int
		bar     string
		reEntry bool
		missed  string
		leftOut int
	}
	var got []call
	for _, m := range l.Songs[0].Moments {
		got = append(got, call{m.Call, m.Bar, m.ReEntry, m.Missed, m.LeftOut})
	}
	// q0 lies before bar 1; the chase of 0.5 s is one call and a second one 2.5 s later.
	require.Equal(t, []call{
		{1, "0.1", true, "call 4 · 11.1 · Chorus", 0},
		{2, "3.1", false, "call 4 · 11.1 · Chorus", 0},
		{3, "5.1+1/2", false, "call 4 · 11.1 · Chorus", 0},
		{4, "11.1", true, "", 0},
		{5, "13.1", false, "", 3},
		{6, "14.2", false, "", 0},
	}, got)
	flame := l.Songs[0].Moments[3]
	require.Equal(t, []string{"flame 1 · flame"}, flame.What)
	require.Equal(t, []string{"arm of bar 1"}, flame.Arms)
	require.Equal(t, "Chorus, bar 3", flame.Place)
	require.Equal(t, "drums stop", flame.Words)
	require.Empty(t, l.Songs[0].Moments[4].Words)
	require.Equal(t, "11.6500", flame.Countdown.String()) // derived: 20 s − 150 ms − (8.25 s − 40 ms − 10 ms)
}

// A section that stands a fraction before its bar is that bar: its first bar is
// counted from there, and both it and a hit there are called by the bar.
func TestSectionAFractionBeforeItsBar(t *testing.T) {
	s, err := sectioned(t).Edit(func(d *timeline.Draft) error {
		d.Put("ember", &timeline.Section{Base: timeline.Base{ID: "c"}, Name: "Chorus", At: timeline.AtTime(16*timeline.Second - 3*timeline.EntryStep)})
		return nil
	})
	require.NoError(t, err)
	manual, err := NewManualGo(timeline.Compile(s, nil), Filter{Song: "ember"})
	require.NoError(t, err)
	require.Equal(t, "Chorus, bar 3", manual.Songs[0].Moments[3].Place)
	running, err := NewRunningSheet(timeline.Compile(s, nil), Filter{Song: "ember"})
	require.NoError(t, err)
	verse, chorus := running.Songs[0].Sections[0], running.Songs[0].Sections[1]
	require.Equal(t, "9.1", chorus.Bar)
	require.Equal(t, []int{8, 22}, []int{verse.Bars, chorus.Bars})
}

// Whatever the show, calls are far enough apart, and every hit is either called
// or counted as left out.
func TestEveryMomentIsCalledOrLeftOut(t *testing.T) {
	plain := sectioned(t)
	rapid.Check(t, func(t *rapid.T) {
		p := timeline.Compile(testshow.Random(t, plain), nil)
		l, err := NewManualGo(p, Filter{})
		require.NoError(t, err)
		for i, s := range l.Songs {
			hits := map[timeline.Time]bool{}
			for k := range p.Songs[i].Commands {
				hits[p.Songs[i].Commands[k].Hit] = true
			}
			n := 0
			for k, m := range s.Moments {
				n += 1 + m.LeftOut
				require.Equal(t, k+1, m.Call)
				if k > 0 {
					require.GreaterOrEqual(t, m.Countdown, wording.Seconds(2*timeline.Second))
					require.Equal(t, m.Go, s.Moments[k-1].Go+m.Countdown)
				}
			}
			require.Equal(t, len(hits), n)
		}
	})
}

func TestHoldSheet(t *testing.T) {
	l, err := NewHoldSheet(timeline.Compile(sectioned(t), nil), Filter{Song: "ember"})
	require.NoError(t, err)
	verse, chorus := l.Songs[0].Sections[0], l.Songs[0].Sections[1]
	require.Equal(t, "Verse", verse.Name)
	require.Equal(t, []HoldOpen{{"jet 1", "bank 1 · 3", 2, wording.Seconds(timeline.FromMillis(500)), "01:00:04:10"}}, verse.Open, "before bar 1 and on bar 3; a comet closes by itself")
	require.Empty(t, verse.Arms)
	require.Equal(t, "01:00:16:00 Chorus", verse.ReEntry)
	require.Equal(t, []string{"flame 1 · 0.8 s", "jet 1 · 0.5 s, 5 times"}, chorus.OpenTexts())
	require.Equal(t, []string{"arm of bar 1 01:00:18:00 to 01:00:22:01", "arm of bar 1 01:00:40:00, never closed"}, chorus.Arms)
	require.Empty(t, chorus.ReEntry)
	require.Equal(t, SafeState{Unit: "bar 1", Position: "=front left", Effects: "flame 1", States: []string{"effect DMX 1.45 at 0", "level DMX 1.46 at 0", "arm DMX 1.47 at 7"}}, l.Safe[2])
	require.Len(t, l.Holds, 12)
}

// What stands open at any instant of a section stands on its line.
func TestHoldSheetHasAllThatStandsOpen(t *testing.T) {
	p := timeline.Compile(sectioned(t), nil)
	l, err := NewHoldSheet(p, Filter{})
	require.NoError(t, err)
	for i := range p.Songs {
		ps := &p.Songs[i]
		parts := PartsOf(ps)
		for at := timeline.Time(0); at < ps.Duration; at += 100 * timeline.Millisecond {
			sec := l.Songs[i].Sections[PartAt(parts, at)]
			for _, o := range ps.StandsOpen(at) {
				if o.Command == nil {
					require.NotEmpty(t, sec.Arms)
					continue
				}
				found := false
				for _, x := range sec.Open {
					found = found || x.Effect == o.Command.Unit.Name
				}
				require.True(t, found, "%s at %s", o.Command.Unit.Placed.Name, at)
			}
		}
	}
}

func TestDryList(t *testing.T) {
	l, err := NewDryList(timeline.Compile(sectioned(t), nil), Filter{Song: "ember"})
	require.NoError(t, err)
	steps := l.Songs[0].Steps
	require.Len(t, steps, 9+3, "nine hits and three turns of the arm")
	require.Equal(t, []string{"not loaded: say and point"}, steps[2].Do)
	require.Equal(t, []string{"arm of bar 1 up"}, steps[3].What)
	require.Equal(t, []string{dryArm}, steps[3].Do)
	require.Equal(t, []string{"gas shut: say and point"}, steps[4].Do)
	require.Equal(t, []string{"=front left"}, steps[4].Positions)
	for i := 1; i < len(steps); i++ {
		require.LessOrEqual(t, steps[i-1].at, steps[i].at)
	}
	for _, f := range timeline.Families() {
		require.NotEmpty(t, dryDoing[f.Class()], f)
	}
}

func TestSpotterSheet(t *testing.T) {
	s, err := sectioned(t).Edit(func(d *timeline.Draft) error {
		v := *d.Show().Venue("v1")
		v.Performers = []timeline.PlanMark{{Name: "singer", At: timeline.Point{X: -1}, Radius: 1, Song: "ember", From: 10 * timeline.Second, To: 22 * timeline.Second},
			{Name: "drummer", At: timeline.Point{X: 2}}}
		a := *d.Show().Stock.Article("flame")
		a.Clear = 7
		d.Put("", &v, &a)
		return nil
	})
	require.NoError(t, err)
	l, err := NewSpotterSheet(timeline.Compile(s, s.Night("n1")), Filter{Song: "ember"})
	require.NoError(t, err)
	require.Equal(t, []string{"=front left", ""}, []string{l.Positions[0].Name, l.Positions[1].Name})
	left := l.Positions[0]
	near := map[string][]string{}
	for _, m := range left.Moments {
		near[m.Timecode] = m.Near
	}
	require.Empty(t, near["01:00:03:22"], "the singer is not there yet, the drummer is 6 m away")
	require.Equal(t, []string{"singer 2 m, inside the zone", "drummer 6 m, inside the zone"}, near["01:00:19:21"], "the flame's zone is 7 m")
	require.Empty(t, near["01:00:23:22"])
	require.Equal(t, []string{"comet 1"}, l.Positions[1].Effects[0].Effects)
}
