package changed

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Report is what is otherwise between two plans, of two versions of a show
// or of two nights, in the words of the trade; and which printed sheets of the
// later one have to be printed again.
type Report struct {
	report.Head
	Old      Side                 `json:"old"`
	Summary  []string             `json:"summary"`
	Songs    []Song               `json:"songs"`
	Outputs  []Output             `json:"outputs"`
	Totals   []Total              `json:"totals"`
	Night    []report.NightChange `json:"night_changes"` // that the later one has and the earlier one has not
	Records  []string             `json:"records"`       // of the show folders
	Findings *FindingsDiff        `json:"findings,omitempty"`
	Prints   []report.PrintState  `json:"prints"`
	Hash     string               `json:"hash,omitempty"` // of all that the later show says
	Sheets   Sheets               `json:"sheets"`
}

// Sheets names the sheets that look otherwise when they are made from the later
// plan, and those that look alike: a revision's letter does not count.
type Sheets struct {
	Changed []string `json:"changed"`
	Same    []string `json:"same"`
}

// Side names the earlier plan.
type Side struct {
	Show     string `json:"show"`
	Night    string `json:"night"`
	Date     string `json:"date"`
	Venue    string `json:"venue"`
	Set      string `json:"set"`
	Revision string `json:"revision"`
	Hash     string `json:"hash,omitempty"`
}

// Song is one song that either plan plays. Each cue counts once.
type Song struct {
	Song     string `json:"song"` // id
	Title    string `json:"title"`
	Instead  string `json:"instead,omitempty"` // title of the version that was played
	Was      int    `json:"was"`               // place in the running order; 0 = not played
	Is       int    `json:"is"`
	StartWas string `json:"start_was"`
	StartIs  string `json:"start_is"`
	Moved    int    `json:"moved"`    // hit elsewhere in the song
	Lost     int    `json:"lost"`     // played no more
	Added    int    `json:"added"`    // played now
	Articles int    `json:"articles"` // play another article on any unit
	Aimed    int    `json:"aimed"`    // drive other units
	Timed    int    `json:"timed"`    // same hit, and commanded or held otherwise, or by other outputs in service
	Same     int    `json:"same"`
}

// Output is an output that drives something else.
type Output struct {
	Output string `json:"output"`
	Was    string `json:"was"`
	Is     string `json:"is"`
}

// Total is a number that every sheet gives, before and after.
type Total struct {
	What string `json:"what"`
	Was  string `json:"was"`
	Is   string `json:"is"`
}

// NewReport compares two plans. What their shows' records say, and
// findings, are added by the caller where there are any. prints says how the
// sheets of the second stand to what was printed of them.
func NewReport(was, is *timeline.Plan, prints []report.PrintState) *Report {
	old := report.HeadOf(was)
	r := &Report{Head: report.HeadOf(is), Old: Side{old.Show, old.Night, old.Date, old.Venue, old.Set, old.Revision, ""}, Songs: changeSongs(was, is), Outputs: changeOutputs(was, is),
		Totals: changeTotals(was, is), Night: report.NewNightChanges(was, is), Records: []string{}, Prints: append([]report.PrintState{}, prints...)}
	r.Summary = r.summary()
	return r
}

// Same reports whether nothing is otherwise.
func (r *Report) Same() bool {
	return len(r.Summary)+len(r.Records)+len(r.Night) == 0 && (r.Findings == nil || len(r.Findings.New)+len(r.Findings.Gone) == 0)
}

func changeSongs(was, is *timeline.Plan) []Song {
	list := []Song{}
	for i := range is.Songs {
		list = append(list, changeSong(was, is, report.VersionIn(was, is, is.Songs[i].Song.ID), &is.Songs[i]))
	}
	for i := range was.Songs {
		if report.VersionIn(is, was, was.Songs[i].Song.ID) == nil {
			list = append(list, changeSong(was, is, &was.Songs[i], nil))
		}
	}
	return list
}

// changeSong compares a song as two plans play it; nil where one does not.
func changeSong(old, now *timeline.Plan, was, is *timeline.PlanSong) Song {
	var s Song
	before, after := map[timeline.ID]*cueDeed{}, map[timeline.ID]*cueDeed{}
	if was != nil {
		s.Song, s.Title, s.Was, s.StartWas, before = string(was.Song.ID), was.Song.FullTitle(), was.Number, was.Label(0), cuesOf(old, was)
	}
	if is != nil {
		if was != nil && was.Song.ID != is.Song.ID {
			s.Instead = was.Song.FullTitle()
		}
		s.Song, s.Title, s.Is, s.StartIs, after = string(is.Song.ID), is.Song.FullTitle(), is.Number, is.Label(0), cuesOf(now, is)
	}
	for id, now := range after {
		s.count(before[id], now)
	}
	for id := range before {
		s.Lost += wording.OneIf(after[id] == nil)
	}
	return s
}

// cueDeed is what one cue does in a plan.
type cueDeed struct {
	hit                    timeline.Time
	units, articles, times string
}

// cuesOf gathers a song's cues by id; times are from the start of the audio, so
// that a song that starts at another timecode has not moved every cue. Outputs
// count as the way in which a cue is commanded.
func cuesOf(of *timeline.Plan, p *timeline.PlanSong) map[timeline.ID]*cueDeed {
	cues, live := map[timeline.ID]*cueDeed{}, report.LiveOutputs(of.Units)
	cue := func(id timeline.ID, hit timeline.Time) *cueDeed {
		if cues[id] == nil {
			cues[id] = &cueDeed{hit: hit}
		}
		return cues[id]
	}
	for i := range p.Commands {
		c := &p.Commands[i]
		q := cue(c.Cue.ID, c.Hit)
		q.units += string(c.Unit.Placed.ID) + " "
		q.articles += string(c.Article.ID) + " "
		q.times += fmt.Sprint(int64(c.At), int64(c.Open), c.Level, live[c.Unit], " ")
	}
	for i := range p.Asked {
		w := &p.Asked[i]
		q := cue(w.Cue.ID, w.Up)
		q.units += string(w.Device.ID) + " "
		q.times += fmt.Sprint(int64(w.Down), " ", report.WindowDevice(of.Night, w), " ")
	}
	for _, q := range cues { // commands of other leads come in another order
		q.units = sortedWords(q.units)
	}
	return cues
}

func sortedWords(s string) string {
	words := strings.Fields(s)
	slices.Sort(words)
	return strings.Join(words, " ")
}

func (s *Song) count(was, is *cueDeed) {
	switch {
	case was == nil:
		s.Added++
	case was.hit != is.hit:
		s.Moved++
	case was.units != is.units:
		s.Aimed++
	case sortedWords(was.articles) != sortedWords(is.articles):
		s.Articles++
	case sortedWords(was.times) != sortedWords(is.times):
		s.Timed++
	default:
		s.Same++
	}
}

// Changes reports whether anything of the song is otherwise.
func (s *Song) Changes() bool {
	return s.Was != s.Is || s.Instead != "" || s.StartWas != s.StartIs || s.Moved+s.Lost+s.Added+s.Articles+s.Aimed+s.Timed > 0
}

// driver is an output of a bank, or a head of a device.
type driver struct {
	unit   timeline.ID
	output int
}

func changeOutputs(was, is *timeline.Plan) []Output {
	before, after, names := map[driver][]string{}, map[driver][]string{}, map[driver]string{}
	drivenOn(was.Units, before, names)
	drivenOn(is.Units, after, names)
	keys := make([]driver, 0, len(names))
	for k := range names {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b driver) int {
		return cmp.Or(strings.Compare(string(a.unit), string(b.unit)), cmp.Compare(a.output, b.output))
	})
	list := []Output{}
	for _, k := range keys {
		if x, y := effects(before[k]), effects(after[k]); x != y {
			list = append(list, Output{names[k], x, y})
		}
	}
	return list
}

// drivenOn says what hangs on each output, tonight's rig alone.
func drivenOn(units *timeline.Units, on map[driver][]string, names map[driver]string) {
	for _, u := range units.All {
		if u.Out {
			continue
		}
		for _, d := range u.Drives {
			k := driver{d.Wire.Driver, d.Wire.Output}
			names[k] = d.Label(timeline.EffectSlot)
			text := u.Name + " (" + report.ArticleName(u) + ")"
			if d.Dead {
				text += ", out of service"
			}
			on[k] = append(on[k], text)
		}
	}
}

func changeTotals(was, is *timeline.Plan) []Total {
	a, b := report.TotalsOn(was.OnSite()), report.TotalsOn(is.OnSite())
	n := strconv.Itoa
	list := []Total{{"commands", n(a.Commands), n(b.Commands)}, {"pieces on site", n(a.Pieces), n(b.Pieces)}, {"spare pieces", n(a.Spares), n(b.Spares)}, {"NEC g", wording.Grams(a.NEC), wording.Grams(b.NEC)}}
	list = append(list, pairs(func(p *report.Totals) map[string]string {
		m := map[string]string{}
		for _, d := range p.Divisions {
			m["NEC g, "+wording.Division(d.Division)] = wording.Grams(d.NEC)
		}
		return m
	}, &a, &b)...)
	return append(list, pairs(media, was, is)...)
}

// pairs puts what is said of two things side by side, by name; what one of them
// does not say is 0.
func pairs[T any](of func(*T) map[string]string, was, is *T) []Total {
	a, b := of(was), of(is)
	var list []Total
	for name := range a {
		list = append(list, Total{name, a[name], cmp.Or(b[name], "0")})
	}
	for name := range b {
		if _, both := a[name]; !both {
			list = append(list, Total{name, "0", b[name]})
		}
	}
	slices.SortFunc(list, func(x, y Total) int { return strings.Compare(x.What, y.What) })
	return list
}

// wording.WriteJSON writes the report as one JSON object.
func (r *Report) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, r) }
