package carrying

import (
	"context"
	"fmt"
	"image"
	"path/filepath"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/arrival"
	"emberbeat/timeline"
)

// songs lists the recordings with what carrying their songs over comes to.
func (p *Carrying) songs(r image.Rectangle) {
	u, show := p.h.UI(), p.h.Show()
	if p.focus == "songs" {
		u.Focus("songs")
		p.focus = ""
	}
	cell := func(a *arrival.Arrival, col int) string {
		f := &p.of(a).report.Files[0]
		switch col {
		case 0:
			return songName(show, a)
		case 1:
			return filepath.Base(a.File)
		case 2:
			if f.Recording != nil {
				return page.Upper(f.Recording.Answer)
			}
			return page.Upper(a.Why)
		case 6:
			return startText(show, a, f.Start)
		case 7:
			return state(show, a)
		}
		if a.Proposal == nil {
			return ""
		}
		return fmt.Sprint([]int{f.Counts.Sure, f.Counts.Look, f.Counts.Lost}[col-3])
	}
	spec := widget.TableSpec{Rows: len(p.List),
		Columns: []widget.Column{{Title: "Song", Width: 130}, {Title: "Recording", Width: 120}, {Title: "What was done to it"}, {Title: "Sure", Width: 44, Right: true}, {Title: "Look", Width: 44, Right: true},
			{Title: "Lost", Width: 44, Right: true}, {Title: "Start", Width: 110}, {Title: "", Width: 100}},
		Cell: func(b []byte, row, col int) []byte { return append(b, cell(p.List[row], col)...) },
		Ink: func(row int) render.Ink {
			if p.List[row].Accepted(show) {
				return render.InkSecondary
			}
			return render.InkText
		}}
	e := u.Table("songs", r, &p.Songs, &spec)
	if e.Changed {
		p.Cues, p.only = widget.Selection{}, ""
	}
	if e.Used {
		p.focus = "cues"
		p.h.Again()
	}
}

func songName(show *timeline.Show, a *arrival.Arrival) string {
	if g := show.Song(a.Song); g != nil {
		return g.FullTitle()
	}
	if a.Verdict == arrival.NoSong {
		return "a new song"
	}
	return ""
}

// startText says where a song starts, and where its recording says that it does.
func startText(show *timeline.Show, a *arrival.Arrival, start string) string {
	s := a.Offered(show.Head.Rate)
	switch {
	case s == nil || a.Proposal == nil:
		return start
	case a.Proposal.Start != nil:
		return start + " taken"
	}
	return "says " + s.At.String()
}

// state says how a recording stands.
func state(show *timeline.Show, a *arrival.Arrival) string {
	switch {
	case a.Accepted(show) && a.Verdict == arrival.NoSong:
		return "added"
	case a.Accepted(show):
		return "carried over"
	case a.Verdict == arrival.Carries:
		return "to accept"
	case a.Verdict == arrival.NoSong:
		return "new song"
	case a.Verdict == arrival.Same:
		return "as it is"
	}
	return string(a.Verdict)
}

// idle says why nothing can be begun, "" where it can.
func (p *Carrying) idle() string {
	if p.busy {
		return "recordings are worked on; wait for that, or cancel it"
	}
	return ""
}

const chooseSong = "choose a recording on the page New recordings first"

// needProposal asks for a recording that is not carried over yet, and can be.
func (p *Carrying) needProposal() string {
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	a := p.Chosen()
	switch {
	case a == nil:
		return chooseSong
	case a.Accepted(p.h.Show()):
		return "the song is carried over already; undo takes that back"
	case a.Proposal == nil:
		return a.Why
	}
	return p.idle()
}

func (p *Carrying) needAccept() string {
	if a := p.Chosen(); a != nil && a.Verdict == arrival.NoSong && page.NeedEdit(p.h) == "" && !a.Accepted(p.h.Show()) {
		return p.idle()
	}
	return p.needProposal()
}

func (p *Carrying) needSure() string {
	why := p.needProposal()
	if why == "" && p.Chosen().Proposal.Counts().Look == 0 {
		return "no cue has to be looked at: accept the song"
	}
	return why
}

func (p *Carrying) needStart() string {
	why := p.needProposal()
	if why == "" && p.Chosen().Offered(p.h.Show().Head.Rate) == nil {
		return "the recording says no other start of timecode that the show could take"
	}
	return why
}

func (p *Carrying) needLocked() string {
	why := p.needProposal()
	if why == "" && len(p.Chosen().Locked()) == 0 {
		return "no ribbon was placed by hand: drag one"
	}
	return why
}

// flipStart takes the start that the recording says, or leaves it.
func (p *Carrying) flipStart() {
	a := p.Chosen()
	if a.Proposal.Start != nil {
		a.Proposal.Start = nil
	} else {
		at := a.Offered(p.h.Show().Head.Rate).At
		a.Proposal.Start = &at
	}
	p.said()
}

// said has what follows from the proposals made anew.
func (p *Carrying) said() {
	p.words++
	p.h.Again()
}

// accept carries the chosen song over beside the window, since its recording is copied.
func (p *Carrying) accept() {
	a := p.Chosen()
	p.busy = true
	p.h.Meanwhile("copying "+filepath.Base(a.File), func(ctx context.Context, _ func(float64)) (func(), error) {
		song, err := p.desk.Accept(ctx, a)
		return func() {
			a.Song = song
			p.said()
			p.h.Made(arrival.Label(a))
			if a.Verdict == arrival.Carries && p.Songs.Cursor+1 < len(p.List) {
				p.focus = "songs"
			}
		}, err
	}, func(error) { p.busy = false })
}

// acceptSure leaves out what would have to be looked at, and accepts the song.
func (p *Carrying) acceptSure() {
	p.Chosen().Proposal.OnlySure()
	p.said()
	p.accept()
}
