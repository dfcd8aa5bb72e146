package night

import (
	"cmp"
	"io"
	"slices"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// CutList is what a night does not play as the tour does, cue by cue: what is
// cut, what another article plays, and what leads to nothing. Somebody signs it.
type CutList struct {
	report.Head
	Changes   []report.NightChange `json:"changes"`
	NotPlayed []NotPlayed          `json:"not_played"`
	Songs     []CutSong            `json:"songs"` // all that are played, touched or not
	Tour      int                  `json:"cues_of_tour"`
	Played    int                  `json:"cues_played"`
	Cut       int                  `json:"cues_cut"`     // wholly
	Swapped   int                  `json:"cues_swapped"` // on any unit
	Lost      int                  `json:"cues_lost"`    // wholly, for another reason than a cut
	Partly    int                  `json:"cues_partly"`  // played, but not on all their units
	Sign      []report.Signer      `json:"sign"`
}

// CutSong is one song with the cues that the night touches.
type CutSong struct {
	Number  int       `json:"number"`
	Song    string    `json:"song"` // id
	Title   string    `json:"title"`
	Tour    int       `json:"cues_of_tour"`
	Played  int       `json:"cues_played"`
	Cut     int       `json:"cues_cut"`
	Swapped int       `json:"cues_swapped"`
	Lost    int       `json:"cues_lost"`
	Partly  int       `json:"cues_partly"`
	Lines   []CutLine `json:"lines"` // by hit
}

// CutLine is what becomes of a cue, or of some of its units, for one reason.
type CutLine struct {
	Cue      string   `json:"cue"`
	Kind     string   `json:"kind"`         // "cut", "swap" or "lost"
	Timecode string   `json:"hit_timecode"` // tonight's
	Bar      string   `json:"bar"`
	Lane     string   `json:"lane_name"`
	Effects  []string `json:"effects"` // placed effects, or the devices of a window
	Of       int      `json:"of"`      // how many the cue has on the tour
	OnTour   string   `json:"on_tour"` // article, or the slots' role
	Tonight  string   `json:"tonight"` // the article that plays instead; "" = nothing
	Reason   string   `json:"reason"`
	Rig      bool     `json:"out_of_rig,omitempty"` // it is cut for what it is of is out of the night's rig

	hit timeline.Time
}

// NewCutList gives the cut list of a plan, which is a night's.
func NewCutList(p *timeline.Plan) (*CutList, error) {
	if err := report.StartsRight(p, report.Filter{}); err != nil {
		return nil, err
	}
	l := &CutList{Head: report.HeadOf(p), Changes: report.ChangesOf(p), NotPlayed: notPlayedOf(p), Songs: []CutSong{}, Sign: cutSigners(p)}
	tour := timeline.NewCompiler()
	for i := range p.Songs {
		ps := &p.Songs[i]
		s := newCutSong(p, ps, tour.CompileSong(p.Show, ps.Song.ID, nil).Songs[0].SongPlan)
		l.Songs = append(l.Songs, s)
		l.Tour, l.Played, l.Cut = l.Tour+s.Tour, l.Played+s.Played, l.Cut+s.Cut
		l.Swapped, l.Lost, l.Partly = l.Swapped+s.Swapped, l.Lost+s.Lost, l.Partly+s.Partly
	}
	return l, nil
}

// notPlayedOf lists the songs of the running order that are not played.
func notPlayedOf(p *timeline.Plan) []NotPlayed {
	list := []NotPlayed{}
	if p.Set == nil {
		return list
	}
	for _, e := range p.Set.Entries {
		if song := p.Show.Song(e.Song); song != nil {
			if why := notPlayed(p, e); why != "" {
				list = append(list, NotPlayed{string(song.ID), song.FullTitle(), why})
			}
		}
	}
	return list
}

// cutSigners are those who agree to a night's cuts: not those who load.
func cutSigners(p *timeline.Plan) []report.Signer {
	list := []report.Signer{{Role: "artist or production", For: "cuts and swaps"}, {Role: "operator", For: "cuts, swaps and rig changes as loaded"}}
	venue := report.Signer{Role: "venue", For: "conditions met by them"}
	if p.Venue != nil {
		venue.For = p.Called(p.Venue) + ": " + venue.For
	}
	return append(list, venue, report.Signer{Role: "authority (AHJ)", For: "conditions met by them"})
}

// cutKey is what a cue does on one unit, or to one device's slots.
type cutKey struct {
	cue *timeline.Cue
	id  timeline.ID // of the placed effect or device
}

// deed is what is played under a cutKey.
type deed struct {
	lane    *timeline.Lane
	article *timeline.Article // nil for a window
	unit    *timeline.Unit
	name    string // of the placed effect or device
	words   string // article, or the slots' role
	hit     timeline.Time
	dark    string // why nothing commands it, "" where something does
}

// deeds lists all that a song plays in a night, in the order of the plan.
func deeds(night *timeline.Night, p *timeline.SongPlan) (order []cutKey, of map[cutKey]deed) {
	of = map[cutKey]deed{}
	add := func(k cutKey, d deed) {
		if _, seen := of[k]; !seen {
			order = append(order, k)
		}
		of[k] = d
	}
	for i := range p.Commands {
		c := &p.Commands[i]
		dark := ""
		if c.Unit.Dark() {
			dark = report.OutOfService(c.Unit)
		}
		add(cutKey{c.Cue, c.Unit.Placed.ID}, deed{c.Lane, c.Article, c.Unit, c.Unit.Name, p.Units.Called(c.Article), c.Hit, dark})
	}
	for i := range p.Asked {
		w := &p.Asked[i]
		d := deed{lane: w.Lane, name: p.Units.Called(w.Device), words: string(w.Role), hit: w.Up}
		if !w.Device.Dead && night.TakesOut("device", w.Device.ID) {
			d.dark = d.name + " is out of service"
		}
		add(cutKey{w.Cue, w.Device.ID}, d)
	}
	return order, of
}

func newCutSong(p *timeline.Plan, ps *timeline.PlanSong, tour *timeline.SongPlan) CutSong {
	s := CutSong{Number: ps.Number, Song: string(ps.Song.ID), Title: ps.Song.FullTitle(), Lines: []CutLine{}}
	order, was := deeds(nil, tour)
	_, is := deeds(p.Night, ps.SongPlan)
	c := cutter{plan: p, song: ps, tour: tour, lines: &s.Lines, at: map[[5]string]int{}, units: map[*timeline.Cue]int{}, kept: map[*timeline.Cue]int{}, swapped: map[*timeline.Cue]bool{}, cut: map[*timeline.Cue]bool{}}
	for _, k := range order {
		c.units[k.cue]++
	}
	for _, k := range order {
		now, plays := is[k]
		c.compare(k, was[k], now, plays)
	}
	for cue, n := range c.units {
		s.count(&c, cue, n)
	}
	slices.SortStableFunc(s.Lines, func(a, b CutLine) int { return cmp.Compare(a.hit, b.hit) })
	return s
}

// count says what became of one cue of so many units.
func (s *CutSong) count(c *cutter, cue *timeline.Cue, units int) {
	s.Tour++
	kept := c.kept[cue]
	if kept > 0 {
		s.Played++
	}
	if c.swapped[cue] {
		s.Swapped++
	}
	switch {
	case kept == units:
	case kept > 0:
		s.Partly++
	case c.cut[cue]:
		s.Cut++
	default:
		s.Lost++
	}
}

// cutter gathers the lines of one song.
type cutter struct {
	plan    *timeline.Plan
	song    *timeline.PlanSong
	tour    *timeline.SongPlan
	lines   *[]CutLine
	at      map[[5]string]int     // of a line, by what it says
	units   map[*timeline.Cue]int // of the tour
	kept    map[*timeline.Cue]int
	swapped map[*timeline.Cue]bool
	cut     map[*timeline.Cue]bool
}

// compare adds a line where the night plays something else, or nothing.
func (c *cutter) compare(k cutKey, was, is deed, plays bool) {
	if plays && is.dark == "" {
		c.kept[k.cue]++
		if is.article == was.article {
			return
		}
		c.swapped[k.cue] = true
		c.line(k, was, CutLine{Kind: "swap", Tonight: is.words, Reason: c.swapReason(k.cue, was)})
		return
	}
	if !plays && was.unit == nil && c.replaced(k.id) {
		c.kept[k.cue]++ // others are armed in its place, with the units that they drive now
		return
	}
	if reason, cut := c.cutReason(k.cue, was); cut {
		c.cut[k.cue] = true
		c.line(k, was, CutLine{Kind: "cut", Reason: reason})
		return
	}
	if why := c.leftOut(k, was); why != "" {
		c.cut[k.cue] = true
		c.line(k, was, CutLine{Kind: "cut", Reason: "out of the rig: " + why, Rig: true})
		return
	}
	reason := c.lostReason(k.cue)
	if is.dark != "" {
		reason = is.dark
	}
	c.line(k, was, CutLine{Kind: "lost", Reason: reason})
}

// line adds a unit to the line of its cue that says the same, or a line.
func (c *cutter) line(k cutKey, was deed, l CutLine) {
	l.Cue, l.Lane, l.OnTour, l.hit = string(k.cue.ID), was.lane.Name, was.words, was.hit
	key := [5]string{l.Cue, l.Kind, l.OnTour, l.Tonight, l.Reason}
	if i, ok := c.at[key]; ok {
		(*c.lines)[i].Effects = append((*c.lines)[i].Effects, was.name)
		return
	}
	c.at[key] = len(*c.lines)
	l.Timecode, l.Bar, l.Of, l.Effects = c.song.Label(l.hit), report.BarAt(c.song.Song, k.cue, l.hit), c.units[k.cue], []string{was.name}
	*c.lines = append(*c.lines, l)
}

// cutReason finds the first cut of the night that takes a deed away.
func (c *cutter) cutReason(cue *timeline.Cue, was deed) (reason string, cut bool) {
	for _, x := range c.plan.Night.Cuts {
		if c.touched(x.Selector, cue, was) {
			return x.Reason, true
		}
	}
	return "", false
}

// leftOut gives why that which a deed is of is out of the night's rig; "" where it
// is not, or nobody has said.
func (c *cutter) leftOut(k cutKey, was deed) string {
	if was.unit == nil {
		return c.windowOut(k.id)
	}
	if u := c.song.Units.Of(k.id); u != nil {
		return u.LeftOut
	}
	return ""
}

// driven lists what a device drives on the tour.
func (c *cutter) driven(device timeline.ID) (list []timeline.ID) {
	for _, u := range c.tour.Units.All {
		if slices.ContainsFunc(u.Drives, func(d timeline.Drive) bool { return d.Device != nil && d.Device.ID == device }) {
			list = append(list, u.Placed.ID)
		}
	}
	return list
}

// windowOut gives why nothing of a device is raised: it is out with a reason, or
// so is all that it drives.
func (c *cutter) windowOut(device timeline.ID) string {
	why := c.plan.Night.WhyOut("device", device)
	for _, id := range c.driven(device) {
		if u := c.song.Units.Of(id); why == "" && u != nil {
			why = u.LeftOut
		}
	}
	return why
}

// replaced reports whether all that a device drives on the tour is driven by
// another tonight.
func (c *cutter) replaced(device timeline.ID) bool {
	driven := c.driven(device)
	return len(driven) > 0 && !slices.ContainsFunc(driven, func(id timeline.ID) bool {
		u := c.song.Units.Of(id)
		return u == nil || u.Out || u.Dark() || len(u.Drives) == 0 || slices.ContainsFunc(u.Drives, func(d timeline.Drive) bool { return d.Device != nil && d.Device.ID == device })
	})
}

func (c *cutter) swapReason(cue *timeline.Cue, was deed) string {
	for _, x := range c.plan.Night.Swaps {
		if c.touched(x.Selector, cue, was) {
			return x.Reason
		}
	}
	return ""
}

// touched asks a selector about what is played on the tour and, at a window,
// about its cue and lane alone.
func (c *cutter) touched(sel timeline.Selector, cue *timeline.Cue, was deed) bool {
	var article, placed timeline.ID
	if was.article != nil {
		article, placed = was.article.ID, was.unit.Placed.ID
	}
	return sel.Touches(c.plan.Show.Stock, article, placed, cue, c.song.Song.ID)
}

func (c *cutter) lostReason(cue *timeline.Cue) string {
	for _, l := range c.song.Lost {
		if l.Cue == cue {
			if l.Name != "" {
				return string(l.Reason) + ": " + l.Name
			}
			return string(l.Reason)
		}
	}
	return "it leads to no command tonight"
}

// wording.WriteJSON writes the cut list as one JSON object.
func (l *CutList) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, l) }
