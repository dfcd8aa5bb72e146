package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// DryList is the rehearsal with nothing loaded, connected or open: the same
// timing, and what is done in place of each effect.
type DryList struct {
	Head
	Songs []DrySong `json:"songs"`
}

// DrySong is one song rehearsed dry.
type DrySong struct {
	Number int       `json:"number"`
	Song   string    `json:"song"` // id
	Title  string    `json:"title"`
	Start  string    `json:"start"`
	Steps  []DryStep `json:"steps"`
}

// DryStep is one moment: hits, or windows of slots that go up or down.
type DryStep struct {
	Timecode  string   `json:"timecode"`
	Bar       string   `json:"bar"`
	Place     string   `json:"place"`
	Positions []string `json:"positions"`
	What      []string `json:"what"`
	Do        []string `json:"do"`

	at timeline.Time
}

// DryBefore is what must be so before a dry rehearsal (common practice, no
// source).
var DryBefore = []string{
	"Before: nothing is loaded or connected, bottles and gas are shut and lines empty, machines are off, keys are out. The operator says so aloud and the caller repeats it.",
	"Timecode runs as in the show. The caller says each step; whoever stands at the position points and answers; performers go to their marks. Tick what was said in time and what was clear.",
}

// dryDoing is what is done in place of an effect, by its class (common practice,
// no source).
var dryDoing = map[timeline.Class]string{
	timeline.Hot: "gas shut: say and point", timeline.Spark: "off or not loaded: say and point", timeline.Shot: "not loaded: say and point",
	timeline.Cold: "bottle shut: say and point", timeline.Paper: "empty: say and point", timeline.Cloud: "off: say", timeline.Own: "off: say and point",
}

const dryArm = "key out: say, and show the switch"

// NewDryList gives the dry list of the songs a filter shows. A choice of bars has
// no meaning here and is not looked at.
func NewDryList(p *timeline.Plan, f Filter) (*DryList, error) {
	if err := StartsRight(p, f); err != nil {
		return nil, err
	}
	out := &DryList{Head: HeadOf(p).Showing(p, Filter{Song: f.Song}), Songs: []DrySong{}}
	for i := range p.Songs {
		if ps := &p.Songs[i]; f.Shows(ps.Song.ID) {
			out.Songs = append(out.Songs, drySong(ps))
		}
	}
	return out, nil
}

func drySong(ps *timeline.PlanSong) DrySong {
	s := DrySong{Number: ps.Number, Song: string(ps.Song.ID), Title: ps.Song.FullTitle(), Start: ps.Label(0), Steps: []DryStep{}}
	parts := PartsOf(ps)
	for _, m := range momentsOf(ps) {
		s.Steps = append(s.Steps, m.dry(ps, parts))
	}
	s.Steps = append(s.Steps, dryWindows(ps, parts)...)
	slices.SortStableFunc(s.Steps, func(a, b DryStep) int { return cmp.Compare(a.at, b.at) })
	return s
}

func (m *moment) dry(ps *timeline.PlanSong, parts []Part) DryStep {
	step := DryStep{Timecode: ps.Rate.Label(m.frame), Bar: m.bar(ps), Place: parts[PartAt(parts, m.hit)].Name, What: m.what(ps), at: m.from, Positions: []string{}, Do: []string{}}
	for _, c := range m.commands {
		if pos := c.Unit.Position; pos != nil {
			step.Positions = wording.AddOnce(step.Positions, ps.Units.Called(pos))
		}
		step.Do = wording.AddOnce(step.Do, dryDoing[c.Article.Family.Class()])
	}
	return step
}

// dryWindows gives the windows that go up or down at one frame as one step.
func dryWindows(ps *timeline.PlanSong, parts []Part) []DryStep {
	var steps []DryStep
	names := map[string]*wording.Alike{}
	for i := range ps.Windows {
		w := &ps.Windows[i]
		add := func(at timeline.Time, frame int64, word string) {
			key := fmt.Sprint(frame, word)
			if names[key] == nil {
				names[key] = &wording.Alike{}
				step := DryStep{Timecode: ps.Rate.Label(frame), Place: parts[PartAt(parts, at)].Name, Positions: []string{}, Do: []string{dryArm}, What: []string{key}, at: at}
				if !ps.Song.Beats.Empty() {
					step.Bar = BarAt(ps.Song, w.Cue, at)
				}
				steps = append(steps, step)
			}
			names[key].Add(windowName(ps, w), word)
		}
		_, on := w.Role.Words()
		add(w.Up, w.UpFrame, " "+on[0])
		if w.Closes() {
			add(w.Down, w.DownFrame, " "+on[1])
		}
	}
	for i := range steps {
		steps[i].What = names[steps[i].What[0]].Texts()
	}
	return steps
}

// wording.WriteJSON writes the dry list as one JSON object.
func (l *DryList) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, l) }
