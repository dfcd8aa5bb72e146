package timeline

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// counted hands out ids n1, n2 …
func counted() func(string, ID) ID {
	n := 0
	return func(string, ID) ID { n++; return ID(fmt.Sprintf("n%d", n)) }
}

func positions(t *testing.T, texts string) (all []Position) {
	t.Helper()
	for _, text := range strings.Fields(texts) {
		p, err := ParsePosition(text)
		require.NoError(t, err)
		all = append(all, p)
	}
	return all
}

// newCues writes the changes a placing makes, a cue as at:lane:target:article.
func newCues(a, b *Show) string {
	var words []string
	for _, c := range Diff(a, b) {
		switch r := c.After.(type) {
		case *Cue:
			words = append(words, fmt.Sprintf("%s:%s:%s:%s", r.At, r.Lane, r.Target, r.Article))
		case *Lane:
			words = append(words, fmt.Sprintf("lane:%s:%s:%s", r.Name, r.Target, r.Article))
		}
	}
	return strings.Join(words, " ")
}

func TestPlace(t *testing.T) {
	s := small(t)
	p := Compile(s, nil)
	bar := &Stride{Bars: 1}
	twenty := &positions(t, "20")[0]
	for _, c := range []struct {
		pl   Placing
		want string
	}{
		{Placing{Lane: "jets", At: positions(t, "17.1 0:30.00001 01:00:31:05")}, "17.1:ljet:: 0:30.0000:ljet:: 0:31.2000:ljet::"},
		{Placing{Lane: "LJET", At: positions(t, "18"), Target: "all jets"}, "lane:LJET:jets: 18.1:n1::"}, // no lane has this id or name
		{Placing{Lane: "Jets", At: positions(t, "18"), Target: "all jets"}, "18.1:ljet::"},
		{Placing{Lane: "jets", At: positions(t, "18"), Target: "Jet 2"}, "18.1:ljet:j2:"},
		{Placing{Lane: "jets", At: positions(t, "18"), Article: "comet"}, "18.1:ljet::comet"},
		{Placing{Lane: "jets", At: positions(t, "18.3"), Every: bar, Until: twenty}, "18.3:ljet:: 19.3:ljet::"},
		{Placing{Lane: "Side", At: positions(t, "4"), Target: "c1", Article: "comet"}, "lane:Side:c1:comet 4.1:n1::"},
	} {
		c.pl.Song = "ember"
		next, err := s.Edit(p.Place(c.pl, counted()))
		require.NoError(t, err)
		require.Equal(t, c.want, newCues(s, next))
	}
}

func TestPlaceRefuses(t *testing.T) {
	s := small(t)
	p := Compile(s, nil)
	for _, c := range []struct {
		pl   Placing
		want string
	}{
		{Placing{Lane: "Side", At: positions(t, "4")}, `has no lane "Side" (it has "flame arm", "comets", "flames", "jets"); name a target`},
		{Placing{Lane: "Side", At: positions(t, "4"), Target: "gone"}, `target "gone" is not in the show: there is placed:"comet 1"`},
		{Placing{Lane: "jets", At: positions(t, "4"), Article: "gone"}, `article "gone" is not in the show`},
		{Placing{Lane: "jets", At: positions(t, "3")}, `lane "jets" already has a cue at 3.1; nothing was placed`},
		{Placing{Lane: "jets", At: positions(t, "4 4.1")}, "is to have two cues at 4.1"},
		{Placing{Lane: "jets", At: positions(t, "4"), Every: &Stride{Bars: 1}}, "every 1 bar needs an end"},
		{Placing{Lane: "jets", At: positions(t, "01:00:00:25")}, "frames run from 00 to 24"},
	} {
		c.pl.Song = "ember"
		_, err := s.Edit(p.Place(c.pl, counted()))
		require.ErrorContains(t, err, c.want)
	}
}
