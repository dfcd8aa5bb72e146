package session_test

import (
	"context"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/changed"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// counting counts how often an edit is made.
func counting(n *int, e timeline.Edit) timeline.Edit {
	return func(d *timeline.Draft) error { *n++; return e(d) }
}

func TestKeepMakesWhatWasTried(t *testing.T) {
	s := open(t, newShow(t), session.Options{})
	defer s.Close()
	before, edits := s.Show(), 0
	_, err := s.Try(counting(&edits, addCue("a", timeline.Second)))
	require.NoError(t, err)
	tried, err := s.Try(counting(&edits, addCue("b", 2*timeline.Second)))
	require.NoError(t, err)
	require.Same(t, before, s.Show(), "trying makes nothing")
	require.Len(t, tried.Changes(), 1)
	plan := s.PlanOf(tried.Show, nil)
	require.NoError(t, s.Keep("add a cue", tried))
	require.Same(t, tried.Show, s.Show())
	require.Same(t, plan, s.Plan(""), "nothing is compiled again")
	require.Equal(t, 2, edits, "nor edited")
	undo, _ := s.Labels()
	require.Equal(t, []string{"add a cue"}, undo)
	s.Undo()
	require.Same(t, before, s.Show())
	require.NoError(t, s.Keep("add a cue", tried), "the show is again the one it was tried on")
	require.Equal(t, []string{"b"}, cueIDs(s.Show()))
}

// Where the show has changed since, the edits are made on what it is now.
func TestKeepAfterAnotherEdit(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	require.NoError(t, s.Do("add a cue", addCue("a", timeline.Second)))
	tried, err := s.Try(addCue("b", 2*timeline.Second), setNote("a", "loud"))
	require.NoError(t, err)
	require.NoError(t, s.Do("add a cue", addCue("c", 3*timeline.Second)))
	require.NoError(t, s.Keep("both", tried))
	require.Equal(t, []string{"a", "b", "c"}, cueIDs(s.Show()))

	tried, err = s.Try(setNote("a", "louder"))
	require.NoError(t, err)
	require.NoError(t, s.Do("remove", func(d *timeline.Draft) error { return d.Remove(timeline.Ref{Kind: "cue", Song: "ember", ID: "a"}) }))
	now := s.Show()
	require.ErrorContains(t, s.Keep("note", tried), "there is no such record")
	require.Same(t, now, s.Show(), "on an error nothing has happened")

	nothing, err := s.Try(func(*timeline.Draft) error { return nil })
	require.NoError(t, err)
	undo, _ := s.Labels()
	require.NoError(t, s.Keep("nothing", nothing))
	after, _ := s.Labels()
	require.Equal(t, undo, after, "what changes nothing is no step")
	require.NoError(t, s.Save())
	require.NoError(t, s.Close())

	s = open(t, dir, session.Options{ReadOnly: true})
	defer s.Close()
	tried, err = s.Try(addCue("d", timeline.Second))
	require.NoError(t, err, "a dry run needs no lock")
	require.ErrorIs(t, s.Keep("add", tried), session.ErrReadOnly)
}

// A kept change is in the journal like any other.
func TestKeptChangeOutlivesACrash(t *testing.T) {
	dir := newShow(t)
	s := open(t, dir, session.Options{})
	tried, err := s.Try(addCue("a", timeline.Second))
	require.NoError(t, err)
	require.NoError(t, s.Keep("add a cue", tried))
	require.NoError(t, s.Close())
	s = open(t, dir, session.Options{})
	defer s.Close()
	require.Equal(t, []string{"a"}, cueIDs(s.Show()))
	undo, _ := s.Labels()
	require.Equal(t, []string{"add a cue"}, undo)
}

// A forecast is what plain compiling and checking of both shows gives, while the
// show itself is compiled, checked and edited by others.
func TestForesee(t *testing.T) {
	s := open(t, newShow(t), withCache(t, session.Options{}))
	defer s.Close()
	require.NoError(t, s.Do("a night", timeline.AddNight(timeline.Night{Base: timeline.Base{ID: "n1"}, Name: "first"})))
	require.NoError(t, s.Do("add a cue", addCue("a", timeline.Second)))
	facts := s.Facts(context.Background())
	ctx, cancel := context.WithCancel(context.Background())
	tried, err := s.Try(addCue("b", 2*timeline.Second), timeline.ConditionTonight("n1", "fire watch"))
	require.NoError(t, err)
	on := []timeline.Concern{tried.On(""), tried.On("n1")}
	was := s.Show()
	require.Nil(t, on[0].Was)
	require.Same(t, was.Night("n1"), on[1].Was)
	require.Same(t, tried.Show.Night("n1"), on[1].Is)

	var others sync.WaitGroup
	for range 2 {
		others.Add(1)
		go func() {
			defer others.Done()
			for ctx.Err() == nil {
				s.CheckPlan(s.Plan("n1"), facts)
			}
		}()
	}
	others.Add(1)
	go func() {
		defer others.Done()
		for n := 0; ctx.Err() == nil; n++ {
			if err := s.DoAs("note", "note", setNote("a", string(rune('a'+n%26)))); err != nil {
				t.Error(err)
			}
		}
	}()
	for range 20 {
		each, err := s.Foresee(context.Background(), tried, on...)
		require.NoError(t, err)
		require.Len(t, each, 2)
		for i, c := range on {
			a, b := timeline.Compile(was, c.Was), timeline.Compile(tried.Show, c.Is)
			require.Equal(t, changed.Compare(a, b, rule.Check(a, facts), rule.Check(b, facts)), each[i])
			require.NotEmpty(t, each[i].Findings.New, "the new cue leads to nothing")
		}
	}
	cancel()
	others.Wait()
	_, err = s.Foresee(ctx, tried, on...)
	require.ErrorIs(t, err, context.Canceled)
}
