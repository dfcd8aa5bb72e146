package song

import (
	"fmt"

	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/together"
)

// removal takes a stretch out of a song's plan: cues in it go, later ones come earlier. What lies on the recording stays: it still sounds as it did.
type removal struct {
	song     *timeline.Song
	from, to timeline.Time
	beats    timeline.Rat // that the stretch is long, where it goes from beat to beat; else 0
	gone     []*timeline.Cue
	later    []*timeline.Cue // as they are
}

func newRemoval(song *timeline.Song, from, to timeline.Time) *removal {
	r := &removal{song: song, from: from, to: to}
	if a, b := song.Beats.Snap(from, grids[2].step), song.Beats.Snap(to, grids[2].step); !song.Beats.Empty() &&
		song.Beats.At(a).RoundTo(timeline.EntryStep) == from.RoundTo(timeline.EntryStep) && song.Beats.At(b).RoundTo(timeline.EntryStep) == to.RoundTo(timeline.EntryStep) {
		r.beats = beatsBetween(song.Beats, a, b)
	}
	for _, q := range song.Cues {
		switch at, ok := q.At.In(song.Beats); {
		case !ok || at < from:
		case at < to:
			r.gone = append(r.gone, q)
		default:
			r.later = append(r.later, q)
		}
	}
	return r
}

// earlier gives the place of a later cue once the stretch is gone: whole beats earlier where it stands on beats and the stretch does as well.
func (r *removal) earlier(m timeline.Moment) timeline.Moment {
	if m.OnBeat && !r.beats.IsZero() {
		return timeline.AtBar(together.Stepped(r.song.Beats, m.Bar, r.beats.Neg()))
	}
	return together.Shifted(m, r.from-r.to, r.song.Beats)
}

// change gives the step, unless a lock keeps one of the cues where it is.
func (r *removal) change() (change, error) {
	if err := errLocked(r.song, append(r.gone[:len(r.gone):len(r.gone)], r.later...)); err != nil {
		return change{}, err
	}
	moved := cloned(r.later)
	for _, q := range moved {
		q.At = r.earlier(q.At)
	}
	remove := func(d *timeline.Draft) error {
		for _, q := range r.gone {
			if err := d.Remove(timeline.Ref{Kind: "cue", Song: r.song.ID, ID: q.ID}); err != nil {
				return err
			}
		}
		return nil
	}
	return change{fmt.Sprintf("remove %s to %s", r.from.Clock(1), r.to.Clock(1)), []timeline.Edit{remove, putCues(r.song.ID, moved)}}, nil
}

// said tells what goes, what moves and what stays.
func (r *removal) said() string {
	by := (r.to - r.from).Text(2) + " s"
	if !r.beats.IsZero() {
		by = r.beats.String() + " beats (" + by + ")"
	}
	return fmt.Sprintf("Take %s to %s out of the plan: %s in it go, and %s after it come %s earlier. The recording, its beats, sections and markers stay as they are.",
		r.from.Clock(2), r.to.Clock(2), timeline.Counted(len(r.gone), "cue"), timeline.Counted(len(r.later), "cue"), by)
}

// removeDialog says what removing time moves, before it does.
type removeDialog struct{}

func (d *removeDialog) draw(sp *Page) bool {
	v := sp.work().View()
	r := newRemoval(sp.work().InView(), v.Loop.From, v.Loop.To)
	choice, ok := sp.h.UI().Ask("remove-time", widget.Question{Title: "Remove time", Text: r.said(), Choices: []widget.Choice{{Label: "Remove"}, {Label: "Cancel", Main: true}}})
	if ok && choice == 0 {
		sp.made(r.change())
	}
	return ok
}

func (sp *Page) askRemoveTime() { sp.open(&removeDialog{}) }
