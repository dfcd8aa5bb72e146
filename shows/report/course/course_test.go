package course_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report/course"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

func courseOf(s *timeline.Show) (*timeline.Plan, *course.Course) {
	p := timeline.Compile(s, nil)
	return p, new(course.Maker).Of(p)
}

// Every hit is counted once, in the ten seconds in which it stands, under the class of what is seen.
func TestHitsAreCountedOnce(t *testing.T) {
	p, c := courseOf(testshow.Tour(t, 3, 90))
	require.Len(t, c.Songs, 3)
	for i := range c.Songs {
		s := &c.Songs[i]
		require.Equal(t, p.Songs[i].Hits(), s.Times)
		all := [len(course.Classes)]int{}
		for k, step := range s.Steps {
			n := 0
			for class, of := range step.Of {
				n += of
				all[class] += of
			}
			require.Equal(t, n, step.All)
			want := 0
			for _, hit := range s.Times {
				want += map[bool]int{true: 1}[hit/course.Window == timeline.Time(k)]
			}
			require.Equal(t, want, step.All, "song %d, step %d", i+1, k)
		}
		require.Equal(t, [len(course.Classes)]int{60, 30, 0, 1}, all, "jets, flames, a comet")
		most, at := timeline.Busiest(s.Times, course.Window)
		require.Equal(t, most, s.Most)
		require.Equal(t, at, s.MostAt)
	}
	require.InDelta(t, 91.0/12, c.Songs[0].Mean, 1e-9, "two minutes")
	require.Equal(t, 30, c.Limit)
	_, c = courseOf(testshow.Edited(t, p.Show, func(d *timeline.Draft) error {
		d.Put("", &timeline.Setting{Base: timeline.Base{ID: "set-view"}, Values: []string{"most-hits=12"}})
		return nil
	}))
	require.Equal(t, 12, c.Limit)
}

// What is left stands at every draw as the plan has it, and where it first falls short the rules find it.
func TestLevelsAreThoseOfThePlan(t *testing.T) {
	p, c := courseOf(testshow.Tour(t, 6, 150))
	found := rule.Check(p, rule.Facts{})
	for i, want := range p.Supplies() {
		s := &c.Supplies[i]
		require.Equal(t, want.Supply, s.Of)
		require.InDelta(t, want.Used, s.Used, 1e-6)
		// A curve keeps a draw a second at least, and is exact where it keeps one.
		for k, l := range want.Levels {
			at := course.Place{Song: l.Song, At: l.At}
			if k+1 < len(want.Levels) && want.Levels[k+1].Song == l.Song && want.Levels[k+1].At == l.At {
				continue
			}
			got := s.LeftAt(at)
			require.LessOrEqual(t, l.LeftKg, got+1e-6)
			require.InDelta(t, l.LeftKg, got, 0.26, "%s at %v: no more than a draw away", s.Name, at)
		}
		last := want.Levels[len(want.Levels)-1]
		require.InDelta(t, last.LeftKg, s.Curve[len(s.Curve)-1].Kg, 1e-6)
		require.Equal(t, s.Low != nil, finds(found, "supply-reserve", s.Of), s.Name)
		require.Equal(t, s.Empty != nil, finds(found, "supply-empty", s.Of), s.Name)
	}
	left, right, propane := &c.Supplies[0], &c.Supplies[1], &c.Supplies[2]
	require.Len(t, left.Stages, 2, "it is changed after the second song")
	require.Equal(t, course.Place{Song: 1, At: c.Songs[1].Long}, left.Stages[1].From)
	require.Equal(t, 20*timeline.Second, left.Stages[1].Gap)
	require.Equal(t, 18*timeline.Second, left.Stages[1].Refill.Needs())
	require.NotNil(t, right.Empty)
	require.Len(t, c.Swaps(1), len(p.SwapPoints()[1].Points))
	require.NotEmpty(t, c.Swaps(1))
	require.Nil(t, propane.Low)
	require.Equal(t, timeline.Cold, right.Class)
	require.Equal(t, timeline.Hot, propane.Class)
	require.Less(t, right.Trouble(), left.Trouble())
	require.Less(t, left.Trouble(), propane.Trouble())
	e := right.Empty
	require.Equal(t, e.Command.At, e.At)
	require.Equal(t, e.Command.Hit, c.Songs[e.Song].Times[e.Hit-1])
	require.Less(t, right.LeftAt(course.Place{Song: e.Song, At: e.At + timeline.Second}), 0.0)
}

func finds(found []rule.Finding, name string, s *timeline.Supply) bool {
	return slices.ContainsFunc(found, func(f rule.Finding) bool { return f.Rule == name && f.Ref.ID == s.ID })
}

// An arm that nothing takes down stays up over the changeover, to where the next song starts; one that comes down leaves the changeover alone.
func TestArmsOverAChangeover(t *testing.T) {
	p, c := courseOf(testshow.Tour(t, 4, 6))
	require.Len(t, c.Arms, 1)
	a := &c.Arms[0]
	require.Equal(t, "flame bar", a.Name)
	var over []course.Raised
	for _, r := range a.Up {
		if r.Over {
			over = append(over, r)
		}
	}
	require.Equal(t, []course.Raised{{Song: 2, From: 2 * timeline.Minute, To: 2*timeline.Minute + 20*timeline.Second, Over: true}}, over)
	in := func(song int, seconds timeline.Time) course.Place {
		return course.Place{Song: song, At: seconds * timeline.Second}
	}
	require.True(t, a.UpAt(in(2, 121)))
	require.False(t, a.UpAt(in(0, 90)))
	require.True(t, a.UpAt(in(0, 30)))
	require.Equal(t, 4, c.Singles)
	r := c.At(in(2, 105))
	require.Equal(t, 3, r.Fired)
	require.True(t, r.Plays)
	require.Equal(t, []string{"flame bar"}, r.Armed)
	r = c.At(in(2, 121))
	require.False(t, r.Plays)
	require.Zero(t, r.Hits)
	require.Equal(t, 100*timeline.Second+1, c.Songs[1].Long, "no length is given, but hits are")
	require.Len(t, p.Songs, 4)
}

// The same songs in another order give what a course from nothing gives.
func TestOrderIsRememberedBySong(t *testing.T) {
	show := testshow.Tour(t, 5, 60)
	var m course.Maker
	compiler := timeline.NewCompiler()
	rapid.Check(t, func(rt *rapid.T) {
		from, to := rapid.IntRange(0, 4).Draw(rt, "from"), rapid.IntRange(0, 4).Draw(rt, "to")
		is, err := show.Edit(timeline.MoveEntry("main", from, to))
		require.NoError(rt, err)
		show = is
		p := compiler.Compile(is, nil)
		got, want := m.Of(p), new(course.Maker).Of(p)
		require.Equal(rt, want, got)
		require.Same(rt, got, m.Of(p))
	})
}

// A show without songs, and one without a rig, have a course as well.
func TestNothingIsThere(t *testing.T) {
	p, c := courseOf(timeline.NewShow("x", "Empty", timeline.Rate25))
	require.Empty(t, c.Songs)
	require.Same(t, p, c.Plan)
	_, c = courseOf(testshow.Edited(t, p.Show, func(d *timeline.Draft) error {
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "a"}, Title: "A", Slug: "a"})
		return nil
	}))
	require.Len(t, c.Songs, 1)
	require.Empty(t, c.Songs[0].Steps)
	require.False(t, math.IsNaN(c.Songs[0].Mean))
}
