package held

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Kind says how a row and the plan differ.
type Kind string

// The kinds, worst first: what opens where nothing is planned comes before what
// does not open.
const (
	OtherAddress Kind = "other address"
	Extra        Kind = "extra"
	OtherFrame   Kind = "other frame"
	Missing      Kind = "missing"
	OtherOrder   Kind = "other order"
	NotKnown     Kind = "address not known"
	NotRead      Kind = "not read"
)

// Kinds lists them, worst first.
func Kinds() []Kind {
	return []Kind{OtherAddress, Extra, OtherFrame, Missing, OtherOrder, NotKnown, NotRead}
}

// Difference is one place at which list and plan differ. Its JSON keys only grow.
type Difference struct {
	Kind       Kind   `json:"kind"`
	Line       int    `json:"line,omitempty"`   // of the list; 0 where it has no such row
	Number     int    `json:"number,omitempty"` // of the cue list; 0 where the plan has no such command
	Song       string `json:"song,omitempty"`   // id
	SongNumber int    `json:"song_number,omitempty"`
	SongTitle  string `json:"song_title,omitempty"`
	Bar        string `json:"bar,omitempty"`
	Cue        string `json:"cue,omitempty"` // id
	Action     string `json:"action,omitempty"`
	Effect     string `json:"effect,omitempty"`
	Planned    string `json:"planned,omitempty"` // timecode in the plan
	Output     string `json:"output,omitempty"`  // in the plan
	Listed     string `json:"listed,omitempty"`  // timecode in the list
	Address    string `json:"address,omitempty"` // as the list has it
	Means      string `json:"means,omitempty"`   // what the address is here
	Late       int64  `json:"frames_late,omitempty"`
	Why        string `json:"why,omitempty"`
	Suggest    string `json:"suggest,omitempty"` // a meaning that would make the address known
}

// Offset is a time by which the rows of a song, or all, are off.
type Offset struct {
	Song       string          `json:"song,omitempty"` // id; "" = the whole list
	SongNumber int             `json:"song_number,omitempty"`
	SongTitle  string          `json:"song_title,omitempty"`
	Frames     int64           `json:"frames_late"`
	Seconds    wording.Seconds `json:"seconds_late"`
	Rows       int             `json:"rows"` // that are off by just so much
}

// Count is so many of what is left out or not compared, and why.
type Count struct {
	Why   string `json:"why"`
	Count int    `json:"count"`
	Lines []int  `json:"lines,omitempty"` // the first of the list
}

// Song is what a song of the plan has in the list.
type Song struct {
	Song     string `json:"song"` // id
	Number   int    `json:"number"`
	Title    string `json:"title"`
	Commands int    `json:"commands"` // that are compared
	Found    int    `json:"found"`    // as planned, offset aside
}

// Report is a list held against a plan. Its JSON keys only grow.
type Report struct {
	report.Head
	List        string       `json:"list"` // name of the file
	Read        int          `json:"rows_read"`
	Compared    int          `json:"rows_compared"`
	Commands    int          `json:"commands_compared"` // one for each address and frame
	LeftOut     []Count      `json:"left_out"`          // rows
	NotCompared []Count      `json:"not_compared"`      // of the plan
	Songs       []Song       `json:"songs"`
	Offsets     []Offset     `json:"offsets"`
	Differences []Difference `json:"differences"` // worst first, then by the list and the plan
	Order       string       `json:"order"`       // by what the order was compared, or why it was not
}

// Same reports whether nothing differs and every row that counts was read.
func (r *Report) Same() bool { return len(r.Differences)+len(r.Offsets) == 0 }

// Compare reads a list and holds it against what a filter's song, or all, play in a
// plan. name is that of its file. The error is of the list as a whole: it is no
// table, its columns say not enough.
func Compare(p *timeline.Plan, f report.Filter, r *Reading, name string, data []byte) (*Report, error) {
	cues, err := report.NewCueList(p, report.Filter{})
	if err != nil {
		return nil, err
	}
	b := newBook(p.Show, cues.Lines)
	l, err := r.read(p, b, data)
	if err != nil {
		return nil, err
	}
	c := &comparing{p: p, f: f, b: b, list: l, hits: r.hits, gone: map[int]string{}, Report: &Report{Head: report.HeadOf(p).Showing(p, f), List: name, Read: l.rows,
		LeftOut: []Count{}, NotCompared: []Count{}, Songs: []Song{}, Offsets: []Offset{}, Differences: []Difference{}}}
	c.want(cues.Lines)
	frame := p.Rate.FrameTicks()
	c.m = &matcher{wanted: c.wanted, atoms: l.atoms, songs: len(p.Songs), least: int(rule.OffsetRows.Plain(p.Show, nil)),
		window: int64(rule.ListWindow.Time(p.Show, nil) / max(frame, 1))}
	c.m.match()
	c.say()
	return c.Report, nil
}

// comparing makes a report.
type comparing struct {
	*Report
	p      *timeline.Plan
	f      report.Filter
	b      *book
	list   *list
	hits   bool
	wanted []*wanted
	m      *matcher
	gone   map[int]string // why rows, by their line, are not compared
}

// want gathers what the plan wants, one for each address and frame of a song.
func (c *comparing) want(lines []report.Line) {
	index := map[timeline.ID]int{}
	for i := range c.p.Songs {
		index[c.p.Songs[i].Song.ID] = i
	}
	type one struct {
		key
		song int
	}
	have := map[one]*wanted{}
	for i := range lines {
		l := &lines[i]
		song := index[timeline.ID(l.Song)]
		shown := c.f.Shows(timeline.ID(l.Song))
		w := wanted{line: l, lines: 1, song: song, frame: l.Frame, action: l.Action, exact: l.Command}
		if c.hits {
			w.frame, w.exact = l.HitFrame, l.Hit
		}
		if !c.list.does[l.Action] {
			c.skip(shown, l.Action+", for which the list has no action")
			continue
		}
		if len(l.Outputs) == 0 {
			c.skip(shown, "commands with no output")
		}
		for _, o := range l.Outputs {
			w.out, w.at, w.need = o, o.At, !o.Dead && !o.Level
			switch {
			case o.At == report.Address{}:
				c.skip(shown, "slots with no address")
				continue
			case o.Dead:
				c.skip(shown, "commands on outputs that are out of service")
			case o.Level:
				c.skip(shown, "slots of levels (a row of one is taken where it fits)")
			}
			k := one{key{w.at, w.action, w.frame}, song}
			if x := have[k]; x != nil {
				x.lines++
				x.need = x.need || w.need
				continue
			}
			x := w
			have[k] = &x
			c.wanted = append(c.wanted, &x)
		}
	}
}

// skip counts what is not compared.
func (c *comparing) skip(shown bool, why string) {
	if shown {
		c.NotCompared = count(c.NotCompared, why, 0)
	}
}

func count(list []Count, why string, line int) []Count {
	i := slices.IndexFunc(list, func(x Count) bool { return x.Why == why })
	if i < 0 {
		i, list = len(list), append(list, Count{Why: why})
	}
	if list[i].Count++; line > 0 && len(list[i].Lines) < 3 {
		list[i].Lines = append(list[i].Lines, line)
	}
	return list
}

func (c *comparing) shows(w *wanted) bool { return c.f.Shows(c.p.Songs[w.song].Song.ID) }

// say puts into words what was found.
func (c *comparing) say() {
	rows := map[int]bool{} // that were compared
	c.commands(rows)
	c.rest(rows)
	c.order()
	for line, why := range c.gone {
		if !rows[line] {
			c.list.left = append(c.list.left, Unread{line, why})
		}
	}
	slices.SortFunc(c.list.left, func(a, b Unread) int { return cmp.Compare(a.Line, b.Line) })
	for _, x := range c.list.left {
		c.LeftOut = count(c.LeftOut, x.Why, x.Line)
	}
	for _, x := range c.list.bad {
		c.add(Difference{Kind: NotRead, Line: x.Line, Why: x.Why})
	}
	c.Compared = len(rows)
	c.offsets()
	c.suggest()
	kinds := Kinds()
	slices.SortStableFunc(c.Differences, func(a, b Difference) int {
		return cmp.Or(cmp.Compare(slices.Index(kinds, a.Kind), slices.Index(kinds, b.Kind)), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Number, b.Number))
	})
}

func (c *comparing) add(d Difference) { c.Differences = append(c.Differences, d) }

// commands says of each command what became of it.
func (c *comparing) commands(rows map[int]bool) {
	c.Songs = make([]Song, len(c.p.Songs))
	for i := range c.p.Songs {
		ps := &c.p.Songs[i]
		c.Songs[i] = Song{Song: string(ps.Song.ID), Number: ps.Number, Title: ps.Song.FullTitle()}
	}
	late := map[int]int64{} // of rows whose effect is at another frame: their level is told with it
	for _, w := range c.wanted {
		if w.is != nil && w.need {
			late[w.is.line] = w.late
		}
	}
	for _, w := range c.wanted {
		if !c.shows(w) {
			if w.is != nil {
				c.gone[w.is.line] = notChosen
			}
			continue
		}
		s := &c.Songs[w.song]
		if w.need {
			s.Commands++
			c.Commands++
		}
		if w.is != nil && w.is.unknown == nil {
			rows[w.is.line] = true
		}
		switch {
		case w.is == nil && w.need:
			c.add(c.of(Missing, w, nil))
		case w.is == nil:
		case w.is.unknown != nil:
			c.add(c.of(NotKnown, w, w.is))
		case w.is.at != w.at:
			c.add(c.of(OtherAddress, w, w.is))
		case w.late != 0 && !w.need && late[w.is.line] == w.late:
		case w.late != 0:
			c.add(c.of(OtherFrame, w, w.is))
		case w.need:
			s.Found++
		}
	}
	c.Songs = slices.DeleteFunc(c.Songs, func(s Song) bool { return !c.f.Shows(timeline.ID(s.Song)) })
}

// notChosen is said of rows of another song than the one that is chosen.
const notChosen = "of songs that are not chosen"

// of describes a command and the row that stands for it.
func (c *comparing) of(k Kind, w *wanted, a *atom) Difference {
	l := w.line
	d := Difference{Kind: k, Number: l.Number, Song: l.Song, SongNumber: l.SongNumber, SongTitle: l.SongTitle, Bar: l.Bar, Cue: l.Cue, Action: l.Action,
		Effect: cmp.Or(l.PlacedName, l.DeviceName), Planned: c.p.Rate.Label(w.frame), Output: w.out.Label, Late: w.late}
	if w.lines > 1 {
		d.Effect += fmt.Sprintf(" and %d more", w.lines-1)
	}
	if a != nil {
		c.listed(&d, a)
	}
	return d
}

// listed adds what the list says.
func (c *comparing) listed(d *Difference, a *atom) {
	d.Line, d.Action, d.Listed, d.Address = a.line, a.action, c.p.Rate.Label(a.frame), a.text
	if a.unknown != nil {
		d.Why = a.unknown.Error()
		return
	}
	d.Means = c.b.label(a.at)
}

// rest says of each row that stands for no command what it is.
func (c *comparing) rest(rows map[int]bool) {
	first := map[key]int{} // line of the row that is a command
	for _, a := range c.list.atoms {
		if a.with != nil && a.unknown == nil && a.at == a.with.at {
			first[key{a.at, a.action, a.frame}] = a.line
		}
	}
	for _, a := range c.list.atoms {
		if a.off {
			continue
		}
		song, why := c.songAt(a.frame)
		if why != "" {
			c.gone[a.line] = why
			continue
		}
		d := Difference{Kind: Extra}
		if a.unknown != nil {
			d.Kind = NotKnown
		}
		if song != nil {
			d.Song, d.SongNumber, d.SongTitle = string(song.Song.ID), song.Number, song.Song.FullTitle()
		}
		c.listed(&d, a)
		switch line := first[key{a.at, a.action, a.frame}]; {
		case a.unknown != nil:
		case line > 0:
			d.Why = fmt.Sprintf("line %d says the same", line)
		case song == nil:
			d.Why = "no song runs then"
		}
		if a.unknown == nil {
			rows[a.line] = true
		}
		if n := len(c.Differences); n > 0 && d.Kind == Extra && c.Differences[n-1].Kind == Extra && c.Differences[n-1].Line == d.Line && c.Differences[n-1].Why == d.Why {
			last := &c.Differences[n-1] // one row with several addresses
			last.Address, last.Means = last.Address+" + "+d.Address, last.Means+" + "+d.Means
			continue
		}
		c.add(d)
	}
}

// songAt gives the song of the plan in whose timecode a row of the list stands, nil
// for none; why is said of a row that is of a song which is not compared.
func (c *comparing) songAt(frame int64) (song *timeline.PlanSong, why string) {
	for i := range c.p.Songs {
		ps := &c.p.Songs[i]
		if at := frame - c.m.offs[i].frames; at >= ps.First() && at < ps.Last() {
			if !c.f.Shows(ps.Song.ID) {
				return nil, notChosen
			}
			return ps, ""
		}
	}
	at := frame - c.m.all.frames
	for _, g := range c.p.Show.SongsByStart() {
		start, err := c.p.Rate.Frame(g.Start)
		if err != nil || report.SongIn(c.p, g.ID) != nil {
			continue
		}
		if from := start - c.p.Rate.Nearest(c.p.Show.PreRollOf(&g.SongHead)); at >= from && at < start+c.p.Rate.Nearest(g.Duration()) {
			return nil, fmt.Sprintf("of %q, which is not played here", g.FullTitle())
		}
	}
	return nil, ""
}

// order compares in which order rows stand, song by song.
func (c *comparing) order() {
	later := func(a, b *atom) int { return cmp.Compare(a.line, b.line) }
	c.Order = "compared at each frame, by the lines of the list"
	switch {
	case c.list.numbered:
		later = func(a, b *atom) int { return cmp.Or(report.ByName(a.number, b.number), cmp.Compare(a.line, b.line)) }
		c.Order = "compared by the numbers of the list"
	case !c.byTime():
		c.Order = "not compared: the rows do not stand by time, and no column is mapped as their number"
		return
	}
	of := make([][]*wanted, len(c.p.Songs))
	for _, w := range c.wanted {
		if c.shows(w) {
			of[w.song] = append(of[w.song], w)
		}
	}
	for _, list := range of {
		for _, w := range otherOrder(list, later) {
			c.add(c.of(OtherOrder, w, w.is))
		}
	}
}

// byTime reports whether rows that stand as planned follow each other in time.
func (c *comparing) byTime() bool {
	last := int64(-1 << 62)
	for _, a := range c.list.atoms {
		if a.with == nil || a.with.late != 0 {
			continue
		}
		if a.frame < last {
			return false
		}
		last = a.frame
	}
	return true
}

// offsets says by how much songs are off: once where all are. A song of which no
// row says so is not named.
func (c *comparing) offsets() {
	secs := func(frames int64) wording.Seconds {
		return wording.Seconds(timeline.Time(frames) * c.p.Rate.FrameTicks())
	}
	whole := c.m.all.frames != 0
	for _, o := range c.m.offs {
		whole = whole && (o.frames == c.m.all.frames || o.rows == 0)
	}
	if o := c.m.all; whole {
		c.Offsets = append(c.Offsets, Offset{Frames: o.frames, Seconds: secs(o.frames), Rows: o.rows})
		return
	}
	for i, o := range c.m.offs {
		if ps := &c.p.Songs[i]; o.frames != 0 && o.rows > 0 && c.f.Shows(ps.Song.ID) {
			c.Offsets = append(c.Offsets, Offset{string(ps.Song.ID), ps.Number, ps.Song.FullTitle(), o.frames, secs(o.frames), o.rows})
		}
	}
}

// suggest says what would make an address known, where all rows that have it stand
// where the plan has one output.
func (c *comparing) suggest() {
	outputs := map[string]string{}
	for i := range c.Differences {
		if d := &c.Differences[i]; d.Kind == NotKnown {
			if was, ok := outputs[d.Address]; ok && was != d.Output {
				outputs[d.Address] = ""
				continue
			}
			outputs[d.Address] = d.Output
		}
	}
	for i := range c.Differences {
		if d := &c.Differences[i]; d.Kind == NotKnown && outputs[d.Address] != "" {
			d.Suggest = d.Address + "=" + short(outputs[d.Address])
		}
	}
}

// absent names the songs of which the list has nothing.
func (r *Report) absent() []string {
	var list []string
	for _, s := range r.Songs {
		if s.Commands > 0 && s.Found == 0 && !slices.ContainsFunc(r.Differences, func(d Difference) bool { return d.Song == s.Song && d.Line > 0 }) {
			list = append(list, fmt.Sprintf("song %d %q: the list has no row of its %s", s.Number, s.Title, timeline.Counted(s.Commands, "command")))
		}
	}
	return list
}

// Says puts a difference into words.
func (d *Difference) Says() string {
	place := ""
	if d.SongNumber > 0 {
		place = fmt.Sprintf("song %d", d.SongNumber)
		if d.Bar != "" {
			place += ", bar " + d.Bar
		}
	}
	in := wording.JoinGiven(", ", d.Effect, place)
	address := d.Means
	switch {
	case address == "":
		address = fmt.Sprintf("%q", d.Address)
	case !strings.EqualFold(address, d.Address):
		address = fmt.Sprintf("%q, %s,", d.Address, address)
	}
	if d.Action != hit && d.Action != "" {
		address = d.Action + " " + address
	}
	switch d.Kind {
	case Missing:
		out := d.Output
		if d.Action != hit {
			out = d.Action + " " + out
		}
		return fmt.Sprintf("%s at %s (%s)", out, d.Planned, in)
	case OtherAddress:
		return fmt.Sprintf("%s at %s, where the plan has %s (%s)", address, d.Listed, d.Output, in)
	case OtherFrame:
		way := "late"
		if d.Late < 0 {
			way = "early"
		}
		return fmt.Sprintf("%s at %s, %s %s; the plan has %s (%s)", address, d.Listed, timeline.Counted(int(max(d.Late, -d.Late)), "frame"), way, d.Planned, in)
	case Extra:
		return fmt.Sprintf("%s at %s: %s", address, d.Listed, wording.JoinGiven("; ", cmp.Or(d.Why, "the plan has nothing there then"), place))
	case OtherOrder:
		return fmt.Sprintf("%s at %s stands elsewhere among its neighbours in the plan, as number %d there (%s)", address, d.Listed, d.Number, in)
	case NotKnown:
		text := fmt.Sprintf("%s at %s: %s", address, d.Listed, d.Why)
		if d.Output != "" {
			text += "; the plan has " + d.Output + " then"
		}
		if d.Suggest != "" {
			text += fmt.Sprintf(": --means %q", d.Suggest)
		}
		return text
	}
	return d.Why
}
