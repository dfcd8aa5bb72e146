package rule

import (
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "hand-key",
	Summary: "a hand cue has no key, or two have the same",
	Reason: "The operator works from a printed plan of numbered keys. A number that stands there twice, or a cue without one, is a wrong effect at the wrong time. Cues of other " +
		"running orders, and of songs that are not played, are not on tonight's plan. Nothing numbered drives anything: the plan is paper.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkHandKeys,
})

var _ = enter(Rule{
	Name:     "hand-lost",
	Summary:  "a part of a hand cue leads to nothing",
	Reason:   "Its target, article or section is gone, it aims at nothing, or the night takes what it aims at out of the rig. Of a section that is lost, the whole song is taken in its place.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkHandLost,
})

var _ = enter(Rule{
	Name:    "hand-single-use",
	Summary: "a key is meant for something that is used up by timecode, by another key or by the same key pressed again",
	Reason: "A single-use effect, and all that hangs on its igniter output, is gone once it was fired. A key without timecode may come before or after any command, so that its song's " +
		"place in the order does not matter; only songs that are alternatives of each other are kept apart.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "single-use", Field: "article single-use", Mark: timeline.CommonPractice, Source: "the article's own mark and source", Help: "the article can be commanded once per show"},
	},
	set: checkHandOnce,
})

// aboutKey starts a finding that a hand cue is the reason for. It has a song
// where the cue is meant for one, and never a time.
func (r *setRun) aboutKey(ref timeline.Ref, k *timeline.HandKey) Finding {
	f := Finding{Ref: ref, Others: []timeline.Ref{keyRef(k)}}
	if k.Song >= 0 {
		f.Song, f.Number = r.song(k.Song).Song.ID, r.song(k.Song).Number
	}
	return f
}

func keyRef(k *timeline.HandKey) timeline.Ref { return rigRef("handcue", k.Cue.ID) }

// ofKey starts a finding about a hand cue itself.
func (r *setRun) ofKey(k *timeline.HandKey) Finding {
	f := r.aboutKey(keyRef(k), k)
	f.Others = nil
	return f
}

func (r *setRun) addKey(k *timeline.HandKey, f Finding) {
	r.add(r.tune(k.Song, nil, nil), k.Song, "", f)
}

func checkHandKeys(r *setRun) {
	used := map[int]*timeline.HandKey{}
	for i := range r.plan.Keys {
		k := &r.plan.Keys[i]
		before := used[k.Cue.Key]
		if k.Cue.Key > 0 && before == nil {
			used[k.Cue.Key] = k
			continue
		}
		f := r.ofKey(k)
		free := r.freeKey()
		if f.Text = r.name(k.Cue) + " has no key on the operator's plan"; k.Cue.Key > 0 {
			f.Text = fmt.Sprintf("%s and %s have one number on the operator's plan", before.Cue.Label(), k.Cue.Label())
			f.Others = []timeline.Ref{keyRef(before)}
		}
		f.Values = []Value{count("key", k.Cue.Key)}
		f.Help = fmt.Sprintf("give it a number of its own, such as %d", free)
		f.Fix = fixField(fmt.Sprintf("give it key %d", free), f.Ref, "key", fmt.Sprint(free))
		r.addKey(k, f)
	}
}

// freeKey gives the first number after the last that any hand cue of the show
// has, or the first that none has.
func (r *setRun) freeKey() int {
	last, taken := 0, map[int]bool{}
	for _, h := range r.plan.Show.HandCues {
		last, taken[h.Key] = max(last, h.Key), true
	}
	if last < 999 {
		return last + 1
	}
	free := 1
	for taken[free] {
		free++
	}
	return free
}

func checkHandLost(r *setRun) {
	for i := range r.plan.Keys {
		k := &r.plan.Keys[i]
		if len(k.Lost) == 0 {
			continue
		}
		f := r.ofKey(k)
		var parts []string
		for _, l := range k.Lost {
			part := string(l.Reason)
			if l.Name != "" {
				part += " (" + l.Name + ")"
			}
			parts = append(parts, part)
			f.Values = append(f.Values, word(string(l.Reason), l.Name))
		}
		f.Text = k.Cue.Label() + ": " + strings.Join(parts, "; ")
		f.Help = "give it targets, an article and a section that are there, or remove it"
		r.addKey(k, f)
	}
}

// once is one use of what can be used once: by a command or by a key.
type once struct {
	song    int
	command *timeline.Command // nil for a key
	key     *timeline.HandKey
}

func checkHandOnce(r *setRun) {
	if len(r.plan.Keys) == 0 {
		return
	}
	used := map[*timeline.Unit][]once{}
	for j := range r.plan.Songs {
		for _, i := range r.results[j].sum.single {
			c := &r.song(j).Commands[i]
			used[c.Unit] = append(used[c.Unit], once{song: j, command: c})
		}
	}
	for i := range r.plan.Keys {
		k := &r.plan.Keys[i]
		for j := range k.Uses {
			u := &k.Uses[j]
			if !u.Article.SingleUse || saidOfCarrier(u.With) {
				continue
			}
			if k.Cue.Presses > 1 {
				r.pressedAgain(k, u)
			}
			if o := r.usedToo(used[u.Unit], k); o != nil {
				r.usedBoth(k, u, o)
			}
			used[u.Unit] = append(used[u.Unit], once{song: k.Song, key: k})
		}
	}
}

// usedToo finds a use that may come on the same night as a key.
func (r *setRun) usedToo(list []once, k *timeline.HandKey) *once {
	i := slices.IndexFunc(list, func(o once) bool { return o.song < 0 || k.Song < 0 || o.song == k.Song || r.order.both(o.song, k.Song) })
	if i < 0 {
		return nil
	}
	return &list[i]
}

func (r *setRun) pressedAgain(k *timeline.HandKey, u *timeline.HandUse) {
	f := r.ofKey(k)
	f.Others = []timeline.Ref{rigRef("article", u.Article.ID)}
	f.Text = fmt.Sprintf("%s may be pressed %d times, and %s is used up by the first", k.Cue.Label(), k.Cue.Presses, r.name(u.Article))
	f.Values = []Value{count("presses", k.Cue.Presses)}
	f.Grounds = []Ground{ofArticle(u.Article, "single-use", "true")}
	f.Help = "set presses to 1, or aim it at something that can be used again"
	f.Fix = fixField("set presses to 1", f.Ref, "presses", "1")
	r.add(r.tune(k.Song, u.Unit, u.Article), k.Song, u.Unit.Name, f)
}

func (r *setRun) usedBoth(k *timeline.HandKey, u *timeline.HandUse, o *once) {
	f := r.ofKey(k)
	by := ""
	if o.command != nil {
		ps := r.song(o.song)
		by = fmt.Sprintf("timecode uses it up in song %s at %s", songName(ps), ps.Rate.Label(o.command.Frame))
		f.Others = []timeline.Ref{cueRef(ps.SongPlan, o.command.Cue)}
	} else {
		by = o.key.Cue.Label() + " is meant for it as well"
		f.Others = []timeline.Ref{keyRef(o.key)}
	}
	f.Text = fmt.Sprintf("%s is meant for %s, which can be used once, and %s", k.Cue.Label(), r.name(u.Article), by)
	f.Values = []Value{word("also", f.Others[0].String())}
	f.Grounds = []Ground{ofArticle(u.Article, "single-use", "true")}
	f.Help = "aim the key at another unit, or take the other use out"
	r.add(r.tune(k.Song, u.Unit, u.Article), k.Song, u.Unit.Name, f)
}
