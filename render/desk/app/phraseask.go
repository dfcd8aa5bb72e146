package app

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// phraseCommands run figures over groups.
func phraseCommands() []command {
	return []command{
		{id: "phrase", name: "Phrase…", help: "runs a figure over a group at a division of the beat: chase, fan, mirror and others; with a cue of a phrase selected, that phrase again", group: "Cue", keys: []string{"P"}, off: needPhrase, run: (*App).askPhrase},
		{id: "phrase-remove", name: "Remove phrase with cues", help: "takes the chosen phrase and the cues it made out of its song", group: "Book", off: needPhraseRow, run: (*App).removePhrase},
		{id: "phrase-go", name: "Go to the phrase", help: "shows the cues of the chosen phrase on the timeline, selected", group: "Book", off: needPhraseRow, run: (*App).goPhrase},
	}
}

func needPhrase(a *App) string {
	if why := needSongEdit(a); why != "" {
		return why
	}
	if len(a.work.shown.Rig.Placed) == 0 {
		return "no effect is placed yet: place one on the page Placed effects first"
	}
	return ""
}

func needPhraseRow(a *App) string {
	if why := needChosenEdit(a); why != "" {
		return why
	}
	if a.book.refs[0].Kind != "phrase" {
		return "choose a phrase on the page Phrases first"
	}
	return ""
}

// phraseMeant gives the phrase that is to be run again: the chosen one of the page, or the one that all selected cues belong to; nil for a
// new one.
func (a *App) phraseMeant() (song timeline.ID, p *timeline.Phrase) {
	if a.book.at != "" {
		if len(a.book.refs) > 0 && a.book.refs[0].Kind == "phrase" {
			r := a.book.refs[0]
			p, _ = find(a.work.shown, r).(*timeline.Phrase)
			return r.Song, p
		}
		return a.work.song, nil
	}
	for i, c := range a.work.selected() {
		of, _ := find(a.work.shown, timeline.Ref{Kind: "phrase", Song: a.work.song, ID: c.Group}).(*timeline.Phrase)
		if of == nil || i > 0 && of != p {
			return a.work.song, nil
		}
		p = of
	}
	return a.work.song, p
}

// askPhrase asks for a phrase, or for other settings of one.
func (a *App) askPhrase() {
	songID, old := a.phraseMeant()
	song := a.work.shown.Song(songID)
	if song == nil {
		return
	}
	give := a.work.ids()
	p := timeline.KindOf("phrase").New(give("phrase", songID)).(*timeline.Phrase)
	title, verb := "Phrase in "+song.FullTitle(), "Run"
	if old != nil {
		p, title, verb = old, "Run "+old.Title()+" again", "Run again"
	} else {
		a.beginPhrase(song, p)
	}
	target, targets := a.targetChoice(p.Group)
	lane, lanes := laneChoice(song, p.Lane, p.Group)
	kind := timeline.KindOf("phrase")
	text := func(field, name, label, help string) *ask {
		return &ask{name: name, label: label, text: kind.Field(field).Get(p).Text, help: help}
	}
	shape := choiceOfWords("shape", "Shape", timeline.Shapes(), p.Shape)
	shape.help = "chase: one after the other. fan: the middle first. mirror: both ends first. alternate: odd, then even. burst: all. sustained: all, open throughout. random: shuffled, and the same again for the same seed"
	order := choiceOfWords("order", "Order", timeline.Orders(), p.Order)
	order.help = "in which order the group is taken; left is the audience's left"
	d := &asking{title: title, verb: verb, fields: []*ask{target, shape, order, lane,
		{name: "new-lane", label: "New lane", text: a.nameOf([]string{"group", "placed"}, "", p.Group), help: "what the lane is called that is made", off: func(*asking) string {
			if lane.at > 0 {
				return "choose a new lane to name it"
			}
			return ""
		}},
		text("at", "at", "From", "first place: a bar 17.1, a time 1:02.5 or a timecode"),
		text("to", "to", "To", "last place, included"),
		text("every", "every", "Every", "one step each: 1/2 is half a beat; 1bar, 2 beats, 0.5s"),
		text("open", "open", "Open", "seconds; 0 = the lane's, then the article's"),
		text("level", "level", "Level", "percent; 0 = the article's"),
		text("seed", "seed", "Seed", "which of the random orders"),
		text("name", "name", "Name", "what the crew calls it"),
	}}
	d.work = func(a *App, d *asking) outcome {
		next := *p
		next.Group, next.Lane, next.Shape, next.Order = targets[target.at], lanes[lane.at], timeline.Shapes()[shape.at], timeline.Orders()[order.at]
		return a.phrased(d, songID, &next)
	}
	d.show(a)
}

// beginPhrase gives a new phrase its places and lane: the loop or two bars from the playhead, on the lane in focus.
func (a *App) beginPhrase(song *timeline.Song, p *timeline.Phrase) {
	v := a.work.view()
	from, to := v.playhead, timeline.Time(0)
	if v.loop.To > v.loop.From {
		from, to = v.loop.From, v.loop.To
	}
	beats := song.Beats
	if beats.Empty() {
		p.At, p.Until, p.Every = timeline.AtTime(from), timeline.AtTime(max(to, from+4*timeline.Second)), timeline.Stride{Time: timeline.Second / 2}
	} else {
		at := beats.Snap(from, timeline.NewRat(1, 1))
		end := timeline.BarBeat{Bar: at.Bar + 2, Beat: at.Beat}
		if to > 0 {
			end = beats.Snap(to, timeline.NewRat(1, 1))
		}
		p.At, p.Until = timeline.AtBar(at), timeline.AtBar(end)
	}
	if l := song.Lane(v.focus); l != nil && !l.Window() && !l.Locked {
		p.Lane, p.Group = l.ID, l.Target
	}
}

// targetChoice asks over what a phrase runs: groups first, then single effects.
func (a *App) targetChoice(at timeline.ID) (*ask, []timeline.ID) {
	f := &ask{name: "target", label: "Over", names: []string{}, help: "the group, or one placed effect"}
	var ids []timeline.ID
	add := func(id timeline.ID, name string) {
		if id == at {
			f.at = len(ids)
		}
		ids, f.names = append(ids, id), append(f.names, cmp.Or(name, string(id)))
	}
	for _, g := range a.work.shown.Rig.Groups {
		add(g.ID, g.Name+"  (group)")
	}
	for _, p := range a.work.shown.Rig.Placed {
		add(p.ID, p.Name)
	}
	return f, ids
}

// laneChoice asks on which lane the cues stand; the first choice, "", makes one.
func laneChoice(song *timeline.Song, at, target timeline.ID) (*ask, []timeline.ID) {
	f := &ask{name: "lane", label: "Lane", names: []string{"a new lane"}, help: "where the cues stand"}
	ids := []timeline.ID{""}
	for _, l := range song.Lanes {
		if l.Window() {
			continue
		}
		if l.ID == at {
			f.at = len(ids)
		}
		ids, f.names = append(ids, l.ID), append(f.names, laneName(l))
	}
	return f, ids
}

// phrased is what a phrase comes to: its cues place by place, or why it cannot be played and which division could.
func (a *App) phrased(d *asking, songID timeline.ID, p *timeline.Phrase) outcome {
	show := a.work.s.Show()
	song := show.Song(songID)
	if song == nil {
		return outcome{err: errors.New("the song is gone")}
	}
	if err := d.readPhrase(show, song, p); err != nil {
		return outcome{err: err}
	}
	lane := ""
	if p.Lane == "" {
		if lane = strings.TrimSpace(d.field("new-lane").text); lane == "" {
			return outcome{err: &timeline.ValueError{Field: "new-lane", Want: "is empty; write what the lane is called"}}
		}
	}
	edit := a.work.plan.PhraseOn(songID, lane, string(p.Group), *p, a.work.ids())
	next, err := show.Edit(edit)
	if err != nil {
		return a.refused(err)
	}
	out := outcome{change: change{"phrase " + p.Title(), []timeline.Edit{edit}}, head: []string{"Effect", "Place", "Lane"}}
	cues := slices.DeleteFunc(slices.Clone(next.Song(songID).Cues), func(c *timeline.Cue) bool { return c.Group != p.ID })
	slices.SortStableFunc(cues, func(x, y *timeline.Cue) int {
		tx, _ := x.At.In(song.Beats)
		ty, _ := y.At.In(song.Beats)
		return cmp.Compare(tx, ty)
	})
	for _, c := range cues {
		l := next.Song(songID).Lane(c.Lane)
		out.rows = append(out.rows, []string{a.nameOf([]string{"placed", "group"}, "", cmp.Or(c.Target, l.Target)), c.At.String(), laneName(l)})
	}
	out.lines = append(out.lines, counted(len(cues), "cue")+" that stay a group; Phrase… with one of them selected runs it again with other settings.")
	return out
}

// refused says why a phrase cannot be played and offers the fastest division that works.
func (a *App) refused(err error) outcome {
	out := outcome{err: err}
	var fast *timeline.TooFastError
	if errors.As(err, &fast) && fast.Fastest != nil {
		every := fast.Fastest.String()
		out.offer, out.accept = "Every "+every, func(d *asking) { d.field("every").text = every }
	}
	return out
}

// readPhrase writes the texts of a dialog into a phrase: a timecode becomes a place in the song, a plain number a part of a beat.
func (d *asking) readPhrase(show *timeline.Show, song *timeline.Song, p *timeline.Phrase) error {
	kind := timeline.KindOf("phrase")
	for _, name := range []string{"at", "to", "every", "open", "level", "seed", "name"} {
		text := strings.TrimSpace(d.field(name).text)
		switch name {
		case "at", "to":
			pos, err := timeline.ParsePosition(text)
			if err != nil {
				return &timeline.ValueError{Field: name, Value: text, Want: err.Error()}
			}
			m, err := show.MomentAt(&song.SongHead, pos)
			if err != nil {
				return &timeline.ValueError{Field: name, Value: text, Want: err.Error()}
			}
			text = m.String()
		case "every":
			if _, err := timeline.ParseRat(text); err == nil {
				text += " beats"
			}
		case "open", "level", "seed":
			text = cmp.Or(text, "0")
		}
		if err := kind.Field(name).Set(p, timeline.Value{Text: text}); err != nil {
			return err
		}
	}
	return nil
}

// removePhrase takes the chosen phrases and their cues out as one step.
func (a *App) removePhrase() {
	refs := a.book.refs
	a.do(change{"remove " + page.CountedKind(len(refs), timeline.KindOf("phrase")), []timeline.Edit{func(d *timeline.Draft) error {
		for _, r := range refs {
			song := d.Show().Song(r.Song)
			if song == nil {
				continue
			}
			for _, c := range song.Cues {
				if c.Group != r.ID {
					continue
				}
				if err := d.Remove(timeline.Ref{Kind: "cue", Song: r.Song, ID: c.ID}); err != nil {
					return err
				}
			}
			if err := d.Remove(r); err != nil {
				return err
			}
		}
		return nil
	}}})
}

// goPhrase shows the cues of the chosen phrase on the timeline.
func (a *App) goPhrase() {
	r := a.book.refs[0]
	p, ok := find(a.work.shown, r).(*timeline.Phrase)
	if !ok {
		return
	}
	a.turn("")
	a.goSong(r.Song)
	var ids []timeline.ID
	song := a.work.songInView()
	for _, c := range song.Cues {
		if c.Group == r.ID {
			ids = append(ids, c.ID)
		}
	}
	a.work.view().choose(ids...)
	if t, ok := p.At.In(song.Beats); ok {
		a.seek(t)
		a.show()
	}
}
