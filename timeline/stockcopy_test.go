package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Stock copied into an empty show arrives whole; copied again it is all there.
func TestCopyStock(t *testing.T) {
	from, to := small(t), NewShow("other", "Other Tour", Rate25)
	c, err := CompareStock(from, to, from.StockRefs())
	require.NoError(t, err)
	require.Len(t, c.New, 6)
	require.Empty(t, c.Conflicts)
	next, err := to.Edit(c.Edit(false))
	require.NoError(t, err)
	require.Equal(t, from.Stock, next.Stock)
	require.Empty(t, to.Stock.Articles)

	again, err := CompareStock(from, next, from.StockRefs())
	require.NoError(t, err)
	require.Empty(t, again.New)
	require.Len(t, again.Same, 6)
}

// A conflict is listed with both sides, and taken only when asked for.
func TestCopyStockConflict(t *testing.T) {
	from := small(t)
	to, err := from.Edit(set("article", "", "jet", "height", "9"))
	require.NoError(t, err)
	c, err := CompareStock(from, to, []Ref{{Kind: "article", ID: "jet"}, {Kind: "article", ID: "flame"}})
	require.NoError(t, err)
	require.Len(t, c.Conflicts, 1)
	require.Equal(t, `changed article:jet: height "9" → "6"`, c.Conflicts[0].Change().String())
	kept, err := to.Edit(c.Edit(false))
	require.NoError(t, err)
	require.Empty(t, Diff(to, kept))
	taken, err := to.Edit(c.Edit(true))
	require.NoError(t, err)
	require.Equal(t, 6.0, taken.Stock.Article("jet").Height)
}

func TestCopyStockRefuses(t *testing.T) {
	s := small(t)
	_, err := CompareStock(s, s, []Ref{{Kind: "placed", ID: "j1"}})
	require.ErrorContains(t, err, "placed:j1 is no stock; stock is articles, device types and bank types")
	_, err = CompareStock(s, s, []Ref{{Kind: "article", ID: "gone"}})
	require.ErrorContains(t, err, "article:gone: there is no such record to copy")
}

// What rests on a record is found through the article, and through the type of
// the bank or device that drives it.
func TestTouches(t *testing.T) {
	p := Compile(small(t), nil)
	for _, c := range []struct {
		ref         Ref
		cues, loads int
	}{
		{Ref{Kind: "article", ID: "jet"}, 2, 2}, // of two songs; the disabled one plays nothing
		{Ref{Kind: "article", ID: "comet"}, 1, 2},
		{Ref{Kind: "banktype", ID: "relay8"}, 2, 2},
		{Ref{Kind: "banktype", ID: "ign16"}, 1, 1}, // comet 2 is not wired
		{Ref{Kind: "devicetype", ID: "bar"}, 1, 2},
		{Ref{Kind: "placed", ID: "j1"}, 0, 0},
	} {
		got := p.Touches([]Ref{c.ref})
		require.Len(t, got.Cues, c.cues, c.ref)
		require.Len(t, got.Loads, c.loads, c.ref)
	}
}
