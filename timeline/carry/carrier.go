package carry

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// carrier works a proposal out.
type carrier struct {
	show       *timeline.Show
	song       *timeline.Song
	m          *timeline.TimeMap
	was, heard Recording // what was heard in the old and in the new
	passages   []Passage
	beats      *timeline.BeatMap // of the new recording
	items      []Item
	notes      []string
}

func (c *carrier) note(format string, args ...any) {
	c.notes = append(c.notes, fmt.Sprintf(format, args...))
}

// Propose says what carrying a song over comes to. was and is are what was heard in
// the two recordings; of either nothing need be known. The map must be legal.
func Propose(show *timeline.Show, song timeline.ID, m *timeline.TimeMap, was, is Recording, o Options) (*Proposal, error) {
	g := show.Song(song)
	if g == nil {
		return nil, fmt.Errorf("the show has no song %q", song)
	}
	if err := m.Check(); err != nil {
		return nil, err
	}
	m, err := WithLocked(m, o.Locked)
	if err != nil {
		return nil, err
	}
	if o.NewID == nil {
		o.NewID = numbered()
	}
	c := &carrier{show: show, song: g, m: m, was: was, heard: is, passages: passagesOf(m)}
	beats, heard := c.grid()
	c.beats = beats
	p := &Proposal{Song: g, Map: m, Passages: c.passages, Beats: beats, Heard: heard, options: o, show: show, Audio: o.Audio, Start: o.Start}
	c.cues()
	c.marked()
	c.anchors()
	p.Locks = c.locks()
	p.Items, p.New = c.items, c.added()
	if err := p.take(o.Take); err != nil {
		return nil, err
	}
	c.phrases(p)
	c.noteSharers(p)
	p.Notes = c.notes
	return p, nil
}

// numbered gives ids where nobody hands any in.
func numbered() func(string) timeline.ID {
	n := 0
	return func(string) timeline.ID {
		n++
		return timeline.ID("carried-" + strconv.Itoa(n))
	}
}

// item begins the item of a record that stood at a moment.
func (c *carrier) item(kind string, id timeline.ID, was timeline.Moment) Item {
	x := Item{Ref: timeline.Ref{Kind: kind, Song: c.song.ID, ID: id}, Was: was}
	at, ok := was.In(c.song.Beats)
	if ok {
		x.WasAt = at
		if s := c.song.SectionAt(at); s != nil {
			x.Section = s.Name
		}
	}
	return x
}

// cues places hits and windows.
func (c *carrier) cues() {
	for _, q := range c.song.Cues {
		x := c.item("cue", q.ID, q.At)
		lane := c.song.Lane(q.Lane)
		open := q.Open
		if lane != nil && open == 0 {
			open = lane.Open
		}
		if _, ok := q.At.In(c.song.Beats); !ok {
			x.Status, x.Why = Check, "it stands on a bar, and the song has no beat map: where it was is not known"
			x.Is = &Place{Moment: q.At, Run: -1}
		} else if lane != nil && lane.Window() && open > 0 {
			c.window(&x, open)
		} else {
			c.instant(&x)
		}
		c.items = append(c.items, x)
	}
}

// marked places sections and markers.
func (c *carrier) marked() {
	for _, s := range c.song.Sections {
		x := c.item("section", s.ID, s.At)
		c.instant(&x)
		if x.Status == Lost {
			c.reach(&x, c.endOf(s), timeline.NewRat(1, 1))
		}
		if x.Is != nil && s.To != (timeline.Moment{}) {
			x.To = c.until(s.To, x.WasAt, x.Is.Run)
		}
		c.items = append(c.items, x)
	}
	for _, k := range c.song.Markers {
		x := c.item("marker", k.ID, k.At)
		c.instant(&x)
		c.items = append(c.items, x)
	}
}

// until gives where a section ends that begins in a run: where the last of its music
// is left.
func (c *carrier) until(was timeline.Moment, from timeline.Time, run int) timeline.Moment {
	to, ok := was.In(c.song.Beats)
	if !ok {
		return was
	}
	at := c.m.Runs[run].NewEnd
	for _, m := range c.images(from, to) {
		if p := &c.passages[m.passage]; m.passage == c.passageOf(run) || !p.Moved {
			at = m.to
		}
	}
	if m, ok := c.still(was, at); ok {
		return m
	}
	if q := c.beats.Snap(at, timeline.NewRat(1, 1)); was.OnBeat && !c.beats.Empty() && apart(c.beats.At(q), at) <= sameBeat {
		return timeline.AtBar(q)
	}
	return timeline.AtTime(at)
}

// endOf gives where a section ends: where it says, at the next one, or with the song.
func (c *carrier) endOf(s *timeline.Section) timeline.Time {
	from, _ := s.At.In(c.song.Beats)
	if to, ok := s.To.In(c.song.Beats); ok && s.To != (timeline.Moment{}) {
		return to
	}
	end := c.m.Old
	for _, o := range c.song.Sections {
		if at, ok := o.At.In(c.song.Beats); ok && at > from {
			end = min(end, at)
		}
	}
	return end
}

// instant places what stands at one instant.
func (c *carrier) instant(x *Item) {
	spots := c.spots(x.WasAt)
	if len(spots) == 0 {
		c.lose(x)
		return
	}
	at, next := c.place(x.Was, x.WasAt, spots[0])
	x.Is, x.Next = &at, next
	x.Status, x.Why = c.judge(spots[0], at)
	if x.Was.OnBeat && !at.Moment.OnBeat && x.Why == "" {
		x.Why = "it stood on a beat, and stands at a time now: the beats are elsewhere"
	}
	c.further(x, spots[1:])
}

// further lists the other places at which a record is heard.
func (c *carrier) further(x *Item, spots []spot) {
	for _, s := range spots {
		if s.edge != "" || apart(s.at, x.Is.At) <= cutSlack {
			if x.Next == nil {
				at, _ := c.place(x.Was, x.WasAt, s)
				x.Next = &at
			}
			continue
		}
		at, _ := c.place(x.Was, x.WasAt, s)
		x.Copies = append(x.Copies, Copy{Place: at})
	}
	if len(x.Copies) > 0 && x.Status != Check {
		x.Status = Copied
	}
}

// judge says how sure a place is.
func (c *carrier) judge(s spot, at Place) (Status, string) {
	p := &c.passages[s.passage]
	switch {
	case s.edge != "":
		return Check, s.edge
	case at.Sure < timeline.LeastSure:
		return Check, fmt.Sprintf("the music is like that of the old recording by %d of 100", at.Sure/10)
	}
	switch {
	case p.Moved:
		return Moved, ""
	case p.Exact:
		return Exact, ""
	}
	return Matched, ""
}

// lose says that a place is not heard any more, and where the music goes on instead.
func (c *carrier) lose(x *Item) {
	x.Status, x.Why = Lost, "the music there is not heard in the new recording"
	if len(c.passages) == 0 {
		x.Why = "nothing of the old recording is heard in the new one"
		return
	}
	best := -1
	for k := range c.passages {
		if p := &c.passages[k]; !p.Moved && p.OldEnd <= x.WasAt && (best < 0 || p.OldEnd > c.passages[best].OldEnd) {
			best = k
		}
	}
	at, run := c.passages[0].New, c.passages[0].First
	if best >= 0 {
		at, run = c.passages[best].NewEnd, c.passages[best].Last
	}
	x.Next = &Place{at, timeline.AtTime(at), run, 0, ByPath}
}

// reach places what begins at a lost instant, and of which music is left further
// on, at the first of it, on the beat that is near.
func (c *carrier) reach(x *Item, end timeline.Time, grid timeline.Rat) {
	left := c.images(x.WasAt, end)
	if len(left) == 0 {
		return
	}
	x.Next = nil
	i := max(0, slices.IndexFunc(left, func(m image) bool { return !c.passages[m.passage].Moved }))
	at := left[i].from
	m := timeline.AtTime(at)
	if x.Was.OnBeat && !c.beats.Empty() {
		if q := c.beats.Snap(at, grid); apart(c.beats.At(q), at) <= sameBeat {
			m = timeline.AtBar(q)
		}
	}
	r := left[i].runs[0]
	x.Is = &Place{at, m, r, c.m.Runs[r].Sure, ByPath}
	x.Status, x.Why = Check, "its start is cut, and it begins with what is left of it"
}

// window places what is on from an instant for a time: from its start to its end,
// with what was cut or put in between.
func (c *carrier) window(x *Item, open timeline.Time) {
	all := c.images(x.WasAt, x.WasAt+open)
	if len(all) == 0 {
		c.lose(x)
		return
	}
	var kept []image
	for _, m := range all {
		if !c.passages[m.passage].Moved {
			kept = append(kept, m)
		}
	}
	if len(kept) == 0 {
		kept = all[:1]
	}
	// From where it begins on, as far as it is on: what is heard again after its end
	// is another place of it.
	kept = kept[max(0, slices.IndexFunc(kept, func(m image) bool { return m.start })):]
	if end := slices.IndexFunc(kept, func(m image) bool { return m.end }); end >= 0 {
		kept = kept[:end+1]
	}
	first, last := kept[0], kept[len(kept)-1]
	s := spot{first.from, first.runs[0], first.passage, ""}
	at, next := c.place(x.Was, x.WasAt, s)
	whole := first.passage == last.passage
	if !first.start {
		at = Place{first.from, timeline.AtTime(first.from), s.run, at.Sure, ByPath}
	}
	for _, m := range kept {
		for r := m.runs[0]; r <= m.runs[1]; r++ {
			at.Sure = min(at.Sure, c.m.Runs[r].Sure)
		}
	}
	x.Is, x.Next = &at, next
	x.Status, x.Why = c.judge(s, at)
	if !whole && x.Status == Exact && slices.ContainsFunc(kept, func(m image) bool { return !c.passages[m.passage].Exact }) {
		x.Status = Matched
	}
	is := (last.to - first.from).RoundTo(timeline.EntryStep)
	if apart(is, open) > instant {
		x.Open = is
	}
	switch {
	case !first.start && !last.end:
		x.Status, x.Why = Check, "its start and its end are cut"
	case !first.start:
		x.Status, x.Why = Check, "its start is cut, and it is on from the first that is left"
	case !last.end:
		x.Status, x.Why = Check, "its end is cut, and it is on up to the last that is left"
	case !whole && slices.ContainsFunc(all, func(m image) bool { return c.passages[m.passage].Moved && !m.start }):
		x.Status, x.Why = Check, "what is played while it is on stands at several places now"
	case x.Open > open && x.Why == "":
		x.Why = fmt.Sprintf("it is on for %s s more, as the music is longer there", (x.Open - open).Text(3))
	case x.Open > 0 && x.Why == "":
		x.Why = fmt.Sprintf("it is on for %s s less, as the music is shorter there", (open - x.Open).Text(3))
	}
	for _, m := range all {
		if m.from == first.from || !m.start || slices.ContainsFunc(kept, func(k image) bool { return k == m }) {
			continue
		}
		p, _ := c.place(x.Was, x.WasAt, spot{m.from, m.runs[0], m.passage, ""})
		copied := Copy{Place: p}
		if long := (m.to - m.from).RoundTo(timeline.EntryStep); apart(long, open) > instant {
			copied.Open = long
		}
		x.Copies = append(x.Copies, copied)
	}
	if len(x.Copies) > 0 && x.Status != Check {
		x.Status = Copied
	}
}

// anchors says where the anchors of the beat map went.
func (c *carrier) anchors() {
	for _, a := range c.song.Beats.Anchors() {
		x := c.item("anchor", "", timeline.AtBar(a.Place()))
		x.WasAt = a.At
		spots := c.spots(a.At)
		if len(spots) == 0 {
			c.lose(&x)
		} else {
			s := spots[0]
			at := Place{s.at, timeline.AtTime(s.at), s.run, c.m.Runs[s.run].Sure, ByPath}
			if !c.beats.Empty() {
				at.Moment = timeline.AtBar(c.beats.Named(s.at))
			}
			x.Is = &at
			x.Status, x.Why = c.judge(s, at)
		}
		c.items = append(c.items, x)
	}
}

// locks carries the user's word to the ear: a tempo goes with the speed of the music,
// and what stands at a time with the music there.
func (c *carrier) locks() []string {
	var list []string
	for _, text := range c.song.Locks {
		x := Item{Ref: timeline.Ref{Kind: timeline.AsideLock, Song: c.song.ID}, Status: Exact, text: text}
		key, value, _ := strings.Cut(text, "=")
		switch key {
		case "bpm":
			if v, err := strconv.ParseFloat(value, 64); err == nil {
				text, x.Status, x.Why = c.tempo(v, text)
			}
		case "bar-one", "tap":
			if at, err := timeline.ParseTime(value); err == nil {
				x.WasAt, x.Was = at, timeline.AtTime(at)
				if s := c.spots(at); len(s) > 0 {
					p := Place{s[0].at, timeline.AtTime(s[0].at), s[0].run, c.m.Runs[s[0].run].Sure, ByPath}
					x.Is = &p
					x.Status, x.Why = c.judge(s[0], p)
					if text = key + "=" + p.At.Text(4); p.At == at {
						text = x.text
					}
				} else {
					c.lose(&x)
				}
			}
		case "stretch":
			if from, to, ok := strings.Cut(value, ".."); ok {
				text = c.stretch(&x, from, to)
			}
		}
		if x.Status != Lost {
			list = append(list, text)
		}
		c.items = append(c.items, x)
	}
	return list
}

// stretch carries a stretch that is locked with the music at both of its ends; it is lost where one of them is, or where they have changed
// places.
func (c *carrier) stretch(x *Item, from, to string) string {
	a, errA := timeline.ParseTime(from)
	b, errB := timeline.ParseTime(to)
	if errA != nil || errB != nil {
		return x.text
	}
	x.WasAt, x.Was = a, timeline.AtTime(a)
	first, last := c.spots(a), c.spots(b)
	if len(first) == 0 || len(last) == 0 || last[0].at <= first[0].at {
		c.lose(x)
		return x.text
	}
	p := Place{first[0].at, timeline.AtTime(first[0].at), first[0].run, c.m.Runs[first[0].run].Sure, ByPath}
	x.Is = &p
	if x.Status, x.Why = c.judge(first[0], p); p.At == a && last[0].at == b {
		return x.text
	}
	return "stretch=" + p.At.Text(4) + ".." + last[0].at.Text(4)
}

// tempo carries a tempo in beats a minute by the speed of the music.
func (c *carrier) tempo(bpm float64, text string) (string, Status, string) {
	var old, is timeline.Time
	exact := len(c.passages) > 0
	for _, p := range c.passages {
		old, is, exact = old+p.OldEnd-p.Old, is+p.NewEnd-p.New, exact && p.Exact
	}
	switch {
	case exact:
		return text, Exact, ""
	case is == 0:
		return text, Lost, "nothing of the old recording is heard in the new one"
	}
	speed := old.Seconds() / is.Seconds()
	if speed > 0.9995 && speed < 1.0005 {
		return text, Matched, ""
	}
	return "bpm=" + strconv.FormatFloat(bpm*speed, 'f', 2, 64), Check, fmt.Sprintf("the music is played at %.4f of its speed", speed)
}

// added lists what the new recording has and the old had not, with the name of the
// section that was heard there.
func (c *carrier) added() []New {
	var list []New
	for _, s := range c.m.Added() {
		if s.To-s.From < listed {
			continue
		}
		n := New{Stretch: Stretch{"", s.From, s.To}}
		var most timeline.Time
		for _, h := range c.heard.Sections {
			if both := min(h.To, s.To) - max(h.From, s.From); both > most {
				n.Name, most = h.Name, both
			}
		}
		if !c.beats.Empty() {
			n.Bars = [2]int{c.beats.Named(s.From).Bar, c.beats.Locate(s.To - cutSlack).Bar}
		}
		list = append(list, n)
	}
	return list
}
