package render

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// SongData is what drawing needs of a song's plan, found once. It hangs on the identity of the show and the plan: a new plan needs a new
// SongData. It does not change.
type SongData struct {
	Show  *timeline.Show
	Plan  *timeline.SongPlan
	Lanes []LaneData      // as they stand on screen
	Hits  []timeline.Time // of all cues that are played, in order

	// Adrift counts cues that cannot be drawn: they stand on a bar, and the song has no beat map.
	Adrift int

	sections []sectionData
	markers  []markerData
	tempos   []tempoData
	used     []*timeline.Article
	facts    string
	short    string // of the facts, what a gutter has room for
	earliest timeline.Time
	looks    map[*timeline.Article]Look // while gathering
}

// LaneData is a lane with its cues.
type LaneData struct {
	Lane  *timeline.Lane // nil for the row of cues whose lane is gone
	Name  string
	Place string // where its effects stand, where it is the first lane of that place
	Where string // where its effects stand
	Look  Look   // of the lane's own article
	Plain bool   // the lane has no look: its cues are windows, or it has no article
	Cues  []CueData

	before, after timeline.Time // how far before its hit a cue begins, and after it ends, at most
	key           laneKey
}

type sectionData struct {
	id, name string
	from, to timeline.Time
	energy   int
	given    bool // its end stands in the show
}

type markerData struct {
	id, name string
	at       timeline.Time
}

type tempoData struct {
	at   timeline.Time
	text string
}

// NewSongData prepares a song's plan for drawing.
func NewSongData(show *timeline.Show, plan *timeline.SongPlan) *SongData {
	d := &SongData{Show: show, Plan: plan, looks: map[*timeline.Article]Look{}}
	d.gather()
	d.looks = nil
	d.sections = sectionsOf(plan.Song, d.Length())
	for _, m := range plan.Song.Markers {
		if at, ok := m.At.In(plan.Song.Beats); ok {
			d.markers = append(d.markers, markerData{string(m.ID), m.Name, at})
		}
	}
	slices.SortStableFunc(d.markers, func(a, b markerData) int { return cmp.Compare(a.at, b.at) })
	d.tempos = temposOf(plan.Song.Beats)
	d.facts, d.short = d.factText(), d.shortText()
	return d
}

// Length gives the song's length, of at least a second so that there is something to draw.
func (d *SongData) Length() timeline.Time { return max(d.Plan.Duration, timeline.Second) }

// Whole gives the stretch that shows all of the song: from its start, or its first command where that comes earlier, to its end.
func (d *SongData) Whole() Span { return Span{min(0, d.earliest), d.Length()} }

// gather sorts the song's cues into lanes.
func (d *SongData) gather() {
	song := d.Plan.Song
	d.Lanes = make([]LaneData, len(song.Lanes), len(song.Lanes)+1)
	lanes := make(map[timeline.ID]int, len(song.Lanes))
	for i, l := range song.Lanes {
		d.Lanes[i] = d.lane(l)
		lanes[l.ID] = i
	}
	cues := d.resolve(lanes)
	on := make([]int, len(song.Cues)) // which lane each stands on
	many := make([]int, len(song.Lanes), len(song.Lanes)+1)
	for k, c := range song.Cues {
		if cues[k].Cue == nil {
			d.Adrift++
			continue
		}
		i, known := lanes[c.Lane]
		if !known {
			i = len(d.Lanes)
			lanes[c.Lane] = i
			d.Lanes, many = append(d.Lanes, LaneData{Name: "lane is gone", Plain: true, key: laneKey{rank: goneRank}}), append(many, 0)
		}
		on[k] = i
		many[i]++
	}
	room := make([]CueData, len(song.Cues)-d.Adrift)
	for i, n := range many {
		if n > 0 {
			d.Lanes[i].Cues, room = room[:0:n], room[n:]
		}
	}
	for k := range cues {
		if cues[k].Cue != nil {
			d.Lanes[on[k]].add(&cues[k])
		}
	}
	for i := range d.Lanes {
		slices.SortStableFunc(d.Lanes[i].Cues, func(a, b CueData) int { return cmp.Compare(a.Hit, b.Hit) })
	}
	arrange(d.Lanes)
	slices.Sort(d.Hits)
	d.used = articlesUsed(d.Plan)
}

// add puts a cue on the lane and widens the lane's reach.
func (l *LaneData) add(c *CueData) {
	l.Cues = append(l.Cues, *c)
	l.before = max(l.before, c.Hit-c.Command)
	l.after = max(l.after, c.End-c.Hit)
}

// sectionsOf gives the song's sections in order; one without an end lasts to the next.
func sectionsOf(song *timeline.Song, length timeline.Time) []sectionData {
	var list []sectionData
	for _, c := range song.Sections {
		if from, ok := c.At.In(song.Beats); ok {
			to, ok := c.To.In(song.Beats)
			if !ok || to <= from {
				to = 0
			}
			list = append(list, sectionData{string(c.ID), c.Name, from, to, c.Energy, to > 0})
		}
	}
	slices.SortStableFunc(list, func(a, b sectionData) int { return cmp.Compare(a.from, b.from) })
	for i := range list {
		if list[i].to == 0 {
			list[i].to = max(length, list[i].from)
			if i+1 < len(list) {
				list[i].to = list[i+1].from
			}
		}
	}
	return list
}

// temposOf gives each tempo of a beat map with the time from which it holds.
func temposOf(beats *timeline.BeatMap) []tempoData {
	var list []tempoData
	for i, a := range beats.Anchors() {
		text := bpmText(beats.BPM(a.At))
		if i == 0 || text != list[len(list)-1].text {
			list = append(list, tempoData{a.At, text})
		}
	}
	return list
}

func bpmText(bpm float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", bpm), ".0") }

// factText says in one line what there is to know of the song.
func (d *SongData) factText() string {
	song := d.Plan.Song
	facts := []string{d.Length().Clock(0)}
	if len(d.tempos) > 0 {
		facts = append(facts, tempoRange(d.tempos)+" bpm "+song.Beats.MetreAt(1).String())
		if counted := song.Beats.MetreAt(1).Counted(song.Beats.BPM(0)); counted != "" && !strings.Contains(tempoRange(d.tempos), "–") {
			facts = append(facts, counted)
		}
	}
	if d.Plan.StartErr == nil && d.Plan.Rate != timeline.RateUnset {
		facts = append(facts, "starts "+d.Plan.Label(0))
	}
	facts = append(facts, timeline.Counted(len(song.Cues), "cue"))
	if d.Adrift > 0 {
		facts = append(facts, fmt.Sprintf("%d on bars of no beat map", d.Adrift))
	}
	return strings.Join(facts, "  ·  ")
}

// shortText says how long the song is and how many cues it has, or how many of them cannot be drawn.
func (d *SongData) shortText() string {
	if d.Adrift > 0 {
		return fmt.Sprintf("%d of %s adrift", d.Adrift, timeline.Counted(len(d.Plan.Song.Cues), "cue"))
	}
	return d.Length().Clock(0) + " · " + timeline.Counted(len(d.Plan.Song.Cues), "cue")
}

// SectionAt gives the section that a song time lies in; ok is false where it lies in none.
func (d *SongData) SectionAt(t timeline.Time) (name string, of Span, ok bool) {
	for i := range d.sections {
		if c := &d.sections[i]; t >= c.from && t < c.to {
			return c.name, Span{c.from, c.to}, true
		}
	}
	return "", Span{}, false
}

// tempoRange names one tempo, or the slowest and the fastest.
func tempoRange(list []tempoData) string {
	byTempo := func(a, b tempoData) int {
		return cmp.Or(cmp.Compare(len(a.text), len(b.text)), strings.Compare(a.text, b.text))
	}
	lo, hi := slices.MinFunc(list, byTempo).text, slices.MaxFunc(list, byTempo).text
	if lo == hi {
		return lo
	}
	return lo + "–" + hi
}

// articlesUsed gives the articles of the song's commands by name.
func articlesUsed(p *timeline.SongPlan) []*timeline.Article {
	seen := map[timeline.ID]bool{}
	var list []*timeline.Article
	for i := range p.Commands {
		if a := p.Commands[i].Article; !seen[a.ID] {
			seen[a.ID] = true
			list = append(list, a)
		}
	}
	slices.SortFunc(list, func(a, b *timeline.Article) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID)) })
	return list
}
