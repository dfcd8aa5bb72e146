package sheet

import (
	"image"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report/permit"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
)

func permitOf(t require.TestingT, p *timeline.Plan) *permit.Pack {
	k, err := permit.NewPack(p)
	require.NoError(t, err)
	return k
}

// A pack is a draft, on every page, as long as one distance, height or fallout
// has no label, measurement or published source behind it.
func TestPermitPackIsADraftUntilAllIsVerified(t *testing.T) {
	for _, c := range []struct {
		mark   timeline.Mark
		change func(*timeline.Article)
		want   []string // records with their numbers
	}{
		{timeline.Label, func(*timeline.Article) {}, nil},
		{timeline.Published, func(*timeline.Article) {}, nil},
		{timeline.Label, func(a *timeline.Article) { a.Marks = []string{"lead=C", "nec=J"} }, nil},
		{timeline.Label, func(a *timeline.Article) {
			if a.ID == "comet" {
				a.Marks = []string{"fallout=J"}
			}
		}, []string{"article:comet J fallout 3 m"}},
		{timeline.Invented, func(*timeline.Article) {}, []string{"article:jet invented height 6 m, clear zone 3 m", "article:comet invented height 8 m, fallout 3 m", "article:flame invented height 5 m, label distance 6 m"}},
		{"", func(a *timeline.Article) { a.Height, a.Fallout, a.Clear, a.Separation = 0, 0, 0, float64(len(a.ID)-3) }, []string{"article:comet C label distance 2 m", "article:flame C label distance 2 m"}},
	} {
		k := permitOf(t, testshow.Marked(t, c.mark, c.change))
		var got []string
		for _, u := range k.Draft {
			got = append(got, u.Record+" "+u.Mark+" "+strings.Join(u.Numbers, ", "))
		}
		require.Equal(t, c.want, got)
		for _, page := range (permitPack{Pack: k}).Printed().Pages(render.NewFaces(), paper.A4) {
			require.Equal(t, len(c.want) > 0, strings.Contains(paper.Plain(page), "DRAFT"))
		}
	}
}

// Nothing that is printed says that something is safe or ok; a device's safe
// state is the trade's word for what it does when nothing is asked of it.
func TestNoSheetSaysSafe(t *testing.T) {
	word, trade := regexp.MustCompile(`(?i)\b(safe|ok|okay)\b`), regexp.MustCompile(`(?i)safe\s+states?`)
	s := testshow.Staged(t)
	for _, p := range []*timeline.Plan{timeline.Compile(s, s.Night("n1")), timeline.Compile(s, nil)} {
		each(t, p, func(name string, made Sheet) {
			var b strings.Builder
			require.NoError(t, made.WriteCSV(&b))
			require.NoError(t, made.WriteJSON(&b))
			for _, page := range made.Printed().Pages(render.NewFaces(), paper.A4) {
				b.WriteString(paper.Plain(page))
			}
			require.Empty(t, word.FindString(trade.ReplaceAllString(b.String(), "")), name)
		})
	}
}

// At 1:200 a metre is 5 mm on paper, at 1:100 a centimetre (derived). The scale
// taken is the largest at which everything fits.
func TestStagePlanIsToScale(t *testing.T) {
	const mm = 96 / 25.4 * 3 // device pixels at 300 %
	require.InEpsilon(t, 5*mm, perMetre(200, 300), 1e-9)
	require.InEpsilon(t, 10*mm, perMetre(100, 300), 1e-9)
	rapid.Check(t, func(rt *rapid.T) {
		far := float64(rapid.IntRange(1, 9000).Draw(rt, "metres"))
		s, err := testshow.Small(t).Edit(func(d *timeline.Draft) error {
			d.Put("", &timeline.StagePosition{Base: timeline.Base{ID: "left"}, X: -far, Y: far / 3})
			return nil
		})
		require.NoError(rt, err)
		p := timeline.Compile(s, nil)
		area := image.Rect(0, 0, rapid.IntRange(1500, 3000).Draw(rt, "wide"), rapid.IntRange(600, 2000).Draw(rt, "high"))
		b := render.StageBounds(p)
		n := planScale(b, area, 300)
		fits := func(n int) bool {
			m := perMetre(n, 300)
			return (b.Max.X-b.Min.X+2)*m <= float64(area.Dx()) && (b.Max.Y-b.Min.Y+2)*m <= float64(area.Dy())
		}
		require.True(rt, fits(n))
		for _, larger := range planScales {
			if larger < n {
				require.False(rt, fits(larger))
			}
		}
	})
}

// A desk far behind the audience gets a plan of the site, and leaves the stage
// plan as large as it was.
func TestPostsFarAwayHaveAPlanOfTheirOwn(t *testing.T) {
	pages := func(at timeline.Point) (text string) {
		s, err := testshow.Staged(t).Edit(func(d *timeline.Draft) error {
			v := *d.Show().Venue("v1")
			v.Control = []timeline.PlanMark{{Name: "desk", At: at}}
			d.Put("", &v)
			return nil
		})
		require.NoError(t, err)
		for _, page := range (permitPack{Pack: permitOf(t, timeline.Compile(s, s.Night("n1")))}).Printed().Pages(render.NewFaces(), paper.A4) {
			text += paper.Plain(page)
		}
		return text
	}
	near, far := pages(timeline.Point{X: 7, Y: 2}), pages(timeline.Point{Y: -60})
	require.NotContains(t, near, "Site plan")
	require.Contains(t, near, "control: desk")
	require.Contains(t, far, "Site plan: Lantern Hall")
	require.Contains(t, far, "control: desk")
	scale := regexp.MustCompile(`Scale 1:\d+`)
	require.Equal(t, scale.FindString(near), scale.FindString(far))
	require.NotEqual(t, scale.FindAllString(far, 2)[0], scale.FindAllString(far, 2)[1])
}

// The pack says what nothing here knows of, as the README does; and beside the
// rows of a rule set what they leave out of it.
func TestPermitPackSaysWhatItDoesNotKnow(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	s := testshow.Staged(t)
	k := permitPack{Pack: permitOf(t, timeline.Compile(s, s.Night("n1")))}
	var b strings.Builder
	require.NoError(t, k.WriteCSV(&b))
	for _, line := range permit.NotModelled {
		require.Contains(t, b.String(), line)
		what, _, _ := strings.Cut(line, ":")
		what, _, _ = strings.Cut(what, ",")
		require.Contains(t, string(readme), what)
	}
	for _, what := range []string{"noise", "recoil", "smoke", "wind on a flame", "line of sight"} {
		require.Contains(t, strings.Join(permit.NotModelled, "\n"), what)
	}
	require.Contains(t, b.String(), "Of the rule set these rows leave out: ")
	require.Contains(t, b.String(), "these rows name families")
	require.Contains(t, b.String(), "edition 2014, day it was read not given, superseded by ")
}
