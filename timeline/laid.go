package timeline

import (
	"cmp"
	"errors"
	"fmt"
	"hash/fnv"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// LaidGap is the longest time between two hits over which an arm or condition
// that is laid stays on, where a show gives none (setting gap of the rules arm-up
// and condition-off; our judgement).
const LaidGap = 10 * Second

// LaidAt is where a window was laid by the program, and for how long: the mark by
// which it is known as one that follows the hits. The zero value is of one that a
// person made.
type LaidAt struct{ At, Open Time }

// String writes `62.0000 4.5000`, start and length in seconds.
func (l LaidAt) String() string {
	if l == (LaidAt{}) {
		return ""
	}
	return l.At.String() + " " + l.Open.String()
}

// ParseLaidAt reads what LaidAt.String writes.
func ParseLaidAt(text string) (LaidAt, error) {
	if text == "" {
		return LaidAt{}, nil
	}
	at, open, ok := strings.Cut(text, " ")
	from, err1 := ParseTime(at)
	long, err2 := ParseTime(open)
	if !ok || err1 != nil || err2 != nil || long <= 0 {
		return LaidAt{}, errors.New("must be start and length in seconds, such as 62.0000 4.5000; leave it empty for a window of your own")
	}
	return LaidAt{from, long}, nil
}

// Owned reports whether a window still stands where the program laid it, so that
// it may be laid anew. One that somebody has moved, shortened or anchored on a bar
// is that person's, whatever its mark says.
func (c *Cue) Owned() bool {
	return c.Laid != (LaidAt{}) && !c.At.OnBeat && !c.Locked && !c.Disabled && c.Laid == LaidAt{c.At.Time, c.Open}
}

// laidRoles are the roles of which windows are laid.
var laidRoles = []SlotRole{ArmSlot, ConditionSlot}

// Laying is what laying the windows of a song comes to.
type Laying struct {
	Song  ID
	Lanes []*Lane // that are made
	Put   []*Cue  // windows that are new, or lie elsewhere than before
	Was   []*Cue  // for each of Put what it was, or nil
	Gone  []*Cue  // windows that were laid and that no hit needs any more
	Kept  []*Cue  // windows that were laid and stay as they are
}

// Empty reports whether nothing is left to do.
func (l *Laying) Empty() bool { return len(l.Lanes)+len(l.Put)+len(l.Gone) == 0 }

// Edit gives the edit that lays the windows.
func (l *Laying) Edit() Edit {
	return func(d *Draft) error {
		d.lay(l)
		return nil
	}
}

func (d *Draft) lay(l *Laying) {
	for _, lane := range l.Lanes {
		d.Put(l.Song, lane)
	}
	for _, c := range l.Put {
		d.Put(l.Song, c)
	}
	for _, c := range l.Gone {
		ref := Ref{Kind: "cue", Song: l.Song, ID: c.ID}
		KindOf("cue").remove(d, l.Song, c.ID)
		d.gone = append(d.gone, ref)
	}
}

// Lay works out the arm and condition windows that the hits of a song need, from
// the leads of the device types and the program of the tour. Windows that a
// person made are left alone, and a hit that they serve needs no other. What was
// laid before is laid anew. Roles limits it to some; none are both.
func (s *Show) Lay(song ID, roles ...SlotRole) (*Laying, error) {
	g := s.Song(song)
	switch {
	case g == nil:
		return nil, fmt.Errorf("song:%s: there is no such record", song)
	case g.Shares:
		return nil, fmt.Errorf("%s plays the cues of another song; lay arms there", quoted(g.FullTitle()))
	}
	if len(roles) == 0 {
		roles = laidRoles
	}
	return newLayer(s, g).lay(roles), nil
}

// keepLaid lays the windows anew that were laid in a song before the draft, where
// it has changed the hits there: one that is moved takes them with it. Slots that
// no laid window raised are left alone, and a step that touches windows alone
// makes those a person's.
func (d *Draft) keepLaid() {
	songs := slices.Sorted(maps.Keys(d.songs))
	for _, id := range songs {
		was, is := d.base.Song(id), d.show.Song(id)
		if was == nil || is == nil || is.Shares || !slices.ContainsFunc(was.Cues, (*Cue).Owned) || sameHits(was, is) {
			continue
		}
		y := newLayer(d.show, is)
		y.served = map[SlotRole]map[SlotPlace]bool{}
		for _, c := range was.Cues {
			if !c.Owned() {
				continue
			}
			if lane := was.Lane(c.Lane); lane != nil {
				y.serve(lane.Role, cmp.Or(c.Target, lane.Target))
			}
			if next := is.Cue(c.ID); next != nil && next.Laid == c.Laid && !next.Locked && !next.Disabled && !y.locked(next) {
				y.owned[c.ID] = true // also where it was moved along with the hits
			}
		}
		d.lay(y.lay(laidRoles))
	}
}

// locked reports whether the lane of a cue is locked, so that nothing moves there.
func (y *layer) locked(c *Cue) bool {
	lane := y.song.Lane(c.Lane)
	return lane != nil && lane.Locked
}

// serve notes the slots that a window aimed at something raises.
func (y *layer) serve(role SlotRole, target ID) {
	if y.served[role] == nil {
		y.served[role] = map[SlotPlace]bool{}
	}
	units, _ := y.plan.Units.Target(target)
	for _, u := range units {
		for _, d := range u.Drives {
			if d.DeviceType == nil {
				continue
			}
			for _, s := range d.DeviceType.Find(role, d.Wire.Output) {
				y.served[role][d.Device.PlaceOf(s)] = true
			}
		}
	}
}

// sameHits reports whether two states of a song have the very same hits.
func sameHits(a, b *Song) bool {
	hits := func(g *Song) (list []*Cue) {
		windows := map[ID]bool{}
		for _, l := range g.Lanes {
			windows[l.ID] = l.Window()
		}
		for _, c := range g.Cues {
			if !windows[c.Lane] {
				list = append(list, c)
			}
		}
		return list
	}
	return a.Beats == b.Beats && slices.Equal(a.Lanes, b.Lanes) && slices.Equal(hits(a), hits(b))
}

// layer lays the windows of one song.
type layer struct {
	show  *Show
	song  *Song
	plan  *SongPlan
	owned map[ID]bool // cues that may be laid anew
	stops []Time      // over which no window is joined

	served map[SlotRole]map[SlotPlace]bool // the slots that are looked at; nil = all
}

func newLayer(s *Show, g *Song) *layer {
	y := &layer{show: s, song: g, owned: map[ID]bool{}, stops: s.stopsIn(g)}
	y.plan = s.tourOf(g)
	for _, c := range g.Cues {
		y.owned[c.ID] = c.Owned() && !y.locked(c)
	}
	return y
}

// tourOf compiles a song as the tour plays it, whether or not a set holds it.
func (s *Show) tourOf(g *Song) *SongPlan {
	return NewCompiler().songAlone(s, g)
}

// songAlone compiles one song without the set around it.
func (c *Compiler) songAlone(s *Show, g *Song) *SongPlan {
	c.units = resolve(s, nil)
	return c.song(s, s.Programmed(g), g.ID, nil)
}

// HoldWord and ReEntryWord begin the names of markers at which a show is held,
// and at which it goes on after a hold.
const (
	HoldWord    = "hold"
	ReEntryWord = "re-entry"
)

// stopsIn gives the times of a song over which nothing stays armed that is not
// needed: where it is held or goes on after a hold, and where a performer or
// somebody else comes to a place of any venue of the show.
func (s *Show) stopsIn(g *Song) []Time {
	var stops []Time
	for _, m := range g.Markers {
		name := strings.ToLower(m.Name)
		if at, ok := m.At.In(g.Beats); ok && (strings.HasPrefix(name, HoldWord) || strings.HasPrefix(name, ReEntryWord)) {
			stops = append(stops, at)
		}
	}
	for _, v := range s.Venues {
		for _, list := range [][]PlanMark{v.Performers, v.Clear} {
			for _, m := range list {
				if m.Song == g.ID {
					stops = append(stops, m.From)
				}
			}
		}
	}
	slices.Sort(stops)
	return stops
}

// need is the time in which a hit needs a slot, with half a frame on both sides,
// so that it holds wherever timecode starts.
type laidNeed struct {
	from, until Time
	place       SlotPlace
	unit        *Unit
	of          ID // what the hit aims at: the target of its lane, or its own
	Need
}

// needs lists what the hits need of a role and have not from a window that a
// person made, by time.
func (y *layer) needs(role SlotRole) []laidNeed {
	hand := y.byHand(role)
	half := y.plan.Rate.FrameTicks()/2 + 1
	var list []laidNeed
	for i := range y.plan.Commands {
		c := &y.plan.Commands[i]
		least, _ := y.show.RuleNumberIn(y.song, role.AskedBy(), "least", c.Unit, c.Article)
		for _, d := range c.Unit.Drives {
			if d.Dead {
				continue
			}
			for _, n := range d.Needs() {
				if n.Role != role {
					continue
				}
				lead := max(n.Lead, FromSeconds(least))
				place := d.Device.PlaceOf(n.Slot)
				if y.served != nil && !y.served[role][place] || hand.serve(place, c, lead) {
					continue
				}
				end := max(c.End(), c.EndRounded())
				from, until := down(c.At-lead-half), up(max(c.End()+half, c.EndRounded()))
				if y.plan.Duration > 0 && until > y.plan.Duration {
					until = up(max(end, min(until, y.plan.Duration)))
				}
				list = append(list, laidNeed{from, until, place, c.Unit, y.aims(c), n})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b laidNeed) int { return cmp.Compare(a.from, b.from) })
	return list
}

// aims gives what a window is aimed at that serves a command: the target of the
// lane of its hit where that holds the unit, so that a figure over a group is
// armed as the group.
func (y *layer) aims(c *Command) ID {
	for _, target := range []ID{c.Lane.Target, c.Cue.Target} {
		if units, ok := y.plan.Units.Target(target); ok && slices.Contains(units, c.Unit) {
			return target
		}
	}
	return c.Unit.Placed.ID
}

func down(t Time) Time {
	r := t.RoundTo(EntryStep)
	if r > t {
		r -= EntryStep
	}
	return r
}

func up(t Time) Time {
	r := t.RoundTo(EntryStep)
	if r < t {
		r += EntryStep
	}
	return r
}

// handMade is when slots are on by windows that are not laid, exact and rounded.
type handMade map[SlotPlace][2][]Stretch

func (y *layer) byHand(role SlotRole) handMade {
	exact, rounded := map[SlotPlace][]Raised{}, map[SlotPlace][]Raised{}
	for i := range y.plan.Asked {
		w := &y.plan.Asked[i]
		if w.Role != role || y.owned[w.Cue.ID] {
			continue
		}
		for _, s := range w.Slots {
			at := w.Device.PlaceOf(s)
			exact[at] = append(exact[at], Raised{w.Up, w.Down, w})
			rounded[at] = append(rounded[at], Raised{w.UpRounded, w.DownRounded, w})
		}
	}
	h := handMade{}
	for at := range exact {
		h[at] = [2][]Stretch{Join(exact[at]), Join(rounded[at])}
	}
	return h
}

func (h handMade) serve(place SlotPlace, c *Command, lead Time) bool {
	covers := func(list []Stretch, from, until Time) bool {
		return slices.ContainsFunc(list, func(s Stretch) bool {
			return s.Up <= from && (s.Down >= until || !s.Last.Closes())
		})
	}
	lines, known := h[place]
	return known && covers(lines[0], c.At-lead, c.End()) && covers(lines[1], c.Rounded-lead, c.EndRounded())
}

// laidWindow is a window that is to lie on a lane.
type laidWindow struct {
	from, until Time
	target      ID
}

// lay gives what there is to do for some roles.
func (y *layer) lay(roles []SlotRole) *Laying {
	l := &Laying{Song: y.song.ID}
	for _, role := range roles {
		want := map[ID][]laidWindow{}
		lanes := map[ID]*Lane{}
		for _, part := range parts(y.needs(role)) {
			for _, w := range y.windows(role, part) {
				lane := y.laneFor(role, w.target, l.Lanes)
				if lane == nil {
					lane = y.newLane(role, w.target)
					l.Lanes = append(l.Lanes, lane)
				}
				lanes[lane.ID] = lane
				want[lane.ID] = append(want[lane.ID], w)
			}
		}
		for _, lane := range y.song.Lanes {
			if lane.Role == role {
				lanes[lane.ID] = lane
			}
		}
		for _, id := range slices.Sorted(maps.Keys(lanes)) {
			y.onLane(l, lanes[id], want[id])
		}
	}
	return l
}

// parts sorts needs into those that have to do with each other by their slots.
func parts(needs []laidNeed) [][]laidNeed {
	of := map[SlotPlace]int{} // part of a place
	var list [][]laidNeed
	aims := map[ID]int{}
	for _, n := range needs {
		a, known := aims[n.of]
		b, held := of[n.place]
		switch {
		case !known && !held:
			a = len(list)
			list = append(list, nil)
		case !known:
			a = b
		case held && a != b: // two parts turn out to be one
			list[a], list[b] = append(list[a], list[b]...), nil
			for k, v := range of {
				if v == b {
					of[k] = a
				}
			}
			for k, v := range aims {
				if v == b {
					aims[k] = a
				}
			}
		}
		aims[n.of], of[n.place] = a, a
		list[a] = append(list[a], n)
	}
	list = slices.DeleteFunc(list, func(p []laidNeed) bool { return len(p) == 0 })
	for _, p := range list {
		slices.SortStableFunc(p, func(a, b laidNeed) int { return cmp.Compare(a.from, b.from) })
	}
	return list
}

// windows gives the windows of needs that have to do with each other: one for
// all of them where something of the rig raises just their slots and none of
// these would be on for longer than the gap for nothing, else several.
func (y *layer) windows(role SlotRole, needs []laidNeed) []laidWindow {
	gap := LaidGap
	if x, ok := y.show.RuleNumberIn(y.song, role.AskedBy(), "gap", nil, nil); ok {
		gap = FromSeconds(x)
	}
	var list []laidWindow
	for _, w := range y.runs(needs, gap) {
		if target, ok := y.target(role, w); ok && y.tight(w, gap) {
			list = append(list, w.aimed(target))
			continue
		}
		list = append(list, y.split(role, w, gap)...)
	}
	return list
}

// run is needs that one window could serve.
type run struct {
	from, until Time
	needs       []laidNeed
}

func (r *run) aimed(target ID) laidWindow { return laidWindow{r.from, r.until, target} }

// runs joins needs, by time, that overlap or lie no further apart than the gap.
func (y *layer) runs(needs []laidNeed, gap Time) []run {
	var list []run
	for _, n := range needs {
		if k := len(list) - 1; k >= 0 && (n.from <= list[k].until || y.joins(list[k].until, n.from, gap)) {
			list[k].until = max(list[k].until, n.until)
			list[k].needs = append(list[k].needs, n)
			continue
		}
		list = append(list, run{n.from, n.until, []laidNeed{n}})
	}
	return list
}

// joins reports whether a slot may stay on from one time to another without a
// hit that needs it.
func (y *layer) joins(from, to, gap Time) bool {
	i, stop := slices.BinarySearch(y.stops, from)
	return to-from <= gap && !stop && (i == len(y.stops) || y.stops[i] > to)
}

// tight reports whether one window for all needs of a run would have no slot on
// for nothing for longer than the gap, or than the hold of its device.
func (y *layer) tight(w run, gap Time) bool {
	on := map[SlotPlace]Time{}
	types := map[SlotPlace]*DeviceType{}
	for _, n := range w.needs {
		until, known := on[n.place]
		if !known {
			until = w.from
		}
		if n.from > until && !y.joins(until, n.from, gap) {
			return false
		}
		on[n.place], types[n.place] = max(until, n.until), n.Type
	}
	for place, until := range on {
		hold := gap
		if h := types[place].ArmHold; h > 0 {
			hold = min(hold, h-2*y.plan.Rate.FrameTicks()) // rounding to frames, at either end, counts as well
		}
		if until < w.until && !y.joins(until, w.until, hold) {
			return false
		}
	}
	return true
}

// target finds what raises just the slots that a run needs: what a lane of the
// role aims at first, then what the hits do, then the groups of the rig, then
// single effects.
func (y *layer) target(role SlotRole, w run) (ID, bool) {
	places := map[SlotPlace]bool{}
	var ids []ID
	for _, l := range y.song.Lanes {
		if l.Role == role && !l.Locked {
			ids = append(ids, l.Target)
		}
	}
	for _, n := range w.needs {
		places[n.place] = true
		if !slices.Contains(ids, n.of) {
			ids = append(ids, n.of)
		}
	}
	for _, g := range y.show.Rig.Groups {
		ids = append(ids, g.ID)
	}
	for _, n := range w.needs {
		if !slices.Contains(ids, n.unit.Placed.ID) {
			ids = append(ids, n.unit.Placed.ID)
		}
	}
	for _, id := range ids {
		if y.raises(role, id, places) {
			return id, true
		}
	}
	return "", false
}

// raises reports whether a window aimed at something raises just some slots.
func (y *layer) raises(role SlotRole, target ID, places map[SlotPlace]bool) bool {
	units, ok := y.plan.Units.Target(target)
	raised := map[SlotPlace]bool{}
	for _, u := range units {
		if !ok || u.Out {
			return false
		}
		for _, d := range u.Drives {
			if d.DeviceType == nil {
				continue
			}
			for _, s := range d.DeviceType.Find(role, d.Wire.Output) {
				at := d.Device.PlaceOf(s)
				if raised[at] = true; !places[at] {
					return false
				}
			}
		}
	}
	return len(raised) == len(places)
}

// split serves the needs of a run unit by unit; those that are needed at the same
// time are aimed at together where something of the rig raises just them.
func (y *layer) split(role SlotRole, w run, gap Time) []laidWindow {
	byUnit := map[*Unit][]laidNeed{}
	var order []*Unit
	first := map[SlotPlace]*Unit{} // one unit stands for all that share a slot
	for _, n := range w.needs {
		u := n.unit
		if other := first[n.place]; other != nil && sameSlots(role, u, other) {
			u = other
		} else {
			first[n.place] = u
		}
		if byUnit[u] == nil {
			order = append(order, u)
		}
		byUnit[u] = append(byUnit[u], n)
	}
	type span struct{ from, until Time }
	together := map[span][]laidNeed{}
	units := map[span][]*Unit{}
	var spans []span
	for _, u := range order {
		for _, r := range y.runs(byUnit[u], gap) {
			at := span{r.from, r.until}
			if together[at] == nil {
				spans = append(spans, at)
			}
			together[at] = append(together[at], r.needs...)
			units[at] = append(units[at], u)
		}
	}
	var list []laidWindow
	for _, at := range spans {
		if target, ok := y.target(role, run{at.from, at.until, together[at]}); ok {
			list = append(list, laidWindow{at.from, at.until, target})
			continue
		}
		for _, u := range units[at] {
			list = append(list, laidWindow{at.from, at.until, u.Placed.ID})
		}
	}
	return list
}

// sameSlots reports whether windows aimed at two units raise the same slots.
func sameSlots(role SlotRole, a, b *Unit) bool {
	places := func(u *Unit) (list []SlotPlace) {
		for _, d := range u.Drives {
			for _, n := range d.Needs() {
				if n.Role == role {
					list = append(list, n.Device.PlaceOf(n.Slot))
				}
			}
		}
		return list
	}
	return a == b || slices.Equal(places(a), places(b))
}

// laneFor finds the lane for a window: of the role, not locked, aimed at the
// same, or else at the least that holds all that the window is aimed at; nil
// where the song has none.
func (y *layer) laneFor(role SlotRole, target ID, made []*Lane) *Lane {
	units, _ := y.plan.Units.Target(target)
	var best *Lane
	most := 0
	for _, l := range slices.Concat(y.song.Lanes, made) {
		if l.Role != role || l.Locked {
			continue
		}
		if l.Target == target {
			return l
		}
		holds, ok := y.plan.Units.Target(l.Target)
		if !ok || slices.ContainsFunc(units, func(u *Unit) bool { return !slices.Contains(holds, u) }) {
			continue
		}
		if best == nil || len(holds) < most {
			best, most = l, len(holds)
		}
	}
	return best
}

// LaidOn names the lane on which a window would be laid for a command: one of the
// song, or one that would be made.
func (p *SongPlan) LaidOn(s *Show, c *Command, role SlotRole) (name string, made bool) {
	y := &layer{show: s, song: p.Song, plan: p}
	target := y.aims(c)
	if l := y.laneFor(role, target, nil); l != nil {
		return s.CalledIn(p.Song.ID, l), false
	}
	return LaidLaneName(s.calledAny(target), role), true
}

// newLane makes a lane for windows of a role.
func (y *layer) newLane(role SlotRole, target ID) *Lane {
	name := LaidLaneName(y.show.calledAny(target), role)
	l := &Lane{Name: name, Target: target, Role: role}
	l.ID = y.freeID(func(id ID) bool { return y.song.Lane(id) != nil }, "lane", string(role), string(target))
	return l
}

// LaidLaneName is what a lane is called that is made for the windows of a role
// under something called so.
func LaidLaneName(target string, role SlotRole) string { return target + ", " + string(role) }

// calledAny is what a group or placed effect is called.
func (s *Show) calledAny(id ID) string {
	if g := s.Rig.Group(id); g != nil {
		return s.Called(g)
	}
	if p := s.Rig.PlacedEffect(id); p != nil {
		return s.Called(p)
	}
	return string(id)
}

// freeID gives an id that follows from what the record is, so that the same
// windows are the same records on every machine.
func (y *layer) freeID(taken func(ID) bool, parts ...string) ID {
	for n := 0; ; n++ {
		h := fnv.New64a()
		fmt.Fprintf(h, "%s %q %d", y.song.ID, parts, n)
		text := strconv.FormatUint(h.Sum64(), 36)
		if id := ID("w" + text[:min(len(text), 9)]); !taken(id) {
			return id
		}
	}
}

// onLane makes the laid windows of a lane those that are wanted. One that lies
// where one is wanted stays; of the others as many as are needed are moved, in
// their order.
func (y *layer) onLane(l *Laying, lane *Lane, want []laidWindow) {
	slices.SortStableFunc(want, func(a, b laidWindow) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.target, b.target))
	})
	want = slices.Compact(want)
	var spare []*Cue
	for _, c := range y.song.Cues {
		if c.Lane != lane.ID || !y.owned[c.ID] {
			continue
		}
		k := slices.IndexFunc(want, func(w laidWindow) bool { return w.is(c, lane) })
		if k < 0 {
			spare = append(spare, c)
			continue
		}
		want = slices.Delete(want, k, k+1)
		l.Kept = append(l.Kept, c)
	}
	slices.SortStableFunc(spare, func(a, b *Cue) int { return cmp.Compare(a.At.Time, b.At.Time) })
	for _, w := range want {
		c, was := &Cue{Lane: lane.ID}, (*Cue)(nil)
		if len(spare) > 0 {
			was, spare = spare[0], spare[1:]
			next := *was
			c = &next
		} else {
			c.ID = y.freeID(func(id ID) bool {
				return y.song.Cue(id) != nil || slices.ContainsFunc(l.Put, func(c *Cue) bool { return c.ID == id })
			}, "cue", string(lane.ID), w.from.String(), string(w.target))
		}
		c.At, c.Open, c.Target = AtTime(w.from), w.until-w.from, w.target
		if w.target == lane.Target {
			c.Target = ""
		}
		c.Laid = LaidAt{c.At.Time, c.Open}
		l.Put, l.Was = append(l.Put, c), append(l.Was, was)
	}
	l.Gone = append(l.Gone, spare...)
}

// is reports whether a cue is the window already.
func (w laidWindow) is(c *Cue, lane *Lane) bool {
	return !c.At.OnBeat && c.At.Time == w.from && c.Open == w.until-w.from && cmp.Or(c.Target, lane.Target) == w.target && c.Laid == LaidAt{w.from, w.until - w.from}
}

// OnFor adds up how long the slots of a role are on in a song, each slot for
// itself, and says how many slots that are. Windows without an end last to the
// song's.
func (p *SongPlan) OnFor(role SlotRole) (on Time, slots int) {
	seen := map[SlotPlace]bool{}
	type window struct {
		at SlotPlace
		up Time
	}
	counted := map[window]bool{} // devices at one address share their windows
	for i := range p.Windows {
		w := &p.Windows[i]
		if w.Role != role {
			continue
		}
		until := w.Down
		if !w.Closes() {
			until = max(p.Duration, w.Up)
		}
		for _, s := range w.Slots {
			at := window{w.Device.PlaceOf(s), w.Up}
			if seen[at.at] = true; !counted[at] {
				counted[at] = true
				on += until - w.Up
			}
		}
	}
	return on, len(seen)
}

// OnFor is SongPlan.OnFor of a song as the tour plays it.
func (s *Show) OnFor(song ID, role SlotRole) (on Time, slots int) {
	g := s.Song(song)
	if g == nil {
		return 0, 0
	}
	return s.tourOf(g).OnFor(role)
}

// NamedTarget names the placed effect or group that a lane or cue aims at.
func (s *Show) NamedTarget(id ID) string { return quoted(s.calledAny(id)) }
