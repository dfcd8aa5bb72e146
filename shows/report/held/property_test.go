package held

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/shows/report"
	"emberbeat/timeline"
	_ "emberbeat/timeline/testtool" // the seed of random walks
)

// randomPlan is a show of up to three songs whose cues are so far apart that a row
// can be meant for one of them alone: each jet is on an output of its own, and its
// hits are more than two windows apart.
func randomPlan(t *rapid.T) *timeline.Plan {
	jets, songs := rapid.IntRange(1, 6).Draw(t, "jets"), rapid.IntRange(1, 3).Draw(t, "songs")
	rate := rapid.SampledFrom(timeline.Rates()).Draw(t, "rate")
	s, err := timeline.NewShow("s", "S", rate).Edit(func(d *timeline.Draft) error {
		base := func(id string, n int) timeline.Base { return timeline.Base{ID: timeline.ID(fmt.Sprint(id, n))} }
		d.Put("", &timeline.BankType{Base: base("t", 0), Kind: timeline.RelayBank, Outputs: 16},
			&timeline.Article{Base: base("a", 0), Name: "jet", Family: timeline.CO2Jet, Control: timeline.RelayControl, Lead: timeline.FromMillis(120), Open: timeline.FromMillis(100)})
		for b := range 2 {
			d.Put("", &timeline.Bank{Base: base("b", b), Name: fmt.Sprintf("Post %d", b), Type: "t0", Address: b * 3})
		}
		for j := range jets {
			d.Put("", &timeline.Placed{Base: base("j", j), Name: fmt.Sprintf("jet %d", j), Article: "a0"},
				&timeline.Wire{Base: base("w", j), Placed: timeline.ID(fmt.Sprint("j", j)), Driver: timeline.ID(fmt.Sprint("b", j%2)), Output: 1 + j})
		}
		set := &timeline.Set{Base: base("set", 0), Name: "main"}
		for g := range songs {
			id := timeline.ID(fmt.Sprint("g", g))
			d.Put("", &timeline.SongHead{Base: timeline.Base{ID: id}, Title: fmt.Sprintf("Song %d", g), Slug: string(id), Start: timeline.Timecode{H: uint8(1 + g)}, Length: 10 * timeline.Minute})
			set.Entries = append(set.Entries, timeline.Entry{Song: id})
			for j := range jets {
				lane := base("l", j)
				d.Put(id, &timeline.Lane{Base: lane, Name: fmt.Sprint("lane ", j), Target: timeline.ID(fmt.Sprint("j", j)), Role: timeline.EffectSlot})
				at := timeline.Second
				for c := range rapid.IntRange(0, 4).Draw(t, "cues") {
					at += timeline.FromMillis(int64(rapid.IntRange(2500, 40000).Draw(t, "gap")))
					d.Put(id, &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("c%d-%d", j, c))}, Lane: lane.ID, At: timeline.AtTime(at)})
				}
			}
		}
		d.Put("", set)
		return nil
	})
	require.NoError(t, err)
	return timeline.Compile(s, nil)
}

// exported is a row of the list as a desk would export it.
type exported struct {
	frame  int64
	module int
	output int
	number int
	cue    *report.Line
}

// exportOf is the list of a plan as a desk that calls banks modules would export it,
// in the plan's order.
func exportOf(t require.TestingT, p *timeline.Plan) []exported {
	l, err := report.NewCueList(p, report.Filter{})
	require.NoError(t, err)
	var rows []exported
	for i := range l.Lines {
		module, output := 0, 0
		_, err := fmt.Sscanf(l.Lines[i].Outputs[0].Label, "Post %d output %d", &module, &output)
		require.NoError(t, err)
		rows = append(rows, exported{l.Lines[i].Frame, module, output, i + 1, &l.Lines[i]})
	}
	return rows
}

// A list as a desk would export it does not differ from the plan; of what is changed
// in it at random just that is reported, whatever else is the same, and a time by
// which all of it is off changes nothing of that.
func TestWhatIsChangedIsReported(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomPlan(t)
		rows := exportOf(t, p)
		want := []string{}
		frames := map[int64]int{}
		for _, r := range rows {
			frames[r.frame]++
		}
		window := int64(timeline.Second / p.Rate.FrameTicks())
		var list []exported
		changed := 0
		for i, r := range rows {
			kind := "none"
			if 3*(changed+1) < len(rows) { // the others prove where the songs begin
				kind = rapid.SampledFrom([]string{"none", "none", "none", "drop", "shift", "address", "extra", "twice"}).Draw(t, "change")
			}
			if frames[r.frame] > 1 && (kind == "drop" || kind == "address") {
				kind = "none" // which of the two was meant nobody could tell
			}
			if kind != "none" {
				changed++
			}
			number := r.cue.Number
			switch kind {
			case "drop":
				want = append(want, fmt.Sprintf("missing of %d by 0", number))
				continue
			case "shift":
				by := rapid.Int64Range(1, window).Draw(t, "by") * int64(rapid.SampledFrom([]int{-1, 1}).Draw(t, "way"))
				r.frame += by
				want = append(want, fmt.Sprintf("other frame of %d by %d", number, by))
			case "address":
				r.output = 16 - r.output // nothing hangs there: six are the most in use
				if r.output <= 6 {
					r.output = 12
				}
				want = append(want, fmt.Sprintf("other address of %d by 0", number))
			case "extra":
				x := r
				for x.output = 15; frames[x.frame] > 0; x.frame++ {
				}
				x.number = 1000 + i
				list = append(list, x)
				want = append(want, "extra of 0 by 0")
			case "twice":
				x := r
				x.number = 1000 + i
				list = append(list, r)
				r = x
				want = append(want, "extra of 0 by 0")
			}
			list = append(list, r)
		}
		var off int64
		if len(rows) > 8 && rapid.Bool().Draw(t, "off") {
			off = rapid.Int64Range(1, 3600*24).Draw(t, "by")
		}
		list = rapid.Permutation(list).Draw(t, "order")
		var b strings.Builder
		b.WriteString("Firing list\nWhen,Where\n")
		for _, r := range list {
			fmt.Fprintf(&b, "%s,M%02d-P%03d\n", p.Rate.Label(r.frame+off), r.module, r.output)
		}
		got := compare(t, p, "", b.String(), "map timecode=When", "map address=Where", `means "M{b}-P{n}"="Post {b}:{n}"`)
		said := []string{}
		for _, d := range got.Differences {
			if d.Kind == OtherOrder {
				continue // the rows stand anyhow; see below
			}
			said = append(said, fmt.Sprintf("%s of %d by %d", d.Kind, d.Number, d.Late))
		}
		slices.Sort(want)
		slices.Sort(said)
		require.Equal(t, want, said, b.String())
		if off != 0 {
			require.Len(t, got.Offsets, 1, b.String())
			require.Equal(t, off, got.Offsets[0].Frames)
		} else {
			require.Empty(t, got.Offsets)
		}
		again := compare(t, p, "", b.String(), "map timecode=When", "map address=Where", `means "M{b}-P{n}"="Post {b}:{n}"`)
		require.Equal(t, got, again)
	})
}

// Two rows of a song whose numbers are swapped, with two between them, are the two
// that stand in another order.
func TestSwappedNumbersAreOtherOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := randomPlan(t)
		rows := exportOf(t, p)
		var apart []int // of the first song, each at a frame of its own
		for i, r := range rows {
			if r.cue.SongNumber == 1 && (len(apart) == 0 || rows[apart[len(apart)-1]].frame != r.frame) {
				apart = append(apart, i)
			}
		}
		if len(apart) < 4 {
			t.Skip("too few cues")
		}
		a := rapid.IntRange(0, len(apart)-4).Draw(t, "a")
		b := rapid.IntRange(a+3, len(apart)-1).Draw(t, "b")
		x, y := &rows[apart[a]], &rows[apart[b]]
		x.number, y.number = y.number, x.number
		var out strings.Builder
		out.WriteString("timecode,address,number\n")
		for _, r := range rows {
			fmt.Fprintf(&out, "%s,Post %d:%d,%d\n", p.Rate.Label(r.frame), r.module, r.output, r.number)
		}
		got := compare(t, p, "", out.String())
		var said []int
		for _, d := range got.Differences {
			require.Equal(t, OtherOrder, d.Kind)
			said = append(said, d.Number)
		}
		slices.Sort(said)
		require.Equal(t, []int{x.cue.Number, y.cue.Number}, said)
	})
}
