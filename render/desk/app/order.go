package app

import (
	"fmt"
	"slices"
	"strconv"

	"emberbeat/render/desk/page"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// order is what the page of running orders remembers.
type order struct {
	set     timeline.ID      // shown; "" is the one that is played
	rows    widget.Selection // entries
	diff    widget.Selection
	grab    int // entry that the pointer took hold of, -1 for none
	over    int // where it would go
	dragged bool
}

// shownSet gives the set on the page: the one chosen there, else the one that is played; nil where the show has none.
func (a *App) shownSet() *timeline.Set {
	if s := a.work.shown.Set(a.order.set); s != nil {
		return s
	}
	return a.work.plan.Set
}

// setLine is an entry of a set with where it stands in time.
type setLine struct {
	timeline.Entry
	song   *timeline.Song // nil where it is gone
	number int            // among those played, 0 for one left out
	at     timeline.Time  // of its audio, from the start of the first
	cut    bool           // the night leaves it out
}

// setLines gives the entries of a set with numbers and times, and how long it plays. Of alternatives only the longest counts towards the
// length; the times are those of a set that plays them all, as the plan has it.
func (w *work) setLines(set *timeline.Set) (lines []setLine, length timeline.Time) {
	var at timeline.Time
	longest := map[string]timeline.Time{}
	n := 0
	for _, e := range set.Entries {
		l := setLine{Entry: e, song: w.shown.Song(e.Song)}
		l.cut = w.plan.Set == set && w.plan.Night != nil && slices.ContainsFunc(w.plan.Night.Cuts, func(c timeline.Cut) bool { return c.What == "song" && c.ID == string(e.Song) })
		if !e.Out && !l.cut && l.song != nil {
			n++
			l.number, l.at = n, at
			long := l.song.Duration()
			at += long + e.Gap
			if e.Alt == "" {
				length += long + e.Gap
			} else {
				longest[e.Alt] = max(longest[e.Alt], long+e.Gap)
			}
		}
		lines = append(lines, l)
	}
	for _, long := range longest {
		length += long
	}
	return lines, length
}

// chosenEntries gives the indices of the chosen entries of the set shown.
func (a *App) chosenEntries() []int {
	set := a.shownSet()
	if set == nil {
		return nil
	}
	return slices.DeleteFunc(a.order.rows.Rows(), func(i int) bool { return i >= len(set.Entries) })
}

// onSets says why nothing can be done with sets here.
func onSets(a *App) string {
	if why := needShow(a); why != "" {
		return why
	}
	if a.book.at != "sets" {
		return "turn to the page of sets first, with " + a.key("book-sets")
	}
	return needEdit(a)
}

func needSet(a *App) string {
	if why := onSets(a); why != "" {
		return why
	}
	if a.shownSet() == nil {
		return "the show has no set yet: make one with the button New set"
	}
	return ""
}

func needEntry(a *App) string {
	if why := needSet(a); why != "" {
		return why
	}
	if len(a.chosenEntries()) == 0 {
		return "choose a song of the running order first"
	}
	return ""
}

func needEntries(a *App) string {
	if why := needEntry(a); why != "" {
		return why
	}
	if len(a.chosenEntries()) < 2 {
		return "choose two songs or more, with Ctrl or Shift: one of them will be played"
	}
	return ""
}

func needOtherSet(a *App) string {
	if why := needSet(a); why != "" {
		return why
	}
	if a.shownSet() == a.work.plan.Set {
		return "it is the one that is played already"
	}
	return ""
}

// entryNames names entries for the label of a step.
func (a *App) entryNames(list []int) string {
	if len(list) != 1 {
		return counted(len(list), "song")
	}
	e := a.shownSet().Entries[list[0]]
	if s := a.work.shown.Song(e.Song); s != nil {
		return s.FullTitle()
	}
	return string(e.Song)
}

// moveEntries moves the chosen entry by places.
func (a *App) moveEntries(by int) {
	list := a.chosenEntries()
	set := a.shownSet()
	to := list[0] + by
	if len(list) != 1 {
		a.tell("choose one song to move it")
		return
	}
	if to < 0 || to >= len(set.Entries) {
		a.tell("%s stands at the end already", a.entryNames(list))
		return
	}
	a.moveEntry(list[0], to)
}

func (a *App) moveEntry(from, to int) {
	set := a.shownSet()
	if a.doAs("order "+string(set.ID), change{fmt.Sprintf("move %s to place %d", a.entryNames([]int{from}), to+1), []timeline.Edit{timeline.MoveEntry(set.ID, from, to)}}) {
		a.order.rows.Only(to)
	}
}

// changeEntries changes the chosen entries as one step.
func (a *App) changeEntries(label string, set func(*timeline.Entry)) bool {
	var edits []timeline.Edit
	for _, i := range a.chosenEntries() {
		edits = append(edits, timeline.EditEntry(a.shownSet().ID, i, set))
	}
	return a.do(change{label + " " + a.entryNames(a.chosenEntries()), edits})
}

// onSet gives the set shown, as what an operation is done to.
func (a *App) onSet() timeline.Ref { return timeline.Ref{Kind: "set", ID: a.shownSet().ID} }

// inSet gives what an operation is told of the chosen entries.
func (a *App) inSet(no bool) *operation.InSet {
	x := &operation.InSet{Places: a.chosenEntries(), No: no}
	for _, i := range x.Places {
		x.Songs = append(x.Songs, a.shownSet().Entries[i].Song)
	}
	return x
}

// firstChosen gives the first of the chosen entries.
func (a *App) firstChosen() timeline.Entry { return a.shownSet().Entries[a.chosenEntries()[0]] }

// toggleOut leaves the chosen songs out, or brings them in again.
func (a *App) toggleOut() {
	name := "out"
	if a.firstChosen().Out {
		name = "in"
	}
	a.doOperation(operation.Find("set", name), a.onSet(), a.inSet(false))
}

func (a *App) toggleEncore() {
	a.doOperation(operation.Find("set", "encore"), a.onSet(), a.inSet(a.firstChosen().Encore))
}

func (a *App) partAlternatives() {
	a.doOperation(operation.Find("set", "alternatives"), a.onSet(), a.inSet(true))
}

// doInSet does an operation at once to the chosen entries.
func (a *App) doInSet(o *operation.Operation) { a.doOperation(o, a.onSet(), a.inSet(false)) }

// askPlace asks for another number of the chosen song.
func (a *App) askPlace(o *operation.Operation) {
	at := a.chosenEntries()[0]
	lines, _ := a.work.setLines(a.shownSet())
	given := map[string]string{}
	if n := lines[at].number; n > 0 {
		given["n"] = strconv.Itoa(n)
	}
	song := lines[at].Entry.Song
	a.askOperation(o, a.onSet(), formSpec{title: o.Title + ": " + a.entryNames([]int{at}), given: given, begin: func(x any) { x.(*operation.Place).Song = song }})
}

// askGap asks for the gap after the chosen song.
func (a *App) askGap(o *operation.Operation) {
	e := a.firstChosen()
	a.askOperation(o, a.onSet(), formSpec{title: "Gap after " + a.entryNames(a.chosenEntries()[:1]), given: map[string]string{"seconds": e.Gap.String(), "talk": e.Talk},
		begin: func(x any) { x.(*operation.Gap).Song = e.Song }})
}

// askSongs asks which songs are to be played that are not.
func (a *App) askSongs(o *operation.Operation) {
	set := a.shownSet()
	choices := a.work.songsNotIn(set)
	if len(choices) == 0 {
		a.tell("the set holds every song of the show; add one with %s", a.key("import"))
		return
	}
	from := len(set.Entries)
	a.askOperation(o, a.onSet(), formSpec{choices: map[string]func(*App) []formValue{"songs": func(a *App) []formValue { return a.work.songsNotIn(a.shownSet()) }},
		done: func(a *App, _ any) {
			if len(a.shownSet().Entries) > from {
				a.order.rows.Only(from)
			}
		}})
}

// removeEntries takes the chosen songs out of the set; the show keeps them.
func (a *App) removeEntries() {
	list := a.chosenEntries()
	set := a.shownSet()
	e := timeline.EditSet(set.ID, func(_ *timeline.Show, s *timeline.Set) error {
		for _, i := range slices.Backward(list) {
			s.Entries = slices.Delete(s.Entries, i, i+1)
		}
		return nil
	})
	if a.do(change{"take " + a.entryNames(list) + " out of " + set.Name, []timeline.Edit{e}}) {
		a.order.rows.Clear()
	}
}

// songsNotIn lists the songs that a set does not hold, and those that it leaves out.
func (w *work) songsNotIn(set *timeline.Set) []formValue {
	var list, out []formValue
	for _, s := range w.shown.SongsByStart() {
		v := formValue{string(s.ID), s.FullTitle()}
		switch k := slices.IndexFunc(set.Entries, func(e timeline.Entry) bool { return e.Song == s.ID }); {
		case k < 0:
			list = append(list, v)
		case !slices.ContainsFunc(set.Entries, func(e timeline.Entry) bool { return e.Song == s.ID && !e.Out }):
			v.name += ", left out"
			out = append(out, v)
		}
	}
	return append(list, out...)
}

// newSet makes a set of all songs by timecode.
func (a *App) newSet(o *operation.Operation) {
	x := &operation.NewSet{Name: "Set " + strconv.Itoa(len(a.work.shown.Sets)+1)}
	for _, s := range a.work.shown.SongsByStart() {
		x.Songs = append(x.Songs, s.ID)
	}
	x.ID = a.work.ids()("set", "")
	if a.doOperation(o, timeline.Ref{}, x) {
		a.showSet(x.ID)
	}
}

// copySet makes a copy of the set shown, with all that it holds.
func (a *App) copySet() {
	set := *a.shownSet()
	set.ID, set.Name, set.Entries = a.work.ids()("set", ""), set.Name+" copy", slices.Clone(set.Entries)
	set.Kept = nil
	if a.do(change{"copy " + a.shownSet().Name, []timeline.Edit{timeline.AddSet(set)}}) {
		a.showSet(set.ID)
	}
}

func (a *App) removeSet() {
	set := a.shownSet()
	if a.do(change{"remove " + set.Name, []timeline.Edit{func(d *timeline.Draft) error {
		return d.Remove(timeline.Ref{Kind: "set", ID: set.ID})
	}}}) {
		a.showSet("")
	}
}

// showSet brings a set onto the page.
func (a *App) showSet(id timeline.ID) {
	a.order.set = id
	a.order.rows = widget.Selection{}
	a.again = true
}

// playSet makes the set on the page the one that is played: on the night chosen, else on the tour.
func (a *App) playSet() {
	set := a.shownSet()
	if n := a.work.plan.Night; n != nil {
		a.do(change{"play " + set.Name + " on " + n.Name, []timeline.Edit{timeline.EditNight(n.ID, func(_ *timeline.Show, n *timeline.Night) error { n.Set = set.ID; return nil })}})
		return
	}
	a.useSet(set)
}

// orderCommands work on the page of sets.
func orderCommands() []command {
	in := func(name string, c command, run func(*App, *operation.Operation)) command {
		return operationCommand("set", name, c, run)
	}
	toggle := func(run func(*App)) func(*App, *operation.Operation) {
		return func(a *App, _ *operation.Operation) { run(a) }
	}
	return []command{
		in("new", command{off: onSets}, (*App).newSet),
		{id: "set-copy", name: "Copy set", help: "makes a copy of the running order shown", group: "Book", off: needSet, run: (*App).copySet},
		{id: "set-remove", name: "Remove set", help: "takes the running order shown out of the show; its songs stay", group: "Book", off: needSet, run: (*App).removeSet},
		{id: "set-play", name: "Play this set", help: "makes the running order shown the one of the night chosen, or of the tour", group: "Book", off: needOtherSet, run: (*App).playSet},
		in("in", command{id: "set-songs", off: needSet}, (*App).askSongs),
		{id: "set-up", name: "Song earlier", help: "moves the chosen song one place up", group: "Book", off: needEntry, repeats: true, run: func(a *App) { a.moveEntries(-1) }},
		{id: "set-down", name: "Song later", help: "moves the chosen song one place down", group: "Book", off: needEntry, repeats: true, run: func(a *App) { a.moveEntries(1) }},
		in("move", command{off: needEntry}, (*App).askPlace),
		in("order", command{off: needEntry}, (*App).doInSet),
		in("out", command{off: needEntry}, toggle((*App).toggleOut)),
		in("gap", command{off: needEntry}, (*App).askGap),
		in("encore", command{keys: []string{"E"}, off: needEntry}, toggle((*App).toggleEncore)),
		in("alternatives", command{id: "set-join", off: needEntries}, (*App).doInSet),
		{id: "set-part", name: "No alternatives", help: "plays the chosen songs whatever else is played", group: "Book", off: needEntry, run: (*App).partAlternatives},
		{id: "set-take", name: "Take out", help: "takes the chosen songs out of the running order; the show keeps them", group: "Book", off: needEntry, run: (*App).removeEntries},
	}
}

// orderActs bind keys of the timeline to the page of sets.
func (a *App) orderActs() map[string]page.Act {
	of := func(id string) page.Act {
		return page.Act{Off: func() string { return a.byID(id).off(a) }, Run: func() { a.byID(id).run(a) }}
	}
	return map[string]page.Act{"lane-above": of("set-up"), "lane-below": of("set-down"), "disable": of("set-out"), "group": of("set-join"), "ungroup": of("set-part"),
		"delete": of("set-take"), "row-remove": of("set-take"), "row-add": of("set-songs"), "duplicate": of("set-copy"), "row-copy": of("set-copy")}
}
