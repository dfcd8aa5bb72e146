// Package carried puts into words and keys what carrying songs over to new recordings
// comes to. Its one rule: it tells each thing that stood on an old recording once,
// worst first, and says of every place what it rests on.
package carried

import (
	"cmp"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/report/evening"
	"emberbeat/shows/report/matched"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
)

// Report is what recordings that arrived come to, all together.
type Report struct {
	report.Head
	Dry      bool                  `json:"dry_run"`
	Files    []File                `json:"files"`
	Counts   Counts                `json:"counts"` // of cues, all songs together
	Items    []Line                `json:"items"`  // of all songs, worst first
	Cues     int                   `json:"cues"`   // that play otherwise
	Findings *changed.FindingsDiff `json:"findings,omitempty"`
	Moved    []changed.MovedCue    `json:"moved"`
	Evening  *evening.Comparison   `json:"evening,omitempty"`
}

// Counts say how many cues came how: Sure, Look and Lost are all of them.
type Counts struct {
	Sure   int `json:"sure"`
	Look   int `json:"look"`
	Lost   int `json:"lost"`
	Copies int `json:"copies"` // further places of cues whose music is heard more than once now
	Taken  int `json:"copies_taken"`
}

// File is one recording that arrived.
type File struct {
	File      string             `json:"file"`
	Verdict   string             `json:"verdict"`
	Why       string             `json:"why"`
	Song      string             `json:"song"` // id; "" of none
	Title     string             `json:"title"`
	Alike     float64            `json:"alike"` // 0 to 1; 0 where the song was named
	Recording *matched.Recording `json:"recording,omitempty"`
	Counts    Counts             `json:"counts"`
	Beats     string             `json:"beat_map"` // "carried", "heard" or "none"
	Added     []Added            `json:"added"`    // stretches of the new recording that the old one had not
	Starts    []Start            `json:"starts"`   // of timecode that the recording says
	Start     string             `json:"start"`    // of the song in timecode, as it is or would be
	Notes     []string           `json:"notes"`
}

// Added is a stretch of the new recording to which nothing is programmed yet.
type Added struct {
	From  wording.Seconds `json:"from"`
	To    wording.Seconds `json:"to"`
	Name  string          `json:"name"`  // that the ear gave it
	First int             `json:"first"` // bar; 0 without a beat map
	Last  int             `json:"last"`
}

// Start is where the song starts in timecode as its recording says.
type Start struct {
	From     string `json:"from"`
	Timecode string `json:"timecode"`
	Rate     string `json:"rate"`
	Is       bool   `json:"is"`     // the song starts there already
	Offers   bool   `json:"offers"` // the song could start there
}

// Line is one thing that stood on an old recording.
type Line struct {
	File    string          `json:"file"`
	Song    string          `json:"song"`
	Title   string          `json:"title"`
	Kind    string          `json:"kind"`
	Record  string          `json:"record"` // id; "" of anchors and locks
	Name    string          `json:"name"`
	Status  carry.Status    `json:"status"`
	Look    bool            `json:"look"`
	Why     string          `json:"why"`
	Was     string          `json:"was"` // as the record said it
	WasTime wording.Seconds `json:"was_time"`
	Section string          `json:"section"`
	Is      *Place          `json:"is"`   // null of what is lost
	Next    *Place          `json:"next"` // next best place
	Open    wording.Seconds `json:"open"` // of a window that is on for another time now; 0 as it was
	Copies  []Copy          `json:"copies"`
}

// Place is a place on a new recording.
type Place struct {
	At       string          `json:"at"` // as the record says it
	Time     wording.Seconds `json:"time"`
	Timecode string          `json:"timecode"`
	By       carry.By        `json:"by"`
	Sure     float64         `json:"confidence"`
	Run      int             `json:"run"` // index in the recording's runs; -1 where none leads there
}

// Copy is a further place at which the music of a record is heard.
type Copy struct {
	Place
	Taken bool `json:"taken"`
}

// Arrived is what is known of one recording.
type Arrived struct {
	File     string
	Verdict  string
	Why      string
	Song     timeline.ID
	Alike    float64
	Starts   []Start
	Free     *timeline.Timecode // at which a new song would start
	Proposal *carry.Proposal    // nil of what is not carried over
	Warnings []string
}

// New reports recordings that arrived for the show of a plan.
func New(p *timeline.Plan, list []Arrived) *Report {
	r := &Report{Head: report.HeadOf(p), Files: []File{}, Items: []Line{}, Moved: []changed.MovedCue{}}
	for i := range list {
		r.add(p.Show, &list[i])
	}
	slices.SortStableFunc(r.Items, func(a, b Line) int {
		return cmp.Or(cmp.Compare(slices.Index(carry.Statuses(), a.Status), slices.Index(carry.Statuses(), b.Status)), cmp.Compare(a.sure(), b.sure()))
	})
	return r
}

func (l *Line) sure() float64 {
	if l.Is == nil {
		return 0
	}
	return l.Is.Sure
}

func (r *Report) add(s *timeline.Show, a *Arrived) {
	f := File{File: a.File, Verdict: a.Verdict, Why: a.Why, Song: string(a.Song), Alike: a.Alike, Added: []Added{}, Starts: append([]Start{}, a.Starts...), Notes: append([]string{}, a.Warnings...)}
	start := timeline.Timecode{}
	if g := s.Song(a.Song); g != nil {
		f.Title, start = g.FullTitle(), g.Start
	}
	if a.Free != nil {
		start = *a.Free
	}
	p := a.Proposal
	if p != nil && p.Start != nil {
		start = *p.Start
	}
	if a.Song != "" || a.Free != nil {
		f.Start = label(s.Head.Rate, start, 0)
	}
	if p != nil {
		f.Recording = matched.NewRecording(p.Map)
		c := p.Counts()
		f.Counts = Counts{c.Sure, c.Look, c.Lost, c.Copies, c.Taken}
		f.Beats = beatsOf(p)
		for _, n := range p.New {
			f.Added = append(f.Added, Added{wording.Seconds(n.From), wording.Seconds(n.To), n.Name, n.Bars[0], n.Bars[1]})
		}
		f.Notes = append(f.Notes, p.Notes...)
		names := p.Show().Names() // what stood on the old recording may be gone by now
		for _, x := range p.WorstFirst() {
			r.Items = append(r.Items, lineOf(names, s, p, x, start, f))
		}
	}
	r.Files = append(r.Files, f)
	t := &r.Counts
	t.Sure, t.Look, t.Lost, t.Copies, t.Taken = t.Sure+f.Counts.Sure, t.Look+f.Counts.Look, t.Lost+f.Counts.Lost, t.Copies+f.Counts.Copies, t.Taken+f.Counts.Taken
}

func beatsOf(p *carry.Proposal) string {
	switch {
	case p.Beats.Empty():
		return "none"
	case p.Heard:
		return "heard"
	}
	return "carried"
}

func lineOf(names *timeline.Names, s *timeline.Show, p *carry.Proposal, x *carry.Item, start timeline.Timecode, f File) Line {
	l := Line{File: f.File, Song: f.Song, Title: f.Title, Kind: x.Ref.Kind, Record: string(x.Ref.ID), Name: nameOf(names, p.Show(), p.Song, x), Status: x.Status, Look: x.Look(), Why: x.Why,
		Was: x.Was.String(), WasTime: wording.Seconds(x.WasAt), Section: x.Section, Open: wording.Seconds(x.Open), Copies: []Copy{}}
	place := func(q *carry.Place) *Place {
		if q == nil {
			return nil
		}
		return &Place{q.Moment.String(), wording.Seconds(q.At), label(s.Head.Rate, start, q.At), q.By, float64(q.Sure) / 1000, q.Run}
	}
	l.Is, l.Next = place(x.Is), place(x.Next)
	for i := range x.Copies {
		l.Copies = append(l.Copies, Copy{*place(&x.Copies[i].Place), x.Copies[i].Taken})
	}
	return l
}

// label gives the timecode of an instant of a song that starts at a label.
func label(rate timeline.Rate, start timeline.Timecode, at timeline.Time) string {
	frame, err := rate.Frame(start)
	if err != nil {
		return start.String()
	}
	return rate.Label(rate.Nearest(rate.At(frame) + at))
}

// nameOf calls a thing as the crew does: a cue by what it aims at.
func nameOf(names *timeline.Names, s *timeline.Show, g *timeline.Song, x *carry.Item) string {
	switch r := timeline.KindOf(x.Ref.Kind); {
	case x.Ref.Kind == timeline.AsideLock:
		return "lock"
	case r == nil:
		return x.Ref.Kind
	case x.Ref.Kind == "cue":
		return changed.CueName(names, s, g, g.Cue(x.Ref.ID))
	default:
		rec := r.Find(s, g.ID, x.Ref.ID)
		if ph, ok := rec.(*timeline.Phrase); ok {
			return ph.Title()
		}
		return names.Called(g.ID, rec)
	}
}

// Weigh adds what else comes of it: the evening's plan before and after, and what was
// foreseen of that evening first, then of others.
func (r *Report) Weigh(on []timeline.Concern, each []*changed.Forecast, was, is *timeline.Plan) {
	f := each[0]
	r.Cues, r.Findings, r.Evening = f.Cues, changed.FindingsBeside(on, each), evening.Compare(was, is)
	r.Moved = append(r.Moved, f.Moved...)
}

// Open reports whether anybody has to do something about it still.
func (r *Report) Open() bool {
	return r.Counts.Look+r.Counts.Lost > 0 || slices.ContainsFunc(r.Files, func(f File) bool { return f.Verdict == "refused" || f.Verdict == "unread" })
}

// WriteJSON writes the report as one JSON object.
func (r *Report) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, r) }

// Sentence says of a file in a sentence what it is and what carrying over comes to.
func (f *File) Sentence() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: ", filepath.Base(f.File))
	if f.Title == "" {
		b.WriteString(f.Why)
		if f.Start != "" {
			fmt.Fprintf(&b, "; as a new song it would start at %s", f.Start)
		}
		return b.String()
	}
	fmt.Fprintf(&b, "%q", f.Title)
	if f.Alike > 0 {
		fmt.Fprintf(&b, ", found by what is heard")
	}
	if f.Why != "" {
		return b.String() + ": " + f.Why
	}
	c := f.Counts
	fmt.Fprintf(&b, ": %s, %d sure, %d to look at, %d set aside", timeline.Counted(c.Sure+c.Look+c.Lost, "cue"), c.Sure, c.Look, c.Lost)
	if c.Copies > 0 {
		fmt.Fprintf(&b, "; %s of music that is heard more than once now, %d taken", timeline.Counted(c.Copies, "further place"), c.Taken)
	}
	return b.String()
}

// More says what else is to be known of a file, in lines.
func (f *File) More() []string {
	var list []string
	if f.Recording != nil {
		list = append(list, f.Recording.Answer)
		switch f.Beats {
		case "carried":
			list = append(list, "the beat map goes with the music")
		case "heard":
			list = append(list, "the beat map rests on what was heard in the new recording; confirm it")
		}
	}
	for _, a := range f.Added {
		text := fmt.Sprintf("new, and without cues: %s to %s", clock(a.From), clock(a.To))
		if a.First != 0 || a.Last != 0 {
			text += fmt.Sprintf(", bars %d to %d", a.First, a.Last)
		}
		if a.Name != "" {
			text += ", heard as section " + a.Name
		}
		list = append(list, text)
	}
	for _, s := range f.Starts {
		switch {
		case s.Is:
		case s.Offers:
			list = append(list, fmt.Sprintf("%s says that the song starts at %s; it starts at %s", s.From, s.Timecode, f.Start))
		case f.Recording != nil:
			list = append(list, fmt.Sprintf("%s counts at %s, and the show at another rate: the song's start stays as it is", s.From, s.Rate))
		}
	}
	return append(list, f.Notes...)
}

func clock(s wording.Seconds) string { return timeline.Time(s).Clock(2) }

// Cells gives a line as a table has it: status, song, what, where it was and is, why.
func (l *Line) Cells() []string {
	was := l.Was
	if l.Section != "" {
		was += " " + l.Section
	}
	is := "set aside"
	if l.Is != nil {
		is = l.Is.At
	}
	why := l.Why
	if n := len(l.Copies); n > 0 {
		var places []string
		for _, c := range l.Copies {
			word := "heard at "
			if c.Taken {
				word = "copied to "
			}
			places = append(places, word+c.At)
		}
		why = wording.JoinGiven("; ", why, strings.Join(places, ", "))
	}
	if l.Next != nil && l.Status != carry.Exact {
		why = wording.JoinGiven("; ", why, "else "+l.Next.At)
	}
	return []string{string(l.Status), l.Title, l.Kind, l.Name, was, is, why}
}

// Heads are the heads of Cells.
func Heads() []string { return []string{"status", "song", "what", "name", "was", "is", "why"} }

// Worth gives the lines that a person goes through: all but what is sure, and of what
// is no record only what is not placed.
func (r *Report) Worth() []*Line {
	var list []*Line
	for i := range r.Items {
		l := &r.Items[i]
		switch {
		case l.Status == carry.Exact || l.Status == carry.Matched:
		case l.Record == "" && l.Status == carry.Moved:
		default:
			list = append(list, l)
		}
	}
	return list
}

// WriteText writes the report for people, worst first.
func (r *Report) WriteText(w io.Writer) error {
	var b strings.Builder
	for i := range r.Files {
		f := &r.Files[i]
		fmt.Fprintln(&b, f.Sentence())
		for _, line := range f.More() {
			fmt.Fprintln(&b, "  "+line)
		}
	}
	if worth := r.Worth(); len(worth) > 0 {
		t := &wording.Table{}
		for _, h := range Heads() {
			t.Columns = append(t.Columns, wording.Column{Name: h})
		}
		for _, l := range worth {
			t.Rows = append(t.Rows, l.Cells())
		}
		if err := t.Write(&b); err != nil {
			return err
		}
	}
	if r.Findings != nil {
		if err := r.Findings.WriteText(&b); err != nil {
			return err
		}
	}
	if r.Evening != nil {
		if err := r.Evening.WriteText(&b); err != nil {
			return err
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
