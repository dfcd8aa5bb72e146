package shows

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// starterRange is what a family's articles may hold: trade lore, common practice
// without a source. Seconds, metres, grams; use in kg per second or per hit.
type starterRange struct {
	lead, spread               float64
	open, height, fallout, nec [2]float64
	recovery, use              [2]float64
	single                     bool
}

var starterRanges = map[timeline.Family]starterRange{
	timeline.FountainLong:   {lead: .1, spread: .04, open: [2]float64{5, 20}, height: [2]float64{2, 6}, fallout: [2]float64{.5, 1.5}, nec: [2]float64{15, 60}, single: true},
	timeline.FountainBurst:  {lead: .08, spread: .03, open: [2]float64{.5, 1.5}, height: [2]float64{3, 8}, fallout: [2]float64{.5, 1.5}, nec: [2]float64{5, 15}, single: true},
	timeline.FlashPot:       {lead: .025, spread: .015, open: [2]float64{.1, .1}, height: [2]float64{1.5, 3}, fallout: [2]float64{.5, 1}, nec: [2]float64{3, 15}, single: true},
	timeline.Report:         {lead: .015, spread: .01, open: [2]float64{.02, .02}, height: [2]float64{.5, 1}, fallout: [2]float64{.5, 1}, nec: [2]float64{8, 30}, single: true},
	timeline.Airburst:       {lead: .04, spread: .02, open: [2]float64{.2, .8}, height: [2]float64{1, 4}, fallout: [2]float64{1, 2}, nec: [2]float64{3, 15}, single: true},
	timeline.Comet:          {lead: .04, spread: .02, open: [2]float64{1, 1.8}, height: [2]float64{8, 25}, fallout: [2]float64{2, 5}, nec: [2]float64{8, 25}, single: true},
	timeline.Mine:           {lead: .04, spread: .02, open: [2]float64{.6, 1.2}, height: [2]float64{6, 15}, fallout: [2]float64{2, 6}, nec: [2]float64{20, 50}, single: true},
	timeline.LineRocket:     {lead: .08, spread: .04, open: [2]float64{1, 2}, fallout: [2]float64{1, 2}, nec: [2]float64{10, 30}, single: true},
	timeline.Waterfall:      {lead: .5, spread: .2, open: [2]float64{10, 30}, fallout: [2]float64{1.5, 1.5}, nec: [2]float64{30, 120}, single: true},
	timeline.Lance:          {lead: 1, spread: .5, open: [2]float64{30, 60}, height: [2]float64{0, 1}, fallout: [2]float64{.3, .5}, nec: [2]float64{3, 10}, single: true},
	timeline.CO2Jet:         {lead: .12, spread: .03, open: [2]float64{.2, 3}, height: [2]float64{5, 8}, recovery: [2]float64{.3, 2}, use: [2]float64{.6, 1.5}},
	timeline.PropaneFlame:   {lead: .15, spread: .05, open: [2]float64{.1, 1}, height: [2]float64{3, 8}, recovery: [2]float64{1, 4}, use: [2]float64{.05, .15}},
	timeline.AerosolFlame:   {lead: .15, spread: .06, open: [2]float64{.1, 1}, height: [2]float64{2, 4}, recovery: [2]float64{.3, 1}, use: [2]float64{.02, .05}},
	timeline.LiquidFlame:    {lead: .12, spread: .05, open: [2]float64{.1, 2}, height: [2]float64{4, 12}, recovery: [2]float64{.2, 1}, use: [2]float64{.1, .35}},
	timeline.SparkMachine:   {lead: .7, spread: .3, open: [2]float64{1, 15}, height: [2]float64{2, 5}, fallout: [2]float64{1, 2}, recovery: [2]float64{1, 3}, use: [2]float64{2. / 60000, 20. / 60000}},
	timeline.FogMachine:     {lead: .7, spread: .3, open: [2]float64{1, 40}, height: [2]float64{0, 12}, recovery: [2]float64{20, 90}, use: [2]float64{50. / 60000, 200. / 60000}},
	timeline.ConfettiSingle: {lead: .08, spread: .03, open: [2]float64{.2, .2}, height: [2]float64{6, 15}, use: [2]float64{0, 1}, single: true},
	timeline.ConfettiBlower: {lead: .4, spread: .15, open: [2]float64{2, 60}, height: [2]float64{6, 20}, recovery: [2]float64{1, 3}, use: [2]float64{.05, .3}},
}

// A show begins with a rig that is as invented as its stock, and a song in it has a lane for each group, named after it: nothing is wrong with either.
func TestStarterRig(t *testing.T) {
	s, err := WithStarterRig(timeline.NewShow("new", "New", timeline.Rate25))
	require.NoError(t, err)
	require.Len(t, s.Rig.Placed, 6)
	for _, p := range s.Rig.Placed {
		require.Equal(t, timeline.Invented, s.Stock.Article(p.Article).Mark, p.Name)
	}
	s, err = s.Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.SongHead{Base: timeline.Base{ID: "song"}, Title: "Song", Slug: "song", Length: timeline.Minute, PreRoll: 5 * timeline.Second, Start: timeline.Timecode{H: 1}})
		return nil
	})
	require.NoError(t, err)
	lanes := StarterLanes(s)
	require.Len(t, lanes, 3)
	s, err = s.Edit(func(d *timeline.Draft) error {
		for i, l := range lanes {
			d.Put("song", l, &timeline.Cue{Base: timeline.Base{ID: timeline.ID("cue" + string(rune('0'+i)))}, Lane: l.ID, At: timeline.AtTime(timeline.Time(10+10*i) * timeline.Second)})
		}
		return nil
	})
	require.NoError(t, err)
	names := []string{}
	for _, l := range s.Song("song").Lanes {
		names = append(names, s.CalledIn("song", l))
	}
	require.ElementsMatch(t, []string{"Jets", "Comets", "Confetti"}, names)
	require.Len(t, timeline.Compile(s, nil).Songs[0].Commands, 6, "each cue fires both of its group")

	// Where anything is known of what is owned, nothing is laid unasked.
	own, err := s.Edit(func(d *timeline.Draft) error {
		a := *s.Stock.Article("st-cold-six")
		a.Mark, a.Source = timeline.Measured, "12 frames of video"
		d.Put("", &a)
		return nil
	})
	require.NoError(t, err)
	require.Empty(t, StarterLanes(own))
}

// The starter stock has every family that an article can be bought in, each
// within what the trade knows, and all of it says that it is invented.
func TestStarterStock(t *testing.T) {
	stock, err := Starter()
	require.NoError(t, err)
	seen := map[timeline.Family]bool{}
	for _, a := range stock.Articles {
		seen[a.Family] = true
		require.Equal(t, timeline.Invented, a.Mark, a.ID)
		require.Equal(t, "invented starter stock", a.Source, a.ID)
		r, ok := starterRanges[a.Family]
		if a.Family == timeline.Haze { // a state of minutes, of which nothing is given
			continue
		}
		require.True(t, ok, a.ID)
		require.Equal(t, timeline.FromSeconds(r.lead), a.Lead, a.ID)
		require.Equal(t, timeline.FromSeconds(r.spread), a.Spread, a.ID)
		require.Equal(t, r.single, a.SingleUse, a.ID)
		within(t, a, "open", r.open, a.Open.Seconds())
		within(t, a, "height", r.height, a.Height)
		within(t, a, "fallout", r.fallout, a.Fallout)
		within(t, a, "NEC", r.nec, a.NEC)
		within(t, a, "recovery", r.recovery, a.Recovery.Seconds())
		within(t, a, "use", r.use, a.UseRate+a.UseEach)
	}
	require.Len(t, seen, 19, "an article of every family of the stock")
	for _, f := range timeline.Families()[:19] {
		require.True(t, seen[f], f)
	}
	require.GreaterOrEqual(t, len(stock.DeviceTypes), 4)
	require.GreaterOrEqual(t, len(stock.BankTypes), 3)
}

func within(t *testing.T, a *timeline.Article, what string, r [2]float64, x float64) {
	t.Helper()
	require.GreaterOrEqual(t, x, r[0], "%s of %s", what, a.ID)
	require.LessOrEqual(t, x, r[1], "%s of %s", what, a.ID)
}

// The embedded stock stands in the one canonical form.
func TestStarterIsTidy(t *testing.T) {
	stock, err := Starter()
	require.NoError(t, err)
	s, err := timeline.NewShow("starter", "Starter stock", timeline.Rate25).Edit(timeline.AddStock(stock))
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, Create(dir, s))
	again, err := Load(dir)
	require.NoError(t, err)
	require.Empty(t, timeline.Diff(s, again.Show))
}
