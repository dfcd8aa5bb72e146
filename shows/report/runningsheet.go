package report

import (
	"cmp"
	"io"
	"path"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// RunningSheet is what the caller reads: song by song, section by section.
type RunningSheet struct {
	Head
	Songs []RunningSong `json:"songs"`
	Used  Totals        `json:"totals"`
}

// RunningSong is one song. Playback reads file, length and hash aloud, so that
// both work from the same recording.
type RunningSong struct {
	Number   int             `json:"number"`
	Song     string          `json:"song"` // id
	Title    string          `json:"title"`
	File     string          `json:"file"` // name of the audio file; "" = none
	Hash     string          `json:"hash"` // first eight digits of the SHA-256 of the file
	Duration wording.Seconds `json:"duration"`
	Start    string          `json:"start"`
	PreRoll  string          `json:"pre_roll"` // timecode from which it runs
	End      string          `json:"end"`
	BarOne   string          `json:"bar_one"` // timecode of bar 1 beat 1; "" without a beat map
	Gap      wording.Seconds `json:"gap"`     // to the next song
	Talk     string          `json:"talk,omitempty"`
	Encore   bool            `json:"encore,omitempty"`
	Commands int             `json:"commands"`
	Sections []RunningRow    `json:"sections"` // at least one; the first holds all before, the last all after
	Notes    []RunningNote   `json:"notes,omitempty"`

	plan *timeline.PlanSong
}

// RunningRow is a section, or the start of a song that has none there.
type RunningRow struct {
	Timecode string          `json:"timecode"`
	At       wording.Seconds `json:"at"` // from the start of the audio
	Bar      string          `json:"bar"`
	Name     string          `json:"name"`
	Lasts    wording.Seconds `json:"lasts"`        // to the next row or the end
	Bars     int             `json:"bars"`         // whole or begun bars; 0 without a beat map
	Commands int             `json:"commands"`     // hits in it
	First    string          `json:"first_hit"`    // bar and beat of its first hit; "" = none, or no beat map
	FirstIn  wording.Seconds `json:"first_hit_in"` // from its start to its first hit
	Arms     []string        `json:"arms"`         // windows that go up or down in it
	Open     []string        `json:"stands_open"`  // at its start
	ReEntry  string          `json:"re_entry"`     // where to go on after a hold in it; "" = with the next song

	at timeline.Time
}

// RunningNote is a note of the crew that is open. Who wrote it is not printed.
type RunningNote struct {
	Bar      string `json:"bar"` // "" without a beat map
	Timecode string `json:"timecode"`
	Text     string `json:"text"`
	Revision string `json:"revision,omitempty"` // of the page that it was written on

	at timeline.Time
}

// openNotes lists the notes of a song that are open, by time.
func openNotes(ps *timeline.PlanSong) (list []RunningNote) {
	for _, n := range ps.Song.Notes {
		if at, ok := n.At.In(ps.Song.Beats); ok && !n.Done {
			list = append(list, RunningNote{BarOf(ps.Song, at), ps.Label(at), n.Text, n.Revision, at})
		}
	}
	slices.SortStableFunc(list, func(a, b RunningNote) int { return cmp.Compare(a.at, b.at) })
	return list
}

// NewRunningSheet gives the running sheet of the songs a filter shows. A choice
// of bars has no meaning here and is not looked at.
func NewRunningSheet(p *timeline.Plan, f Filter) (*RunningSheet, error) {
	if err := StartsRight(p, f); err != nil {
		return nil, err
	}
	out := &RunningSheet{Head: HeadOf(p), Songs: []RunningSong{}, Used: totalsOf(p, Filter{Song: f.Song})}
	for i := range p.Songs {
		if ps := &p.Songs[i]; f.Shows(ps.Song.ID) {
			out.Songs = append(out.Songs, runningSong(ps))
		}
	}
	return out, nil
}

func runningSong(ps *timeline.PlanSong) RunningSong {
	g := ps.Song
	s := RunningSong{Number: ps.Number, Song: string(g.ID), Title: g.FullTitle(), Hash: g.Audio.FileHash[:min(8, len(g.Audio.FileHash))], Duration: wording.Seconds(ps.Duration),
		Start: ps.Label(0), PreRoll: ps.Rate.Label(ps.First()), End: ps.Rate.Label(ps.Last()), Gap: wording.Seconds(ps.Entry.Gap), Talk: ps.Entry.Talk, Encore: ps.Entry.Encore,
		Commands: len(ps.Commands), plan: ps}
	if g.Audio.Path != "" {
		s.File = path.Base(g.Audio.Path)
	}
	if !g.Beats.Empty() {
		s.BarOne = ps.Label(g.Beats.BarStart(1))
	}
	s.Sections, s.Notes = runningRows(ps), openNotes(ps)
	return s
}

// runningRows gives the sections in order, with one before the first where that
// starts later than the audio.
func runningRows(ps *timeline.PlanSong) []RunningRow {
	parts := PartsOf(ps)
	rows := make([]RunningRow, len(parts))
	for i, p := range parts {
		rows[i] = RunningRow{Name: p.Name, at: p.From}
		rows[i].fill(ps, p.To)
		rows[i].count(ps, i == 0, i == len(rows)-1, p.To)
	}
	for i := range rows {
		rows[i].ReEntry = reEntry(ps, rows[i+1:])
	}
	return rows
}

func (r *RunningRow) fill(ps *timeline.PlanSong, end timeline.Time) {
	r.Timecode, r.At, r.Lasts = ps.Label(r.at), wording.Seconds(r.at), wording.Seconds(max(0, end-r.at))
	if b := ps.Song.Beats; !b.Empty() {
		r.Bar = b.Named(r.at).String()
		r.Bars = barsOf(b, r.at, end)
	}
	var open wording.Alike
	for _, o := range ps.StandsOpen(r.at) {
		name, until := standing(ps, o)
		open.Add(name, until)
	}
	r.Open = open.Texts()
}

// barsOf counts the bars that begin between two times, and one that is cut by
// the first.
func barsOf(b *timeline.BeatMap, from, to timeline.Time) int {
	end := b.Named(to)
	n := end.Bar - b.Named(from).Bar
	if !end.Beat.IsZero() {
		n++ // that is begun and not over
	}
	return max(0, n)
}

// standing names what stands open and until when.
func standing(ps *timeline.PlanSong, o timeline.Standing) (name, until string) {
	switch {
	case o.Command != nil:
		return o.Command.Unit.Name, " until " + ps.Rate.Label(o.Command.Close)
	case !o.Window.Closes():
		return windowName(ps, o.Window), ", never closed"
	}
	return windowName(ps, o.Window), " until " + ps.Rate.Label(o.Window.DownFrame)
}

func windowName(ps *timeline.PlanSong, w *timeline.Window) string {
	what, _ := w.Role.Words()
	return what + " of " + ps.Units.Called(w.Device)
}

// count gathers what happens between the row's start and its end, or before and
// after as well where it is the first or the last.
func (r *RunningRow) count(ps *timeline.PlanSong, first, last bool, end timeline.Time) {
	in := func(t timeline.Time) bool { return (first || t >= r.at) && (last || t < end) }
	for i := range ps.Commands {
		c := &ps.Commands[i]
		if !in(c.Hit) {
			continue
		}
		if r.Commands++; r.Commands == 1 || wording.Seconds(c.Hit-r.at) < r.FirstIn {
			r.First, r.FirstIn = BarAt(ps.Song, c.Cue, c.Hit), wording.Seconds(c.Hit-r.at)
		}
	}
	var arms wording.Alike
	for i := range ps.Windows {
		w := &ps.Windows[i]
		if in(w.Up) {
			arms.Add(windowName(ps, w), " up "+ps.Rate.Label(w.UpFrame))
		}
		if w.Closes() && in(w.Down) {
			arms.Add(windowName(ps, w), " down "+ps.Rate.Label(w.DownFrame))
		}
	}
	r.Arms = arms.Texts()
}

// reEntry gives the next row, at which playback can start again.
func reEntry(ps *timeline.PlanSong, later []RunningRow) string {
	if len(later) == 0 {
		return ""
	}
	return strings.TrimSpace(later[0].Timecode+" "+later[0].Name) + Without(ps, later[0].at)
}

// Without says how many hits a start at a time has to do without: ", without 2
// hits", "" for none. Their commands lie before it, and a command is never sent
// late. Arms are set again by hand (our judgement).
func Without(ps *timeline.PlanSong, at timeline.Time) string {
	missed := 0
	for i := range ps.Commands {
		if c := &ps.Commands[i]; c.At < at && c.Hit >= at {
			missed++
		}
	}
	if missed == 0 {
		return ""
	}
	return ", without " + timeline.Counted(missed, "hit")
}

// wording.WriteJSON writes the running sheet as one JSON object.
func (s *RunningSheet) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, s) }
