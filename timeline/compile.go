package timeline

import (
	"cmp"
	"reflect"
	"slices"
	"strings"
)

// Compile makes the plan of a show for a night; nil means the tour with its
// main set.
func Compile(s *Show, night *Night) *Plan { return NewCompiler().Compile(s, night) }

// Compiler compiles and remembers: a song whose parts are the very same as
// last time is not compiled again. It is not safe for concurrent use.
type Compiler struct {
	units   *Units
	unitKey unitKey
	songs   map[ID]cachedSong
	bare    *Venue // as it is stored
	venue   *Venue // as it counts for the songs
}

type unitKey struct {
	stock *Stock
	rig   *Rig
	night *Night
}

type songKey struct {
	song    *Song
	as      ID // of the song that the set names, where the night plays another version of it
	stock   *Stock
	units   *Units
	night   *Night
	rate    Rate
	preRoll Time
	start   Timecode
	by      Time
}

type cachedSong struct {
	key  songKey
	plan *SongPlan
}

// NewCompiler gives a compiler that remembers nothing yet.
func NewCompiler() *Compiler { return &Compiler{songs: map[ID]cachedSong{}} }

// Compile makes the plan of a show for a night; nil means the tour with its
// main set.
func (c *Compiler) Compile(s *Show, night *Night) *Plan {
	if k := (unitKey{s.Stock, s.Rig, night}); c.units == nil || c.unitKey != k {
		c.units, c.unitKey = resolve(s, night), k
	}
	p := &Plan{Show: s, Night: night, Rate: s.Head.Rate, Units: c.units, Set: s.SetOf(night)}
	if night != nil {
		p.Venue = s.Venue(night.Venue)
		p.AsPlayed = s.playedAs == night.ID
	}
	var at Time
	for _, e := range s.order(p.Set) {
		song := s.Programmed(s.Song(night.version(e.Song)))
		if song == nil || night.CutsSong(e.Song) || night.CutsSong(song.ID) {
			continue
		}
		sp := c.song(s, song, e.Song, night)
		p.Songs = append(p.Songs, PlanSong{SongPlan: sp, Entry: e, Number: len(p.Songs) + 1, At: at})
		at += sp.Duration + e.Gap
	}
	p.Venue = c.venueFor(s, p)
	p.hand()
	p.refills()
	return p
}

// venueFor gives the venue as it counts for the songs of a plan: the same one as
// last time where nothing that it rests on has changed.
func (c *Compiler) venueFor(s *Show, p *Plan) *Venue {
	v := s.venueFor(p.Venue, p.Songs)
	if c.venue != nil && v != p.Venue && c.bare == p.Venue && reflect.DeepEqual(c.venue, v) {
		return c.venue
	}
	c.venue, c.bare = v, p.Venue
	return v
}

// CompileSong makes the plan of one song alone, whether or not a set holds it.
func (c *Compiler) CompileSong(s *Show, song ID, night *Night) *Plan {
	g := s.Song(song)
	if g == nil {
		return nil
	}
	p := c.Compile(s, night)
	i := slices.IndexFunc(p.Songs, func(ps PlanSong) bool { return ps.Song.ID == song })
	one := *p
	if i >= 0 {
		one.Songs = p.Songs[i : i+1 : i+1]
	} else {
		one.Songs = []PlanSong{{SongPlan: c.song(s, s.Programmed(g), song, night), Entry: Entry{Song: song}, Number: 1}}
	}
	one.Keys, one.KeysOff, one.Refills = nil, nil, nil // their songs have other places now
	one.hand()
	one.refills()
	return &one
}

// SetOf gives the running order of a night: the night's, the show's, or the
// first by name; nil when there is none.
func (s *Show) SetOf(night *Night) *Set {
	if night != nil && night.Set != "" {
		if set := s.Set(night.Set); set != nil {
			return set
		}
	}
	if set := s.Set(s.Head.Set); set != nil {
		return set
	}
	var first *Set
	for _, set := range s.Sets {
		if first == nil || set.Name < first.Name {
			first = set
		}
	}
	return first
}

func (s *Show) order(set *Set) []Entry {
	if set != nil {
		return set.Order()
	}
	var order []Entry
	for _, g := range s.SongsByStart() {
		order = append(order, Entry{Song: g.ID})
	}
	return order
}

// CutsSong reports whether a night leaves a whole song out; no night leaves none.
func (n *Night) CutsSong(id ID) bool {
	return n != nil && slices.ContainsFunc(n.Cuts, func(c Cut) bool { return c.What == "song" && c.ID == string(id) })
}

// ShiftOf gives how a night moves a song. What was said of the song in whose place the
// night plays it counts, as long as nothing was said of the version itself.
func (n *Night) ShiftOf(song ID) (by Time, start *Timecode) {
	if n == nil {
		return 0, nil
	}
	if !slices.ContainsFunc(n.Shifts, func(s Shift) bool { return s.Song == song }) {
		for _, v := range n.Versions {
			if v.Version == song {
				song = v.For
				break
			}
		}
	}
	for _, s := range n.Shifts {
		if s.Song == song {
			by += s.By
			if s.Start != nil {
				start = s.Start
			}
		}
	}
	return by, start
}

// song gives the plan of a song that the set names as, from memory if nothing it
// depends on changed.
func (c *Compiler) song(s *Show, song *Song, as ID, night *Night) *SongPlan {
	by, moved := night.ShiftOf(song.ID)
	key := songKey{song, as, s.Stock, c.units, night, s.Head.Rate, s.PreRollOf(&song.SongHead), song.Start, by}
	if moved != nil {
		key.start = *moved
	}
	if known, ok := c.songs[song.ID]; ok && known.key == key {
		return known.plan
	}
	room := len(song.Cues)
	if known, ok := c.songs[song.ID]; ok {
		room = max(room, len(known.plan.Commands)+1) // mostly as many as last time
	}
	p := compileSong(key, room)
	c.songs[song.ID] = cachedSong{key, p}
	return p
}

// songCompiler holds what the cues of one song share.
type songCompiler struct {
	songKey
	plan  *SongPlan
	lanes map[ID]*Lane

	carries bool     // a unit opens with another
	last    *Article // that was asked for; the next command mostly asks for it again
}

// compileSong makes the plan of a song, with room for so many commands.
func compileSong(k songKey, room int) *SongPlan {
	p := &SongPlan{Song: k.song, Units: k.units, Rate: k.rate, By: k.by, Duration: k.song.Duration(), PreRoll: k.preRoll}
	p.Start, p.StartErr = k.rate.Frame(k.start)
	c := &songCompiler{songKey: k, plan: p, lanes: make(map[ID]*Lane, len(k.song.Lanes))}
	for _, l := range k.song.Lanes {
		c.lanes[l.ID] = l
	}
	p.Commands = make([]Command, 0, room)
	for _, cue := range k.song.Cues {
		c.cue(cue)
	}
	for _, a := range k.song.Astray {
		if !a.Cue.Disabled {
			c.lose(a.Cue, a.Why, "")
		}
	}
	if c.carries {
		c.together()
	}
	putInOrder(p.Commands)
	slices.SortFunc(p.Asked, compareWindows)
	p.Windows = p.windows()
	p.Uses = usesOf(p, len(k.units.All))
	return p
}

// putInOrder sorts commands that stand in the order of cues, which are sorted by
// id. Commands are large, so that not they are sorted but the times of those that
// a cue gives at once; then each is moved to its place.
func putInOrder(list []Command) {
	type batch struct {
		at       Time
		from, to int // in the list
	}
	var order []batch
	sorted := true
	for i, end := 0, 0; i < len(list); i = end {
		inTurn := true
		for end = i + 1; end < len(list) && list[end].Cue == list[i].Cue; end++ {
			inTurn = inTurn && compareOfCue(&list[end-1], &list[end]) <= 0
		}
		if !inTurn { // a group can name its members in any order
			slices.SortStableFunc(list[i:end], func(a, b Command) int { return compareOfCue(&a, &b) })
		}
		for k := i; k < end; k++ {
			sorted = sorted && (k == 0 || compareCommands(&list[k-1], &list[k]) <= 0)
			if k > i && list[k].At == list[k-1].At {
				order[len(order)-1].to++
			} else {
				order = append(order, batch{list[k].At, k, k + 1})
			}
		}
	}
	if sorted {
		return
	}
	slices.SortFunc(order, func(a, b batch) int {
		if a.at != b.at {
			return cmp.Compare(a.at, b.at)
		}
		return cmp.Compare(a.from, b.from)
	})
	from := make([]int, 0, len(list)) // where each comes from
	for _, b := range order {
		for i := b.from; i < b.to; i++ {
			from = append(from, i)
		}
	}
	const moved = -1
	for i := range from { // round by round, each into the place that the one before has left
		if from[i] == moved {
			continue
		}
		first, to := list[i], i
		for from[to] != i {
			list[to], from[to], to = list[from[to]], moved, from[to]
		}
		list[to], from[to] = first, moved
	}
}

func compareCommands(a, b *Command) int {
	if c := cmp.Compare(a.At, b.At); c != 0 {
		return c
	}
	if a.Cue != b.Cue {
		if c := strings.Compare(string(a.Cue.ID), string(b.Cue.ID)); c != 0 {
			return c
		}
	}
	return compareOfCue(a, b)
}

// compareOfCue orders commands that a cue gives at once.
func compareOfCue(a, b *Command) int {
	if (a.With == nil) != (b.With == nil) {
		if a.With == nil {
			return -1 // what a cue aims at comes before what opens with it
		}
		return 1
	}
	return cmp.Compare(a.Unit.Index, b.Unit.Index)
}

func usesOf(p *SongPlan, units int) []UnitUse {
	count := make([]int32, units)
	for i := range p.Commands {
		count[p.Commands[i].Unit.Index]++
	}
	all := make([]int32, len(p.Commands))
	place := make([]int32, units)
	var uses []UnitUse
	next := int32(0)
	for i, n := range count {
		if n > 0 {
			place[i] = next
			uses = append(uses, UnitUse{p.Units.All[i], all[next : next+n : next+n]})
			next += n
		}
	}
	for i := range p.Commands {
		u := p.Commands[i].Unit.Index
		all[place[u]] = int32(i)
		place[u]++
	}
	return uses
}

func (c *songCompiler) lose(cue *Cue, why LostReason, name string) {
	c.plan.Lost = append(c.plan.Lost, LostCue{cue, why, name})
}

func (c *songCompiler) cue(cue *Cue) {
	if cue.Disabled {
		c.plan.Disabled++
		return
	}
	lane := c.lanes[cue.Lane]
	if lane == nil {
		c.lose(cue, LostLane, string(cue.Lane))
		return
	}
	target := cmp.Or(cue.Target, lane.Target)
	units, ok := c.units.Target(target)
	if !ok {
		c.lose(cue, LostTarget, string(target))
		return
	}
	if len(units) == 0 {
		c.lose(cue, LostNobody, string(target))
		return
	}
	hit, ok := cue.At.In(c.song.Beats)
	if !ok {
		c.lose(cue, LostBeats, cue.At.String())
		return
	}
	if lane.Window() {
		if c.night.cuts(c.stock, "", "", cue, c.song.ID, c.as) {
			c.plan.Cut = append(c.plan.Cut, cue)
			return
		}
		c.window(cue, lane, units, hit)
		return
	}
	cut := false
	for _, u := range units {
		cut = c.unit(cue, lane, u, hit) || cut
	}
	if cut {
		c.plan.Cut = append(c.plan.Cut, cue)
	}
}

// unit adds the command of one unit and reports whether the night cut it.
func (c *songCompiler) unit(cue *Cue, lane *Lane, u *Unit, hit Time) (cut bool) {
	if u.Out {
		if u.LeftOut == "" {
			c.lose(cue, LostOut, u.Name)
		}
		return u.LeftOut != ""
	}
	asked := cmp.Or(cue.Article, lane.Article, u.Placed.Article)
	if c.night.cuts(c.stock, asked, u.Placed.ID, cue, c.song.ID, c.as) {
		return true
	}
	article, swapped := c.article(asked, cue, u)
	if article == nil {
		c.lose(cue, LostArticle, string(asked))
		return false
	}
	if swapped {
		c.plan.Swapped++
	}
	c.plan.Commands = append(c.plan.Commands, Command{Cue: cue, Lane: lane, Unit: u, Article: article, Hit: hit, Level: cmp.Or(cue.Level, article.Level, 100)})
	cmd := &c.plan.Commands[len(c.plan.Commands)-1]
	cmd.Lead = article.Lead + u.Latency()
	cmd.At = hit - cmd.Lead
	cmd.Frame = c.plan.FrameAt(cmd.At)
	cmd.Rounded = c.plan.TimeOf(cmd.Frame)
	cmd.opens(c.plan, cmd.Asked())
	if len(u.With) > 0 {
		c.carry(*cmd)
	}
	return false
}

// article gives the article played for the one asked for: after the night's
// swaps of cues, lanes and songs, and of what stands at the placed effect.
func (c *songCompiler) article(asked ID, cue *Cue, u *Unit) (a *Article, swapped bool) {
	if c.night != nil {
		for _, s := range c.night.Swaps {
			if s.Touches(c.stock, asked, u.Placed.ID, cue, c.song.ID, c.as) {
				return c.stock.Article(s.To), true
			}
		}
	}
	if c.last == nil || c.last.ID != asked {
		c.last = c.stock.Article(asked)
	}
	return c.last, false
}

func (n *Night) cuts(stock *Stock, article, placed ID, cue *Cue, songs ...ID) bool {
	return n != nil && slices.ContainsFunc(n.Cuts, func(c Cut) bool { return c.Touches(stock, article, placed, cue, songs...) })
}

// window adds one window for each device that has slots of the lane's role; a
// device that carries several of the units gets one window with all their
// slots.
func (c *songCompiler) window(cue *Cue, lane *Lane, units []*Unit, up Time) {
	first, cut := len(c.plan.Asked), false
	for _, u := range units {
		if u.Out {
			if cut = cut || u.LeftOut != ""; u.LeftOut == "" {
				c.lose(cue, LostOut, u.Name)
			}
			continue
		}
		for _, d := range u.Drives {
			if d.DeviceType != nil {
				c.addWindow(first, cue, lane, d, up)
			}
		}
	}
	switch {
	case len(c.plan.Asked) > first:
	case cut: // those that are left have no such slot, or there are none
		c.plan.Cut = append(c.plan.Cut, cue)
	default:
		c.lose(cue, LostSlot, string(lane.Role))
	}
}

// addWindow joins a drive's slots of the lane's role to the cue's windows,
// which start at index first.
func (c *songCompiler) addWindow(first int, cue *Cue, lane *Lane, d Drive, up Time) {
	slots := d.DeviceType.Find(lane.Role, d.Wire.Output)
	if len(slots) == 0 {
		return
	}
	for i := first; i < len(c.plan.Asked); i++ {
		if w := &c.plan.Asked[i]; w.Device == d.Device {
			for _, s := range slots {
				if !slices.Contains(w.Slots, s) {
					w.Slots = append(w.Slots, s)
				}
			}
			return
		}
	}
	c.plan.Asked = append(c.plan.Asked, c.newWindow(cue, lane, d, slots, up))
}

func (c *songCompiler) newWindow(cue *Cue, lane *Lane, d Drive, slots []Slot, up Time) Window {
	w := Window{Cue: cue, Lane: lane, Role: lane.Role, Device: d.Device, Type: d.DeviceType, Slots: slots, Up: up}
	w.Down = up + cmp.Or(cue.Open, lane.Open)
	base := c.plan.base()
	w.UpFrame, w.DownFrame = c.rate.Floor(base+w.Up), c.rate.Ceil(base+w.Down)
	w.UpRounded, w.DownRounded = c.plan.TimeOf(w.UpFrame), c.plan.TimeOf(w.DownFrame)
	return w
}

func sortTimes(ts []Time) { slices.Sort(ts) }
