package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Items of refills and outcomes: what is written reads the same, and what
// cannot be is refused with what would be right.
func TestRefillAndOutcomeItems(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"c1 after=ember kg=22.7 minutes=4.5 by=\"rigger 2\"", "c1 after=ember kg=22.7 minutes=4.5 by=\"rigger 2\""},
		{"c1 out after=ember minutes=0", "c1 after=ember out"},
	} {
		f, err := ParseRefill(c.text)
		require.NoError(t, err, c.text)
		require.Equal(t, c.want, f.String())
	}
	f, err := ParseRefill("c1 after=ember minutes=4.5")
	require.NoError(t, err)
	require.Equal(t, 270*Second, f.Needs())
	for text, want := range map[string]string{
		"":                         "must start with the id of a supply",
		"c1":                       "write after=song-id",
		"C1 after=ember":           "is no id",
		"c1 after=ember kg=-1":     "mass in kg",
		"c1 after=ember kg=NaN":    "mass in kg",
		"c1 after=ember minutes=x": "minutes from 0 to 1440",
		"c1 after=ember where=x":   `"where" is not understood here`,
	} {
		_, err := ParseRefill(text)
		require.ErrorContains(t, err, want, text)
	}
	for _, text := range []string{
		"b2:1 fired placed=c1 article=comet",
		"b2:16 unfired placed=c1 article=comet pieces=3",
		`b2:1 misfired placed=c1 article=comet cleared-by="A. Name" cleared-note="soaked 30 min"`,
	} {
		o, err := ParseOutcome(text)
		require.NoError(t, err, text)
		require.Equal(t, text, o.String())
	}
	for text, want := range map[string]string{
		"b2 fired placed=c1 article=comet":                       "is no output",
		"b2:0 fired placed=c1 article=comet":                     "is no output",
		"b2:1 placed=c1 article=comet":                           "write fired, unfired, misfired or taken-out",
		"b2:1 fired unfired placed=c1 article=comet":             "both fired and unfired",
		"b2:1 fired placed=c1":                                   "placed=placed-id article=article-id",
		"b2:1 fired placed=c1 article=comet pieces=0":            "from 1 to 10000",
		"b2:1 fired placed=c1 article=comet cleared-by=x":        "only a misfire is cleared",
		"b2:1 misfired placed=c1 article=comet cleared-note=wet": "write cleared-by=",
	} {
		_, err := ParseOutcome(text)
		require.ErrorContains(t, err, want, text)
	}
}

func TestFindHandCueByKey(t *testing.T) {
	s, err := small(t).Edit(func(d *Draft) error {
		d.Put("", &HandCue{Base: Base{ID: "h1"}, Key: 7, Name: "walk-on", Targets: []ID{"jets"}, Presses: 1}, &HandCue{Base: Base{ID: "h2"}, Key: 70})
		return nil
	})
	require.NoError(t, err)
	for _, name := range []string{"h1", "7", "Walk-On"} {
		ref, err := Compile(s, nil).FindRecord("handcue:" + name)
		require.NoError(t, err)
		require.Equal(t, ID("h1"), ref.ID)
	}
	_, err = s.Edit(func(d *Draft) error { return d.Remove(Ref{Kind: "group", ID: "jets"}) })
	require.ErrorContains(t, err, "still used by")
}
