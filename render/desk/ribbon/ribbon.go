package ribbon

import (
	"image"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/render/frame"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// Host is what the ribbon needs of the window, beside what every page needs.
type Host interface {
	page.Host

	// Work is the open show, Heard the time of the song in view that is heard, or the playhead where nothing plays.
	Work() *openshow.Work
	Heard() timeline.Time
	// GoSong brings a song into view, Beside a record into the inspector.
	GoSong(id timeline.ID)
	Beside(r timeline.Ref)
	// DockAway reports whether the panel at the right could be seen and is not.
	DockAway() bool
	// Views are the ways to look at the show, in order.
	Views() []View
}

// View is a way to look at the show: one song, the set, the call, the book.
type View struct {
	Name    string
	Command string // brings it into view
	Help    string
	On      bool // it is seen
}

// Ribbon is the row with what it remembers.
type Ribbon struct {
	h      Host
	tiles  frame.Tiles
	songs  []*timeline.Song // of the tiles
	set    *timeline.Set    // that they are played in
	entry  []int            // of the set, by tile; -1 for a song that is not played
	seen   sight
	grab   *carrying
	placed bool
}

// sight is what the scroll was made for: when it changes, the song in view is brought into sight again.
type sight struct {
	song timeline.ID
	area image.Rectangle
	n    int
}

// New gives the ribbon of a window.
func New(h Host) *Ribbon { return &Ribbon{h: h} }

// Logical measures.
const (
	Height    = 40
	viewWidth = 54
	setWidth  = 28
)

// Begin begins a frame: the tiles are not shown until they are drawn.
func (b *Ribbon) Begin() { b.placed = false }

// Leave forgets the show, before it is closed.
func (b *Ribbon) Leave() { *b = Ribbon{h: b.h} }

// Draw draws the row.
func (b *Ribbon) Draw(r image.Rectangle) {
	u := b.h.UI()
	s := u.Scene()
	s.Rect(r, render.InkPanel)
	s.Rect(image.Rect(r.Min.X, r.Max.Y-s.Px(1), r.Max.X, r.Max.Y), render.InkBar)
	u.Group("ribbon")
	in := image.Rect(r.Min.X+s.Px(8), r.Min.Y+s.Px(5), r.Max.X-s.Px(8), r.Max.Y-s.Px(6))
	k := u.Stack(in, 8)
	b.views(&k)
	b.setChoice(&k)
	b.gather()
	if b.h.DockAway() {
		side := []widget.BarItem{{ID: "side", Sign: "≡", Label: "Panel", Tip: "Opens the panel with stage and values", Keys: b.h.Key("side")}}
		if _, ok := u.Bar("side", k.Right(30), side); ok {
			b.h.Use("side")
		}
	}
	add := widget.BarItem{ID: "add-song", Sign: "+", Label: "Add audio…", Tip: "Adds a song from an audio file", Keys: b.h.Key("import"), Off: page.NeedEdit(b.h)}
	wide := u.ButtonWidth(add.Label)
	if k.Rest().Dx() < s.Px(wide+3*viewWidth) {
		wide = 30
	}
	room := k.Rest()
	room.Max.X -= s.Px(wide + 8)
	if len(b.songs) == 0 { // the button stands first, and beside it what it is for
		room.Max.X += s.Px(wide + 8)
		empty := room
		empty.Min.X = min(empty.Min.X+s.Px(wide+8+8), empty.Max.X)
		u.Label(empty, render.TypeLabel, render.InkSecondary, "No song yet: drop an audio file on the window, or press "+b.h.Key("import")+".")
		room.Max.X = room.Min.X
	}
	b.row(room)
	end := room.Max.X
	if boxes, width := b.tiles.Place(s.Scale); len(boxes) > 0 && width < room.Dx() {
		end = room.Min.X + width
	} else if len(boxes) == 0 {
		end = room.Min.X
	}
	button := image.Rect(end+s.Px(8), room.Min.Y, end+s.Px(8+wide), room.Max.Y)
	if _, ok := u.Bar("add-song", button, []widget.BarItem{add}); ok {
		b.h.Use("import")
	}
}

// views switches between the ways to look at the show.
func (b *Ribbon) views(k *widget.Stack) {
	u := b.h.UI()
	list := b.h.Views()
	box := k.Left(viewWidth * len(list))
	for i := range list {
		v := &list[i]
		if u.Segment("view-"+v.Command, widget.Columns(box, len(list), i, 0), v.Name, v.On) && !v.On {
			b.h.Use(v.Command)
		}
		u.Tip(v.Help, b.h.Key(v.Command))
	}
}

// setChoice chooses the running order of the tour; a night brings its own.
func (b *Ribbon) setChoice(k *widget.Stack) {
	w := b.h.Work()
	if len(w.Show.Sets) == 0 {
		return
	}
	var names []string
	at := -1
	for i, s := range w.Show.Sets {
		names = append(names, s.Name)
		if w.Plan.Set != nil && s.ID == w.Plan.Set.ID {
			at = i
		}
	}
	why := page.NeedEdit(b.h)
	if w.Night != "" {
		why = "the night brings its own set; change it in the night's record"
	}
	if now, changed := b.h.UI().Off(why).Dropdown("set", k.Left(setWidth), names, at); changed {
		page.UseSet(b.h, w.Show.Sets[now])
	}
	tip := "Which running order the tour plays"
	if at >= 0 {
		tip += ": now " + names[at]
	}
	b.h.UI().Tip(tip, b.h.Key("set"))
}

// gather lists the songs as tiles.
func (b *Ribbon) gather() {
	w := b.h.Work()
	b.songs, b.set = w.Setlist(), w.Plan.Set
	b.tiles.List, b.entry, b.tiles.Now = b.tiles.List[:0], b.entry[:0], -1
	counts := w.Counts()
	for i, song := range b.songs {
		t := frame.Tile{ID: string(song.ID), Title: song.FullTitle(), Length: song.Duration(), Word: w.StateWord(song, counts[song.ID])}
		n := counts[song.ID]
		t.Flag = n[0]+n[1] > 0
		entry := -1
		for k := range w.Plan.Songs {
			if ps := &w.Plan.Songs[k]; ps.Song.ID == song.ID {
				t.Number, entry = strconv.Itoa(ps.Number), page.EntryOf(b.set, ps.Entry)
				break
			}
		}
		if b.tiles.List, b.entry = append(b.tiles.List, t), append(b.entry, entry); song.ID == w.Song {
			b.tiles.Now = i
		}
	}
}

// row is the tiles, and what the pointer and the keys do there.
func (b *Ribbon) row(r image.Rectangle) {
	u := b.h.UI()
	s, in := u.Scene(), u.Input()
	c := u.Canvas("songs", r)
	b.tiles.Area, b.placed = r, true
	if now := (sight{b.h.Work().Song, r, len(b.songs)}); now != b.seen {
		b.seen, b.tiles.Scroll = now, b.tiles.Shown(s.Scale)
	}
	if len(b.songs) == 0 {
		return
	}
	b.tiles.Over = -1
	if c.Hot {
		b.tiles.Over = b.tiles.At(s.Scale, in.Pointer)
	}
	b.tiles.Focus = c.Focus && c.Entered
	b.point(c)
	b.keys(c)
	b.tiles.Drop = -1
	if b.grab != nil && b.grab.begun {
		b.tiles.Drop = b.grab.to
	}
	b.tiles.Draw(s)
	if i := b.tiles.Over; i >= 0 && !u.Modal() {
		t := &b.tiles.List[i]
		u.TipAt(r, t.Title+": "+t.Word)
	}
	if u.Modal() { // what moves lies under the panels then
		b.DrawMoving(s)
	}
	if u.MenuOpen("tile") {
		b.h.Menu("tile", "song-values", "", "song-earlier", "song-later", "book-sets", "", "arrange-new", "relink", "import")
	}
}

// point is what the pointer does on the tiles.
func (b *Ribbon) point(c widget.Canvas) {
	u := b.h.UI()
	in := u.Input()
	if c.Wheel != (image.Point{}) {
		by := c.Wheel.X + c.Wheel.Y
		_, width := b.tiles.Place(u.Scene().Scale)
		b.tiles.Scroll = min(max(b.tiles.Scroll+by*u.Px(3*viewWidth), 0), max(width-b.tiles.Area.Dx(), 0))
		b.h.Again()
	}
	if b.grab != nil && b.h.Dragging() {
		b.h.Drive(widget.Primary)
		return
	}
	i := b.tiles.Over
	if c.Pressed == 0 || i < 0 || b.h.Dragging() {
		return
	}
	u.Blur() // the keys go on to the page: the song is what is wanted, not the row
	song := b.songs[i]
	b.h.GoSong(song.ID)
	switch {
	case c.Pressed&widget.Secondary != 0:
		u.OpenMenu("tile", image.Rectangle{Min: in.Pointer, Max: in.Pointer})
	case in.Clicks == 2:
		b.h.Turn("")
		b.h.Beside(timeline.Ref{Kind: "song", ID: song.ID})
	default:
		b.grab = &carrying{b: b, from: i, to: i, at: in.Pointer}
		b.h.Start(b.grab)
	}
}

// keys walk along the tiles while the row has the focus.
func (b *Ribbon) keys(c widget.Canvas) {
	if !c.Focus {
		return
	}
	u := b.h.UI()
	at := b.tiles.Now
	for u.Take(widget.KeyLeft, 0) {
		at--
	}
	for u.Take(widget.KeyRight, 0) {
		at++
	}
	if u.Take(widget.KeyHome, 0) {
		at = 0
	}
	if u.Take(widget.KeyEnd, 0) {
		at = len(b.songs) - 1
	}
	if at = min(max(at, 0), len(b.songs)-1); at != b.tiles.Now {
		b.h.GoSong(b.songs[at].ID)
	}
	if u.Take(widget.KeyEnter, 0) {
		b.h.Beside(timeline.Ref{Kind: "song", ID: b.songs[at].ID})
	}
	if u.Take(widget.KeyMenu, 0) || u.Take(widget.KeyF10, widget.Shift) {
		if boxes, _ := b.tiles.Place(u.Scene().Scale); at < len(boxes) {
			u.OpenMenu("tile", boxes[at].Sub(image.Pt(b.tiles.Scroll, 0)))
		}
	}
}

// DrawMoving marks how far the song in view is played.
func (b *Ribbon) DrawMoving(s *render.Scene) {
	w := b.h.Work()
	if !b.placed || w == nil || w.Data == nil {
		return
	}
	b.tiles.Played(s, float64(b.h.Heard())/float64(w.Data.Length()))
}
