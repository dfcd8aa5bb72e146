package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Places says where the records of a show stand on disk: the file, relative to
// the show folder, and the line from 1; "" and 0 for a record that is not on
// disk.
type Places interface {
	Place(timeline.Ref) (file string, line int)
}

// Findings is what the rules say about a plan, and what they looked at.
type Findings struct {
	Caution string        `json:"caution"`
	Checked Checked       `json:"checked"`
	List    []FindingLine `json:"findings"`

	// Standing is how the whole plan stands with the rules, whatever the filter
	// shows of it.
	Standing *Standing `json:"-"`

	plan   *timeline.Plan
	found  []rule.Finding
	places []int // in found, of List
}

// Checked says what was looked at, so that no findings means something.
type Checked struct {
	Show     string   `json:"show"`
	Set      string   `json:"set,omitempty"`
	Night    string   `json:"night,omitempty"`
	Venue    string   `json:"venue,omitempty"`
	Played   string   `json:"played,omitempty"` // as in Head
	Songs    int      `json:"songs"`
	Cues     int      `json:"cues"`
	Commands int      `json:"commands"`
	Rules    int      `json:"rules"`
	Off      []string `json:"off"`   // rules that the show has switched off everywhere
	Audio    bool     `json:"audio"` // the recordings were looked at
	Errors   int      `json:"errors"`
	Warnings int      `json:"warnings"`
	Notes    int      `json:"notes"`
	Accepted int      `json:"accepted"` // of them

	nothing string // said where nothing was found
}

// FindingLine is one finding in words. Its JSON keys are relied on: they only
// grow.
type FindingLine struct {
	Rule       string           `json:"rule"`
	Severity   rule.Severity    `json:"severity"`
	Song       string           `json:"song"` // id; "" for rig and show
	SongNumber int              `json:"song_number"`
	SongTitle  string           `json:"song_title"`
	Cue        string           `json:"cue"`    // id, of a finding about a cue
	Record     string           `json:"record"` // as kind:id or kind:song/id
	Others     []string         `json:"others"`
	File       string           `json:"file"`
	Line       int              `json:"line"`
	Bar        string           `json:"bar"`
	Timecode   string           `json:"timecode"`
	Time       *wording.Seconds `json:"time"` // from the start of the song's audio, or null
	Text       string           `json:"text"`
	Values     []FindingValue   `json:"values"`
	Why        []Ground         `json:"why"`
	Help       string           `json:"help"`
	Fix        string           `json:"fix"` // what the offered change does; "" = none is offered
	Digest     string           `json:"digest"`
	Accepted   *AcceptedBy      `json:"accepted"`
	Night      string           `json:"night,omitempty"` // where findings of several plans stand in one list; "" is the tour

	song  *timeline.PlanSong
	place string // the bar as a person says it
	spans []rule.Span
	named string // what the crew calls its record
}

// FindingValue is one value that a finding rests on: a number with its unit,
// or a word.
type FindingValue struct {
	Name  string `json:"name"`
	Value any    `json:"value"` // json.Number or string
	Unit  string `json:"unit,omitempty"`
}

// Ground is where a limit stands that a finding compares with.
type Ground struct {
	Record string `json:"record"`
	Field  string `json:"field"`
	Value  string `json:"value"`
	Mark   string `json:"mark,omitempty"`
	Source string `json:"source,omitempty"`
	File   string `json:"file,omitempty"`
	Line   int    `json:"line,omitempty"`

	named string // what the crew calls the record
}

// AcceptedBy says who has accepted a finding for the night, and why.
type AcceptedBy struct {
	By     string `json:"by"`
	Reason string `json:"reason"`
}

// NewFindings puts findings into words. The facts are those they were made
// with; places may be nil.
func NewFindings(p *timeline.Plan, facts rule.Facts, found []rule.Finding, places Places, filter Filter) *Findings {
	l := &Findings{Caution: Caution, Checked: checkedOf(p, facts, filter), List: []FindingLine{}, Standing: StandingOf(p, facts, found), plan: p, found: found}
	l.Checked.nothing = rule.NothingFound(p.Show, found)
	names := p.Show.Names()
	for i := range found {
		f := &found[i]
		line := findingLine(names, p, f, places)
		if filter.Song != "" && (f.Song != filter.Song || filter.Bars != nil && (line.song == nil || !f.HasTime || !filter.ShowsAt(line.song.Song, f.At))) {
			continue
		}
		l.List, l.places = append(l.List, line), append(l.places, i)
		l.Checked.count(f)
	}
	return l
}

func checkedOf(p *timeline.Plan, facts rule.Facts, filter Filter) Checked {
	c := Checked{Show: p.Show.Head.Title, Off: []string{}, Audio: facts.Audio != nil}
	if p.Set != nil {
		c.Set = p.Set.Name
	}
	if p.Night != nil {
		c.Night, c.Played = p.Night.Name, playedOf(p)
	}
	if p.Venue != nil {
		c.Venue = p.Venue.Name
	}
	for i := range p.Songs {
		if filter.Shows(p.Songs[i].Song.ID) {
			c.Songs, c.Cues, c.Commands = c.Songs+1, c.Cues+len(p.Songs[i].Song.Cues), c.Commands+len(p.Songs[i].Commands)
		}
	}
	n, off := rule.AskedOf(p.Show)
	c.Rules, c.Off = n, append(c.Off, off...)
	return c
}

func (c *Checked) count(f *rule.Finding) {
	switch f.Severity {
	case rule.Error:
		c.Errors++
	case rule.Warning:
		c.Warnings++
	default:
		c.Notes++
	}
	if f.Accepted != nil {
		c.Accepted++
	}
}

// Open is the number of findings that nobody has accepted.
func (l *Findings) Open() int { return len(l.List) - l.Checked.Accepted }

// wording.WriteJSON writes the findings as one JSON object; the same plan and facts
// always give the same bytes.
func (l *Findings) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, l) }

// WriteShort writes one line a finding, or what was checked where there is none;
// then the caution.
func (l *Findings) WriteShort(w io.Writer) error {
	out := bufio.NewWriter(w)
	for i := range l.List {
		fmt.Fprintln(out, l.List[i].Short())
	}
	if len(l.List) == 0 {
		fmt.Fprintln(out, l.Checked.String())
	}
	fmt.Fprintln(out, CautionLine)
	return out.Flush()
}

// Short is the finding on one line:
//
//	songs/ember/cues.toml:118: error recovery: song 3 "Ember", bar 41 beat 2, 03:01:22:10: text
func (f *FindingLine) Short() string {
	var b strings.Builder
	switch {
	case f.File == "":
		b.WriteString(cmp.Or(f.named, f.Record) + ": ")
	case f.Line == 0:
		b.WriteString(f.File + ": ")
	default:
		fmt.Fprintf(&b, "%s:%d: ", f.File, f.Line)
	}
	fmt.Fprintf(&b, "%s %s: ", f.Severity, f.Rule)
	if place := f.where(); place != "" {
		b.WriteString(place + ": ")
	}
	b.WriteString(f.Text)
	if f.Accepted != nil {
		fmt.Fprintf(&b, " (accepted by %s: %s)", f.Accepted.By, f.Accepted.Reason)
	}
	return b.String()
}

// place says where in the show a finding stands.
func (f *FindingLine) where() string {
	var parts []string
	if f.SongNumber > 0 {
		parts = append(parts, fmt.Sprintf("song %d %q", f.SongNumber, f.SongTitle))
	}
	if f.Bar != "" {
		parts = append(parts, f.place)
	}
	if f.Timecode != "" {
		parts = append(parts, f.Timecode)
	}
	return strings.Join(parts, ", ")
}

// String says what was looked at and how much was found, in one line.
func (c Checked) String() string {
	total := c.Errors + c.Warnings + c.Notes
	s := fmt.Sprintf("in %s, %s and %s", timeline.Counted(c.Songs, "song"), timeline.Counted(c.Cues, "cue"), timeline.Counted(c.Commands, "command"))
	if total == 0 {
		s = c.nothing + " " + s
	} else {
		s = fmt.Sprintf("%s (%s, %s, %s; %d accepted) %s with %s", timeline.Counted(total, "finding"), timeline.Counted(c.Errors, "error"), timeline.Counted(c.Warnings, "warning"), timeline.Counted(c.Notes, "note"), c.Accepted, s, timeline.Counted(c.Rules, "rule"))
	}
	for _, part := range [][2]string{{"set", c.Set}, {"night", c.Night}, {"venue", c.Venue}} {
		if part[1] != "" {
			s += fmt.Sprintf(", %s %q", part[0], part[1])
		}
	}
	if c.Played != "" {
		s += ", " + c.Played
	}
	if len(c.Off) > 0 {
		s += "; switched off: " + strings.Join(c.Off, ", ")
	}
	if !c.Audio {
		s += "; recordings were not looked at"
	}
	return s
}

// WriteLine writes a finding that has come or gone.
func (f *FindingLine) WriteLine(out io.Writer, word string) {
	night := ""
	if f.Night != "" {
		night = fmt.Sprintf("on %q: ", f.Night)
	}
	fmt.Fprintf(out, "  %s: %s%s\n", word, night, f.Short())
}
