package session_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/session"
	"emberbeat/timeline"
)

func titled(title string) timeline.Edit {
	return func(d *timeline.Draft) error {
		head := *d.Show().Head
		head.Title = title
		d.Put("", &head)
		return nil
	}
}

// Steps tell when they were made and how much they changed; going to one walks there and back, and saves are marked.
func TestStepsAreToldAndGoneTo(t *testing.T) {
	dir := newShow(t)
	now := time.Date(2031, 5, 6, 18, 0, 0, 0, time.UTC)
	o := session.Options{Clock: func() time.Time { return now }}
	s := open(t, dir, o)
	steps, at := s.Steps()
	require.Equal(t, []session.Step{{Saved: true}}, steps)
	require.Zero(t, at)

	for _, title := range []string{"One", "Two", "Three"} {
		now = now.Add(time.Minute)
		require.NoError(t, s.Do("call it "+title, titled(title)))
		if title == "Two" {
			require.NoError(t, s.Save())
		}
	}
	steps, at = s.Steps()
	require.Equal(t, 3, at)
	require.Equal(t, session.Step{"call it Two", now.Add(-time.Minute), 1, true}, steps[2])
	require.Equal(t, session.Step{"call it Three", now, 1, false}, steps[3])

	require.Equal(t, 2, s.GoTo(1))
	require.Equal(t, "One", s.Show().Head.Title)
	_, at = s.Steps()
	require.Equal(t, 1, at)
	require.Equal(t, 2, s.GoTo(3))
	require.Equal(t, "Three", s.Show().Head.Title)
	require.Zero(t, s.GoTo(3))
	require.Zero(t, s.GoTo(4), "there is no such step")
	require.Zero(t, s.GoTo(-1))

	// Keys that repeat are one step, and count what they changed together.
	require.NoError(t, s.DoAs("key", "call it again", titled("Four")))
	require.NoError(t, s.DoAs("key", "call it again", titled("Five")))
	steps, at = s.Steps()
	require.Len(t, steps, 5)
	require.Equal(t, 1, steps[at].Changes)

	// What was walked is in the journal: after a crash the session stands where it was gone to, and the steps have their times.
	require.Equal(t, 3, s.GoTo(1))
	require.NoError(t, s.Close())
	s = open(t, dir, o)
	require.Equal(t, "One", s.Show().Head.Title)
	again, at := s.Steps()
	require.Equal(t, 1, at)
	require.Len(t, again, 5)
	for i := range again[1:] {
		require.True(t, again[i+1].At.Equal(steps[i+1].At), again[i+1].Label)
		require.Equal(t, steps[i+1].Changes, again[i+1].Changes)
	}
	require.True(t, again[2].Saved)
}
