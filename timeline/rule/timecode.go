package rule

import (
	"cmp"
	"fmt"
	"slices"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:    "timecode-clash",
	Summary: "the timecode ranges of two songs overlap",
	Reason: "A song claims timecode from its pre-roll to its end. Where two songs claim the same frames, a label means cues of both. The order in the " +
		"set does not matter, and alternatives clash as well: both stand in the same cue list.",
	Scope:    WholeSet,
	Severity: Error,
	Settings: []Setting{
		{Name: "gap", Default: "0", Unit: "s", Mark: timeline.Judgement, Source: "none: a margin of your own", Help: "least free timecode between two songs"},
		{Name: "step", Default: "3600", Unit: "s", Mark: timeline.CommonPractice, Source: "common practice, no source: one hour per song", Help: "proposed starts are multiples of it"},
		inRecord("song start", "", "timecode at which a song begins"),
	},
	set: checkTimecodeClash,
})

var _ = enter(Rule{
	Name:     "timecode-midnight",
	Summary:  "a song's timecode range begins before 00:00:00:00 or runs past the last label of the day",
	Reason:   "Timecode starts again at midnight: a range across it has labels that come twice or out of order.",
	Scope:    InSong,
	Severity: Error,
	song:     checkMidnight,
})

var _ = enter(Rule{
	Name:     "timecode-start",
	Summary:  "a song starts at a timecode that its frame rate does not have",
	Reason:   "Labels depend on the rate: drop frame has none of :00 and :01 in most minutes, and each rate has its own last frame number. The song is planned from 00:00:00:00 until the start is a label.",
	Scope:    InSong,
	Severity: Error,
	song:     checkStartLabel,
})

// The places of the settings of timecode-clash.
var (
	clashGap  = setting("gap", "timecode-clash")
	clashStep = setting("step", "timecode-clash")
)

// checkTimecodeClash sorts the songs by timecode and compares each with those
// whose range has not ended.
func checkTimecodeClash(r *setRun) {
	byStart := make([]int, len(r.plan.Songs))
	for i := range byStart {
		byStart[i] = i
	}
	slices.SortStableFunc(byStart, func(a, b int) int { return cmp.Compare(r.song(a).First(), r.song(b).First()) })
	most := r.settings.most(clashGap)
	var open []int
	for _, i := range byStart {
		ps := r.song(i)
		from := ps.Rate.At(ps.First())
		open = slices.DeleteFunc(open, func(o int) bool { return ps.Rate.At(r.song(o).Last())+most <= from })
		for _, o := range open {
			r.clash(o, i)
		}
		open = append(open, i)
	}
}

// clash reports two songs, of which a starts no later in timecode.
func (r *setRun) clash(a, b int) {
	first, second := r.song(a), r.song(b)
	t := r.tune(b, nil, nil)
	overlap := first.Rate.At(min(first.Last(), second.Last())) - second.Rate.At(second.First())
	if overlap+t.of(clashGap).time <= 0 || first.Song.ID == second.Song.ID || first.StartErr != nil || second.StartErr != nil {
		return
	}
	f := Finding{Ref: songRef(second.SongPlan), Others: []timeline.Ref{songRef(first.SongPlan)}}
	f.Text = fmt.Sprintf("timecode %s to %s overlaps song %s, %s to %s", second.Rate.Label(second.First()), second.Rate.Label(second.Last()),
		songName(first), first.Rate.Label(first.First()), first.Rate.Label(first.Last()))
	if overlap <= 0 {
		f.Text = fmt.Sprintf("timecode from %s leaves %s after song %s, which ends at %s", second.Rate.Label(second.First()), span(-overlap),
			songName(first), first.Rate.Label(first.Last()))
	}
	f.Values = []Value{word("first", second.Rate.Label(second.First())), word("last", second.Rate.Label(second.Last())),
		word("other first", first.Rate.Label(first.First())), word("other last", first.Rate.Label(first.Last())), seconds("overlap", overlap)}
	offset := first.Rate.At(first.First()) - second.Rate.At(second.First())
	f.Spans = []Span{{songName(second), -second.PreRoll, second.Duration},
		{songName(first), offset - second.PreRoll, offset - second.PreRoll + first.Rate.At(first.Last()) - first.Rate.At(first.First())}}
	f.Grounds = r.rule.with(clashGap, t, ofRecord(songRef(second.SongPlan), "start", second.Rate.Label(second.Start), ""),
		ofRecord(songRef(first.SongPlan), "start", first.Rate.Label(first.Start), ""))
	f.Help = "give one of them another start"
	if start, ok := r.freeStart(b, t); ok {
		f.Help += ", such as " + start.String()
		f.Fix = fixField("start the song at "+start.String(), songRef(second.SongPlan), "start", start.String())
	}
	r.add(t, b, "", f)
}

// freeStart finds the first whole step of the day, counted in labels, at which
// a song's range meets no other and does not cross midnight.
func (r *setRun) freeStart(i int, t *tuning) (timeline.Timecode, bool) {
	step := int64(t.of(clashStep).time / timeline.Second)
	if step < 1 {
		return timeline.Timecode{}, false
	}
	ps := r.song(i)
	before := ps.Rate.Ceil(ps.PreRoll + t.of(clashGap).time)
	after := ps.Rate.Ceil(ps.Duration + t.of(clashGap).time)
	for s := step; s < 24*3600; s += step {
		tc := timeline.Timecode{H: uint8(s / 3600), M: uint8(s / 60 % 60), S: uint8(s % 60)}
		start, err := ps.Rate.Frame(tc)
		if err == nil && start-before >= 0 && start+after <= ps.Rate.DayFrames() && r.isFree(i, start-before, start+after) {
			return tc, true
		}
	}
	return timeline.Timecode{}, false
}

func (r *setRun) isFree(except int, from, to int64) bool {
	for i := range r.plan.Songs {
		if ps := r.song(i); i != except && ps.First() < to && from < ps.Last() {
			return false
		}
	}
	return true
}

func checkMidnight(r *songRun) {
	p := r.plan
	if p.StartErr != nil || p.Rate.FrameTicks() == 0 || p.First() >= 0 && p.Last() <= p.Rate.DayFrames() {
		return
	}
	f := Finding{Ref: songRef(p), Song: p.Song.ID}
	f.Text = "timecode from " + p.Rate.Label(p.First()) + " to " + p.Rate.Label(p.Last()) + " crosses midnight"
	f.Values = []Value{seconds("pre-roll", p.PreRoll), seconds("length", p.Duration), word("start", p.Rate.Label(p.Start))}
	f.Help = "start the song at " + span(p.PreRoll-p.By) + " after 00:00:00:00 at the earliest"
	if p.First() >= 0 {
		f.Help = "start the song at " + p.Rate.Label(p.Rate.DayFrames()-(p.Last()-p.Start)) + " at the latest"
	}
	r.add(r.songTune(), "", f)
}

func checkStartLabel(r *songRun) {
	p := r.plan
	if p.StartErr == nil {
		return
	}
	f := Finding{Ref: songRef(p), Song: p.Song.ID, Text: "start: " + p.StartErr.Error()}
	f.Values = []Value{word("start", p.Song.Start.String()), word("rate", p.Rate.String())}
	f.Help = "give the song a start that is a label of the show's rate, such as the full hour"
	r.add(r.songTune(), "", f)
}
