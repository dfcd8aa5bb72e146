package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Bars is a run of whole bars, both included.
type Bars struct{ First, Last int }

// String writes `9..16`, or `9` for one bar.
func (b Bars) String() string {
	if b.First == b.Last {
		return strconv.Itoa(b.First)
	}
	return fmt.Sprintf("%d..%d", b.First, b.Last)
}

// ParseBars reads `9..16`, `9-16` or `9`.
func ParseBars(s string) (Bars, error) {
	from, to, ok := strings.Cut(strings.TrimSpace(s), "..")
	if !ok && len(from) > 0 {
		if a, b, dash := strings.Cut(from[1:], "-"); dash { // the first may be the sign of a bar before 1
			from, to, ok = from[:1]+a, b, true
		}
	}
	if !ok {
		to = from
	}
	first, err1 := strconv.Atoi(strings.TrimSpace(from))
	last, err2 := strconv.Atoi(strings.TrimSpace(to))
	b := Bars{first, last}
	if err1 != nil || err2 != nil || last < first || first < -maxRatNumber || last > maxRatNumber {
		return Bars{}, fmt.Errorf("bars %s cannot be read: write the first and the last, such as 9..16, or one bar", quoted(s))
	}
	return b, nil
}

// SongCopy says which cues of a song are to stand in another song, or elsewhere in
// the same one: those of a run of bars, or of the sections of a name.
type SongCopy struct {
	From, To  ID
	Bars      *Bars  // nil = by section
	At        int    // the bar of To that the first bar comes to; 0 = the same number
	Section   string // by name or id
	ToSection string // of To; "" = Section
	Lanes     []ID   // of From; none = all

	// Onto gives where a cue goes that comes to a place of To, such as onto what is heard there; nil leaves all on their beats. Windows stay.
	Onto func(*Song, Moment) Moment
}

// CopiedCue is a cue that a copy places.
type CopiedCue struct {
	From *Cue
	Lane *Lane  // of the song it comes from
	Was  Moment // as it stands there
	Cue  Cue    // as it is placed; its id and group are given when it is
}

// UncopiedCue is a cue that a copy does not place, with the reason.
type UncopiedCue struct {
	Cue  *Cue
	Lane *Lane
	Why  string
}

// SongCopied is what a copy comes to.
type SongCopied struct {
	Cues  []CopiedCue
	Not   []UncopiedCue
	Lanes []*Lane // of the song it comes from, for which the other one has none alike
	Notes []string

	show     *Show
	stock    *Stock
	rig      *Rig
	from, to *Song
	lanes    map[ID]ID // of From → of To; "" is made
}

// barPair is a run of bars with the bar that its first comes to, and how many bars
// there are for it.
type barPair struct {
	bars Bars
	at   int
	room int // bars from at on; 0 = as far as the song goes
	name string
}

// CopyOf says what copying cues comes to. The cues keep their places in their bars,
// by the beats of the song they come to; arm, condition and warm-up windows come
// with them, those too that are up when the first bar begins. The error says why
// nothing can be copied at all.
func (s *Show) CopyOf(c SongCopy) (*SongCopied, error) {
	x := &SongCopied{show: s, stock: s.Stock, rig: s.Rig, from: s.Programmed(s.Song(c.From)), to: s.Programmed(s.Song(c.To)), lanes: map[ID]ID{}}
	for id, g := range map[ID]*Song{c.From: x.from, c.To: x.to} {
		switch {
		case g == nil:
			return nil, fmt.Errorf("song:%s: there is no such record", id)
		case g.Beats.Empty():
			return nil, fmt.Errorf("song %s has no beat map, so its bars are not known; give it one, or listen to it again", quoted(g.FullTitle()))
		}
	}
	for _, id := range c.Lanes {
		if x.from.Lane(id) == nil {
			return nil, fmt.Errorf("song %s has no lane %s (%s)", quoted(x.from.FullTitle()), quoted(string(id)), laneNames(s, x.from))
		}
	}
	pairs, err := x.pairs(c)
	if err != nil {
		return nil, err
	}
	for _, p := range pairs {
		x.copy(p, c)
	}
	return x, nil
}

// pairs finds the bars that go together.
func (x *SongCopied) pairs(c SongCopy) ([]barPair, error) {
	switch {
	case (c.Bars == nil) == (c.Section == ""):
		return nil, fmt.Errorf("say which cues: those of {bars}, or those of a {section}")
	case c.Bars != nil && c.ToSection != "":
		return nil, fmt.Errorf("{to-section} goes with {section}; {bars} go to a bar, with {at}")
	case c.Bars == nil && c.At != 0:
		return nil, fmt.Errorf("{at} goes with {bars}; a section goes to a section, with {to-section}")
	case c.Bars != nil:
		at := cmp.Or(c.At, c.Bars.First)
		if c.From == c.To && at == c.Bars.First {
			return nil, fmt.Errorf("bars %s are to be copied onto themselves; say to which bar, with {at}", c.Bars)
		}
		return []barPair{{bars: *c.Bars, at: at}}, nil
	}
	name := cmp.Or(c.ToSection, c.Section)
	from, to := x.from.barsOf(c.Section), x.to.barsOf(name)
	for _, m := range []struct {
		g    *Song
		name string
		list []Bars
	}{{x.from, c.Section, from}, {x.to, name, to}} {
		if len(m.list) == 0 {
			return nil, fmt.Errorf("song %s has no section %s (%s)", quoted(m.g.FullTitle()), quoted(m.name), sectionNames(x.show, m.g))
		}
	}
	if c.From == c.To && slices.Equal(from, to) {
		return nil, fmt.Errorf("section %s is to be copied onto itself; say to which section, with {to-section}", quoted(c.Section))
	}
	var pairs []barPair
	for i := range min(len(from), len(to)) {
		pairs = append(pairs, barPair{from[i], to[i].First, to[i].Last - to[i].First + 1, name})
	}
	if n := len(from) - len(to); n > 0 {
		x.Notes = append(x.Notes, fmt.Sprintf("%d of %d sections %s have none to go to in %s", n, len(from), quoted(c.Section), quoted(x.to.FullTitle())))
	}
	if n := len(to) - len(from); n > 0 {
		x.Notes = append(x.Notes, fmt.Sprintf("%d of %d sections %s of %s get nothing: %s has %d", n, len(to), quoted(name), quoted(x.to.FullTitle()), quoted(x.from.FullTitle()), len(from)))
	}
	return pairs, nil
}

// barsOf gives the whole bars of a song's sections of a name, by time.
func (g *Song) barsOf(section string) []Bars {
	var list []Bars
	p := &SongPlan{Song: g, Duration: g.Duration()}
	for _, c := range g.Sections {
		from, ok := c.At.In(g.Beats)
		if !ok || string(c.ID) != section && !strings.EqualFold(c.Name, section) {
			continue
		}
		first, end := g.Beats.Snap(from, Rat{}).Bar, g.Beats.Snap(p.sectionEnd(c, from), Rat{}).Bar
		list = append(list, Bars{first, max(first, end-1)})
	}
	slices.SortFunc(list, func(a, b Bars) int { return cmp.Compare(a.First, b.First) })
	return list
}

func sectionNames(s *Show, g *Song) string {
	var names []string
	called := s.Names()
	for _, c := range g.Sections {
		if name := fmt.Sprintf("%q", cmp.Or(c.Name, called.called(g.ID, c))); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return "it has none yet"
	}
	return "it has " + listSome(names)
}

// copy copies the cues of a run of bars, and the windows that are up in it.
func (x *SongCopied) copy(p barPair, of SongCopy) {
	beats := x.from.Beats
	start, end := beats.BarStart(p.bars.First), beats.BarStart(p.bars.Last+1)
	until := end // windows stay up for what is open when the last bar ends
	for _, q := range x.from.Cues {
		if at, ok := q.At.In(beats); ok && at >= start && at < end {
			until = max(until, at+x.openOf(q))
		}
	}
	for _, q := range x.from.Cues {
		lane := x.from.Lane(q.Lane)
		if len(of.Lanes) > 0 && !slices.Contains(of.Lanes, q.Lane) {
			continue
		}
		at, ok := q.At.In(beats)
		if !ok {
			continue
		}
		up := at >= start && at < end
		if lane != nil && lane.Window() {
			up = up || at < start && at+cmp.Or(q.Open, lane.Open) > start
		}
		if !up {
			continue
		}
		c, why := x.placed(p, q, lane, at, until)
		if why == "" && of.Onto != nil && !lane.Window() {
			c.At = of.Onto(x.to, c.At)
		}
		if why == "" {
			c.Lane, why = x.lane(lane)
		}
		if why == "" {
			why = x.stands(c)
		}
		if why != "" {
			x.Not = append(x.Not, UncopiedCue{q, lane, why})
			continue
		}
		x.Cues = append(x.Cues, CopiedCue{q, lane, q.At, c})
	}
	slices.SortStableFunc(x.Not, func(a, b UncopiedCue) int {
		t, _ := a.Cue.At.In(beats)
		u, _ := b.Cue.At.In(beats)
		return cmp.Compare(t, u)
	})
	slices.SortStableFunc(x.Cues, func(a, b CopiedCue) int {
		t, _ := a.Cue.At.In(x.to.Beats)
		u, _ := b.Cue.At.In(x.to.Beats)
		return cmp.Compare(t, u)
	})
}

// placed gives a cue as it stands in the other song; why says that it cannot.
func (x *SongCopied) placed(p barPair, q *Cue, lane *Lane, at, until Time) (c Cue, why string) {
	if lane == nil {
		return c, "its lane is gone"
	}
	c = *q
	c.Kept, c.Locked, c.again = nil, false, ""
	c.At, why = x.moment(p, q.At, at)
	if why != "" && lane.Window() && at < x.from.Beats.BarStart(p.bars.First) {
		x.Notes = append(x.Notes, fmt.Sprintf("the window at %s of %s begins with bar %d only: %s", q.At, x.show.CalledIn(x.from.ID, lane), p.at, why))
		c.At, why = AtBar(BarBeat{Bar: p.at}), ""
	}
	open := cmp.Or(q.Open, lane.Open)
	if why != "" || !lane.Window() || open == 0 {
		return c, why
	}
	ends := min(at+open, until)
	to, why := x.moment(p, AtTime(ends), ends)
	if why != "" { // it is up as long as there is room
		last := p.at + p.bars.Last - p.bars.First + 1
		if p.room > 0 {
			last = min(last, p.at+p.room)
		}
		to = AtTime(min(x.to.Beats.BarStart(last), x.to.Duration()))
	}
	up, _ := c.At.In(x.to.Beats)
	down, _ := to.In(x.to.Beats)
	if down <= up {
		return c, "the window has no length there"
	}
	if c.Open = (down - up).RoundTo(EntryStep); c.Open == lane.Open && q.Open == 0 {
		c.Open = 0
	}
	return c, ""
}

// openOf is how long a cue is open, as far as its records say.
func (x *SongCopied) openOf(q *Cue) Time {
	lane := x.from.Lane(q.Lane)
	if lane == nil || lane.Window() {
		return 0
	}
	open := cmp.Or(q.Open, lane.Open)
	if open != 0 {
		return open
	}
	for _, id := range append([]ID{cmp.Or(q.Article, lane.Article)}, x.articlesAt(cmp.Or(q.Target, lane.Target))...) {
		if a := x.stock.Article(id); a != nil {
			open = max(open, a.Open)
		}
	}
	return open
}

// articlesAt gives the articles that stand at a placed effect, or at the members of a
// group.
func (x *SongCopied) articlesAt(target ID) []ID {
	placed := []ID{target}
	if g := x.rig.Group(target); g != nil {
		placed = g.Members
	}
	var list []ID
	for _, id := range placed {
		if p := x.rig.PlacedEffect(id); p != nil {
			list = append(list, p.Article)
		}
	}
	return list
}

// moment gives where a place of the one song is in the other: in the same bar of the
// run, on the same beat of a bar of the same metre.
func (x *SongCopied) moment(p barPair, m Moment, at Time) (Moment, string) {
	from, to := x.from.Beats, x.to.Beats
	place := m.Bar
	if !m.OnBeat {
		place = from.beatBefore(at, from.barAt(at))
	}
	for place.Beat.Cmp(NewRat(int64(from.MetreAt(place.Bar).Num), 1)) >= 0 { // told as beats after an earlier bar
		place = BarBeat{place.Bar + 1, place.Beat.Sub(NewRat(int64(from.MetreAt(place.Bar).Num), 1))}
	}
	bar := p.at + place.Bar - p.bars.First
	is := BarBeat{bar, place.Beat}
	a, b := from.MetreAt(place.Bar), to.MetreAt(bar)
	switch {
	case p.room > 0 && bar >= p.at+p.room:
		return m, fmt.Sprintf("section %s has only %s there", quoted(p.name), Counted(p.room, "bar"))
	case to.At(is) >= x.to.Duration():
		return m, fmt.Sprintf("bar %d is past the end of the song", bar)
	case to.At(is) < 0:
		return m, fmt.Sprintf("bar %d is before the start of the song", bar)
	case a != b:
		return m, fmt.Sprintf("bar %d is in %s, and bar %d there in %s", place.Bar, a, bar, b)
	case m.OnBeat:
		return AtBar(is), ""
	}
	one := NewRat(1, 1)
	t0, t1 := from.At(place), from.At(BarBeat{place.Bar, place.Beat.Add(one)})
	u0, u1 := to.At(is), to.At(BarBeat{is.Bar, is.Beat.Add(one)})
	return AtTime(u0 + scaled(at-t0, u1-u0, t1-t0)), ""
}

// beatBefore gives the last whole beat of a bar at or before a time.
func (m *BeatMap) beatBefore(t Time, bar int) BarBeat {
	p := BarBeat{Bar: bar}
	for n := int64(1); n < int64(m.MetreAt(bar).Num); n++ {
		if next := (BarBeat{bar, NewRat(n, 1)}); m.At(next) <= t {
			p = next
		}
	}
	return p
}

// lane finds the lane of the other song that does what a lane does, or notes that it
// is to be made.
func (x *SongCopied) lane(l *Lane) (ID, string) {
	if id, known := x.lanes[l.ID]; known {
		return id, ""
	}
	id := ID("")
	if to := x.to.LaneLike(l); to != nil {
		if to.Locked {
			return "", fmt.Sprintf("lane %s is locked there", quoted(x.show.CalledIn(x.to.ID, to)))
		}
		id = to.ID
	} else {
		x.Lanes = append(x.Lanes, l)
	}
	x.lanes[l.ID] = id
	return id, ""
}

// LaneLike finds the lane of a song that does what a lane of another song does, or
// nil: the one of the same id, or the first of the same target, role and article.
func (s *Song) LaneLike(l *Lane) *Lane {
	if same := s.Lane(l.ID); same != nil && same.Target == l.Target && same.Role == l.Role {
		return same
	}
	i := slices.IndexFunc(s.Lanes, func(o *Lane) bool { return o.Target == l.Target && o.Role == l.Role && o.Article == l.Article })
	if i < 0 {
		return nil
	}
	return s.Lanes[i]
}

// stands says that a cue would stand where there is one alike.
func (x *SongCopied) stands(c Cue) string {
	at, _ := c.At.In(x.to.Beats)
	same := func(q *Cue) bool {
		t, ok := q.At.In(x.to.Beats)
		return ok && q.Lane == c.Lane && q.Target == c.Target && t.RoundTo(EntryStep) == at.RoundTo(EntryStep)
	}
	if c.Lane != "" && slices.ContainsFunc(x.to.Cues, same) || slices.ContainsFunc(x.Cues, func(o CopiedCue) bool { return c.Lane != "" && same(&o.Cue) }) {
		return "a cue stands there already"
	}
	return ""
}

// CopyCues gives the edit of a copy, as one step. newID hands in ids that no record
// of the kind has in the song.
func (s *Show) CopyCues(c SongCopy, newID func(kind string, song ID) ID) Edit {
	return func(d *Draft) error {
		x, err := d.show.CopyOf(c)
		if err != nil {
			return err
		}
		if len(x.Cues) == 0 {
			why := "there are none"
			if len(x.Not) > 0 {
				why = x.Not[0].Why
			}
			return fmt.Errorf("no cue of %s can be copied: %s", quoted(x.from.FullTitle()), why)
		}
		for _, l := range x.Lanes {
			to := *l
			to.ID, to.Kept, to.Locked = newID("lane", c.To), nil, false
			x.lanes[l.ID] = to.ID
			d.Put(c.To, &to)
		}
		groups := map[ID]ID{}
		for i := range x.Cues {
			q := x.Cues[i].Cue
			q.ID, q.Lane = newID("cue", c.To), x.lanes[x.Cues[i].From.Lane]
			if q.Group != "" {
				if groups[q.Group] == "" {
					groups[q.Group] = newID("cue", c.To)
				}
				q.Group = groups[q.Group]
			}
			d.Put(c.To, &q)
		}
		return nil
	}
}
