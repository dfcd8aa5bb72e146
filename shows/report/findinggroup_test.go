package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// hundred is a tour with very many findings of few causes.
func hundred(t testing.TB) (*timeline.Plan, []rule.Finding) {
	t.Helper()
	p := timeline.Compile(testshow.Tour(t, 5, 200), nil)
	found := rule.Check(p, rule.Facts{})
	require.Greater(t, len(found), 150)
	return p, found
}

// A hundred findings of one cause stay under a screen, and nothing is lost: each is written, or counted in the line of its group.
func TestGroupedFindingsStayUnderAScreen(t *testing.T) {
	p, found := hundred(t)
	l := NewFindings(p, rule.Facts{}, found, nil, Filter{})
	var grouped, short, js, again bytes.Buffer
	require.NoError(t, l.WriteGrouped(&grouped))
	lines := strings.Split(strings.TrimSpace(grouped.String()), "\n")
	require.Less(t, len(lines), 40)
	require.Equal(t, CautionLine, lines[len(lines)-1])
	groups := GroupFindings(p, found)
	counted := 0
	for _, g := range groups {
		for k, i := range g.Found {
			if k < shownOfGroup || len(g.Found) == shownOfGroup+1 {
				require.Contains(t, lines, l.List[i].Short())
				counted++
			}
		}
		if more := len(g.Found) - shownOfGroup; more > 1 {
			counted += more
		}
	}
	require.Equal(t, len(found), counted)
	require.Contains(t, grouped.String(), "--each: a line for each")
	require.NoError(t, l.WriteShort(&short))
	require.Len(t, strings.Split(strings.TrimSpace(short.String()), "\n"), len(found)+1)

	// What programs read is as it was, whatever was written for people before.
	require.NoError(t, NewFindings(p, rule.Facts{}, found, nil, Filter{}).WriteJSON(&js))
	require.NoError(t, l.WriteJSON(&again))
	require.Equal(t, js.String(), again.String())
}

// One arm that is missing in front of a hundred hits is a matter of a few lines.
func TestOneMissingArmIsAFewLines(t *testing.T) {
	s := testshow.Edited(t, testshow.Small(t), func(d *timeline.Draft) error {
		for i := range 100 {
			d.Put("ember", &timeline.Cue{Base: timeline.Base{ID: timeline.ID(fmt.Sprintf("h%d", i))}, Lane: "lfla", At: timeline.AtTime(timeline.FromMillis(int64(24000 + 120*i))), Open: timeline.FromMillis(50)})
		}
		return nil
	})
	p := timeline.Compile(s, nil)
	found := rule.Check(p, rule.Facts{})
	unarmed := 0
	for _, f := range found {
		if f.Rule == "arm-up" {
			unarmed++
		}
	}
	require.GreaterOrEqual(t, unarmed, 100)
	var out bytes.Buffer
	require.NoError(t, NewFindings(p, rule.Facts{}, found, nil, Filter{}).WriteGrouped(&out))
	require.Less(t, strings.Count(out.String(), "\n"), 25, "%s", out.String())
}

// Groups say what is wrong, how often and in which songs, and what they rest on.
func TestGroupsInWords(t *testing.T) {
	p, found := hundred(t)
	groups, seen := GroupFindings(p, found), 0
	for _, g := range groups {
		switch {
		case g.Rule == "arm-up":
			r, _ := rule.Lookup("arm-up")
			require.Equal(t, r.Summary, g.Title)
			require.Contains(t, g.Where, " in songs 1, 2, 4, 5")
			require.Equal(t, `device type "flame bar" arm-lead is 0 ms`, g.Cause)
		case g.Rule == "arm-left-up":
			require.Equal(t, found[g.Found[0]].Text, g.Title, "one finding says what it is itself")
			require.Equal(t, "the setting hold of arm-left-up is 30 s", g.Cause)
			require.Nil(t, g.Fix, "arms are laid by emberbeat arms")
		case g.Rule == "no-audio":
			require.Empty(t, g.Cause)
		default:
			continue
		}
		seen++
	}
	require.Equal(t, 3, seen)
}

// Where a filter shows a part, what is grouped is that part.
func TestGroupedFindingsOfASong(t *testing.T) {
	p, found := hundred(t)
	l := NewFindings(p, rule.Facts{}, found, nil, Filter{Song: "song03"})
	var out bytes.Buffer
	require.NoError(t, l.WriteGrouped(&out))
	require.NotContains(t, out.String(), `song 1 "`)
	require.Contains(t, out.String(), " in song 3")
}

// What is plugged in for a night alone stands in no file: it is told as such, and not
// as something gone, by its id.
func TestWireOfTheNightIsCalledSo(t *testing.T) {
	p := timeline.Compile(testshow.Small(t), nil)
	p.Night = &timeline.Night{}
	wire := timeline.Ref{Kind: "wire", ID: "c9zq"}
	require.Equal(t, "wire of the night", namedIn(p.Show.Names(), p, wire))
	there := timeline.Ref{Kind: "wire", ID: p.Show.Rig.Wires[0].ID}
	require.Equal(t, p.Show.NamedRef(there), namedIn(p.Show.Names(), p, there))
}
