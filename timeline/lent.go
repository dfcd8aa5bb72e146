package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A song that is a version of another one, and shares its cues, stores none of
// them: what it plays is made of the other song's records wherever it is asked
// for. Programmed is the one place that makes it; whoever plays, draws, counts
// or lists a song asks for that, and whoever edits works on what is stored.

// lent is what a version plays of the song that it shares with.
type lent struct {
	from, to *Song // the song that lends, as it is programmed, and the version as it is stored
	played   *Song
}

// lentKey names a record of a song.
type lentKey struct {
	kind string
	id   ID
}

// LentBy gives the song whose cues a version plays, or nil where the song has
// cues of its own alone: it does not share, or what it is a version of is gone.
func (s *Show) LentBy(g *Song) *Song {
	if g == nil || !g.Shares || g.VersionOf == g.ID {
		return nil
	}
	base := s.Song(g.VersionOf)
	for at, n := base, 0; at != nil && at.Shares; n++ {
		if at = s.Song(at.VersionOf); at == g || n > len(s.Songs) {
			return nil // versions of each other
		}
	}
	return base
}

// Programmed gives a song as it is played: itself, or for a version that shares
// its cues a song made of its own records and of those of the other one, at
// their places here. An own record stands for the lent one of the same id. The
// result is the same as long as neither song changes, and must not be edited.
func (s *Show) Programmed(g *Song) *Song {
	base := s.LentBy(g)
	if base == nil {
		return g
	}
	base = s.Programmed(base)
	if i := slices.IndexFunc(s.lent, func(l lent) bool { return l.to == g && l.from == base }); i >= 0 {
		return s.lent[i].played
	}
	return lend(base, g)
}

// keepLent makes what versions play of other songs, once for all who ask.
func (s *Show) keepLent() {
	var all []lent
	for _, g := range s.Songs {
		if base := s.LentBy(g); base != nil {
			base = s.Programmed(base)
			all = append(all, lent{base, g, s.Programmed(g)})
			s.lent = append(slices.Clone(s.lent), all[len(all)-1]) // a version of it may ask next
		}
	}
	s.lent = all
}

// RefOf names a record that a song plays where it is stored: for one that is
// lent that is the song that lends it.
func (g *Song) RefOf(kind string, id ID) Ref {
	if ref, ok := g.lent[lentKey{kind, id}]; ok {
		return ref
	}
	return Ref{kind, g.ID, id}
}

// Lent gives how many of the song's cues are another song's.
func (g *Song) Lent() int {
	n := 0
	for _, c := range g.Cues {
		n += len(g.lentOf("cue", c.ID))
	}
	return n
}

// lentOf gives the record that stands behind a lent one, none for an own one.
func (g *Song) lentOf(kind string, id ID) []Ref {
	if ref, ok := g.lent[lentKey{kind, id}]; ok {
		return []Ref{ref}
	}
	return nil
}

// Astray is a cue of another song that has no place in a version that shares it.
type Astray struct {
	Cue *Cue
	Why LostReason
}

// lend makes the song that a version plays of a song that lends to it.
func lend(base, g *Song) *Song {
	p := &Song{SongHead: g.SongHead, Lanes: g.Lanes, Phrases: g.Phrases, Sections: g.Sections, Markers: g.Markers, Cues: g.Cues, Notes: g.Notes, lent: map[lentKey]Ref{}}
	to := newCarrier(base, g)
	p.Lanes = borrow(p, base, "lane", g.Lanes, base.Lanes)
	p.Phrases = borrow(p, base, "phrase", g.Phrases, base.Phrases)
	if len(g.Sections) == 0 {
		p.Sections = borrow(p, base, "section", g.Sections, to.sections())
	}
	if len(g.Markers) == 0 {
		p.Markers = borrow(p, base, "marker", g.Markers, to.markers())
	}
	cues, again := to.cues(p)
	p.Cues = borrow(p, base, "cue", g.Cues, cues)
	for _, c := range again {
		p.lent[lentKey{"cue", c.ID}] = base.RefOf("cue", c.again)
	}
	p.Cues = merge(p.Cues, records(again))
	p.Astray = to.astray
	for _, a := range p.Astray {
		p.lent[lentKey{"cue", a.Cue.ID}] = base.RefOf("cue", a.Cue.ID)
	}
	return p
}

// borrow puts lent records beside own ones, and notes whose they are.
func borrow[P interface {
	comparable
	Record
}](g, base *Song, kind string, own, from []P) []P {
	var list []P
	for _, r := range from {
		if id := r.RecordID(); !slices.ContainsFunc(own, func(o P) bool { return o.RecordID() == id }) {
			g.lent[lentKey{kind, id}] = base.RefOf(kind, id)
			list = append(list, r)
		}
	}
	return merge(list, records(own))
}

// carrier says where the records of a song that lends stand in a version.
type carrier struct {
	base, g *Song
	same    bool     // both have the same recording
	way     *TimeMap // else; nil = by bars alone
	astray  []Astray
}

// newCarrier finds the way from a song to its version: by the version's map;
// where it plays the very same recording, everything stays where it is; else only
// bars are known to be the same.
func newCarrier(base, g *Song) *carrier {
	c := &carrier{base: base, g: g}
	if len(g.Map) > 0 {
		c.way = g.TimeMap(&base.SongHead)
		return c
	}
	a, b := base.Audio, g.Audio
	c.same = a.FileHash != "" && a.FileHash == b.FileHash || a.none() && b.none() && base.Beats.Equal(g.Beats)
	return c
}

// none reports whether no recording is named.
func (a *Audio) none() bool { return a.Path == "" && a.FileHash == "" }

// TimeMap gives the map by which a version plays the cues of the song it is a
// version of, from that one's recording to its own.
func (s *SongHead) TimeMap(base *SongHead) *TimeMap {
	return &TimeMap{base.Duration(), s.Duration(), s.Map}
}

// places gives where a moment stands in the version: nowhere, at one place, or
// where it is heard more than once at each of them, in the order of the version.
func (c *carrier) places(m Moment) ([]Moment, LostReason) { return c.led(m, (*TimeMap).Places) }

// ends is places for where something ends.
func (c *carrier) ends(m Moment) []Moment {
	list, _ := c.led(m, (*TimeMap).Ends)
	return list
}

// led gives where the way leads from a moment.
func (c *carrier) led(m Moment, by func(*TimeMap, Time) []MapPlace) ([]Moment, LostReason) {
	at, ok := m.In(c.base.Beats)
	switch {
	case c.same && (!m.OnBeat || c.base.Beats.Equal(c.g.Beats)):
		return []Moment{m}, ""
	case c.way == nil && !c.same && m.OnBeat:
		return []Moment{m}, ""
	case c.way == nil && !c.same:
		return nil, LostNoMap
	case !ok:
		return nil, LostBeats
	case c.same:
		return []Moment{c.onBeat(m, at)}, ""
	}
	var list []Moment
	for _, p := range by(c.way, at) {
		list = append(list, c.onBeat(m, p.At))
	}
	if len(list) == 0 {
		return nil, LostInVersion
	}
	return list, ""
}

// onBeat gives the moment of a time in the version: the beat that the version's
// own map has at the very time, for what stood on one, else the time.
func (c *carrier) onBeat(was Moment, at Time) Moment {
	if was.OnBeat && !c.g.Beats.Empty() {
		for _, p := range []BarBeat{was.Bar, c.g.Beats.Locate(at)} {
			if c.g.Beats.At(p) == at {
				return AtBar(p)
			}
		}
	}
	return AtTime(at)
}

// cues gives the cues of the song that lends at their places in the version, and
// those that are played again where the version says so. What has no place is
// noted as astray.
func (c *carrier) cues(p *Song) (first, again []*Cue) {
	taken := map[ID]bool{}
	for _, list := range [][]*Cue{c.base.Cues, c.g.Cues} {
		for _, q := range list {
			taken[q.ID] = true
		}
	}
	for _, q := range c.base.Cues {
		if c.g.Cue(q.ID) != nil || slices.Contains(c.g.Without, q.ID) {
			continue
		}
		lane := findRecord(p.Lanes, q.Lane)
		places, why := c.spans(q, lane)
		if len(places) == 0 {
			c.astray = append(c.astray, Astray{q, why})
			continue
		}
		if !c.g.Twice {
			places = places[:1]
		}
		for n, at := range places {
			x := *q
			x.At = at.At
			if at.Open != 0 {
				x.Open = at.Open
			}
			if n == 0 {
				first = append(first, &x)
				continue
			}
			for k := n + 1; taken[x.ID]; k++ {
				x.ID = ID(fmt.Sprintf("%.36s-%d", q.ID, k))
			}
			taken[x.ID], x.again = true, cmp.Or(q.again, q.ID)
			again = append(again, &x)
		}
	}
	return first, again
}

// placed is where a cue stands in a version, and for how long it is open where
// that is otherwise than it says.
type placed struct {
	At   Moment
	Open Time
}

// spans gives the places of a cue. A window is up from the first to the last of
// what its song goes on with here: a cut inside makes it shorter.
func (c *carrier) spans(q *Cue, lane *Lane) ([]placed, LostReason) {
	list, why := c.places(q.At)
	open := q.Open
	if lane != nil {
		open = cmp.Or(open, lane.Open)
	}
	up, ok := q.At.In(c.base.Beats)
	if lane == nil || !lane.Window() || c.way == nil || open == 0 || !ok {
		all := make([]placed, len(list))
		for i, m := range list {
			all[i] = placed{At: m}
		}
		return all, why
	}
	var all []placed
	for _, r := range c.way.Runs {
		from, to := max(r.Old, up), min(r.OldEnd, up+open)
		if from >= to {
			continue
		}
		at, down := r.Forward(from).RoundTo(EntryStep), r.Forward(to).RoundTo(EntryStep)
		if n := len(all); n > 0 && from > up && at >= all[n-1].At.Time {
			all[n-1].Open = down - all[n-1].At.Time // goes on after a cut, or at another speed
			continue
		}
		all = append(all, placed{Moment{Time: at}, down - at})
	}
	if len(all) == 0 {
		return nil, cmp.Or(why, LostInVersion)
	}
	for i := range all {
		if all[i].Open == open {
			all[i].Open = 0
		}
		all[i].At = c.onBeat(q.At, all[i].At.Time)
	}
	return all, ""
}

func (c *carrier) sections() []*Section {
	var list []*Section
	for _, x := range c.base.Sections {
		places, _ := c.places(x.At)
		if len(places) == 0 {
			continue
		}
		y := *x
		y.At, y.To = places[0], Moment{}
		if ends := c.ends(x.To); x.To != (Moment{}) && len(ends) > 0 {
			y.To = ends[0]
		}
		list = append(list, &y)
	}
	return list
}

func (c *carrier) markers() []*Marker {
	var list []*Marker
	for _, x := range c.base.Markers {
		if places, _ := c.places(x.At); len(places) > 0 {
			y := *x
			y.At = places[0]
			list = append(list, &y)
		}
	}
	return list
}

// lends reports whether a song that a version shares with has a record of a kind.
func (d *Draft) lends(kinds []string, song, id ID) bool {
	g := d.show.Song(song)
	for n := 0; g != nil && n <= len(d.show.Songs); n++ {
		if g = d.show.LentBy(g); g != nil && d.exists(kinds, g.ID, id) {
			return true
		}
	}
	return false
}

// borrows reports whether what a version says of a record of its own name means
// the record of another song.
func (s *Show) borrows(g *Song, r Ref) bool {
	for n := 0; n <= len(s.Songs) && KindOf(r.Kind).Find(s, g.ID, r.ID) == nil; n++ {
		if g = s.LentBy(g); g == nil {
			return false
		}
		if g.ID == r.Song {
			return true
		}
	}
	return false
}

// checkLent refuses to change a record of another song in a version that shares
// it, where the change would part the two unseen.
func (d *Draft) checkLent() error {
	for _, r := range d.put {
		g := d.show.Song(r.Song)
		if r.Song == "" || g == nil || !g.Shares || KindOf(r.Kind).Find(d.base, r.Song, r.ID) != nil {
			continue
		}
		was := d.base.Song(r.Song)
		if was == nil || !was.Shares {
			continue
		}
		if ref := d.base.Programmed(was).RefOf(r.Kind, r.ID); ref.Song != r.Song {
			return sharedError(d.show, g, ref)
		}
	}
	return nil
}

// noRecord says that there is no record to change, or where the shared one is.
func (s *Show) noRecord(r Ref) error {
	if g := s.Song(r.Song); g != nil && KindOf(r.Kind) != nil {
		if ref := s.Programmed(g).RefOf(r.Kind, r.ID); ref.Song != r.Song {
			return sharedError(s, g, ref)
		}
	}
	return fmt.Errorf("%s: there is no such record", r)
}

// sharedError says where a shared record is changed.
func sharedError(s *Show, version *Song, r Ref) error {
	return fmt.Errorf("%s is shared: change it there, or make the cues of %q its own first", s.NamedRef(r), version.FullTitle())
}

// Versions gives the song that a song is a version of, or itself, and all its
// versions, by name: that one first.
func (s *Show) Versions(of ID) []*Song {
	g := s.Song(of)
	for n := 0; g != nil && g.VersionOf != "" && s.Song(g.VersionOf) != nil && n <= len(s.Songs); n++ {
		g = s.Song(g.VersionOf)
	}
	if g == nil {
		return nil
	}
	all := []*Song{g}
	for i := 0; i < len(all); i++ {
		for _, x := range s.Songs {
			if x.VersionOf == all[i].ID && !slices.Contains(all, x) {
				all = append(all, x)
			}
		}
	}
	slices.SortStableFunc(all[1:], func(a, b *Song) int { return strings.Compare(a.Version, b.Version) })
	return all
}

// SameSong reports whether two songs are versions of one.
func (s *Show) SameSong(a, b ID) bool {
	return a == b || slices.ContainsFunc(s.Versions(a), func(g *Song) bool { return g.ID == b })
}
