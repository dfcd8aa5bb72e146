package grid

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Staying is why a cue keeps its instant.
type Staying string

// The reasons.
const (
	Pinned   Staying = "pinned to time" // it stands at a time
	Locked   Staying = "locked"         // it or its lane is
	Sounding Staying = "keep their sound"
	InPlace  Staying = "on beats that stay"
)

// Move is what becomes of a cue.
type Move struct {
	Cue     *timeline.Cue
	Was, Is timeline.Time
	Stays   Staying // "" where it moves
}

// By gives how much later it is.
func (m *Move) By() timeline.Time { return m.Is - m.Was }

// Corrected is a song with corrections made.
type Corrected struct {
	Was         *timeline.Song
	Corrections []Correction
	Beats       *timeline.BeatMap
	Moves       []Move // of all cues that the song plays, by the time they had

	places map[timeline.Ref][2]timeline.Moment // of the song's own records: at, and to or until
	every  map[timeline.ID]timeline.Stride     // of phrases
}

// seat is a place on beats with the very instant that it has.
type seat struct {
	place timeline.BarBeat
	at    timeline.Time
	keeps bool // its instant, whatever beats do
}

// Correct makes corrections of the grid of a song, one after the other. Nothing is done to the show. The error names the correction that
// cannot be made.
func Correct(show *timeline.Show, song timeline.ID, list ...Correction) (*Corrected, error) {
	g := show.Song(song)
	if g == nil {
		return nil, fmt.Errorf("the show has no song %q", song)
	}
	list = merged(list)
	x := &Corrected{Was: g, Corrections: list, Beats: g.Beats, places: map[timeline.Ref][2]timeline.Moment{}, every: map[timeline.ID]timeline.Stride{}}
	seats := seatsOf(g)
	for i := range list {
		c := &list[i]
		next, err := c.On(x.Beats)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", c, err)
		}
		for _, s := range seats {
			if x.Beats.Empty() { // a place on a bar of no beat map has no instant yet
				s.at = next.At(s.place)
			} else if s.keeps || c.Counts() {
				s.place = placeAt(next, s.at)
			} else {
				s.place = inBar(next, s.place)
				s.at = next.At(s.place)
			}
		}
		if r := c.ratio(); r != timeline.NewRat(1, 1) {
			for _, p := range g.Phrases {
				e, ok := x.every[p.ID]
				if !ok {
					e = p.Every
				}
				if e.Bars == 0 && !e.Beats.IsZero() {
					e.Beats = e.Beats.Mul(r)
					x.every[p.ID] = e
				}
			}
		}
		x.Beats = next
	}
	x.seated(g, seats)
	after, err := show.Edit(x.Edit())
	if err != nil {
		return nil, err
	}
	x.compare(show, after)
	return x, nil
}

// seatsOf gives the places on beats of a song's own records, two for those that end somewhere.
func seatsOf(g *timeline.Song) map[seatKey]*seat {
	list := map[seatKey]*seat{}
	add := func(kind string, id timeline.ID, keeps bool, ms ...timeline.Moment) {
		for i, m := range ms {
			if m.OnBeat {
				list[seatKey{timeline.Ref{Kind: kind, Song: g.ID, ID: id}, i}] = &seat{m.Bar, g.Beats.At(m.Bar), keeps}
			}
		}
	}
	for _, c := range g.Cues {
		add("cue", c.ID, locked(g, c), c.At)
	}
	for _, s := range g.Sections {
		add("section", s.ID, false, s.At, s.To)
	}
	for _, m := range g.Markers {
		add("marker", m.ID, false, m.At)
	}
	for _, p := range g.Phrases {
		add("phrase", p.ID, false, p.At, p.Until)
	}
	return list
}

// seatKey names one of the places of a record.
type seatKey struct {
	timeline.Ref
	end int
}

func locked(g *timeline.Song, c *timeline.Cue) bool {
	l := g.Lane(c.Lane)
	return c.Locked || l != nil && l.Locked
}

// inBar gives a place that is called by its bar: beats that its bar no longer has are those of the next.
func inBar(m *timeline.BeatMap, p timeline.BarBeat) timeline.BarBeat {
	for n := whole(m.MetreAt(p.Bar).Num); p.Beat.Cmp(n) >= 0; n = whole(m.MetreAt(p.Bar).Num) {
		p.Bar, p.Beat = p.Bar+1, p.Beat.Sub(n)
	}
	return p
}

// divisions are the parts of a beat that a place is looked for in first, so that it is called as people write it.
var divisions = []int64{1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 96, 5, 7, 10, 960}

// finest is the part of a beat that is taken where none of those meets an instant: a twentieth of a millisecond at the slowest.
const finest = 9600

// placeAt gives the place of an instant: the plainest that lies on it, else the nearest of the finest division.
func placeAt(m *timeline.BeatMap, at timeline.Time) timeline.BarBeat {
	for _, d := range divisions {
		p := m.Snap(at, timeline.NewRat(1, d))
		if e := m.At(p) - at; e >= -exact && e <= exact {
			return p
		}
	}
	return m.Snap(at, timeline.NewRat(1, finest))
}

// exact is how far two instants lie apart at most that rounding alone has parted.
const exact timeline.Time = 2

// seated keeps the places that changed.
func (x *Corrected) seated(g *timeline.Song, seats map[seatKey]*seat) {
	for k, s := range seats {
		two, ok := x.places[k.Ref]
		if !ok {
			two = momentsOf(g, k.Ref)
		}
		two[k.end] = timeline.AtBar(s.place)
		x.places[k.Ref] = two
	}
}

// momentsOf gives the places of a record of a song.
func momentsOf(g *timeline.Song, r timeline.Ref) [2]timeline.Moment {
	switch r.Kind {
	case "cue":
		return [2]timeline.Moment{g.Cue(r.ID).At}
	case "section":
		s := find(g.Sections, r.ID)
		return [2]timeline.Moment{s.At, s.To}
	case "marker":
		return [2]timeline.Moment{find(g.Markers, r.ID).At}
	}
	p := find(g.Phrases, r.ID)
	return [2]timeline.Moment{p.At, p.Until}
}

func find[R timeline.Record](list []R, id timeline.ID) R {
	return list[slices.IndexFunc(list, func(r R) bool { return r.RecordID() == id })]
}

// Edit gives the edit that makes the corrections: the beat map, and the places of what stands on beats.
func (x *Corrected) Edit() timeline.Edit {
	return func(d *timeline.Draft) error {
		g := d.Show().Song(x.Was.ID)
		if g == nil {
			return fmt.Errorf("the show has no song %q", x.Was.ID)
		}
		head := timeline.KindOf("song").Clone(&g.SongHead).(*timeline.SongHead)
		head.Beats = x.Beats
		d.Put("", head)
		var recs []timeline.Record
		for ref, two := range x.places {
			r := timeline.KindOf(ref.Kind).Find(d.Show(), g.ID, ref.ID)
			if r == nil {
				continue
			}
			r = timeline.KindOf(ref.Kind).Clone(r)
			switch r := r.(type) {
			case *timeline.Cue:
				r.At = two[0]
			case *timeline.Section:
				r.At, r.To = two[0], two[1]
			case *timeline.Marker:
				r.At = two[0]
			case *timeline.Phrase:
				r.At, r.Until = two[0], two[1]
				if e, ok := x.every[r.ID]; ok {
					r.Every = e
				}
			}
			recs = append(recs, r)
		}
		slices.SortFunc(recs, func(a, b timeline.Record) int { return cmp.Compare(a.RecordID(), b.RecordID()) })
		d.Put(g.ID, recs...)
		return nil
	}
}

// compare says of each cue that the song plays what becomes of it.
func (x *Corrected) compare(was, is *timeline.Show) {
	before, after := was.Programmed(x.Was), is.Programmed(is.Song(x.Was.ID))
	counts := !slices.ContainsFunc(x.Corrections, func(c Correction) bool { return !c.Counts() })
	for _, c := range before.Cues {
		q := after.Cue(c.ID)
		m := Move{Cue: c}
		var ok bool
		if m.Was, ok = c.At.In(before.Beats); !ok || q == nil {
			continue
		}
		if m.Is, ok = q.At.In(after.Beats); !ok {
			continue
		}
		if by := m.By(); by > -timeline.EntryStep && by < timeline.EntryStep {
			switch {
			case !c.At.OnBeat:
				m.Stays = Pinned
			case locked(before, c):
				m.Stays = Locked
			case counts:
				m.Stays = Sounding
			default:
				m.Stays = InPlace
			}
		}
		x.Moves = append(x.Moves, m)
	}
	slices.SortStableFunc(x.Moves, func(a, b Move) int { return cmp.Or(cmp.Compare(a.Was, b.Was), cmp.Compare(a.Cue.ID, b.Cue.ID)) })
}

// Moved gives how many cues move, and by how much at least and at most.
func (x *Corrected) Moved() (n int, least, most timeline.Time) {
	for i := range x.Moves {
		m := &x.Moves[i]
		if m.Stays != "" {
			continue
		}
		by := max(m.By(), -m.By())
		if n++; n == 1 {
			least, most = by, by
		}
		least, most = min(least, by), max(most, by)
	}
	return n, least, most
}

// Moving says how many cues move and by how much: 34 cues move by 242 ms.
func (x *Corrected) Moving() string {
	n, least, most := x.Moved()
	switch {
	case len(x.Moves) == 0:
		return "no cues yet"
	case n == 0:
		return "no cue moves"
	case n == 1:
		return "1 cue moves by " + millis(most)
	case millis(least) != millis(most):
		return fmt.Sprintf("%d cues move by %s to %s", n, strings.TrimSuffix(millis(least), " ms"), millis(most))
	}
	return fmt.Sprintf("%d cues move by %s", n, millis(most))
}

// Remaining says how many stay and why: 6 stay: 4 are pinned to time, 2 are locked. "" where none does.
func (x *Corrected) Remaining() string {
	n, by := 0, map[Staying]int{}
	for i := range x.Moves {
		if s := x.Moves[i].Stays; s != "" {
			n++
			by[s]++
		}
	}
	if n == 0 {
		return ""
	}
	var parts []string
	for _, s := range []Staying{Sounding, Pinned, Locked, InPlace} {
		switch k := by[s]; {
		case k == 0:
		case s == Sounding && k == 1:
			parts = append(parts, "1 keeps its sound")
		case s == Sounding:
			parts = append(parts, fmt.Sprintf("%d %s", k, s))
		case k == 1:
			parts = append(parts, "1 is "+strings.Replace(string(s), "beats that stay", "a beat that stays", 1))
		default:
			parts = append(parts, fmt.Sprintf("%d are %s", k, s))
		}
	}
	verb := "stay"
	if n == 1 {
		verb = "stays"
	}
	return fmt.Sprintf("%d %s: %s", n, verb, strings.Join(parts, ", "))
}

// millis writes a distance of time in whole milliseconds, or tenths below ten.
func millis(t timeline.Time) string {
	tenths := (t.RoundTo(timeline.Millisecond/10)*10 + timeline.Millisecond/2) / timeline.Millisecond
	if tenths < 100 && tenths%10 != 0 {
		return fmt.Sprintf("%d.%d ms", tenths/10, tenths%10)
	}
	return fmt.Sprintf("%d ms", (t+timeline.Millisecond/2)/timeline.Millisecond)
}

// merged takes shifts that follow each other as one, so that half a beat twice is a beat to the unit of time, and there and back is nothing.
func merged(list []Correction) []Correction {
	var out []Correction
	for _, c := range list {
		n := len(out)
		if n == 0 || c.Kind != Shift || out[n-1].Kind != Shift || c.Cues != out[n-1].Cues {
			out = append(out, c)
			continue
		}
		if out[n-1].Beats = out[n-1].Beats.Add(c.Beats); out[n-1].Beats.IsZero() {
			out = out[:n-1]
		}
	}
	return out
}

// Said joins what corrections are.
func Said(list []Correction) string {
	list = merged(list)
	var parts []string
	for i := range list {
		parts = append(parts, list[i].String())
	}
	return strings.Join(parts, ", ")
}

// SetLocks gives the edit that keeps locks with a song.
func SetLocks(song timeline.ID, l Locks) timeline.Edit {
	return onHead(song, func(h *timeline.SongHead) error {
		h.Locks = l.Texts()
		return nil
	})
}

// Confirm gives the edit that says whether the grid of a song has been found right.
func Confirm(song timeline.ID, right bool) timeline.Edit {
	return onHead(song, func(h *timeline.SongHead) error {
		if h.Beats.Empty() {
			return errNoBeats
		}
		h.Confirmed = right
		return nil
	})
}

// onHead changes the record of a song.
func onHead(song timeline.ID, change func(*timeline.SongHead) error) timeline.Edit {
	return func(d *timeline.Draft) error {
		g := d.Show().Song(song)
		if g == nil {
			return fmt.Errorf("the show has no song %q", song)
		}
		head := timeline.KindOf("song").Clone(&g.SongHead).(*timeline.SongHead)
		if err := change(head); err != nil {
			return err
		}
		d.Put("", head)
		return nil
	}
}

// Listened gives the correction that takes the grid of a song as it is heard, with what is locked in stretches as it stands.
func Listened(g *timeline.Song, h Heard) (Correction, error) {
	if h.Beats.Empty() {
		return Correction{}, errors.New("no beats are heard in the recording: type a tempo, or tap it")
	}
	locks, err := ReadLocks(g.Locks)
	if err != nil {
		return Correction{}, err
	}
	m, err := Joined(g.Beats, h.Beats, locks.Stretches, g.Duration())
	if err != nil {
		return Correction{}, err
	}
	return Correction{Kind: Whole, Map: m, Name: "as it is heard"}, nil
}
