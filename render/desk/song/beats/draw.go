package beats

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
)

// Draw puts the controls on the strip: tools, locks, the foot. It takes the keys that have a meaning of their own here, once no control has
// taken them.
func (s *Strip) Draw(l *render.SongLayout) {
	if !s.Open() || s.view == nil {
		return
	}
	u := s.h.UI()
	u.Push("beats")
	s.head(image.Rect(l.Tools.Min.X, l.Tools.Min.Y, l.Left, l.Tools.Max.Y))
	s.tools(image.Rect(l.Left, l.Tools.Min.Y, l.Tools.Max.X, l.Tools.Max.Y))
	s.gutter(image.Rect(l.Wave.Min.X, l.Wave.Min.Y, l.Left, l.Wave.Max.Y))
	s.foot(l.Keep)
	u.Pop()
	s.keys()
}

func (s *Strip) head(r image.Rectangle) {
	u := s.h.UI()
	k := u.Stack(u.Inset(r, 6), 0)
	k.Left(6)
	u.Label(k.Top(18), render.TypeStrong, render.InkText, "Beat strip")
	u.Label(k.Top(16), render.TypeSmall, render.InkSecondary, s.h.Key("beat-strip")+" closes · Esc takes back")
}

// tool is a button of the strip for a command.
type tool struct{ command, label string }

var tools = []tool{
	{"grid-double", "×2"}, {"grid-half", "÷2"}, {"grid-three-two", "3:2"}, {"grid-beat-back", "Beat earlier"}, {"grid-beat-on", "Beat later"}, {"grid-half-beat", "Half a beat"},
	{"grid-bar-one", "Bar 1 here"}, {"grid-tap", "Tap the beat"}, {"grid-split", "Split here"},
}

// tools draws the row of tools; what does not fit is in the menu of the last button.
func (s *Strip) tools(r image.Rectangle) {
	u := s.h.UI()
	k := u.Stack(image.Rect(r.Min.X, r.Min.Y+u.Px(6), r.Max.X, r.Max.Y-u.Px(6)), 5)
	fields := k.Right(min(232, r.Dx()*100/int(u.Scene().Scale)/2))
	s.fields(fields)
	var hidden []string
	for i, t := range tools {
		w := u.ButtonWidth(t.label)
		if len(t.label) <= 4 {
			w = 44
		}
		more := 0
		if i+1 < len(tools) {
			more = 44
		}
		if len(hidden) > 0 || k.Rest().Dx() < u.Px(w+more) {
			hidden = append(hidden, t.command)
			continue
		}
		used := u.Off(s.h.Off(t.command)).Button(t.command, k.Left(w), t.label)
		u.Tip(t.label, s.h.Key(t.command))
		if used {
			s.h.Use(t.command)
		}
	}
	if len(hidden) == 0 {
		return
	}
	if at := k.Left(44); u.Button("more", at, "⋯") {
		u.OpenMenu("more-menu", at)
	}
	s.h.Menu("more-menu", hidden...)
}

// fields draws tempo and metre.
func (s *Strip) fields(r image.Rectangle) {
	u := s.h.UI()
	k := u.Stack(r, 6)
	beats := s.Beats()
	at := s.h.Heard()
	bpm := ""
	if !beats.Empty() {
		bpm = grid.TempoOf(beats, at).String()
	}
	u.Label(k.Left(46), render.TypeSmall, render.InkSecondary, "Tempo")
	e := u.TextField("tempo", k.Left(88), bpm, widget.TextSpec{Unit: "bpm", Hint: "124", Check: func(text string) error {
		_, err := grid.ParseBPM(text)
		return err
	}})
	if e.Committed {
		s.tempo(e.Text)
	}
	if e.Enter {
		u.Blur() // the next one keeps
	}
	metres := []string{"4/4", "3/4", "2/4", "5/4", "6/8", "7/8", "9/8", "12/8"}
	now := -1
	if !beats.Empty() {
		m := beats.MetreAt(1).String()
		for i, text := range metres {
			if text == m {
				now = i
			}
		}
		if now < 0 {
			metres, now = append(metres, m), len(metres)
		}
	}
	if got, changed := u.Dropdown("metre", k.Left(80), metres, now); changed {
		if m, err := timeline.ParseMetre(metres[got]); err == nil {
			s.Try(grid.Correction{Kind: grid.Metre, Metre: m})
		}
	}
}

// tempo tries a tempo that was typed: of a grid of one tempo for all of it, of others for the stretch where the playhead is. A song without
// beats has its bar 1 there.
func (s *Strip) tempo(text string) {
	bpm, err := grid.ParseBPM(text)
	if err != nil {
		s.h.Warn(err.Error())
		return
	}
	c := grid.Correction{Kind: grid.Tempo, BPM: bpm}
	if m := s.Beats(); m.Empty() || len(m.Anchors()) > 2 {
		c.Here, c.At = true, s.h.Heard()
	}
	s.Try(c)
}

// gutter draws the locks and the button to listen again at the foot of the gutter beside the sound.
func (s *Strip) gutter(r image.Rectangle) {
	u := s.h.UI()
	k := u.Stack(u.Inset(r, 8), 4)
	if r.Dy() < u.Px(150+4*26+30) {
		return // the commands are in the menu
	}
	if u.Button("listen", k.Bottom(28), "Listen again") {
		s.Listen()
	}
	u.Tip("Listens to the recording again; what is locked stays", s.h.Key("grid-listen"))
	g := s.h.Work().Session.Show().Song(s.song)
	if g == nil {
		return
	}
	locks := s.locksNow(g)
	names := map[grid.Lockable]string{grid.LockTempo: "Tempo", grid.LockMetre: "Metre", grid.LockBarOne: "Bar 1", grid.LockStretch: "Loop's stretch"}
	list := grid.Lockables()
	for i := len(list) - 1; i >= 0; i-- {
		what := list[i]
		on := locks.Has(what)
		if u.Toggle("lock-"+string(what), k.Bottom(24), names[what]+" locked", on) != on {
			s.Lock(what)
		}
	}
}

// foot says what was tried and what comes of it, with the ways to end.
func (s *Strip) foot(r image.Rectangle) {
	u := s.h.UI()
	k := u.Stack(u.Inset(r, 8), 8)
	said := image.Rectangle{}
	if r.Dx() < u.Px(render.NarrowKeep) {
		k = u.Stack(u.Inset(r, 8), 4)
		said = k.Top(36)
		k = u.Stack(k.Rest(), 8)
	}
	trying := s.Trying()
	if u.MainButton("keep-confirm", k.Right(u.ButtonWidth("Keep, confirm")+12), "Keep, confirm") {
		s.Keep(true)
	}
	u.Tip("Keeps what was tried, and says that the beats are right", "Shift+Enter")
	if u.Off(offUnless(trying)).Button("keep", k.Right(u.ButtonWidth("Keep  Enter")), "Keep  Enter") {
		s.Keep(false)
	}
	if u.Button("leave", k.Right(u.ButtonWidth("Leave as it was")), "Leave as it was") {
		s.LeaveAsItWas()
	}
	if said.Empty() {
		said = k.Rest()
		said.Min.X += u.Px(4)
	}
	first, second := s.said(trying)
	half := said
	half.Max.Y = (said.Min.Y + said.Max.Y) / 2
	u.Label(half, render.TypeLabel, render.InkText, first)
	half.Min.Y, half.Max.Y = half.Max.Y, said.Max.Y
	u.Label(half, render.TypeSmall, render.InkSecondary, second)
}

// said tells what was tried and what comes of it, the cues first.
func (s *Strip) said(trying bool) (first, second string) {
	if !trying {
		return "Nothing is tried yet.", "Drag a bar line, or use the tools above: the sound never moves, the grid does."
	}
	first, second = "Not kept yet: locks", ""
	if s.view.Tried != "" || s.view.Comes != "" {
		first = "Not kept yet: " + s.view.Comes
		second = "Tried: " + s.view.Tried + "."
	}
	label, edits := s.edits(false)
	if s.dragged != nil || len(edits) == 0 {
		return first, second
	}
	f := s.h.Work().Foresee(label+s.view.Comes, edits...)
	switch {
	case f == nil || !f.Done:
		second += " Looking which findings come and go…"
	case f.Err != nil:
		second += " " + f.Err.Error()
	default:
		second += " " + findingsText(len(f.Findings.New), len(f.Findings.Gone))
	}
	return first, second
}

// findingsText says how many findings come and go.
func findingsText(come, gone int) string {
	count := func(n int, one, many string) string {
		switch n {
		case 0:
			return "none " + one
		case 1:
			return "1 " + one
		}
		return strconv.Itoa(n) + " " + many
	}
	if come == 0 && gone == 0 {
		return "No finding comes or goes."
	}
	return "Findings: " + count(gone, "goes", "go") + ", " + count(come, "comes", "come") + "."
}

func offUnless(on bool) string {
	if on {
		return ""
	}
	return "nothing is tried yet"
}

// keys takes the keys of the strip.
func (s *Strip) keys() {
	u := s.h.UI()
	if u.Modal() || s.h.Dragging() {
		return
	}
	for i := range grid.MostReadings {
		if u.Take(widget.Key1+widget.Key(i), 0) {
			s.Take(i)
		}
	}
	switch {
	case u.Take(widget.KeyEnter, 0):
		s.Keep(false)
	case u.Take(widget.KeyEnter, widget.Shift):
		s.Keep(true)
	case u.Take(widget.KeyEscape, 0):
		s.Back()
	case u.Take(widget.KeyUp, 0):
		s.Step(-1)
	case u.Take(widget.KeyDown, 0):
		s.Step(1)
	}
}
