package carry_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	"emberbeat/timeline/carry"
)

// twoPlaces is a proposal with a cue on the cut that has another place, one that is
// lost and one that is sure.
func twoPlaces(t *testing.T) (*timeline.Show, *carry.Proposal) {
	t.Helper()
	s := song(t, cue("sure", "2.1"), cue("doubt", "8.4+99/100"), cue("gone", "10.1"))
	p, err := carry.Propose(s, "s1", mapOf(exact(0, 16, 0), exact(24, 64, 16)), carry.Recording{}, carry.Recording{}, carry.Options{})
	require.NoError(t, err)
	return s, p
}

func itemOf(t *testing.T, p *carry.Proposal, id timeline.ID) *carry.Item {
	t.Helper()
	for i := range p.Items {
		if p.Items[i].Ref.ID == id {
			return &p.Items[i]
		}
	}
	require.Fail(t, "no item", id)
	return nil
}

// What a user says of a cue counts in the place of what was proposed, is counted once,
// and can be taken back.
func TestWordsOnCues(t *testing.T) {
	s, p := twoPlaces(t)
	require.Equal(t, []int{1, 1, 1}, []int{p.Counts().Sure, p.Counts().Look, p.Counts().Lost})
	doubt := *itemOf(t, p, "doubt")
	require.True(t, doubt.Look())

	require.NoError(t, p.Say("doubt", carry.Fine))
	require.Equal(t, []int{2, 0, 1}, []int{p.Counts().Sure, p.Counts().Look, p.Counts().Lost})
	require.Equal(t, doubt.Is, itemOf(t, p, "doubt").Is)
	is, err := s.Edit(p.Edit())
	require.NoError(t, err)
	require.Empty(t, is.Song("s1").Audio.Look, "what is fine is not told again")

	require.Error(t, p.Say("gone", carry.Fine), "what has no place cannot be right there")
	next := itemOf(t, p, "gone").Next
	require.NotNil(t, next)
	require.NoError(t, p.Say("gone", carry.Other))
	require.Equal(t, next.At, itemOf(t, p, "gone").Is.At)
	require.Equal(t, []int{3, 0, 0}, []int{p.Counts().Sure, p.Counts().Look, p.Counts().Lost})
	is, err = s.Edit(p.Edit())
	require.NoError(t, err)
	require.Equal(t, next.Moment, is.Song("s1").Cue("gone").At)

	require.NoError(t, p.Say("sure", carry.Out))
	is, err = s.Edit(p.Edit())
	require.NoError(t, err)
	require.Nil(t, is.Song("s1").Cue("sure"))
	require.Len(t, is.Song("s1").Asides, 1, "what is left out is set aside")

	for _, id := range []timeline.ID{"doubt", "gone", "sure"} {
		require.NoError(t, p.Say(id, ""))
	}
	_, fresh := twoPlaces(t)
	require.Equal(t, fresh.Items, p.Items)
	require.Error(t, p.Say("sure", carry.Other), "it has no other place")
	require.Error(t, p.Say("nobody", carry.Fine))
}

// Carrying the sure ones alone sets aside what somebody would have to look at.
func TestOnlySureOnesAreCarried(t *testing.T) {
	s, p := twoPlaces(t)
	p.OnlySure()
	require.Equal(t, []int{1, 0, 2}, []int{p.Counts().Sure, p.Counts().Look, p.Counts().Lost})
	is, err := s.Edit(p.Edit())
	require.NoError(t, err)
	require.Len(t, is.Song("s1").Cues, 1)
	require.Len(t, is.Song("s1").Asides, 2)
}

// Words go over to another proposal where the places are the same, and nowhere else.
func TestWordsAreKept(t *testing.T) {
	s, p := twoPlaces(t)
	require.NoError(t, p.Say("doubt", carry.Fine))
	require.NoError(t, p.Say("gone", carry.Other))
	again, err := carry.Propose(s, "s1", mapOf(exact(0, 16, 0), exact(24, 64, 16)), carry.Recording{}, carry.Recording{}, carry.Options{})
	require.NoError(t, err)
	again.KeepWords(p)
	require.Equal(t, carry.Fine, itemOf(t, again, "doubt").Said)
	require.Equal(t, carry.Other, itemOf(t, again, "gone").Said)
	other, err := carry.Propose(s, "s1", mapOf(exact(0, 16, 1), exact(24, 64, 17)), carry.Recording{}, carry.Recording{}, carry.Options{})
	require.NoError(t, err)
	other.KeepWords(p)
	require.Empty(t, itemOf(t, other, "doubt").Said)
}
