package night

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// The most urgent stands first, each sentence with its number, and nothing is said of what there is nothing of.
func TestSentences(t *testing.T) {
	require.Empty(t, (&Tonight{}).Sentences(), "nothing to do")
	s := festival(t)
	page := tonightOf(t, timeline.Compile(s, s.Night("n1")), ThinShare)
	page.Misfires = []Left{{Night: "2031-05-09", PlacedName: "comet 2"}, {Night: "2031-05-09", PlacedName: "comet 2"}}
	var needs []Need
	text := map[Need]Sentence{}
	for _, x := range page.Sentences() {
		needs = append(needs, x.Need)
		text[x.Need] = x
		require.NotEmpty(t, x.Text)
		require.NotRegexp(t, `(?i)\b(safe|ok|clear|settled[^ ])\b`, x.Text+" "+x.Detail)
	}
	order := []Need{NeedMisfires, NeedLoaded, NeedLost, NeedSupply, NeedClose, NeedChanges, NeedLoad, NeedPrint, NeedSign}
	at := -1
	for _, n := range needs {
		next := at + 1
		for next < len(order) && order[next] != n {
			next++
		}
		if n != NeedSupply { // one for each
			require.Less(t, next, len(order), "%s stands where it should", n)
			at = next
		}
	}
	require.Equal(t, "2 misfires of earlier nights not settled", text[NeedMisfires].Text)
	require.Equal(t, "comet 2 (2031-05-09)", text[NeedMisfires].Detail)
	require.True(t, text[NeedMisfires].Grave)
	cut, swapped, lost := 0, 0, 0
	for i := range page.Songs {
		cut, swapped, lost = cut+page.Songs[i].Cut, swapped+page.Songs[i].Swapped, lost+page.Songs[i].Lost+page.Songs[i].Partly
	}
	require.NotZero(t, swapped)
	require.Contains(t, text[NeedChanges].Text, timeline.Counted(cut, "cue")+" cut")
	require.Contains(t, text[NeedLost].Text, timeline.Counted(lost, "cue"))
	require.Equal(t, "song", text[NeedLost].Ref.Kind)
	require.Contains(t, text[NeedLoad].Text, timeline.Counted(page.Used.Pieces, "piece")+" to load on ")
	require.Equal(t, timeline.Counted(len(page.Sign), "signature")+" to get", text[NeedSign].Text)
	page.Changes, page.NotPlayed = []report.NightChange{}, nil
	for _, x := range page.Sentences() {
		require.NotEqual(t, NeedChanges, x.Need)
	}
}
