package carry

import (
	"slices"

	"emberbeat/timeline"
)

// phrases carries the settings of phrases. One whose music was played anew is run
// again there, where its cues are still those that it made; its cues keep their ids.
func (c *carrier) phrases(p *Proposal) {
	for _, ph := range c.song.Phrases {
		x := c.item("phrase", ph.ID, ph.At)
		to, ok := ph.Until.In(c.song.Beats)
		a, b := c.spots(x.WasAt), c.spots(to)
		is := *ph
		switch {
		case !ok || ph.At.OnBeat && c.song.Beats.Empty():
			x.Status, x.Why, x.Is = Check, "it stands on a bar, and the song has no beat map: where it was is not known", &Place{Moment: ph.At, Run: -1}
		case len(a) > 0 && len(b) > 0 && a[0].passage == b[0].passage && a[0].edge == "":
			at, next := c.place(ph.At, x.WasAt, a[0])
			end, _ := c.place(ph.Until, to, b[0])
			x.Is, x.Next = &at, next
			x.Status, x.Why = c.judge(a[0], at)
			is.At, is.Until = at.Moment, end.Moment
		default:
			c.torn(p, ph, &x, &is)
		}
		p.Items = append(p.Items, x)
		if x.Status == Lost {
			continue
		}
		p.phrases = append(p.phrases, &is)
		if x.Is.Run >= 0 && len(a) > 0 && !c.passages[a[0].passage].Exact && x.Why == "" {
			if err := c.again(p, ph, &is); err != "" {
				y := &p.Items[len(p.Items)-1]
				y.Status, y.Why = Check, err
			}
		}
	}
}

// torn carries a phrase of which the music is not in one piece any more: its settings
// reach over the cues that are left.
func (c *carrier) torn(p *Proposal, ph *timeline.Phrase, x *Item, is *timeline.Phrase) {
	var first, last *Place
	for i := range p.Items {
		y := &p.Items[i]
		if !y.Cue() || y.Is == nil || c.song.Cue(y.Ref.ID).Group != ph.ID || y.Is.Moment.OnBeat != ph.At.OnBeat {
			continue
		}
		if first == nil || y.Is.At < first.At {
			first = y.Is
		}
		if last == nil || y.Is.At > last.At {
			last = y.Is
		}
	}
	if first == nil {
		c.lose(x)
		return
	}
	x.Is, x.Status, x.Why = first, Check, "its music is not in one piece any more; its cues are carried one by one"
	is.At, is.Until = first.Moment, last.Moment
}

// again runs a phrase at its new place, if its cues are those of a run; else it
// leaves them where they were carried. It gives why it could not be run.
func (c *carrier) again(p *Proposal, was, is *timeline.Phrase) string {
	made := c.madeBy(was)
	if made == nil {
		return ""
	}
	d := timeline.NewDraft(c.show)
	if err := p.Edit()(d); err != nil {
		return err.Error()
	}
	var ids []timeline.ID
	if err := timeline.PutPhrase(c.song.ID, is, func() timeline.ID {
		id := timeline.ID("")
		if n := len(ids); n < len(made) {
			id = made[n]
		} else {
			id = p.options.NewID("cue")
		}
		ids = append(ids, id)
		return id
	})(d); err != nil {
		return "it cannot be run on the new beats, and its cues are carried one by one: " + err.Error()
	}
	g := d.Show().Song(c.song.ID)
	for i := range p.Items {
		x := &p.Items[i]
		k := slices.Index(made, x.Ref.ID)
		switch {
		case !x.Cue() || k < 0:
		case k >= len(ids):
			x.Next, x.Is, x.Status, x.Copies = x.Is, nil, Lost, nil
			x.Why = "its phrase has fewer places on the new beats"
		default:
			q := g.Cue(x.Ref.ID)
			at, _ := q.At.In(c.beats)
			if x.Is != nil && x.Is.Moment != q.At {
				x.Next = x.Is
			}
			sure, run := 1000, -1
			if y := p.phraseItem(was.ID); y != nil {
				sure, run = y.Is.Sure, y.Is.Run
			}
			if x.Status == Lost {
				x.Status, x.Why = Matched, ""
			}
			x.Is = &Place{at, q.At, run, sure, ByRun}
			if q.Open != c.song.Cue(x.Ref.ID).Open {
				x.Open = q.Open
			}
		}
	}
	for _, id := range ids[min(len(made), len(ids)):] {
		p.added = append(p.added, g.Cue(id))
	}
	if n := len(ids) - len(made); n > 0 {
		c.note("phrase %q has %d more places on the new beats, and cues there", was.Title(), n)
	}
	return ""
}

func (p *Proposal) phraseItem(id timeline.ID) *Item {
	for i := range p.Items {
		if x := &p.Items[i]; x.Ref.Kind == "phrase" && x.Ref.ID == id {
			return x
		}
	}
	return nil
}

// madeBy gives the cues of a phrase in the order in which running it makes them; nil
// where they are not those of a run, or have been worked on since.
func (c *carrier) madeBy(ph *timeline.Phrase) []timeline.ID {
	d := timeline.NewDraft(c.show)
	var ids []timeline.ID
	taken := numbered()
	if timeline.PutPhrase(c.song.ID, ph, func() timeline.ID {
		id := "again-" + taken("cue")
		ids = append(ids, id)
		return id
	})(d) != nil {
		return nil
	}
	g := d.Show().Song(c.song.ID)
	var left []*timeline.Cue
	for _, q := range c.song.Cues {
		if q.Group == ph.ID {
			left = append(left, q)
		}
	}
	if len(left) != len(ids) {
		return nil
	}
	made := make([]timeline.ID, len(ids))
	for k, id := range ids {
		q := *g.Cue(id)
		i := slices.IndexFunc(left, func(o *timeline.Cue) bool {
			q.ID, q.Kept = o.ID, o.Kept
			return timeline.KindOf("cue").Equal(&q, o)
		})
		if i < 0 {
			return nil
		}
		made[k] = left[i].ID
		left = slices.Delete(left, i, i+1)
	}
	return made
}
