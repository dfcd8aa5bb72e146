package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFindSong(t *testing.T) {
	s := small(t)
	s, err := s.Edit(func(d *Draft) error {
		d.Put("", &SongHead{Base: Base{ID: "x9"}, Title: "Tide", Version: "live", Slug: "tide-live"},
			&SongHead{Base: Base{ID: "x7"}, Title: "2", Slug: "number-two"})
		return nil
	})
	require.NoError(t, err)
	p := Compile(s, nil)
	for _, c := range []struct{ text, want string }{
		{"ember", "ember"}, {"Ember", "ember"}, {"EMBER", "ember"}, {"1", "ember"},
		{"tide-live", "x9"}, {"tide (LIVE)", "x9"}, {"x9", "x9"}, {"Tide", "tide"},
		{"2", "x7"}, // a title goes before a number
	} {
		g, err := p.FindSong(c.text)
		require.NoError(t, err, c.text)
		require.Equal(t, ID(c.want), g.ID, c.text)
	}
	for _, c := range []struct{ text, want string }{
		{"Storm", `song "Storm" is not in the show: write a title, folder or number of "2" (number-two), "Tide (live)" (tide-live)`},
		{"3", "is not in the show"}, // the set has two songs
		{"0", "is not in the show"},
	} {
		_, err := p.FindSong(c.text)
		require.ErrorContains(t, err, c.want)
	}
	_, err = Compile(NewShow("s", "empty", Rate25), nil).FindSong("1")
	require.ErrorContains(t, err, "the show has no songs yet")
}

func TestFindSongByAmbiguousTitle(t *testing.T) {
	s, err := small(t).Edit(func(d *Draft) error {
		d.Put("", &SongHead{Base: Base{ID: "a1"}, Title: "Storm", Version: "short", Slug: "storm-1"}, &SongHead{Base: Base{ID: "a2"}, Title: "storm", Version: "live", Slug: "storm-2"})
		return nil
	})
	require.NoError(t, err)
	_, err = Compile(s, nil).FindSong("STORM")
	require.EqualError(t, err, `song "STORM" could be "Storm (short)" (storm-1), "storm (live)" (storm-2); write the folder's name`)
}

func TestFindRecord(t *testing.T) {
	p := Compile(small(t), nil)
	for _, c := range []struct{ text, want string }{
		{"show", "show:show1"},
		{"song:2", "song:tide"},
		{"article:jet", "article:jet"},
		{"articles:CO2 JET", "article:jet"},
		{"placed:Jet 1", "placed:j1"},
		{"wire:w1", "wire:w1"},
		{"lane:ember/jets", "lane:ember/ljet"},
		{"lane:Tide/jets", "lane:tide/ljet"},
		{"lane:comets", "lane:ember/lcom"},
		{"cue:ember/q1", "cue:ember/q1"},
		{"cue:ember/3", "cue:ember/q1"},
		{"cue:5.1+1/2", "cue:ember/q2"},
		{"cue:1/0:20.0", "cue:ember/q3"},
		{`placed:"Jet 1"`, "placed:j1"},
		{`cue:ember/"at 3.1"`, "cue:ember/q1"},
		{"cue:ember/at 3.1", "cue:ember/q1"},
		{`song:"Tide"`, "song:tide"},
	} {
		ref, err := p.FindRecord(c.text)
		require.NoError(t, err, c.text)
		require.Equal(t, c.want, ref.String(), c.text)
	}
	for _, c := range []struct{ text, want string }{
		{"laser:x", `"laser" is no kind of record; kinds: show, article`},
		{"article", "names no article; write kind:name"},
		{"article:laser", `article "laser" is not in the show: there is article:comet, article:flame, article:"CO2 jet"`},
		{"placed:jet", `placed "jet" is not in the show: there is placed:"jet 1", placed:"jet 2", placed:"comet 1"`},
		{"circuit:c", "there is no circuit yet"},
		{"lane:jets", `lane "jets" could be lane:ember/jets, lane:tide/jets`},
		{"cue:q1", `cue "q1" could be cue:ember/"at 3.1", cue:tide/"at 0:01.0000"`},
		{"cue:storm/q1", `song "storm" is not in the show`},
	} {
		_, err := p.FindRecord(c.text)
		require.ErrorContains(t, err, c.want, c.text)
	}
}

func TestFindNight(t *testing.T) {
	s := small(t)
	_, err := s.FindNight("x")
	require.ErrorContains(t, err, "the show has no nights yet")
	s, err = s.Edit(func(d *Draft) error {
		d.Put("", &Night{Base: Base{ID: "n1"}, Name: "Low roof", Slug: "low-roof", Date: "2031-05-09"},
			&Night{Base: Base{ID: "n2"}, Name: "Open air", Slug: "open-air", Date: "2031-05-09"})
		return nil
	})
	require.NoError(t, err)
	for _, text := range []string{"n1", "low-roof", "LOW ROOF"} {
		n, err := s.FindNight(text)
		require.NoError(t, err)
		require.Equal(t, ID("n1"), n.ID)
	}
	_, err = s.FindNight("2031-05-09")
	require.EqualError(t, err, `night "2031-05-09" could be "Low roof" (low-roof), "Open air" (open-air)`)
	_, err = s.FindNight("arena")
	require.EqualError(t, err, `night "arena" is not in the show: there is "Low roof" (low-roof), "Open air" (open-air)`)
}
