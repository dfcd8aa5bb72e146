package report

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Line is one thing that an output must do, in the words of a cue list: a hit,
// or a window of a slot going up or down. Its JSON keys are relied on: they
// only grow.
type Line struct {
	Number       int             `json:"number"` // place in the list as it is played, from 1
	Song         string          `json:"song"`   // id
	SongNumber   int             `json:"song_number"`
	SongTitle    string          `json:"song_title"`
	Action       string          `json:"action"` // "hit", "arm up", "arm down", "condition up" …
	Timecode     string          `json:"timecode"`
	Residual     wording.Seconds `json:"residual"` // frame's time minus exact time
	Bar          string          `json:"bar"`      // bar.beat of the hit; "" without a beat map
	HitTimecode  string          `json:"hit_timecode"`
	Hit          wording.Seconds `json:"hit"`     // from the start of the song's audio
	Command      wording.Seconds `json:"command"` // exact
	Lead         wording.Seconds `json:"lead"`
	Open         wording.Seconds `json:"open"`
	Close        string          `json:"close,omitempty"` // timecode at which the output closes
	Level        int             `json:"level,omitempty"`
	Position     string          `json:"position,omitempty"` // id
	PositionName string          `json:"position_name,omitempty"`
	Placed       string          `json:"placed,omitempty"` // id
	PlacedName   string          `json:"placed_name,omitempty"`
	Device       string          `json:"device,omitempty"` // id; of windows
	DeviceName   string          `json:"device_name,omitempty"`
	With         string          `json:"with,omitempty"`    // id of the placed effect the cue aims at, where this one only opens with it
	Article      string          `json:"article,omitempty"` // id
	ArticleName  string          `json:"article_name,omitempty"`
	Outputs      []Output        `json:"outputs"` // never null
	Cue          string          `json:"cue"`
	Lane         string          `json:"lane"`
	LaneName     string          `json:"lane_name"`
	Note         string          `json:"note,omitempty"`
	Place        string          `json:"at"`                    // where the cue stands: a bar or a time, exactly
	Target       string          `json:"target"`                // id of the placed effect or group that the cue aims at
	TargetName   string          `json:"target_name,omitempty"` // the same as it can be read in again: kind:id where others have its name
	WithName     string          `json:"with_name,omitempty"`
	Arm          string          `json:"arm,omitempty"` // of a hit whose effect has an arm slot: "up" or "down" at the command

	Frame    int64 `json:"-"` // of Timecode, from timecode midnight
	HitFrame int64 `json:"-"` // of HitTimecode

	at    timeline.Time // of Timecode, for the order
	order int           // up before hits before down at one instant
	first address       // of a window's first slot, for the order
}

// Lost is a cue, or one unit of its target, that leads to no command.
type Lost struct {
	Song   string `json:"song"`
	Cue    string `json:"cue"`
	Reason string `json:"reason"`
	Name   string `json:"name"`

	called string // the cue, in its song
}

// NewLost tells of a cue that a song plays and that leads to no command.
func NewLost(names *timeline.Names, g *timeline.Song, c *timeline.Cue, reason, name string) Lost {
	r := g.RefOf("cue", c.ID)
	return Lost{string(g.ID), string(c.ID), reason, name, names.Called(r.Song, c)}
}

// Said says it in words, without its song: "cue at 2.1: its lane is gone (jets)".
func (l *Lost) Said() string {
	text := "cue " + l.called + ": " + l.Reason
	if l.Name != "" {
		text += " (" + l.Name + ")"
	}
	return text
}

// linesOf gives the lines of one song that a filter shows, in the order of their
// frames.
func linesOf(p *timeline.Plan, ps *timeline.PlanSong, f Filter) []Line {
	var all []Line
	names, targets := NewLabeller(p.Show), targetNames(p.Show)
	for i := range ps.Commands {
		if !f.ShowsCommand(ps, &ps.Commands[i]) {
			continue
		}
		line := hitLine(ps, &ps.Commands[i])
		line.Outputs = names.Hit(&ps.Commands[i])
		all = append(all, line)
	}
	for i := range ps.Windows {
		w := &ps.Windows[i]
		for _, up := range []bool{true, false} {
			at := w.Up
			if !up {
				at = w.Down
			}
			if (up || w.Closes()) && f.ShowsWindow(ps, w, at) {
				line := windowLine(p, ps, w, up)
				line.Outputs = names.Window(w, up)
				all = append(all, line)
			}
		}
	}
	for i := range all {
		all[i].TargetName = targets[timeline.ID(all[i].Target)]
	}
	slices.SortStableFunc(all, func(a, b Line) int {
		return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.order, b.order), cmp.Compare(a.Command, b.Command), a.first.compare(b.first),
			strings.Compare(a.Cue, b.Cue), strings.Compare(a.Placed, b.Placed))
	})
	return all
}

// address is where a slot stands; one without an address comes last.
type address struct {
	network        string
	none           int
	universe, slot int
}

func (a address) compare(b address) int {
	return cmp.Or(cmp.Compare(a.none, b.none), ByName(a.network, b.network), cmp.Compare(a.universe, b.universe), cmp.Compare(a.slot, b.slot))
}

func addressOf(w *timeline.Window) address {
	first := address{none: 1}
	for _, s := range w.Slots {
		if p, ok := w.Device.Address(s); ok {
			if a := (address{network: w.Device.Space, universe: p.Universe, slot: p.Slot}); a.compare(first) < 0 {
				first = a
			}
		}
	}
	return first
}

// lineOf fills in what hits and windows share.
func lineOf(ps *timeline.PlanSong, cue *timeline.Cue, lane *timeline.Lane, hit timeline.Time) Line {
	return Line{
		Song: string(ps.Song.ID), SongNumber: ps.Number, SongTitle: ps.Song.FullTitle(),
		Bar: BarAt(ps.Song, cue, hit), HitTimecode: ps.Label(hit), HitFrame: ps.FrameAt(hit), Hit: wording.Seconds(hit),
		Cue: string(cue.ID), Lane: string(lane.ID), LaneName: lane.Name, Note: cue.Note,
		Place: cue.At.String(), Target: string(cmp.Or(cue.Target, lane.Target)),
	}
}

// targetNames names what cues can aim at so that the name finds it again: with its
// kind where one of another kind has the same name, and by its id where the name
// itself is another one's id.
func targetNames(show *timeline.Show) map[timeline.ID]string {
	names, count, ids := map[timeline.ID]string{}, map[string]int{}, map[string]timeline.Ref{}
	var all []timeline.Ref
	add := func(kind string, r timeline.Record) {
		ref := timeline.Ref{Kind: kind, ID: r.RecordID()}
		name := show.Called(r)
		names[ref.ID], all = name, append(all, ref)
		count[strings.ToLower(name)]++
		ids[string(ref.ID)] = ref
	}
	for _, g := range show.Rig.Groups {
		add("group", g)
	}
	for _, u := range show.Rig.Placed {
		add("placed", u)
	}
	for _, ref := range all {
		name := names[ref.ID]
		switch other, isID := ids[name]; {
		case isID && other != ref:
			names[ref.ID] = ref.String()
		case count[strings.ToLower(name)] > 1 || strings.Contains(name, ":"):
			names[ref.ID] = ref.Kind + ":" + name
		}
	}
	return names
}

// BarAt writes the bar and beat of a hit: as the cue gives it, else the nearest
// 1/960 beat of the song's map.
func BarAt(song *timeline.Song, cue *timeline.Cue, hit timeline.Time) string {
	at, ok := cue.At.In(song.Beats)
	switch {
	case ok && cue.At.OnBeat && at == hit:
		return cue.At.Bar.String()
	case song.Beats.Empty():
		return ""
	}
	return song.Beats.Named(hit).String()
}

func hitLine(ps *timeline.PlanSong, c *timeline.Command) Line {
	l := lineOf(ps, c.Cue, c.Lane, c.Hit)
	l.Action, l.order, l.at = "hit", 1, c.Rounded
	l.Frame, l.Timecode, l.Close = c.Frame, ps.Rate.Label(c.Frame), ps.Rate.Label(c.Close)
	l.Residual, l.Command, l.Lead, l.Open, l.Level = wording.Seconds(c.Residual()), wording.Seconds(c.At), wording.Seconds(c.Lead), wording.Seconds(c.Open), c.Level
	l.Placed, l.PlacedName = string(c.Unit.Placed.ID), c.Unit.Name
	if c.With != nil {
		l.With, l.WithName = string(c.With.Placed.ID), c.With.Name
		l.Note = joinedNote(l.Note, "opens with "+l.WithName)
	}
	l.Article, l.ArticleName = string(c.Article.ID), ps.Units.Called(c.Article)
	if pos := c.Unit.Position; pos != nil {
		l.Position, l.PositionName = string(pos.ID), ps.Units.Called(pos)
	}
	if arm := armOf(ps, c); arm != ArmNone {
		l.Arm = string(arm)
	}
	return l
}

// joinedNote adds to what a cue's note says.
func joinedNote(note, more string) string {
	if note == "" {
		return more
	}
	return note + "; " + more
}

func windowLine(p *timeline.Plan, ps *timeline.PlanSong, w *timeline.Window, up bool) Line {
	at, frame, rounded, order := w.Up, w.UpFrame, w.UpRounded, 0
	if !up {
		at, frame, rounded, order = w.Down, w.DownFrame, w.DownRounded, 2
	}
	l := lineOf(ps, w.Cue, w.Lane, at)
	l.Action, l.order, l.at, l.first = w.Role.Doing(up), order, rounded, addressOf(w)
	l.Frame, l.Timecode, l.Residual, l.Command = frame, ps.Rate.Label(frame), wording.Seconds(rounded-at), wording.Seconds(at)
	l.Device, l.DeviceName = string(w.Device.ID), ps.Units.Called(w.Device)
	if pos := p.Show.Rig.Position(w.Device.Position); pos != nil {
		l.Position, l.PositionName = string(pos.ID), ps.Units.Called(pos)
	}
	if up {
		l.closing(ps, w)
	}
	return l
}

// closing says when a window that goes up comes down again.
func (l *Line) closing(ps *timeline.PlanSong, w *timeline.Window) {
	if w.Closes() {
		l.Open, l.Close = wording.Seconds(w.Down-w.Up), ps.Rate.Label(w.DownFrame)
		return
	}
	l.Close = "never"
}

// BarOf gives the bar in which a time lies; "" without a beat map.
func BarOf(song *timeline.Song, at timeline.Time) string {
	if song.Beats.Empty() {
		return ""
	}
	bar, _ := song.Beats.Named(at).Spoken()
	return bar
}
