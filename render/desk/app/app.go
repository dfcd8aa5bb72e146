package app

import (
	"fmt"
	"image"
	"io"
	"slices"
	"strings"
	"sync"
	"time"

	"emberbeat/render"
	"emberbeat/render/desk/cost"
	"emberbeat/render/desk/export"
	"emberbeat/render/desk/fromfile"
	"emberbeat/render/desk/inspector"
	"emberbeat/render/desk/keymap"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/play"
	"emberbeat/render/desk/prefs"
	"emberbeat/render/desk/ribbon"
	"emberbeat/render/desk/song"
	"emberbeat/render/widget"
)

// Options are what the window's surroundings lend the App. All of them may be left out.
type Options struct {
	Sound play.OpenDevice  // nil = there is no sound device
	Clip  widget.Clipboard // nil = one of the program's own
	Wake  func()           // asks for a frame; called from any goroutine
	Now   func() time.Time // nil = time.Now
	State string           // folder for what belongs to the user; "" = nothing is kept
	Debug io.Writer        // gets a line for each change of state; nil = none
}

// App is the program behind the window. It belongs to the goroutine that calls Frame; only what it hands to Options.Wake and the
// functions given to post come from elsewhere.
type App struct {
	stockRead stockRead
	files     fromfile.Reader // that forms name
	o         Options
	ui        *widget.UI
	faces     *render.Faces
	prefs     prefs.Prefs
	keys      *keymap.Map

	queueLock sync.Mutex
	posted    []func()

	size   image.Point
	device render.Scale // of the display
	in     widget.Input
	toldIn devices // as told last
	now    time.Time

	work      *openshow.Work // nil on the start page
	elsewhere bool           // another program has it open
	gesture   page.Gesture   // nil when none
	note      note
	jobs      []*job
	panel     panels
	book      book
	pages     []page.Page // of the book, in the order of their list
	families  []page.Family
	table     []command // all commands, in the order of menus
	wrote     written   // by exports
	lastAsk   export.Ask
	joined    joinedFindings

	exportFolder string // of the last export; "" = beside the show

	song      *song.Page
	ribbon    *ribbon.Ribbon
	inspector *inspector.Inspector
	scenes    scenes
	again     bool // something changed after it was drawn
	quit      bool
	full      bool
	dialog    dialog // that stands open, or nil

	gone   map[string]bool // recent shows that are not there
	goneAt time.Time

	cost     cost.Counter
	counting bool // it is shown

	theme     *render.Theme
	shade     shade
	nightStep int // of the theme key, on pages that are looked at by night
}

// scenes are what a frame shows besides the song: the panels around and over it, and what moves.
type scenes struct{ panels, moving *render.Scene }

// note is what the middle of the status bar says.
type note struct {
	text  string
	bad   bool
	until time.Duration // a bad one goes then
}

// New gives an App on its start page.
func New(o Options) *App {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Wake == nil {
		o.Wake = func() {}
	}
	a := &App{o: o, faces: render.NewFaces()}
	a.ui = widget.New(a.faces, o.Clip)
	a.scenes = scenes{panels: render.NewScene(a.faces), moving: render.NewScene(a.faces)}
	a.prefs = prefs.Load(o.State)
	a.song, a.ribbon, a.inspector = song.New(a, o.Sound), ribbon.New(a), inspector.New(a)
	a.newPages()
	a.table = a.commands()
	a.keys = keymap.Load(o.State, keysOf(a.table))
	return a
}

// post hands the window's goroutine something to do. It may be called from any goroutine.
func (a *App) post(f func()) {
	a.queueLock.Lock()
	a.posted = append(a.posted, f)
	a.queueLock.Unlock()
	a.o.Wake()
}

// drain does what was posted.
func (a *App) drain() bool {
	a.queueLock.Lock()
	posted := a.posted
	a.posted = nil
	a.queueLock.Unlock()
	for _, f := range posted {
		f()
	}
	return len(posted) > 0
}

// say tells of a change of state, for tests and bug reports.
func (a *App) say(format string, args ...any) {
	if a.o.Debug != nil {
		fmt.Fprintf(a.o.Debug, format+"\n", args...)
	}
}

// sayTaken tells what the user did, after all that it changed at once, so that a test that waits for it knows what has been done.
func (a *App) sayTaken(in widget.Input) {
	if a.o.Debug == nil {
		return
	}
	was := a.toldIn
	a.toldIn = devices{in.Pointer, in.Down, in.Mods}
	if a.toldIn == was && in.Wheel == (image.Point{}) && len(in.Keys)+len(in.Text) == 0 {
		return
	}
	var keys []string
	for _, k := range in.Keys {
		keys = append(keys, widget.Press{Key: k.Key, Mods: k.Mods}.String())
	}
	a.say("took %d,%d buttons=%d mods=%d clicks=%d ms=%d keys=%s text=%q",
		in.Pointer.X, in.Pointer.Y, in.Down, in.Mods, in.Clicks, in.Time.Milliseconds(), strings.Join(keys, ","), string(in.Text))
}

// devices is what of the user's hands lasts from frame to frame.
type devices struct {
	pointer image.Point
	down    widget.Buttons
	mods    widget.Mods
}

// Scale gives the scale of everything: the display's times the user's.
func (a *App) Scale() render.Scale { return a.device * render.Scale(a.prefs.Factor) / 100 }

// Theme gives the colours: those of the theme, at night as dark as the user has them. It is another pointer whenever they change.
func (a *App) Theme() *render.Theme {
	if want := (shade{a.themeAt(), a.prefs.Dim}); a.theme == nil || a.shade != want {
		t := themes[want.theme]
		if t.Name == render.Night.Name {
			t = t.Dimmed(want.dim)
		}
		a.theme, a.shade = &t, want
	}
	return a.theme
}

// themeAt gives the place of the theme among all.
func (a *App) themeAt() int {
	if p := a.inBook(); p != nil && p.Night {
		return (nightTheme + a.nightStep) % len(themes)
	}
	return a.prefs.Theme % len(themes)
}

// nightTheme is the place of Night among the themes.
var nightTheme = slices.IndexFunc(themes, func(t render.Theme) bool { return t.Name == render.Night.Name })

// shade is what the colours depend on.
type shade struct{ theme, dim int }

var themes = render.Themes()

// Frame is one picture of the window.
type Frame struct {
	Song   *render.Scene // at the bottom; nil where there is none
	Serial int           // the song's scene has changed when this has
	Panels *render.Scene // over it
	Moving *render.Scene // what changes while the song plays; over the panels, or under them while a dialog stands open
	Below  bool          // Moving lies under Panels
	Theme  *render.Theme
}

// Frame takes what the user did and gives what is to be seen. size is in device pixels.
func (a *App) Frame(in widget.Input, size image.Point, device render.Scale) Frame {
	defer a.worked(time.Now())
	a.now = a.o.Now()
	if size != a.size || device != a.device {
		a.size, a.device = size, device
		a.say("size %dx%d scale=%d", size.X, size.Y, device)
	}
	a.pass(in)
	for n := 0; a.again && n < 4; n++ {
		a.again = false
		a.pass(still(in))
	}
	a.again = false
	a.sayTaken(in)
	f := Frame{Panels: a.scenes.panels, Moving: a.scenes.moving, Theme: a.Theme(), Below: a.ui.Modal(), Serial: a.song.Serial()}
	if a.work != nil && a.work.Data != nil && a.book.at == "" {
		f.Song = a.song.Scene()
	}
	return f
}

// still gives an input in which nothing happens any more.
func still(in widget.Input) widget.Input {
	in.Pressed, in.Released, in.Wheel, in.Keys, in.Text, in.Clicks = 0, 0, image.Point{}, nil, nil, 0
	return in
}

// pass runs the page once.
func (a *App) pass(in widget.Input) {
	a.in = in
	a.drain()
	a.tick()
	a.scenes.panels.Reset(a.size, a.Scale())
	a.scenes.moving.Reset(a.size, a.Scale())
	a.song.Begin()
	a.ribbon.Begin()
	a.ui.Begin(&a.in, a.scenes.panels, a.Theme())
	if a.work == nil {
		a.startPage()
	} else {
		a.showPage()
	}
	a.dialogs()
	a.ui.End()
	a.dispatch(a.ui.Left())
	a.drawMoving()
}

// Move gives the frame with only that redrawn which moves while nothing is done. It reports whether anything moves.
func (a *App) Move() bool {
	defer a.worked(time.Now())
	a.now = a.o.Now()
	moving := a.tick()
	a.scenes.moving.Reset(a.size, a.Scale())
	a.drawMoving()
	return moving || a.pageRuns()
}

// drawMoving draws what moves: of the song, of the ribbon above it, and of the page in view; of a page that fills the window, that alone.
func (a *App) drawMoving() {
	defer a.drawCost()
	p := a.inBook()
	if p != nil && p.Whole && p.Moving != nil {
		p.Moving(a.scenes.moving)
		return
	}
	a.song.DrawMoving(a.scenes.moving)
	a.ribbon.DrawMoving(a.scenes.moving)
	if p != nil && p.Moving != nil && !a.ui.Modal() {
		p.Moving(a.scenes.moving)
	}
}

// Due says when the next frame is wanted though nothing is done: at once while something moves, later for a caret or a tip, or never.
func (a *App) Due(now time.Duration) (wait time.Duration, ok bool) {
	if a.again || a.Moving() {
		return 0, true
	}
	at, ok := a.ui.Wake()
	return max(at-now, 0), ok
}

// Moving reports whether something moves: the song plays, or is just fading.
func (a *App) Moving() bool {
	return a.song.Moving() || a.pageRuns()
}

// pageRuns reports whether anything moves on the page in view.
func (a *App) pageRuns() bool {
	p := a.inBook()
	return p != nil && p.Runs != nil && p.Runs()
}

// Turned reports whether Move has changed more than what moves: the page turned, the song ended, a check came back.
func (a *App) Turned() bool { return a.again }

// Waiting reports whether there is work posted for the next frame.
func (a *App) Waiting() bool {
	a.queueLock.Lock()
	defer a.queueLock.Unlock()
	return len(a.posted) > 0
}

// Quit reports whether the program should end.
func (a *App) Quit() bool { return a.quit }

// Fullscreen reports whether the window should fill the screen.
func (a *App) Fullscreen() bool { return a.full }

// Title gives the window's title.
func (a *App) Title() string {
	if a.work == nil {
		return "emberbeat"
	}
	mark := ""
	if a.work.Session.Dirty() {
		mark = "• "
	}
	return mark + a.work.Show.Head.Title + " – emberbeat"
}

// tell puts a sentence into the status bar.
func (a *App) tell(format string, args ...any) {
	a.note = note{text: fmt.Sprintf(format, args...)}
	a.again = true
}

// fail says what went wrong.
func (a *App) fail(err error) {
	if err != nil {
		a.note = note{text: err.Error(), bad: true}
		a.again = true
		a.say("refused %v", err)
	}
}

// do makes a change as one step.
func (a *App) do(c change) bool { return a.doAs("", c) }

// doAs makes a change that joins the one before if it has the same key and follows quickly.
func (a *App) doAs(key string, c change) bool {
	return a.did(c.label, a.work.Session.DoAs(key, c.label, c.edits...))
}

// did says what came of making a change.
func (a *App) did(label string, err error) bool {
	if err != nil {
		a.fail(err)
		return false
	}
	a.note = note{text: label}
	a.again = true
	a.work.Refresh()
	a.say("did %s", label)
	return true
}

// tick looks after what goes on beside: the device, the end of a song, the checks. It reports whether something moves.
func (a *App) tick() bool {
	if w := a.work; w != nil {
		if w.Refresh() {
			w.Mark()
			a.again = true
		}
		w.Check()
		a.song.LoadSounds()
		if !a.Moving() { // looking makes garbage: it is done once the song rests
			w.Watch(a.now)
		}
	}
	return a.song.Tick()
}
