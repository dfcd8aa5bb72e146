package intake_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/shows/intake"
	"emberbeat/timeline"
)

// cueShow has two songs of a minute at 120 bpm, starting at 1:00:00:00 and
// 2:00:00:00, two jets with a lead of 0.12 s, one flame with 0.15 s.
func cueShow(t testing.TB) *timeline.Plan {
	t.Helper()
	show := timeline.NewShow("s", "Tour", timeline.Rate25)
	p := func(s *timeline.Show) *timeline.Plan { return timeline.Compile(s, nil) }
	add := func(ref timeline.Ref, fields ...string) {
		var as []timeline.Assignment
		for _, f := range fields {
			a, err := timeline.ParseAssignment(f)
			require.NoError(t, err)
			as = append(as, a)
		}
		next, err := show.Edit(p(show).Add(ref, as...))
		require.NoError(t, err)
		show = next
	}
	ref := func(kind, id string) timeline.Ref { return timeline.Ref{Kind: kind, ID: timeline.ID(id)} }
	add(ref("article", "jet"), "name=Cold jet", "family=co2-jet", "lead=0.12", "open=0.5")
	add(ref("article", "flame"), "name=Flame", "family=propane-flame", "lead=0.15", "open=0.3")
	add(ref("placed", "j1"), "name=Jet left", "article=jet")
	add(ref("placed", "j2"), "name=Jet right", "article=jet")
	add(ref("placed", "f1"), "name=Flame 1", "article=flame")
	add(ref("group", "all"), "name=All", "members=j1; f1")
	for i, title := range []string{"First", "Second"} {
		add(ref("song", strings.ToLower(title)), "title="+title, "slug=song-"+fmt.Sprint(i+1), fmt.Sprintf("start=%02d:00:00:00", i+1), "length=60", "beats=1.1 at=0 metre=4/4; 31.1 at=60")
	}
	return p(show)
}

func rowsOf(t testing.TB, p *timeline.Plan, o intake.CueOptions, text string) []string {
	t.Helper()
	table, err := intake.ReadTable([]byte(text), intake.TableOptions{Look: o.Mapping.Columns(), Any: intake.MappingFields()})
	require.NoError(t, err)
	rows, err := table.Cues(p, o)
	require.NoError(t, err)
	var got []string
	for _, r := range rows {
		word := "skip"
		switch {
		case r.Bad:
			word = "bad"
		case r.Places():
			word = "place"
		}
		got = append(got, fmt.Sprintf("%d %s %s", r.Line, word, r.Says))
	}
	return got
}

func TestCueRows(t *testing.T) {
	p := cueShow(t)
	first := p.Show.Song("first")
	for _, c := range []struct {
		name string
		o    intake.CueOptions
		text string
		want []string
	}{
		{"own names", intake.CueOptions{Song: first}, "bar,target,open,level,note\n2.1,Jet left,0.8,50 %,hello\n3.1+1/2,j2,,,\n", []string{
			`2 place song "First": a cue at 2.1 on lane "Jet left", open 0.8000 s, level 50 %`,
			`3 place song "First": a cue at 3.1+1/2 on lane "j2"`,
		}},
		{"mapped, songs by timecode", intake.CueOptions{Mapping: intake.Mapping{"timecode": "TC", "target": "Device"}, Lane: "Hits"},
			"TC,Device\n01:00:10:00,Jet left\n02:00:59:24,All\n01:30:00:00,Jet left\n01:00:10:25,Jet left\n", []string{
				`2 place song "First": a cue at 01:00:10:00 on lane "Hits", target "Jet left"`,
				`3 place song "Second": a cue at 02:00:59:24 on lane "Hits", target "All"`,
				`4 bad no song runs at timecode 01:30:00:00`,
				`5 bad timecode 01:00:10:25 is out of range at frame rate 25: frames run from 00 to 24, the last label is 23:59:59:24`,
			}},
		{"songs by column, rows left out", intake.CueOptions{Only: map[string]string{"kind": "hit"}, Target: "All"},
			"song,seconds,kind\nFirst,1.5,HIT\nSecond,1:02.5,arm\n2,before 0.4500,hit\nThird,2,hit\nFirst,,hit\n", []string{
				`2 place song "First": a cue at 0:01.5000 on lane "All"`,
				`3 skip is left out`,
				`4 place song "Second": a cue at -0:00.4500 on lane "All"`,
				`5 bad song "Third" is not in the show: write a title, folder or number of "First" (song-1), "Second" (song-2)`,
				`6 skip says no time`,
			}},
		{"decimal commas", intake.CueOptions{Song: first, Lane: "Hits"}, "at;target;open\n1:02,5;Jet left;0,8\n12,5s;Jet left;\n", []string{
			`2 place song "First": a cue at 1:02.5000 on lane "Hits", target "Jet left", open 0.8000 s`,
			`3 place song "First": a cue at 0:12.5000 on lane "Hits", target "Jet left"`,
		}},
		{"command times", intake.CueOptions{Song: first, Command: true}, "seconds,target\n10,Jet left\n10,All\n", []string{
			`2 place song "First": a cue at 0:10.1200 on lane "Jet left"`,
			`3 place song "First": a cue at 0:10.1500 on lane "All"`,
		}},
		{"names that mean others", intake.CueOptions{Song: first, Means: map[string]string{"JET L": "Jet left"}}, "at,target\n1.1,JET L\n", []string{
			`2 place song "First": a cue at 1.1 on lane "Jet left"`,
		}},
		{"rows that are no hits", intake.CueOptions{Song: first}, "at,target,action\n1.1,j1,Hit\n2.1,j1,arm up\n3.1,j1,\n", []string{
			`2 place song "First": a cue at 1.1 on lane "j1"`,
			`3 bad action "arm up" is no hit; take the hits alone with --only action=hit`,
			`4 place song "First": a cue at 3.1 on lane "j1"`,
		}},
		{"what cannot be", intake.CueOptions{Song: first}, "at,target,open,level,article\nsoon,j1,,,\n1.1,Jet lefd,,,\n1.1,,,,\n1.1,j1,-1,,\n1.1,j1,,120,\n1.1,j1,,,Smoke\n1.1,j1,,,\n1.1,j1,,,\n", []string{
			`2 bad position "soon" cannot be read: write a bar such as 17.3+1/2, a time such as 1:02.5 or 12.5s, or a timecode such as 03:01:22:10`,
			`3 bad target "Jet lefd" is not in the show: there is placed:"Jet left", placed:"Jet right", placed:"Flame 1"; there is group:All`,
			`4 bad names neither target nor lane; map one of them, or choose one for all rows`,
			`5 bad open "-1" is below 0 s`,
			`6 bad level "120" must be a whole percentage from 1 to 100`,
			`7 bad article "Smoke" is not in the show: there is article:Flame, article:"Cold jet"`,
			`8 place song "First": a cue at 1.1 on lane "j1"`,
			`9 bad lane "j1" already has a cue at 1.1; nothing was placed`,
		}},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, rowsOf(t, p, c.o, c.text)) })
	}
}

func TestCueTablesThatSayNothing(t *testing.T) {
	p := cueShow(t)
	for _, c := range []struct {
		o          intake.CueOptions
		text, want string
	}{
		{intake.CueOptions{}, "name,effect\na,b\n", `no column says when; map one of at, bar, seconds, timecode, such as timecode=name; the table has "name", "effect"`},
		{intake.CueOptions{}, "bar,timecode\n1.1,x\n", "bar and timecode each say when; map the one that counts, such as bar=bar"},
		{intake.CueOptions{Only: map[string]string{"kind": "hit"}}, "at\n1.1\n", `no column is called "kind"; the table has "at"`},
	} {
		table, err := intake.ReadTable([]byte(c.text), intake.TableOptions{})
		require.NoError(t, err)
		_, err = table.Cues(p, c.o)
		require.EqualError(t, err, c.want)
	}
}

// The edit places what the rows said, all in one step.
func TestPlaceCues(t *testing.T) {
	p := cueShow(t)
	table, err := intake.ReadTable([]byte("at,target\n1.1,Jet left\nsoon,Jet left\n2.1,Jet right\n3.1,Jet left\n"), intake.TableOptions{})
	require.NoError(t, err)
	rows, err := table.Cues(p, intake.CueOptions{Song: p.Show.Song("first"), Lane: "Hits"})
	require.NoError(t, err)
	n := 0
	next, err := p.Show.Edit(intake.PlaceCues(p, rows, func(kind string, _ timeline.ID) timeline.ID {
		n++
		return timeline.ID(fmt.Sprint(kind, n))
	}))
	require.NoError(t, err)
	song := next.Song("first")
	require.Len(t, song.Lanes, 1)
	require.Len(t, song.Cues, 3)
	require.Empty(t, p.Show.Song("first").Cues)
}
