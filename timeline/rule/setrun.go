package rule

import (
	"fmt"
	"slices"

	"emberbeat/timeline"
)

// setRun is a rule at work on a whole plan: it joins what the songs' summaries
// say.
type setRun struct {
	*env
	plan     *timeline.Plan
	facts    Facts
	results  []*songResult // aligned with plan.Songs
	order    *playOrder
	merged   [][]setUse       // articles played on each unit, by Unit.Index
	site     *timeline.OnSite // nil until asked for
	articles []articleUses    // nil until asked for
	air      *filled          // nil until asked for

	rule     *Rule
	settings *settings
	found    []Finding
	index    map[mergeKey]int
}

// setUse is one article played on one unit in the whole set.
type setUse struct {
	unit    *timeline.Unit
	article *timeline.Article
	song    int   // index into Plan.Songs of its first use; -1 = no command uses it, keys of the operator's plan alone
	first   int32 // and of that command
	cues    int
	songs   int
	hand    *timeline.HandKey // first key that is meant for it, or nil
	presses int               // of all such keys, at most
}

// name gives what the crew calls a record of the plan's show. The env knows the
// rig and the stock alone.
func (r *setRun) name(rec timeline.Record) string { return r.plan.Called(rec) }

// often says how often something is used: by timecode and by hand.
func often(commands, presses int) string {
	switch {
	case presses == 0:
		return timeline.Counted(commands, "command")
	case commands == 0:
		return pressed(presses)
	}
	return timeline.Counted(commands, "command") + " and " + pressed(presses)
}

// withPresses adds to the values of a finding how often keys are pressed, where
// they are.
func withPresses(n int, values ...Value) []Value {
	if n > 0 {
		values = append(values, count("presses", n))
	}
	return values
}

func pressed(n int) string {
	if n == 1 {
		return "1 key press"
	}
	return fmt.Sprintf("%d key presses", n)
}

func newSetRun(e *env, p *timeline.Plan, f Facts, results []*songResult) *setRun {
	r := &setRun{env: e, plan: p, facts: f, results: results, order: newPlayOrder(p)}
	r.merged = make([][]setUse, len(p.Units.All))
	room := make([]setUse, len(p.Units.All)) // most units play one article
	for i := range r.merged {
		r.merged[i] = room[i : i : i+1]
	}
	for i, res := range results {
		for k := range res.sum.plays {
			r.merge(i, &res.sum.plays[k])
		}
	}
	for i := range p.Keys {
		for j := range p.Keys[i].Uses {
			r.mergeKey(&p.Keys[i], &p.Keys[i].Uses[j])
		}
	}
	return r
}

// mergeKey counts what a key of the operator's plan is meant for.
func (r *setRun) mergeKey(k *timeline.HandKey, u *timeline.HandUse) {
	list := r.merged[u.Unit.Index]
	i := slices.IndexFunc(list, func(x setUse) bool { return x.article == u.Article })
	if i < 0 {
		i = len(list)
		list = append(list, setUse{unit: u.Unit, article: u.Article, song: -1})
		r.merged[u.Unit.Index] = list
	}
	if list[i].presses += k.Cue.Presses; list[i].hand == nil {
		list[i].hand = k
	}
}

func (r *setRun) merge(song int, a *timeline.Play) {
	list := r.merged[a.Unit.Index]
	for i := range list {
		if list[i].article == a.Article {
			list[i].cues += a.Commands
			list[i].songs++
			return
		}
	}
	r.merged[a.Unit.Index] = append(list, setUse{unit: a.Unit, article: a.Article, song: song, first: a.First, cues: a.Commands, songs: 1})
}

// check runs every rule that sees the set.
func (r *setRun) check() []Finding {
	var all []Finding
	for i := range table {
		if table[i].set == nil || r.env.settings[i].silent() {
			continue
		}
		r.rule, r.settings, r.found, r.index = &table[i], &r.env.settings[i], nil, nil
		table[i].set(r)
		all = append(all, finish(r.found)...)
	}
	return all
}

// onSite counts what stands on site for the plan.
func (r *setRun) onSite() *timeline.OnSite {
	if r.site == nil {
		r.site = r.plan.OnSiteOf(func(i int) []timeline.Play { return r.results[i].sum.plays })
	}
	return r.site
}

// song gives the plan of a song by its place in the order, from 0.
func (r *setRun) song(i int) *timeline.PlanSong { return &r.plan.Songs[i] }

// tune gives the tuning for an article at a unit in a song, -1 for none.
func (r *setRun) tune(song int, u *timeline.Unit, a *timeline.Article) *tuning {
	if song < 0 {
		return r.settings.at(nil, u, a)
	}
	return r.settings.at(r.plan.Songs[song].Song, u, a)
}

// add takes a finding that belongs to a song (by its place from 0, -1 for
// none) under a tuning. See songRun.add for who.
func (r *setRun) add(t *tuning, song int, who string, f Finding) {
	if t.off {
		return
	}
	f.Rule, f.Severity = r.rule.Name, t.severity
	if song >= 0 {
		f.Number, f.Song = r.plan.Songs[song].Number, r.plan.Songs[song].Song.ID
	}
	r.found = merge(r.found, &r.index, who, f)
}

// firstUse starts a finding about a record at the place where the set first
// plays an article on a unit, or names the key that is meant for it.
func (r *setRun) firstUse(ref timeline.Ref, u *setUse) Finding {
	if u.song < 0 {
		return r.aboutKey(ref, u.hand)
	}
	ps := r.song(u.song)
	c := &ps.Commands[u.first]
	f := Finding{Ref: ref, Song: ps.Song.ID, Number: ps.Number, Others: []timeline.Ref{cueRef(ps.SongPlan, c.Cue)}}
	f.stand(ps.SongPlan, c.Cue, c.Hit)
	return f
}

// songName names a song by its place and title: 3 "Ember".
func songName(ps *timeline.PlanSong) string {
	return fmt.Sprintf("%d %q", ps.Number, ps.Song.FullTitle())
}
