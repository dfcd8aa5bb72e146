package arrival

import (
	"context"
	"slices"

	"emberbeat/shows/report/carried"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// Report tells what recordings come to, all together: what becomes of each cue, which
// findings come and go, and what the evening comes to. With a night all of it is of that
// night. With "" the evening is the tour's, and so are the findings, with those that a
// night that plays one of the songs has besides. Nothing is changed.
func (d *Desk) Report(ctx context.Context, list []*Arrival, night timeline.ID) (*carried.Report, error) {
	show := d.s.Show()
	plan := d.s.Plan(night)
	var edits []timeline.Edit
	var told []carried.Arrived
	for _, a := range list {
		if e := a.Try(); e != nil {
			edits = append(edits, e)
		}
		told = append(told, a.Told(show))
	}
	tried, err := d.s.Try(edits...)
	if err != nil {
		return nil, err
	}
	r := carried.New(plan, told)
	if len(tried.Changes()) == 0 {
		return r, nil
	}
	on := []timeline.Concern{tried.On(night)}
	if night == "" {
		on = append(on, playing(tried, list)...)
	}
	f, err := d.s.Foresee(ctx, tried, on...)
	if err != nil {
		return nil, err
	}
	r.Weigh(on, f, plan, timeline.Compile(tried.Show, on[0].Is))
	return r, nil
}

// playing gives the nights that play a song that is carried over. One that was played
// keeps the recordings that it was played with.
func playing(tried *session.Tried, list []*Arrival) (on []timeline.Concern) {
	for _, n := range tried.Show.Nights {
		if n.Entered() {
			continue
		}
		songs := timeline.Compile(tried.Show, n).Songs
		plays := func(song timeline.ID) bool {
			return slices.ContainsFunc(songs, func(ps timeline.PlanSong) bool { return ps.Song.ID == song })
		}
		if slices.ContainsFunc(list, func(a *Arrival) bool { return a.Verdict == Carries && plays(a.Song) }) {
			on = append(on, tried.On(n.ID))
		}
	}
	return on
}

// Told is what the report is told of a recording.
func (a *Arrival) Told(s *timeline.Show) carried.Arrived {
	x := carried.Arrived{File: a.File, Verdict: string(a.Verdict), Why: a.Why, Song: a.Song, Free: a.Free, Proposal: a.Proposal}
	if len(a.Alike) > 0 {
		x.Alike = a.Alike[0].Much
	}
	if a.Heard != nil {
		x.Warnings = a.Heard.Warnings
	}
	for i := range a.Starts {
		st := &a.Starts[i]
		x.Starts = append(x.Starts, carried.Start{From: st.From, Timecode: labelOf(st.Rate, st.At), Rate: st.Rate.String(), Is: st.Is, Offers: st.offered(s.Head.Rate)})
	}
	return x
}

// labelOf writes a label as sheets do, one that the rate does not have as it was read.
func labelOf(rate timeline.Rate, tc timeline.Timecode) string {
	frame, err := rate.Frame(tc)
	if err != nil {
		return tc.String()
	}
	return rate.Label(frame)
}

// AcceptAll carries over what can be, song by song, each as a step of its own; with add
// recordings of no song are added as new ones, in what timecode the others leave. It
// stops at the first that fails.
func (d *Desk) AcceptAll(ctx context.Context, list []*Arrival, add bool) error {
	for _, v := range []Verdict{Carries, NoSong} {
		for _, a := range list {
			if a.Verdict != v || v == NoSong && !add {
				continue
			}
			if _, err := d.Accept(ctx, a); err != nil {
				return err
			}
		}
	}
	return nil
}

// On gives a desk for the same show opened anew, to make there what was looked at
// here: what has changed since is refused.
func (d *Desk) On(s *session.Session) *Desk { return &Desk{s: s, songs: d.songs} }
