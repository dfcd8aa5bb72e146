package carrying

import (
	"cmp"
	"context"
	"errors"
	"image"
	"path/filepath"
	"slices"
	"strconv"

	"emberbeat/audio"
	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/shows/arrival"
	"emberbeat/shows/report/carried"
	"emberbeat/shows/report/evening"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
	"emberbeat/timeline/operation"
)

// ID is that of the page.
const ID = "carry"

// Carrying is the page with what it remembers.
type Carrying struct {
	List  []*arrival.Arrival // worst first, as they stood when they were looked at
	Songs widget.Selection   // of List
	Cues  widget.Selection   // of the rows of the chosen recording
	Lay   *render.Ribbons    // as they were drawn last; nil before
	Tab   int                // of what stands beside the cues: the sound around one, or what comes of accepting

	h     page.Host
	desk  *arrival.Desk
	busy  bool // recordings are looked at, or one is carried over
	err   error
	view  render.RibbonView
	only  string // which cues are listed
	diff  widget.Selection
	focus string // what gets the focus next

	sides []int             // oldSide or newSide, of the stretches that Hear was given last
	heard [2]render.CueWave // the sounds that Hear plays, as they were drawn last; without an area where they are not in view

	words int // counts what was said, so that what follows from it is made anew
	made  map[*arrival.Arrival]*made
	drag  *bandDrag
}

// The two recordings of which stretches are heard.
const (
	oldSide = iota
	newSide
)

// made is what follows from a proposal as it stands.
type made struct {
	proposal *carry.Proposal
	words    int
	plan     *timeline.Plan
	report   *carried.Report // of this recording alone
	rows     []row
	evening  []string // what the evening comes to, in lines
	edit     timeline.Edit
	key      string
	old, is  render.Peaks
}

// New gives the page and its commands.
func New(h page.Host) page.Family {
	p := &Carrying{h: h, made: map[*arrival.Arrival]*made{}}
	out := page.Command{ID: "carry-out", Name: "Leave the cue out", Help: "sets the chosen cue aside when its song is carried over, or takes it in again", Off: p.needWord, Run: func() { p.say(carry.Out) }}
	fine := page.Command{ID: "carry-fine", Name: "Fine as it is", Help: "says that the chosen cue stands right, or takes that back", Off: p.needPlace, Run: func() { p.say(carry.Fine) }}
	other := page.Command{ID: "carry-other", Name: "Take the other place", Help: "puts the chosen cue at the next best place, or back", Off: p.needOther, Run: func() { p.say(carry.Other) }}
	old := page.Command{ID: "carry-hear-old", Name: "Hear the old recording", Help: "plays two bars before and after the chosen cue in the old recording", Off: p.needItem, Run: func() { p.hear(true, false) }}
	is := page.Command{ID: "carry-hear-new", Name: "Hear the new recording", Help: "plays two bars before and after the place of the chosen cue in the new recording", Off: p.needItem, Run: func() { p.hear(false, true) }}
	both := page.Command{ID: "carry-hear", Name: "Hear old, then new", Help: "plays two bars before and after the chosen cue in the old recording, then in the new one", Off: p.needItem, Run: func() { p.hear(true, true) }}
	return page.Family{State: p,
		Pages: []page.Page{{ID: ID, Name: "New recordings", Part: "Songs", Draw: p.draw, Moving: p.moving, Drop: p.look,
			Help: "what became of recordings that arrived; 1 2 hear old and new, Space both, 3 takes the other place, Enter: fine, Delete leaves out",
			Acts: map[string]page.Act{"delete": out.Act(), "place": fine.Act(), "tap-1": old.Act(), "tap-2": is.Act(), "tap-3": other.Act(), "play": both.Act()}}},
		Commands: []page.Command{
			page.Does(operation.Find("carry", ""), page.Command{Group: "Cue", Off: func() string { return cmp.Or(page.NeedEdit(h), p.idle()) }, Run: p.choose}),
			{ID: "carry-accept", Name: "Accept for the song", Help: "carries the chosen song over to its new recording, as one step that can be undone; a recording of no song becomes a new one", Keys: []string{"Shift+Enter"}, Off: p.needAccept, Run: p.accept},
			{ID: "carry-sure", Name: "Carry the sure ones alone", Help: "carries the chosen song over with the cues that are sure, and sets the others aside", Off: p.needSure, Run: p.acceptSure},
			{ID: "carry-start", Name: "Start where the recording says", Help: "has the song start at the timecode that its new recording says, or leaves it where it starts", Off: p.needStart, Run: p.flipStart},
			{ID: "carry-copies", Name: "Take the copies", Help: "puts the chosen cue also at the other places at which its music is heard now; with none chosen all cues", Off: p.needCopies, Run: p.copies},
			{ID: "carry-unlock", Name: "Let ribbons go", Help: "forgets which stretches were placed by hand", Off: p.needLocked, Run: func() { p.place(nil) }},
			both, old, is, fine, other, out,
		}}
}

// choose lets recordings be chosen, and brings the page into view.
func (p *Carrying) choose() {
	p.h.Turn(ID)
	p.h.ChooseRecordings("Recordings that arrived", "Look at them", p.look)
}

// look says of recordings what they are to the show, beside the window.
func (p *Carrying) look(names []string) {
	if why := cmp.Or(page.NeedEdit(p.h), p.idle()); why != "" {
		p.h.Warn(why)
		return
	}
	files, err := arrival.Files(names)
	if err != nil {
		p.h.Warn(err.Error())
		return
	}
	if p.desk == nil {
		p.desk = p.h.Arrivals()
	}
	name := "listening to " + filepath.Base(files[0])
	if len(files) > 1 {
		name = "listening to " + timeline.Counted(len(files), "recording")
	}
	p.busy, p.err = true, nil
	p.h.Meanwhile(name, func(ctx context.Context, progress func(float64)) (func(), error) {
		list, err := p.desk.Look(ctx, files, arrival.Options{Progress: arrival.Whole(len(files), progress)})
		return func() { p.arrived(list) }, err
	}, p.ended)
}

// ended is told when that is over.
func (p *Carrying) ended(err error) {
	if p.busy, p.err = false, err; errors.Is(err, context.Canceled) {
		p.err = nil
	}
}

// arrived lists recordings that were looked at, worst first.
func (p *Carrying) arrived(list []*arrival.Arrival) {
	slices.SortStableFunc(list, func(a, b *arrival.Arrival) int {
		lost, look := counts(a)
		lost2, look2 := counts(b)
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(lost2, lost), cmp.Compare(look2, look))
	})
	p.List, p.made = list, map[*arrival.Arrival]*made{}
	p.Songs.Only(0)
	p.Cues, p.only, p.focus = widget.Selection{}, "", "songs"
	if len(list) == 1 {
		p.focus = "cues"
	}
	p.h.Turn(ID)
	p.h.Again()
}

// rank orders verdicts: what stops first.
func rank(a *arrival.Arrival) int {
	return slices.Index([]arrival.Verdict{arrival.Unread, arrival.Refused, arrival.Carries, arrival.NoSong, arrival.Same}, a.Verdict)
}

func counts(a *arrival.Arrival) (lost, look int) {
	if a.Proposal == nil {
		return 0, 0
	}
	c := a.Proposal.Counts()
	return c.Lost, c.Look
}

// Chosen gives the recording whose row is chosen, or nil.
func (p *Carrying) Chosen() *arrival.Arrival {
	rows := p.Songs.Rows()
	if p.h.Show() == nil || len(rows) != 1 || rows[0] >= len(p.List) {
		return nil
	}
	return p.List[rows[0]]
}

// of gives what follows from a recording's proposal as it stands. Where its song was changed since, the proposal is made anew.
func (p *Carrying) of(a *arrival.Arrival) *made {
	m := p.made[a]
	if m == nil {
		m = &made{}
		p.made[a] = m
	}
	show := p.h.Show()
	if a.Proposal != nil && !p.busy && !a.Accepted(show) && m.plan != p.h.Plan() {
		if g := show.Song(a.Song); g != nil && g != a.Proposal.Song && g.Audio.FileHash == a.Proposal.Song.Audio.FileHash {
			if err := p.desk.Place(a, a.Locked()); err != nil {
				p.h.Warn(err.Error())
			}
		}
	}
	if m.report != nil && m.proposal == a.Proposal && m.words == p.words && m.plan == p.h.Plan() {
		return m
	}
	fresh := m.proposal != a.Proposal || m.report == nil
	m.proposal, m.words, m.plan = a.Proposal, p.words, p.h.Plan()
	m.report = carried.New(m.plan, []carried.Arrived{a.Told(show)})
	if fresh {
		m.rows = rowsOf(a)
		if a.Proposal != nil {
			_, peaks := p.desk.Old(a.Song)
			m.old, m.is = peaksOf(peaks), peaksOf(a.Heard.Peaks)
		}
	}
	for i := range m.rows {
		m.rows[i].line = lineOf(m.report, m.rows[i].item)
	}
	m.edit, m.evening = nil, nil
	if a.Proposal != nil && !p.busy && !a.Accepted(show) {
		m.edit = a.Try()
		m.key = "carry " + a.File + " " + strconv.Itoa(p.words) + " " + strconv.FormatInt(int64(len(a.Locked())), 10)
		if is, err := show.Edit(m.edit); err == nil {
			night := m.plan.Night
			if night != nil {
				night = is.Night(night.ID)
			}
			m.evening = evening.Compare(m.plan, timeline.Compile(is, night)).Lines()
		}
	}
	return m
}

// peaksOf makes the sound of a recording drawable, nil where there is none.
func peaksOf(p *audio.Pyramid) render.Peaks {
	if p == nil {
		return nil
	}
	return &pyramid{p: p}
}

// pyramid is the sound of a recording as pictures ask for it.
type pyramid struct {
	p    *audio.Pyramid
	room []audio.Peak
}

func (y *pyramid) Columns(from, to timeline.Time, out []render.Column) {
	if cap(y.room) < len(out) {
		y.room = make([]audio.Peak, len(out))
	}
	peaks := y.room[:len(out)]
	y.p.Range(from.Samples(y.p.Rate), to.Samples(y.p.Rate), peaks)
	for i, k := range peaks {
		out[i] = render.Column(k)
	}
}

// draw shows the recordings, and of the chosen one what is between it and the old one.
func (p *Carrying) draw(r image.Rectangle) {
	u := p.h.UI()
	p.heard = [2]render.CueWave{}
	p.keys()
	k := u.Stack(r, 6)
	p.h.Buttons(&k, "carry", "carry-accept", "carry-sure", "carry-start", "carry-copies", "carry-unlock")
	if len(p.List) == 0 {
		text := "No recording was looked at yet. Press Carry over to a new recording… and choose one, several, or a folder of them; or drop them here. Each is matched to its song by what is heard, and nothing is changed before you accept it."
		if p.busy {
			text = "The recordings are listened to and compared with those of the show; the rest of the window can be used. What comes of it stands here."
		} else if p.err != nil {
			text = page.Upper(p.err.Error()) + ". Nothing was changed."
		}
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, text)
		return
	}
	high := k.Rest().Dy() * 100 / int(u.Scene().Scale)
	p.songs(k.Top(widget.LineHeight*(min(len(p.List), max(high/150, 1))+1) + 4))
	a := p.Chosen()
	if a == nil {
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkFaint, "Choose a recording above: then stands here what carrying its song over comes to.")
		return
	}
	m := p.of(a)
	f := &m.report.Files[0]
	if a.Proposal == nil {
		text := page.Upper(f.Sentence()) + "."
		for _, line := range f.More() {
			text += " " + page.Upper(line) + "."
		}
		switch {
		case a.Verdict == arrival.NoSong && a.Accepted(p.h.Show()):
			text = "It is the song “" + songName(p.h.Show(), a) + "” now; undo takes that back."
		case a.Verdict == arrival.NoSong:
			text += " Accept it with " + p.h.Key("carry-accept") + ": it is added as a new song."
		}
		u.Paragraph(k.Rest(), render.TypeLabel, render.InkText, text)
		return
	}
	p.ribbons(k.Top(min(max(high*36/100, 150), 270)), a, m)
	area := k.Rest()
	half := u.Stack(area, 10)
	wide := area.Dx() * 100 / int(u.Scene().Scale)
	if wide > 560 {
		p.beside(half.Right(min(max(wide*36/100, 250), 420)), a, m)
	}
	p.cues(half.Rest(), a, m)
}

// keys gives the keys of the page to its commands before a table takes them for letters.
func (p *Carrying) keys() {
	u := p.h.UI()
	if p.h.Fresh() && len(p.List) > 0 && p.focus == "" {
		p.focus = "cues"
	}
	if u.Typing() || u.Modal() {
		return
	}
	for key, command := range map[widget.Key]string{widget.Key1: "carry-hear-old", widget.Key2: "carry-hear-new", widget.Key3: "carry-other"} {
		if u.Take(key, 0) {
			u.Input().Text = nil
			p.h.Use(command)
		}
	}
}
