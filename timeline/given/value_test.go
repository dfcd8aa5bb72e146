package given_test

import (
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/timeline"
	"emberbeat/timeline/given"
)

const second = timeline.Second

// show has two jets and a flame, lanes that aim at a group and at one of them, and the cues that fill adds.
func show(t require.TestingT, fill ...timeline.Record) *timeline.Show {
	s, err := timeline.NewShow("one", "One", timeline.Rate25).Edit(func(d *timeline.Draft) error {
		d.Put("", &timeline.Article{Base: timeline.Base{ID: "jet"}, Name: "Jet", Family: timeline.CO2Jet, HitPoint: timeline.FullEffect, Control: timeline.SlotControl, Lead: second / 10, Open: second / 2, Recovery: second, Mark: timeline.Measured, Marks: []string{"open=label"}},
			&timeline.Article{Base: timeline.Base{ID: "tall"}, Name: "Tall jet", Family: timeline.CO2Jet, HitPoint: timeline.FullEffect, Control: timeline.SlotControl, Lead: second / 5, Open: 3 * second / 2, Level: 80},
			&timeline.Article{Base: timeline.Base{ID: "dumb"}, Name: "No figures", Family: timeline.CO2Jet, HitPoint: timeline.FullEffect, Control: timeline.SlotControl},
			&timeline.Placed{Base: timeline.Base{ID: "j1"}, Name: "Jet 1", Article: "jet"},
			&timeline.Placed{Base: timeline.Base{ID: "j2"}, Name: "Jet 2", Article: "tall"},
			&timeline.Group{Base: timeline.Base{ID: "jets"}, Name: "Jets", Members: []timeline.ID{"j1", "j2"}},
			&timeline.SongHead{Base: timeline.Base{ID: "g"}, Title: "G", Slug: "g", Length: 100 * second, Beats: timeline.SteadyBeatMap(0, second/2, timeline.Metre{Num: 4, Den: 4}, 40)})
		d.Put("g", &timeline.Lane{Base: timeline.Base{ID: "l1"}, Target: "j1", Role: timeline.EffectSlot}, &timeline.Lane{Base: timeline.Base{ID: "lg"}, Target: "jets", Role: timeline.EffectSlot},
			&timeline.Lane{Base: timeline.Base{ID: "lo"}, Target: "jets", Role: timeline.EffectSlot, Article: "tall", Open: 2 * second})
		d.Put("g", fill...)
		return nil
	})
	require.NoError(t, err)
	return s
}

func of(s *timeline.Show) (*timeline.SongPlan, *timeline.Cue) {
	p := timeline.Compile(s, nil)
	for i := range p.Songs {
		if c := p.Songs[i].Song.Cue("c"); c != nil {
			return p.Songs[i].SongPlan, c
		}
	}
	return nil, nil
}

func values(s *timeline.Show) map[string]given.Value {
	p, c := of(s)
	list := map[string]given.Value{}
	for _, v := range given.Of(s, p, c) {
		list[v.Field] = v
	}
	return list
}

func cue(lane timeline.ID, fill func(*timeline.Cue)) *timeline.Cue {
	c := &timeline.Cue{Base: timeline.Base{ID: "c"}, Lane: lane, At: timeline.AtTime(10 * second)}
	if fill != nil {
		fill(c)
	}
	return c
}

func TestWhereValuesComeFrom(t *testing.T) {
	lane := func(id timeline.ID) timeline.Ref { return timeline.Ref{Kind: "lane", Song: "g", ID: id} }
	for name, c := range map[string]struct {
		cue  *timeline.Cue
		want given.Value
	}{
		"the lane aims":              {cue("l1", nil), given.Value{Field: "target", Text: "j1", From: lane("l1")}},
		"its own aim":                {cue("l1", func(c *timeline.Cue) { c.Target = "j2" }), given.Value{Field: "target", Text: "j2", Own: true, Instead: "j1"}},
		"what stands there":          {cue("l1", nil), given.Value{Field: "article", Text: "jet", From: timeline.Ref{Kind: "placed", ID: "j1"}}},
		"several stand there":        {cue("lg", nil), given.Value{Field: "article", Several: 2, Low: "jet", High: "tall", From: timeline.Ref{Kind: "placed"}}},
		"the lane's article":         {cue("lo", nil), given.Value{Field: "article", Text: "tall", From: lane("lo")}},
		"its own in place of rig":    {cue("l1", func(c *timeline.Cue) { c.Article = "tall" }), given.Value{Field: "article", Text: "tall", Own: true, Instead: "jet"}},
		"the article with its mark":  {cue("l1", nil), given.Value{Field: "open", Text: "0.5000", From: timeline.Ref{Kind: "article", ID: "jet"}, Mark: timeline.Label}},
		"each article its own":       {cue("lg", nil), given.Value{Field: "open", Several: 2, Low: "0.5000", High: "1.5000", From: timeline.Ref{Kind: "article"}}},
		"the lane's open time":       {cue("lo", nil), given.Value{Field: "open", Text: "2.0000", From: lane("lo")}},
		"own open time on that lane": {cue("lo", func(c *timeline.Cue) { c.Open = second }), given.Value{Field: "open", Text: "1.0000", Own: true, Instead: "2.0000"}},
		"nothing gives it":           {cue("l1", func(c *timeline.Cue) { c.Article = "dumb" }), given.Value{Field: "open"}},
		"a level that is full":       {cue("l1", nil), given.Value{Field: "level", Text: "100", From: timeline.Ref{Kind: "article", ID: "jet"}, Mark: timeline.Measured}},
		"an own level":               {cue("l1", func(c *timeline.Cue) { c.Level = 30 }), given.Value{Field: "level", Text: "30", Own: true, Instead: "100"}},
	} {
		require.Equal(t, c.want, values(show(t, c.cue))[c.want.Field], name)
	}
}

// What is told to hold is what the plan commands, and what is told to hold without an own value does once that is taken back.
func TestValuesAreThoseOfThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := cue(rapid.SampledFrom([]timeline.ID{"l1", "lg", "lo"}).Draw(t, "lane"), func(c *timeline.Cue) {
			c.Target = rapid.SampledFrom([]timeline.ID{"", "j1", "j2", "jets"}).Draw(t, "target")
			c.Article = rapid.SampledFrom([]timeline.ID{"", "jet", "tall"}).Draw(t, "article")
			c.Open = timeline.Time(rapid.IntRange(0, 4).Draw(t, "open")) * second / 4
			c.Level = rapid.IntRange(0, 2).Draw(t, "level") * 40
		})
		s := show(t, c)
		p, planned := of(s)
		got := values(s)
		seen := map[string][]string{}
		for i := range p.Commands {
			cmd := &p.Commands[i]
			if cmd.Cue != planned {
				continue
			}
			for field, text := range map[string]string{"article": string(cmd.Article.ID), "open": cmd.Open.String(), "level": strconv.Itoa(cmd.Level)} {
				if !slices.Contains(seen[field], text) {
					seen[field] = append(seen[field], text)
				}
			}
		}
		if len(seen) == 0 {
			t.Fatal("the cue leads to no command")
		}
		for field, texts := range seen {
			v := got[field]
			told := []string{v.Text}
			if v.Several > 0 {
				told = []string{v.Low, v.High}
			}
			slices.Sort(texts)
			slices.Sort(told)
			if !slices.Equal(texts, told) {
				t.Fatalf("%s: %v is told, %v is planned", field, told, texts)
			}
		}
		for field, v := range got {
			if !v.Own {
				continue
			}
			if v.From.Kind != "" {
				t.Fatalf("%s is own, and from %v", field, v.From)
			}
			back, err := s.Edit(timeline.Compile(s, nil).Assign(timeline.Ref{Kind: "cue", Song: "g", ID: "c"}, timeline.Assignment{Field: field, Op: timeline.AssignSet, Text: timeline.KindOf("cue").Field(field).Default.Text}))
			if err != nil {
				t.Fatal(field, err)
			}
			if after := values(back)[field]; after.Text != v.Instead || after.Own {
				t.Fatalf("%s: %q was to hold, %+v does", field, v.Instead, after)
			}
		}
	})
}

// A cue knows what comes before and after it on its units, and nothing of the others.
func TestWhatComesBeforeAndAfter(t *testing.T) {
	other := func(id, lane timeline.ID, at timeline.Time) *timeline.Cue {
		return &timeline.Cue{Base: timeline.Base{ID: id}, Lane: lane, At: timeline.AtTime(at)}
	}
	s := show(t, cue("l1", nil), other("a", "l1", 2*second), other("b", "lg", 7*second), other("d", "lg", 30*second), other("e", "l1", 40*second),
		&timeline.Cue{Base: timeline.Base{ID: "x"}, Lane: "lg", Target: "j2", At: timeline.AtTime(9 * second)})
	p, c := of(s)
	use := given.UseOf(p, c)
	require.Equal(t, timeline.ID("b"), use.Last.Cue.ID)
	require.Equal(t, timeline.ID("d"), use.Next.Cue.ID)
	require.Equal(t, 1, use.Units)
	require.Equal(t, given.Between{Least: second / 10, Most: second / 10}, use.Lead)
	require.Nil(t, given.UseOf(p, p.Song.Cue("a")).Last)
	require.Nil(t, given.UseOf(p, p.Song.Cue("e")).Next)
	both := given.UseOf(p, p.Song.Cue("d"))
	require.Equal(t, 2, both.Units)
	require.Equal(t, given.Between{Least: second / 10, Most: second / 5}, both.Lead, "each article its own")
	require.Equal(t, timeline.ID("c"), both.Last.Cue.ID)
}

// Many cues that are looked at together have each what they have when looked at alone, but for what comes before and after them.
func TestManyAreAsEachAlone(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var fill []timeline.Record
		for i := range rapid.IntRange(1, 12).Draw(rt, "cues") {
			fill = append(fill, &timeline.Cue{Base: timeline.Base{ID: timeline.ID("c" + strconv.Itoa(i))}, Lane: rapid.SampledFrom([]timeline.ID{"l1", "lg", "lo"}).Draw(rt, "lane"),
				At: timeline.AtTime(timeline.Time(rapid.IntRange(1, 20).Draw(rt, "at")) * second), Target: rapid.SampledFrom([]timeline.ID{"", "j2", "jets"}).Draw(rt, "target"),
				Article: rapid.SampledFrom([]timeline.ID{"", "tall", "dumb"}).Draw(rt, "article"), Open: timeline.Time(rapid.IntRange(0, 1).Draw(rt, "open")) * second,
				Level: 50 * rapid.IntRange(0, 1).Draw(rt, "level"), Disabled: rapid.Bool().Draw(rt, "disabled")})
		}
		s := show(rt, fill...)
		p := timeline.Compile(s, nil).Songs[0].SongPlan
		many := given.CommandsOf(p, p.Song.Cues...)
		for _, c := range p.Song.Cues {
			require.Equal(rt, given.Of(s, p, c), many.Of(s, c), "%+v", c)
			use := given.UseOf(p, c)
			use.Last, use.Next = nil, nil
			require.Equal(rt, use, many.UseOf(c))
		}
	})
}
