package rule

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// tour puts two nights on the stage; on the first, something became of what
// hung on the igniter bank.
func tour(outcomes string, more ...timeline.Edit) []timeline.Edit {
	return append(edits(
		put(&timeline.Night{Base: base{ID: "n0"}, Slug: "n0", Date: "2031-05-08"}, &timeline.Night{Base: base{ID: "n2"}, Slug: "n2", Date: "2031-05-10"}),
		field("night", "n0", "outcomes", outcomes), field("placed", "c1", "spare", "false")), more...)
}

func TestOpenMisfire(t *testing.T) {
	const misfire = "ib:1 misfired placed=c1 article=comet"
	onNight := func(night timeline.ID, list []timeline.Edit) []Finding {
		s := asLoaded(t, list...)
		return ofRule("open-misfire", Check(timeline.Compile(s, s.Night(night)), Facts{}))
	}
	requireFindings(t, []string{"night:n0: comet at igniter bank:1 misfired on 2031-05-08, and nobody has cleared it"}, onNight("n2", tour(misfire)))
	require.Empty(t, onNight("n0", tour(misfire)), "not on the night itself")
	require.Len(t, onNight("", tour(misfire)), 1, "and on the tour")
	require.Empty(t, onNight("n2", tour(misfire+" cleared-by=x")))
	require.Empty(t, onNight("n2", tour("ib:1 fired placed=c1 article=comet")))
	require.Len(t, onNight("n2", tour(misfire, remove("wire", "w-c1"), remove("placed", "c1"))), 1, "taken out of the rig it is still there")
	require.Equal(t, Error, onNight("n2", tour(misfire))[0].Severity)
}

func TestStillLoaded(t *testing.T) {
	const unfired = "ib:1 unfired placed=c1 article=comet"
	onNight := func(list ...timeline.Edit) []Finding {
		s := asLoaded(t, tour(unfired, list...)...)
		return ofRule("still-loaded", Check(timeline.Compile(s, s.Night("n2")), Facts{}))
	}
	require.Empty(t, onNight(cue("a", "c1", sec)), "tonight's load is there already")
	require.Empty(t, onNight(key(1, aims("c1"))), "a key is meant for it")
	require.Empty(t, onNight(field("placed", "c1", "spare", "true")))
	requireFindings(t, []string{"night:n0: comet stands loaded at igniter bank:1, not fired on 2031-05-08, and nothing is meant to fire it tonight"}, onNight())
	requireFindings(t, []string{"night:n0: tonight wants another article there"}, onNight(cue("a", "c1", sec), field("night", "n2", "swaps", "article=comet to=bang")))
	requireFindings(t, []string{"night:n0: the place is out of tonight's rig"}, onNight(field("night", "n2", "rig-changes", "placed=c1 out")))
	requireFindings(t, []string{"night:n0: the rig has no such place"}, onNight(remove("wire", "w-c1"), remove("placed", "c1")))
	s := stage(t, tour(unfired, field("night", "n2", "outcomes", "ib:1 taken-out placed=c1 article=comet"))...)
	require.Empty(t, ofRule("still-loaded", Check(timeline.Compile(s, nil), Facts{})))
}

// Over stock compares with what earlier nights have left.
func TestOverStockAfterNights(t *testing.T) {
	find := func(night timeline.ID, stock string, more ...timeline.Edit) []Finding {
		s := stage(t, tour("ib:1 fired placed=c1 article=comet;ib:2 misfired placed=c2 article=comet", append(more, field("article", "comet", "stock", stock))...)...)
		return ofRule("over-stock", Check(timeline.Compile(s, s.Night(night)), Facts{}))
	}
	require.Empty(t, find("n0", "2"))
	require.Empty(t, find("n2", "4"))
	requireFindings(t, []string{"article:comet: 2 stand in the rig, and 1 are in stock after what earlier nights used of 3"}, find("n2", "3"))
	requireFindings(t, []string{"article:comet: and 0 are in stock"}, find("n2", "2"))
	require.Empty(t, find("n2", "2", field("article", "comet", "counted", "2031-05-09")), "counted after the first night")
}
