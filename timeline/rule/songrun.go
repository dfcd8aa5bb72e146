package rule

import (
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// songResult is what checking one song gave: its findings, and what the rules
// that see the whole set need of it. It holds as long as the song's plan.
type songResult struct {
	findings []Finding
	sum      *summary
}

// songRun is one rule at work on one song.
type songRun struct {
	*env
	rule     *Rule
	settings *settings
	plan     *timeline.SongPlan
	cover    *coverage // arm and condition windows, built once a song
	found    []Finding
	index    map[mergeKey]int
	laid     map[laidFor]string // see laying
}

// checkSong runs every rule on one song.
func (e *env) checkSong(p *timeline.SongPlan) *songResult {
	var all []Finding
	cover := newCoverage(p)
	for i := range table {
		if table[i].song == nil || e.settings[i].silent() {
			continue
		}
		r := &songRun{env: e, rule: &table[i], settings: &e.settings[i], plan: p, cover: cover}
		table[i].song(r)
		all = append(all, r.done()...)
	}
	sortFindings(all)
	return &songResult{all, e.summarize(p)}
}

// silent reports whether the rule is off everywhere.
func (k *settings) silent() bool { return k.has && k.set.off && k.scope.Everywhere() }

// tune gives the tuning for a command.
func (r *songRun) tune(c *timeline.Command) *tuning {
	return r.settings.at(r.plan.Song, c.Unit, c.Article)
}

// songTune gives the tuning for the song as a whole.
func (r *songRun) songTune() *tuning { return r.settings.at(r.plan.Song, nil, nil) }

// cueRef names a cue that a song plays, where it is stored.
func cueRef(p *timeline.SongPlan, c *timeline.Cue) timeline.Ref {
	return p.Song.RefOf("cue", c.ID)
}

func songRef(p *timeline.SongPlan) timeline.Ref { return timeline.Ref{Kind: "song", ID: p.Song.ID} }

// about starts a finding about a cue that hits at a song time.
func about(p *timeline.SongPlan, c *timeline.Cue, hit timeline.Time) Finding {
	f := Finding{Ref: cueRef(p, c), Song: p.Song.ID}
	f.stand(p, c, hit)
	return f
}

// stand gives the finding its place in the song.
func (f *Finding) stand(p *timeline.SongPlan, c *timeline.Cue, t timeline.Time) {
	f.HasTime, f.At, f.Frame = true, t, p.FrameAt(t)
	if p.Song.Beats.Empty() {
		return
	}
	f.HasBar = true
	if at, ok := c.At.In(p.Song.Beats); c.At.OnBeat && ok && at == t {
		f.Bar = c.At.Bar
		return
	}
	f.Bar = p.Song.Beats.Named(t)
}

// mergeKey is what findings share that differ only in who they are about.
type mergeKey struct {
	ref  timeline.Ref
	text string
}

// add takes a finding under a tuning. Where who is given, findings of the same
// record and text become one that lists them all: eight jets of one cue are one
// thing to look at.
func (r *songRun) add(t *tuning, who string, f Finding) {
	if t.off {
		return
	}
	f.Rule, f.Severity = r.rule.Name, t.severity
	r.found = merge(r.found, &r.index, who, f)
}

func merge(list []Finding, index *map[mergeKey]int, who string, f Finding) []Finding {
	if who == "" {
		return append(list, f)
	}
	k := mergeKey{f.Ref, f.Text}
	if *index == nil {
		*index = map[mergeKey]int{}
	}
	if i, ok := (*index)[k]; ok {
		same := &list[i]
		if !slices.Contains(same.who, who) {
			same.who = append(same.who, who)
		}
		for _, o := range f.Others {
			if !slices.Contains(same.Others, o) {
				same.Others = append(same.Others, o)
			}
		}
		return list
	}
	(*index)[k] = len(list)
	f.who = []string{who}
	return append(list, f)
}

// done gives the findings with the names of those they are about in front.
func (r *songRun) done() []Finding { return finish(r.found) }

func finish(list []Finding) []Finding {
	for i := range list {
		f := &list[i]
		if len(f.who) == 0 {
			continue
		}
		f.Text = some(f.who) + ": " + f.Text
		f.Values = append(f.Values, Value{Name: "who", Text: strings.Join(f.who, ", ")})
		f.who = nil
	}
	return list
}

// some joins names and stops after three.
func some(names []string) string {
	const most = 3
	if len(names) <= most+1 {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:most], ", ") + " and " + strconv.Itoa(len(names)-most) + " more"
}
