package setview

import (
	"fmt"
	"image"
	"slices"
	"strconv"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/render/setpicture"
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/shows/report/course"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// ID is that of the page.
const ID = "set-view"

// View is the page with what it remembers.
type View struct {
	Lay    *setpicture.Layout // as it was drawn last; nil before
	Each   bool               // each song from its own start
	At     int                // place of the song that keys act on
	Moved  *HeadDrag          // the head of a song that is dragged; nil for none
	Beside string             // what it is compared with: "set:id", "night:id", "night:" for the tour; "" = nothing

	h       page.Host
	maker   course.Maker
	view    setpicture.View
	cursor  *course.Place
	scroll  int
	all     bool
	found   []rule.Finding // that groups and marks are of
	of      *timeline.Plan
	marks   []setpicture.Mark
	with    comparison
	foresee widget.Selection
}

// New gives the page and its commands.
func New(h page.Host) page.Family {
	p := &View{h: h}
	list := []page.Command{
		{ID: "set-each", Name: "Songs by themselves", Help: "shows each song of the whole set from its own start, one below the other, or all in the time of the set", Off: p.needPage, Run: func() { p.Each, p.scroll = !p.Each, 0 }},
		{ID: "set-song-back", Name: "Song before in the set view", Help: "chooses the song before", Off: p.needSong, Repeats: true, Run: func() { p.step(-1) }},
		{ID: "set-song-on", Name: "Next song in the set view", Help: "chooses the next song", Off: p.needSong, Repeats: true, Run: func() { p.step(1) }},
		{ID: "set-song-earlier", Name: "Play the song earlier", Help: "moves the chosen song one place earlier in the running order", Off: p.needOrder, Repeats: true, Run: func() { p.moveBy(-1) }},
		{ID: "set-song-later", Name: "Play the song later", Help: "moves the chosen song one place later in the running order", Off: p.needOrder, Repeats: true, Run: func() { p.moveBy(1) }},
		{ID: "set-song-open", Name: "Open the song", Help: "shows the chosen song on the timeline", Off: p.needSong, Run: p.open},
		{ID: "set-worst", Name: "To the worst trouble", Help: "goes to the first finding of the group that stands first", Off: p.needTrouble, Run: p.toWorst},
	}
	act := func(id string) page.Act {
		at := slices.IndexFunc(list, func(c page.Command) bool { return c.ID == id })
		return list[at].Act()
	}
	return page.Family{State: p, Commands: list, Pages: []page.Page{{ID: ID, Name: "Whole set", Part: "Nights", Keys: []string{"W"}, Draw: p.draw, On: p.stand,
		Help: "all songs over one line of time: hits, supplies, arms, findings; drag a song's head to move it, click to go there",
		Acts: map[string]page.Act{"frame-back": act("set-song-back"), "frame-on": act("set-song-on"), "nudge-back": act("set-song-earlier"), "nudge-on": act("set-song-later"),
			"lane-above": act("set-song-earlier"), "lane-below": act("set-song-later"), "lane-up": act("set-song-back"), "lane-down": act("set-song-on"), "place": act("set-song-open")}}}}
}

func (p *View) needPage() string {
	if why := page.NeedShow(p.h); why != "" {
		return why
	}
	if p.h.InView() != ID {
		return "turn to the whole set first, with " + p.h.Key("book-"+ID)
	}
	return ""
}

func (p *View) needSong() string {
	if why := p.needPage(); why != "" {
		return why
	}
	if len(p.h.Plan().Songs) == 0 {
		return "nothing is played yet: add songs to the set with " + p.h.Key("book-sets")
	}
	return ""
}

func (p *View) needOrder() string {
	if why := p.needSong(); why != "" {
		return why
	}
	if why := page.NeedEdit(p.h); why != "" {
		return why
	}
	if p.h.Plan().Set == nil {
		return "the show has no set: all songs are played by timecode; make one with " + p.h.Key("book-sets")
	}
	return ""
}

func (p *View) needTrouble() string {
	if why := p.needPage(); why != "" {
		return why
	}
	if p.worst() == nil {
		return "nothing was found that nobody has accepted"
	}
	return ""
}

// stand chooses the song that the page was turned to with.
func (p *View) stand(r timeline.Ref) {
	for i := range p.h.Plan().Songs {
		if r.Kind == "song" && p.h.Plan().Songs[i].Song.ID == r.ID {
			p.At = i
		}
	}
}

// step chooses another song.
func (p *View) step(by int) { p.At = min(max(p.At+by, 0), len(p.h.Plan().Songs)-1) }

// open shows the chosen song on the timeline.
func (p *View) open() {
	p.h.Turn("", timeline.Ref{Kind: "song", ID: p.h.Plan().Songs[p.at()].Song.ID})
}

// at gives the place of the chosen song as far as there is one.
func (p *View) at() int { return min(max(p.At, 0), len(p.h.Plan().Songs)-1) }

// entry gives the index in a plan's set of the entry of a song that is played, -1 where there is none.
func entry(p *timeline.Plan, song int) int {
	next := 0
	for k, e := range p.Set.Entries {
		if e.Out || next >= len(p.Songs) || p.Songs[next].Entry != e {
			continue
		}
		if next == song {
			return k
		}
		next++
	}
	return -1
}

// moveBy moves the chosen song in the order, past one that is played.
func (p *View) moveBy(by int) {
	plan, from := p.h.Plan(), p.at()
	to := from + by
	if to < 0 || to >= len(plan.Songs) {
		p.h.Tell(plan.Songs[from].Song.FullTitle() + " stands at the end already")
		return
	}
	p.move(from, to)
}

// move plays a song at the place of another.
func (p *View) move(from, to int) {
	plan := p.h.Plan()
	a, z := entry(plan, from), entry(plan, to)
	if a >= 0 && z >= 0 && page.MoveEntry(p.h, plan.Set, a, z) {
		p.At = to
	}
}

// look takes what the plan comes to and what was found, as far as either is new.
func (p *View) look(plan *timeline.Plan) {
	found := p.h.Findings()
	same := len(found) == len(p.found) && (len(found) == 0 || &found[0] == &p.found[0])
	if same && p.of == plan && p.marks != nil {
		return
	}
	p.found, p.of = found, plan
	p.marks = []setpicture.Mark{}
	for i := range found {
		f := &found[i]
		if f.Accepted != nil {
			continue
		}
		m := setpicture.Mark{Place: course.Place{Song: -1, At: f.At}, Timed: f.HasTime, Severity: render.SeverityOf(f.Severity), Finding: i}
		for k := range plan.Songs {
			if f.Song != "" && plan.Songs[k].Song.ID == f.Song && (f.Number == 0 || plan.Songs[k].Number == f.Number) {
				m.Song = k
				break
			}
		}
		p.marks = append(p.marks, m)
	}
}

// worst gives the group that stands first and is not accepted, or nil.
func (p *View) worst() *report.FindingGroup {
	p.look(p.h.Plan())
	if list := p.h.Groups(); len(list) > 0 && list[0].Open() > 0 {
		return &list[0]
	}
	return nil
}

// first gives the first finding of a group that nobody has accepted.
func (p *View) first(g *report.FindingGroup) int {
	for _, i := range g.Found {
		if p.found[i].Accepted == nil {
			return i
		}
	}
	return g.Found[0]
}

func (p *View) toWorst() { p.h.GoFinding(p.first(p.worst())) }

// Logical sizes of the page.
const (
	dockWide   = 300
	dockNarrow = 720 // a page less wide goes without
	wheelStep  = 48
)

// draw shows the evening, and beside it what stands at the pointer and what is worst.
func (p *View) draw(r image.Rectangle) {
	u := p.h.UI()
	plan := p.h.Plan()
	p.look(plan)
	k := u.Stack(r, 8)
	p.head(k.Top(widget.RowHeight), plan)
	if len(plan.Songs) == 0 {
		p.empty(k.Rest())
		return
	}
	area := k.Rest()
	row := u.Stack(area, 10)
	dock := image.Rectangle{}
	if area.Dx() >= u.Px(dockNarrow) {
		dock = row.Right(dockWide)
	}
	p.picture(row.Rest(), plan)
	if !dock.Empty() {
		p.dock(dock, plan)
	}
	p.h.Choose(timeline.Ref{Kind: "song", ID: plan.Songs[p.at()].Song.ID})
}

// head names what is played, and holds the ways of looking at it.
func (p *View) head(r image.Rectangle, plan *timeline.Plan) {
	u := p.h.UI()
	row := u.Stack(r, 8)
	p.choice(&row, plan)
	for _, m := range []struct {
		label string
		each  bool
	}{{"Each from its start", true}, {"In set time", false}} {
		if on := u.Toggle(m.label, row.Right(u.ButtonWidth(m.label)+48), m.label, p.Each == m.each); on && p.Each != m.each {
			p.h.Use("set-each")
		}
	}
	name := "All songs by timecode"
	if plan.Set != nil {
		name = plan.Set.Name
	}
	if plan.Night != nil {
		name += ", " + plan.Night.Name
	}
	cues := 0
	for i := range plan.Songs {
		cues += len(plan.Songs[i].Song.Cues)
	}
	_, end := plan.SetTimes()
	u.Label(row.Rest(), render.TypeStrong, render.InkText, fmt.Sprintf("%s: %s, %s with changeovers, %s", name, timeline.Counted(len(plan.Songs), "song"), end.Clock(0), timeline.Counted(cues, "cue")))
}

// empty says what to do where nothing is played.
func (p *View) empty(r image.Rectangle) {
	u := p.h.UI()
	k := u.Stack(r, 8)
	k.Top(24)
	u.Label(k.Top(24), render.TypeStrong, render.InkText, "Nothing is played yet.")
	id, label := "book-sets", "Add songs to the set"
	if len(p.h.Show().Songs) == 0 {
		id, label = "import", "Add audio"
	}
	row := u.Stack(k.Top(32), 8)
	if u.MainButton("fill", row.Left(u.ButtonWidth(label)+16), label) {
		p.h.Use(id)
	}
	u.Tip(label, p.h.Key(id))
}

// picture draws the evening and takes what the pointer does there.
func (p *View) picture(r image.Rectangle, plan *timeline.Plan) {
	u := p.h.UI()
	c := u.Canvas(ID, r)
	if p.h.Fresh() {
		u.Focus(ID)
	}
	shown, held := plan, 0
	if p.Moved != nil && p.Moved.plan != nil {
		shown, held = p.Moved.plan, p.Moved.To+1
	} else if p.Moved != nil && p.Moved.begun {
		held = p.Moved.from + 1
	}
	p.view = setpicture.View{Area: r, Course: p.maker.Of(shown), Each: p.Each, Marks: p.marksOf(shown), Groups: len(p.h.Groups()), Scroll: p.scroll, All: p.all, Song: p.at(), Held: held, Cursor: p.cursor, Told: shown.Show.Told(), Sounds: p.view.Sounds[:0]}
	for i := range shown.Songs {
		levels, why := p.h.Loudness(shown.Songs[i].Song.ID)
		p.view.Sounds = append(p.view.Sounds, setpicture.Sound{Levels: levels, Why: why})
	}
	p.Lay = setpicture.Draw(u.Scene(), u.Theme(), &p.view)
	p.scroll = p.Lay.Scroll
	p.point(c)
	if c.Focus {
		u.Scene().Frame(r, u.Px(2), render.InkFocus)
	}
}

// marksOf gives the findings at the places of a plan that is only tried: each stays with its song until the rules were asked again.
func (p *View) marksOf(shown *timeline.Plan) []setpicture.Mark {
	if shown == p.of {
		return p.marks
	}
	to := map[*timeline.SongPlan]int{}
	for i := range shown.Songs {
		to[shown.Songs[i].SongPlan] = i
	}
	list := slices.Clone(p.marks)
	for i := range list {
		if s := list[i].Song; s >= 0 {
			at, known := to[p.of.Songs[s].SongPlan]
			if list[i].Song = at; !known {
				list[i].Song = -1
			}
		}
	}
	slices.SortStableFunc(list, func(a, b setpicture.Mark) int { return a.Song - b.Song })
	return list
}

// point takes what the pointer does on the picture.
func (p *View) point(c widget.Canvas) {
	u := p.h.UI()
	in := u.Input()
	if p.h.Dragging() {
		p.h.Drive(widget.Primary)
		return
	}
	p.Moved = nil
	if c.Wheel.Y != 0 {
		p.scroll = max(p.scroll+c.Wheel.Y*u.Px(wheelStep), 0)
		p.h.Again()
	}
	was := p.cursor
	p.cursor = nil
	if place, ok := p.Lay.PlaceAt(in.Pointer); ok && c.Hot {
		p.cursor = &place
	}
	if (was == nil) != (p.cursor == nil) || was != nil && *was != *p.cursor {
		p.h.Again()
	}
	if !c.Hot || c.Pressed&widget.Primary == 0 {
		return
	}
	hit, ok := u.Scene().At(in.Pointer)
	if !ok {
		return
	}
	at, _ := strconv.Atoi(hit.ID)
	switch hit.Kind {
	case setpicture.HitHead:
		p.At = at
		switch {
		case in.Clicks == 2:
			p.open()
		case p.needOrder() == "":
			p.Moved = &HeadDrag{p: p, from: at, To: at, press: in.Pointer, lay: p.Lay}
			p.h.Start(p.Moved)
		}
		p.h.Again()
	case setpicture.HitFinding:
		p.h.GoFinding(at)
	case setpicture.HitMore:
		p.all = !p.all
		p.h.Again()
	case setpicture.HitTime:
		if p.cursor != nil {
			s := &p.view.Course.Songs[p.cursor.Song]
			p.At = p.cursor.Song
			p.h.Seek(s.Song.ID, min(p.cursor.At, s.Long))
		}
	}
}

// HeadDrag moves a song in the order.
type HeadDrag struct {
	To int // where it would be played

	p     *View
	from  int
	press image.Point
	lay   *setpicture.Layout // as it was when the head was taken hold of
	plan  *timeline.Plan     // as it would be; nil where it is as it was
	begun bool
}

// Move follows the pointer, and shows what the evening would come to.
func (g *HeadDrag) Move(in *widget.Input) {
	d := in.Pointer.Sub(g.press)
	if !g.begun && max(d.X, -d.X, d.Y, -d.Y) < g.p.h.UI().Px(page.Slack) {
		return
	}
	g.begun = true
	to := g.lay.SongTo(in.Pointer, g.from)
	if to == g.To {
		return
	}
	g.To, g.plan = to, nil
	set, a, z := g.ends()
	if to == g.from || a < 0 || z < 0 {
		return
	}
	plan, err := g.p.h.Planned(timeline.MoveEntry(set.ID, a, z))
	if err != nil {
		g.p.h.Warn(err.Error())
		return
	}
	g.plan = plan
}

// ends gives the set and the entries from and to which the song is moved.
func (g *HeadDrag) ends() (set *timeline.Set, from, to int) {
	plan := g.p.h.Plan()
	return plan.Set, entry(plan, g.from), entry(plan, g.To)
}

// Done makes the change.
func (g *HeadDrag) Done() {
	g.p.Moved = nil
	if g.begun && g.To != g.from {
		g.p.move(g.from, g.To)
	}
}

// Cancel leaves the order as it was.
func (g *HeadDrag) Cancel() { g.p.Moved = nil }

// Help says what the keys do.
func (g *HeadDrag) Help() string {
	return "the song would be number " + strconv.Itoa(g.To+1) + "   Esc: leave it"
}
