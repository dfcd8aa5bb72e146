package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// playedText is the plan of a night as its sheets have it.
func playedText(s *Show, night ID) string { return Compile(s.AsPlayed(s.Night(night))).Text() }

func TestPlayedNightIsKept(t *testing.T) {
	s := touring(t)
	require.Nil(t, s.KeptFor("n1"))
	require.False(t, Compile(s.AsPlayed(s.Night("n1"))).AsPlayed)
	before := playedText(s, "n1")

	s = entered(t, s, "n1", AfterShow{Weights: []Fill{{"cyl", 3.5}}})
	require.NotNil(t, s.KeptFor("n1"), "what was left in a supply is an outcome as well")
	require.Empty(t, s.KeptFor("n1").Played)
	require.Empty(t, s.KeptFor("n1").Night("n1").Weights, "kept as it was commanded")
	kept := s.KeptFor("n1")
	p := Compile(s.AsPlayed(s.Night("n1")))
	require.True(t, p.AsPlayed)
	require.Equal(t, before, p.Text())
	require.Equal(t, []Fill{{"cyl", 3.5}}, p.Night.Weights)
	require.Same(t, p.Night, p.Show.Night("n1"))
	require.False(t, Compile(s, s.Night("n1")).AsPlayed, "the plan to work on is of the show as it is")
	show, none := s.AsPlayed(nil)
	require.Same(t, s, show, "the tour is not played")
	require.Nil(t, none)

	s, err := s.Edit(func(d *Draft) error {
		a := *d.Show().Stock.Article("comet")
		a.Lead, a.Name = a.Lead+Second, "another"
		n := *d.Show().Night("n1")
		n.Name, n.Cuts = "renamed", []Cut{{Selector{"article", "comet"}, ""}}
		d.Put("", &a, &n)
		return nil
	})
	require.NoError(t, err)
	require.NotEqual(t, before, Compile(s, s.Night("n1")).Text())
	require.Equal(t, before, playedText(s, "n1"))

	// The comets that the night now cuts were loaded when it was played, and what
	// became of them is entered in the night as it is now.
	s = entered(t, s, "n1", AfterShow{AllFired: true})
	require.Equal(t, []string{"b2:1 fired placed=c1 article=comet"}, items(s, "n1"))
	require.Equal(t, "renamed", s.Night("n1").Name)
	require.Len(t, s.Night("n1").Cuts, 1)
	require.Equal(t, before, playedText(s, "n1"))
	require.Same(t, kept, s.KeptFor("n1"), "kept once")
	n, _ := s.OnHand(s.Stock.Article("comet"), nil)
	require.Equal(t, 19, n, "what is entered afterwards counts")

	require.Same(t, kept, entered(t, s, "n1", AfterShow{Forget: true, AllFired: true}).KeptFor("n1"), "forgotten and entered again")
	require.Nil(t, entered(t, s, "n1", AfterShow{Forget: true}).KeptFor("n1"), "entered for the wrong night, and taken back")
	gone, err := s.Edit(func(d *Draft) error { return d.Remove(Ref{Kind: "night", ID: "n1"}) })
	require.NoError(t, err)
	require.Empty(t, gone.Played)
}

// A journal makes the same edits again from what changed: it keeps the same.
func TestPlayedNightIsKeptByChanges(t *testing.T) {
	s := touring(t)
	next := entered(t, s, "n3", AfterShow{AllFired: true})
	again, err := Apply(s, Diff(s, next))
	require.NoError(t, err)
	require.Equal(t, fingerprint(next.KeptFor("n3")), fingerprint(again.KeptFor("n3")))
	back, err := Apply(next, Diff(s, next).Invert())
	require.NoError(t, err)
	require.Empty(t, back.Played)
}

// Whatever is edited afterwards, the plan of a played night stays the one that was
// commanded.
func TestPlayedNightStaysThroughEdits(t *testing.T) {
	first := entered(t, touring(t), "n1", AfterShow{AllFired: true})
	want := playedText(first, "n1")
	rapid.Check(t, func(r *rapid.T) {
		s := first
		for step := range rapid.IntRange(1, 12).Draw(r, "steps") {
			var edit Edit
			if rapid.Bool().Draw(r, "life") {
				edit = lifeEdit(r, s, step)
			} else {
				edit = randomEdit(r, s, step)
			}
			if edit == nil {
				continue
			}
			next, err := s.Edit(edit)
			if err != nil || !next.Night("n1").Entered() {
				continue
			}
			s = next
			require.Equal(r, want, playedText(s, "n1"))
		}
	})
}

// A show of a program that kept nothing stays without: what stood when its night
// was played is gone, and what stands now is not it.
func TestWhatWasNotKeptIsNotMadeUp(t *testing.T) {
	s := entered(t, touring(t), "n1", AfterShow{Weights: []Fill{{"cyl", 3.5}}})
	old := *s
	old.Played = nil
	require.Nil(t, entered(t, &old, "n1", AfterShow{AllFired: true}).KeptFor("n1"))
}

// A running order without songs has no gap to refill in.
func TestNoRefillIsProposedWithoutSongs(t *testing.T) {
	s, err := small(t).Edit(func(d *Draft) error {
		set := *d.Show().Sets[0]
		set.Entries = nil
		d.Put("", &set)
		return nil
	})
	require.NoError(t, err)
	p := Compile(s, nil)
	for j := -1; j < 3; j++ {
		_, ok := p.ProposeRefill(s.Rig.Supplies[0], j)
		require.False(t, ok, "before song %d", j)
	}
}

// A supply that was removed has no refill, and asking for one is no fault.
func TestNoRefillIsProposedForASupplyThatIsGone(t *testing.T) {
	s := small(t)
	p := Compile(s, nil)
	require.Greater(t, len(p.Songs), 1)
	_, ok := p.ProposeRefill(s.Rig.Supply("gone"), 1)
	require.False(t, ok)
}
