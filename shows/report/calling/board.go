package calling

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// Board is a song as the calling position reads it, found once for a plan. It does
// not change.
type Board struct {
	Plan  *timeline.Plan
	Song  *timeline.PlanSong
	Title string // with its number
	Head  string // night and revision
	After string // the song after, and what is between
	Cues  []Cue  // by command
	Parts []report.Part
	Arms  []Arm
	Notes []Note // the user's words on cues and arms, by when they are wanted

	entries []Entry // where playback may start again: markers that are called so, then sections, each by time
}

// Cue is what one lane does at one hit.
type Cue struct {
	ID      timeline.ID
	Lane    timeline.ID
	Name    string
	What    string // "gas flame, 5 m"
	Where   string // places, or how many
	Bar     string
	Code    string // timecode of its command
	Needs   string // arms, conditions and warm-ups that it needs, with a word where they are not planned up
	Note    string // the user's words
	Family  timeline.Family
	Command timeline.Time // earliest of its units
	Hit     timeline.Time
	Open    timeline.Time // how long its longest output stays open
	Lead    timeline.Time
	Loads   []timeline.OutputRef // outputs whose load is used up by it
	Units   []*timeline.Unit

	commands []*timeline.Command
}

// Arm is what a lane of arms, conditions or warm-ups plans.
type Arm struct {
	Name  string
	Role  timeline.SlotRole
	Spans []Span // by start, none overlapping
}

// Span is one time in which it is planned up.
type Span struct {
	Up, Down    timeline.Time
	Open        bool // nothing closes it
	UpAt, DwnAt string
	Note        string // the user's words
}

// Note is what the user has written to a cue or to an arm that goes up.
type Note struct {
	At   timeline.Time // its command
	Bar  string
	Name string
	Text string
}

// Entry is a place where playback may start again after a hold.
type Entry struct {
	At   timeline.Time
	Name string
	Bar  string
	Code string
	Less string // ", without 2 hits"
}

// ReEntry is what a marker is called at which playback may start again.
const ReEntry = timeline.ReEntryWord

// New gives the board of a song of a plan, by its place among the plan's songs.
func New(p *timeline.Plan, at int) *Board {
	ps := &p.Songs[at]
	b := &Board{Plan: p, Song: ps, Title: wording.JoinGiven(" ", strconv.Itoa(ps.Number), ps.Song.FullTitle()), Parts: report.PartsOf(ps)}
	h := report.HeadOf(p)
	b.Head = wording.JoinGiven(" · ", cmp.Or(h.Date, "no date"), h.Venue, wording.Prefixed("revision ", h.Revision))
	b.After = after(p, at)
	b.cues()
	b.arms()
	b.places()
	b.notes()
	return b
}

// notes gathers what is written to cues and arms.
func (b *Board) notes() {
	for i := range b.Cues {
		if c := &b.Cues[i]; c.Note != "" {
			b.Notes = append(b.Notes, Note{c.Command, c.Bar, c.Name, c.Note})
		}
	}
	for i := range b.Arms {
		for _, s := range b.Arms[i].Spans {
			if s.Note != "" {
				b.Notes = append(b.Notes, Note{s.Up, s.UpAt, b.Arms[i].Name, s.Note})
			}
		}
	}
	slices.SortStableFunc(b.Notes, func(x, y Note) int { return cmp.Compare(x.At, y.At) })
}

// after names the song after and what lies between.
func after(p *timeline.Plan, at int) string {
	if at+1 >= len(p.Songs) {
		return "last song"
	}
	text := "next song " + p.Songs[at+1].Song.FullTitle()
	e := p.Songs[at].Entry
	if e.Gap > 0 {
		text += ", " + wording.Short(wording.Seconds(e.Gap)) + " s between"
	}
	return text
}

// cues gathers commands by lane and cue.
func (b *Board) cues() {
	type key struct {
		lane *timeline.Lane
		cue  *timeline.Cue
	}
	index := map[key]int{}
	ps := b.Song
	places := map[int][]string{}
	for i := range ps.Commands {
		c := &ps.Commands[i]
		k := key{c.Lane, c.Cue}
		n, known := index[k]
		if !known {
			n = len(b.Cues)
			index[k] = n
			b.Cues = append(b.Cues, Cue{ID: c.Cue.ID, Lane: c.Lane.ID, Name: cmp.Or(c.Lane.Name, ps.Units.Called(c.Article)), What: whatOf(b.Plan.Show.Told(), ps, c), Bar: report.BarAt(ps.Song, c.Cue, c.Hit), Code: ps.Rate.Label(c.Frame),
				Note: c.Cue.Note, Family: c.Article.Family, Command: c.At, Hit: c.Hit, Lead: c.Lead})
		}
		x := &b.Cues[n]
		x.Open, x.Lead = max(x.Open, c.Open), max(x.Lead, c.Lead)
		x.Units, x.commands = append(x.Units, c.Unit), append(x.commands, c)
		if c.Article.UsedUp() {
			for _, d := range c.Unit.Drives {
				if o := (timeline.OutputRef{Driver: d.Wire.Driver, Output: d.Wire.Output}); !d.Dead && !slices.Contains(x.Loads, o) {
					x.Loads = append(x.Loads, o)
					break
				}
			}
		}
		if q := c.Unit.Position; q != nil {
			if name := ps.Units.Called(q); !slices.Contains(places[n], name) {
				places[n] = append(places[n], name)
			}
		}
	}
	for n := range b.Cues {
		x := &b.Cues[n]
		if x.Where = wording.JoinNames(places[n]); len(places[n]) > 2 {
			x.Where = timeline.Counted(len(places[n]), "place")
		}
		x.Needs = strings.Join(report.ArmsNeeded(ps, x.commands), ", ")
	}
	slices.SortStableFunc(b.Cues, func(a, b Cue) int { return cmp.Or(cmp.Compare(a.Command, b.Command), cmp.Compare(a.Hit, b.Hit)) })
}

// whatOf says what a command does, with how high that is.
func whatOf(told units.System, ps *timeline.PlanSong, c *timeline.Command) string {
	text := ps.Units.Called(c.Article)
	if c.Article.Height > 0 && !strings.Contains(text, wording.Length(told, c.Article.Height)) {
		text += ", " + wording.Length(told, c.Article.Height)
	}
	return text
}

// arms gathers what is planned up, by lane, in the order in which it first goes up.
func (b *Board) arms() {
	ps := b.Song
	index := map[*timeline.Lane]int{}
	for i := range ps.Asked {
		w := &ps.Asked[i]
		n, known := index[w.Lane]
		if !known {
			n = len(b.Arms)
			index[w.Lane] = n
			b.Arms = append(b.Arms, Arm{Name: cmp.Or(w.Lane.Name, ps.Units.Called(w.Device)), Role: w.Role})
		}
		s := Span{Up: w.UpRounded, Down: w.DownRounded, Open: !w.Closes(), UpAt: b.Place(w.Up), DwnAt: b.Place(w.Down), Note: w.Cue.Note}
		b.Arms[n].Spans = append(b.Arms[n].Spans, s)
	}
	for i := range b.Arms {
		b.Arms[i].join()
	}
}

// join makes one of spans that overlap or touch, by start.
func (a *Arm) join() {
	slices.SortStableFunc(a.Spans, func(x, y Span) int { return cmp.Compare(x.Up, y.Up) })
	list := a.Spans[:0]
	for _, s := range a.Spans {
		if n := len(list); n > 0 && (list[n-1].Open || s.Up <= list[n-1].Down) {
			l := &list[n-1]
			if !l.Open && (s.Open || s.Down > l.Down) {
				l.Down, l.DwnAt, l.Open = s.Down, s.DwnAt, s.Open
			}
			l.Note = cmp.Or(l.Note, s.Note)
			continue
		}
		list = append(list, s)
	}
	a.Spans = list
}

// Place writes a place of the song as it is called: bar and the beat that it is in,
// else timecode.
func (b *Board) Place(at timeline.Time) string {
	if beats := b.Song.Song.Beats; !beats.Empty() {
		p := beats.Named(at)
		return strconv.Itoa(p.Bar) + "." + strconv.FormatInt(p.Beat.Floor()+1, 10)
	}
	return b.Song.Label(at)
}

// places lists where playback may start again: markers that are called so, and the
// starts of sections.
func (b *Board) places() {
	ps := b.Song
	add := func(at timeline.Time, name string) {
		b.entries = append(b.entries, Entry{at, name, b.Place(at), ps.Label(at), report.Without(ps, at)})
	}
	for _, m := range ps.Song.Markers {
		if at, ok := m.At.In(ps.Song.Beats); ok && strings.HasPrefix(strings.ToLower(m.Name), ReEntry) {
			add(at, m.Name)
		}
	}
	slices.SortStableFunc(b.entries, func(x, y Entry) int { return cmp.Compare(x.At, y.At) })
	for _, p := range b.Parts[1:] {
		add(p.From, p.Name)
	}
}
