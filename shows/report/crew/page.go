package crew

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/calling"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Page is what a crew page shows, beside pictures and sheets. Its JSON keys are read
// by the page's scripts.
type Page struct {
	Head      report.Head `json:"head"`
	Show      timeline.ID `json:"show"`
	Night     timeline.ID `json:"night"` // "" = the tour
	Revision  string      `json:"revision"`
	For       string      `json:"for"` // whom it is made for; "" = everybody
	Songs     []Song      `json:"songs"`
	Positions []string    `json:"positions"` // names that cues stand at, see Cue.At
	Roles     []Role      `json:"roles"`
	Changes   []string    `json:"changes"`
	Findings  []Found     `json:"findings"`
	Checked   string      `json:"checked"`  // how the plan stood with the rules
	Withheld  string      `json:"withheld"` // what of the findings is not in the file, and why; "" = nothing
	Talk      []string    `json:"talk"`     // words for notes that are written often

	PositionIDs []timeline.ID `json:"-"` // of Positions
}

// Tick is what times of a page count in. Commands are planned to a tenth of a
// millisecond, and a script counts whole numbers exactly.
const Tick = timeline.Millisecond / 10

// ticks gives a time of a song in Ticks.
func ticks(t timeline.Time) int64 { return int64(t.RoundTo(Tick) / Tick) }

// Song is one song. All times are Ticks from the start of its audio.
type Song struct {
	ID       timeline.ID `json:"id"`
	Number   int         `json:"number"`
	Title    string      `json:"title"`
	Start    string      `json:"start"` // timecode of the start of the audio
	Frame    int64       `json:"frame"` // the same in frames from timecode midnight
	Rate     Rate        `json:"rate"`
	Duration int64       `json:"duration"`
	After    string      `json:"after"` // the song after, and what lies between
	Parts    []Part      `json:"parts"`
	Bar      int         `json:"bar"`   // number of the first of Bars; there are none without a beat map
	Bars     []int       `json:"bars"`  // place among Beats of the first beat of each bar, and at the end of the number of beats
	Beats    []int64     `json:"beats"` // when each beat begins, and when the last one ends
	Cues     []Cue       `json:"cues"`  // by command
	Arms     []Arm       `json:"arms"`
	Found    int         `json:"found"` // findings that nobody has accepted
}

// Rate is a timecode rate: Num/Den frames a second, labels of Nominal, Drop of them
// left out as drop frame does.
type Rate struct {
	Name    string `json:"name"`
	Nominal int    `json:"nominal"`
	Num     int64  `json:"num"`
	Den     int64  `json:"den"`
	Drop    bool   `json:"drop"`
}

// Part is a section.
type Part struct {
	Name string `json:"name"`
	From int64  `json:"from"`
	To   int64  `json:"to"`
}

// Cue is what one lane does at one hit, as the calling view tells it.
type Cue struct {
	ID    timeline.ID `json:"id"`
	Name  string      `json:"name"`
	What  string      `json:"what"`
	Where string      `json:"where"`
	At    []int       `json:"at"` // of Page.Positions
	Bar   string      `json:"bar"`
	Code  string      `json:"code"`  // timecode of its command
	Until string      `json:"until"` // timecode at which the plan closes its last output
	Needs string      `json:"needs,omitempty"`
	Note  string      `json:"note,omitempty"`
	Class string      `json:"class"`
	Cmd   int64       `json:"cmd"`
	Hit   int64       `json:"hit"`
	End   int64       `json:"end"`   // until then it stands open
	Drain int64       `json:"drain"` // so long before its command its bar begins to drain
}

// Arm is a slot that the plan raises and lowers.
type Arm struct {
	Name  string `json:"name"`
	What  string `json:"what"` // "arm", "condition", "warm-up"
	Spans []Span `json:"spans"`
}

// Span is one time in which it is planned up.
type Span struct {
	Up     int64  `json:"up"`
	Down   int64  `json:"down"`
	Open   bool   `json:"open,omitempty"` // nothing closes it
	UpAt   string `json:"up_at"`
	DownAt string `json:"down_at"`
}

// Found is findings of one cause.
type Found struct {
	Severity rule.Severity `json:"severity"`
	Title    string        `json:"title"`
	Where    string        `json:"where"`
	Accepted int           `json:"accepted"` // of them
	Lines    []FoundLine   `json:"lines"`
	More     int           `json:"more"` // that are not listed
}

// FoundLine is one of them that stands at a place of a song.
type FoundLine struct {
	Song int    `json:"song"` // place among the page's songs, from 0
	Bar  string `json:"bar"`
	Code string `json:"code"`
	At   int64  `json:"at"`
	Text string `json:"text"`
}

// mostLines is how many findings of one cause are listed (our judgement: a phone
// shows causes, and the check verb shows all).
const mostLines = 40

// New gives the page of a plan, with what its rules found, made for some reader; ""
// is everybody. A song whose start is no label of the rate is an error: its timecode
// would be wrong.
func New(p *timeline.Plan, facts rule.Facts, found []rule.Finding, reader string) (*Page, error) {
	if err := report.StartsRight(p, report.Filter{}); err != nil {
		return nil, err
	}
	standing := report.StandingOf(p, facts, found)
	pg := &Page{Head: report.HeadOf(p), Show: p.Show.Head.ID, Revision: p.Revision(), For: reader, Songs: []Song{}, Positions: []string{}, Changes: []string{}, Findings: []Found{},
		Checked: standing.Text(), Talk: talk}
	if p.Night != nil {
		pg.Night = p.Night.ID
	}
	at := map[timeline.ID]int{}
	for i := range p.Songs {
		pg.Songs = append(pg.Songs, pg.song(p, i, at))
	}
	for _, c := range report.ChangesOf(p) {
		pg.Changes = append(pg.Changes, wording.JoinGiven(": ", c.Text, c.Reason))
	}
	pg.find(p, facts, found)
	pg.Roles = rolesOf(pg.Positions, reader)
	return pg, nil
}

// talk are words for notes (our judgement of what a crew says most).
var talk = []string{"late by a beat", "early by a beat", "spotter could not see", "not seen", "too near to people", "change this"}

func (pg *Page) song(p *timeline.Plan, i int, at map[timeline.ID]int) Song {
	ps, b := &p.Songs[i], calling.New(p, i)
	g := Song{ID: ps.Song.ID, Number: ps.Number, Title: ps.Song.FullTitle(), Start: ps.Rate.Label(ps.Start), Frame: ps.Start, Rate: rateOf(ps.Rate),
		Duration: ticks(last(ps, b)), After: b.After, Parts: []Part{}, Bars: []int{}, Beats: []int64{}, Cues: []Cue{}, Arms: []Arm{}}
	for _, t := range b.Parts {
		g.Parts = append(g.Parts, Part{t.Name, ticks(t.From), ticks(t.To)})
	}
	g.bars(ps.Song.Beats, last(ps, b))
	for k := range b.Cues {
		c := &b.Cues[k]
		x := Cue{ID: c.ID, Name: c.Name, What: c.What, Where: c.Where, At: []int{}, Bar: c.Bar, Code: c.Code, Until: ps.Rate.Label(c.Close), Needs: c.Needs, Note: c.Note,
			Class: string(c.Family.Class()), Cmd: ticks(c.Command), Hit: ticks(c.Hit), End: ticks(max(c.Hit, c.Command) + c.Open), Drain: ticks(b.Drains(c.Command))}
		for _, u := range c.Units {
			if u.Position == nil {
				continue
			}
			n, known := at[u.Position.ID]
			if !known {
				n = len(pg.Positions)
				at[u.Position.ID] = n
				pg.Positions, pg.PositionIDs = append(pg.Positions, p.Called(u.Position)), append(pg.PositionIDs, u.Position.ID)
			}
			if !slices.Contains(x.At, n) {
				x.At = append(x.At, n)
			}
		}
		g.Cues = append(g.Cues, x)
	}
	for _, a := range b.Arms {
		what, _ := a.Role.Words()
		arm := Arm{Name: a.Name, What: what, Spans: []Span{}}
		for _, s := range a.Spans {
			arm.Spans = append(arm.Spans, Span{ticks(s.Up), ticks(s.Down), s.Open, s.UpAt, s.DwnAt})
		}
		g.Arms = append(g.Arms, arm)
	}
	return g
}

// last gives how long a song runs on the page: one whose length is not known until
// the last of its cues has closed.
func last(ps *timeline.PlanSong, b *calling.Board) timeline.Time {
	end := ps.Duration
	for i := range b.Cues {
		if c := &b.Cues[i]; ps.Duration == 0 {
			end = max(end, max(c.Hit, c.Command)+c.Open)
		}
	}
	return end
}

// bars lists the beats that the song reaches, bar by bar.
func (g *Song) bars(m *timeline.BeatMap, until timeline.Time) {
	if m.Empty() {
		return
	}
	first, last := m.Locate(0).Bar, m.Locate(max(until-1, 0)).Bar
	g.Bar = first
	for bar := first; bar <= last; bar++ {
		g.Bars = append(g.Bars, len(g.Beats))
		for beat := range int64(m.MetreAt(bar).Num) {
			g.Beats = append(g.Beats, ticks(m.At(timeline.BarBeat{Bar: bar, Beat: timeline.NewRat(beat, 1)})))
		}
	}
	g.Bars, g.Beats = append(g.Bars, len(g.Beats)), append(g.Beats, ticks(m.BarStart(last+1)))
}

// rateOf gives a rate in whole numbers; a frame is a whole count of ticks of the
// model.
func rateOf(r timeline.Rate) Rate {
	num, den := int64(timeline.TicksPerSecond), int64(r.FrameTicks())
	for a, b := num, den; ; {
		if a, b = b, a%b; b == 0 {
			return Rate{r.String(), r.Nominal(), num / a, den / a, r.Drop()}
		}
	}
}

// find puts what was found into words, by cause. What names a person is left out,
// and for spotters what is of explosives; how much that is, is said.
func (pg *Page) find(p *timeline.Plan, facts rule.Facts, found []rule.Finding) {
	place := map[timeline.ID]int{}
	for i := range p.Songs {
		place[p.Songs[i].Song.ID] = i
	}
	lines := report.NewFindings(p, facts, found, nil, report.Filter{}).List
	persons, charges := 0, 0
	for _, group := range report.GroupFindings(p, found) {
		f := Found{Severity: found[group.Found[0]].Severity, Where: group.Where, Lines: []FoundLine{}}
		f.Title = group.Title
		person, charge := namesPerson(p.Show, f.Title), ofExplosives(f.Title+" "+group.Rule)
		for _, n := range group.Found {
			person, charge = person || namesPerson(p.Show, found[n].Text), charge || ofExplosives(found[n].Text)
		}
		switch {
		case person:
			persons += len(group.Found)
			continue
		case charge && pg.For == Spotters:
			charges += len(group.Found)
			continue
		}
		for _, n := range group.Found {
			x, l := &found[n], &lines[n]
			if x.Accepted != nil {
				f.Accepted++
			}
			at, ok := place[x.Song]
			if ok && x.Accepted == nil {
				pg.Songs[at].Found++
			}
			switch {
			case !ok || !x.HasTime:
			case len(f.Lines) < mostLines:
				f.Lines = append(f.Lines, FoundLine{at, l.Bar, l.Timecode, ticks(x.At), x.Text})
			default:
				f.More++
			}
		}
		pg.Findings = append(pg.Findings, f)
	}
	var left []string
	if persons > 0 {
		left = append(left, timeline.Counted(persons, "finding")+" about persons")
	}
	if charges > 0 {
		left = append(left, timeline.Counted(charges, "finding")+" about explosives")
	}
	if len(left) > 0 {
		pg.Withheld = strings.Join(left, " and ") + ": not in this file; the check verb lists all"
	}
}

// namesPerson reports whether a text holds a name of the show's persons.
func namesPerson(s *timeline.Show, text string) bool {
	return slices.ContainsFunc(s.Persons, func(p *timeline.Person) bool {
		return len(p.Name) > 1 && strings.Contains(text, p.Name) || p.Licence != "" && strings.Contains(text, p.Licence)
	})
}

// ofExplosives reports whether a text is about quantities of explosives.
func ofExplosives(text string) bool {
	return strings.Contains(text, "NEC") || strings.Contains(text, "nec-") || strings.Contains(text, "explosive")
}

// Title calls the page in a word: the night, else the show.
func (pg *Page) Title() string {
	return wording.JoinGiven(" · ", pg.Head.Show, cmp.Or(pg.Head.Date, pg.Head.Night), pg.Head.Venue)
}
