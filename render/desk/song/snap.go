package song

import (
	"fmt"
	"slices"

	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
	"emberbeat/timeline/snap"
)

// grids are the steps of the beat grid, in beats, coarsest first; a step of a whole bar is 0.
var grids = []gridStep{
	{"bar", timeline.Rat{}},
	{"1/2 bar", timeline.NewRat(2, 1)},
	{"beat", timeline.NewRat(1, 1)},
	{"1/2 beat", timeline.NewRat(1, 2)},
	{"1/3 beat", timeline.NewRat(1, 3)},
	{"1/4 beat", timeline.NewRat(1, 4)},
	{"1/8 beat", timeline.NewRat(1, 8)},
}

// gridStep is a step of the beat grid.
type gridStep struct {
	name string
	step timeline.Rat
}

// snapReach is how near in logical pixels something draws what is moved.
const snapReach = 8

// chosenSnap gives what times are drawn to while snapping is on, and the weakest hits that are meant.
func (sp *Page) chosenSnap() (snap.To, snap.Strength) {
	p := sp.h.Prefs()
	to, weakest := snap.To(p.SnapTo), snap.Strength(p.SnapHits)
	if !slices.Contains(snap.Tos(), to) || to == snap.Off {
		to = snap.Beats
	}
	if !slices.Contains(snap.Strengths(), weakest) {
		weakest = snap.Middle
	}
	return to, weakest
}

// snapSource is what the targets of a song are gathered from.
type snapSource struct {
	song    *timeline.Song
	to      snap.To
	step    timeline.Rat
	attacks *grid.Attack // the first, nil for none
	heard   int          // how many
	weakest snap.Strength
}

// snapTargets gathers what times of a song are drawn to, without marks.
func (sp *Page) snapTargets(song *timeline.Song) *snap.Targets {
	x, _ := sp.snapSource(song)
	return x()
}

// snapSource gives what gathers the targets of a song, and from what.
func (sp *Page) snapSource(song *timeline.Song) (gather func() *snap.Targets, from snapSource) {
	to, weakest := sp.chosenSnap()
	from = snapSource{song: song, to: to, step: sp.grid().step, weakest: weakest}
	var attacks []grid.Attack
	if to.Heard() {
		if attacks = sp.beats.Attacks(sp.work().Song); len(attacks) > 0 {
			from.attacks, from.heard = &attacks[0], len(attacks)
		}
	}
	return func() *snap.Targets { return snap.New(song.Beats, to, from.step, attacks, weakest) }, from
}

// gathered are the targets of a gesture, which are the same from step to step as long as nothing but what it moves does.
type gathered struct {
	from snapSource
	x    *snap.Targets
}

// of gives them with the marks of a song, but for what is moved.
func (g *gathered) of(sp *Page, song *timeline.Song, moved map[timeline.ID]bool) *snap.Targets {
	if gather, from := sp.snapSource(song); g.x == nil || from != g.from {
		g.from, g.x = from, gather().Mark(song, moved)
	}
	return g.x
}

// snapped draws a time to what is near, where snapping is on.
func (sp *Page) snapped(at timeline.Time) timeline.Time { return sp.catch(at, nil, false).At }

// catch draws a time to what is within reach on screen. Inverted turns snapping off where it is on, and on where it is off.
func (sp *Page) catch(at timeline.Time, without map[timeline.ID]bool, inverted bool) snap.Caught {
	return sp.catchIn(sp.programmed(), &gathered{}, at, without, inverted)
}

// catchIn does the same for what stands in a song as it is given, of which targets may be gathered already.
func (sp *Page) catchIn(song *timeline.Song, g *gathered, at timeline.Time, without map[timeline.ID]bool, inverted bool) snap.Caught {
	if sp.h.Prefs().Snap == inverted {
		return snap.Caught{At: at.RoundTo(timeline.EntryStep)}
	}
	return g.of(sp, song, without).Play(sp.work().View().Playhead).Near(at, sp.reach(snapReach))
}

// reach gives how much time so many logical pixels are.
func (sp *Page) reach(px int) timeline.Time {
	return sp.drawn.TimeAt(sp.drawn.Left+sp.h.UI().Px(px)) - sp.drawn.TimeAt(sp.drawn.Left)
}

// SnapName says what is snapped to, and what is still waited for.
func (sp *Page) SnapName() string {
	if !sp.h.Prefs().Snap {
		return "snap off"
	}
	to, weakest := sp.chosenSnap()
	name := map[snap.To]string{snap.Beats: "snap to beats", snap.Hits: "snap to hits", snap.Both: "snap to beats and hits"}[to]
	if !to.Heard() || sp.work() == nil || sp.work().InView() == nil {
		return name
	}
	if why := sp.beats.Unheard(sp.work().Song); why != "" {
		return name + " (" + why + ")"
	}
	return name + " " + map[snap.Strength]string{snap.Strong: "(strong)", snap.Middle: "(strong, middle)", snap.Weak: "(all)"}[weakest]
}

// heardHits gives the hits that are snapped to, to be drawn; nil where none are.
func (sp *Page) heardHits() *render.HeardHits {
	to, weakest := sp.chosenSnap()
	if !sp.h.Prefs().Snap || !to.Heard() || sp.beats.Open() {
		return nil
	}
	attacks := sp.beats.Attacks(sp.work().Song)
	if len(attacks) == 0 {
		return nil
	}
	if k := (hitsKey{&attacks[0], len(attacks), weakest}); k != sp.hitsOf || sp.hits == nil {
		sp.hitsOf, sp.hits = k, &render.HeardHits{}
		for _, a := range attacks {
			class := slices.Index(snap.Strengths(), snap.Of(a.Strength))
			if class <= slices.Index(snap.Strengths(), weakest) {
				sp.hits.List = append(sp.hits.List, render.HeardHit{At: a.At, Level: len(snap.Strengths()) - class})
			}
		}
	}
	return sp.hits
}

// snapTo chooses what is snapped to, and turns snapping on.
func (sp *Page) snapTo(to snap.To) {
	p := sp.h.Prefs()
	p.Snap, p.SnapTo = true, string(to)
	p.Save()
	sp.told()
}

// told tells in the status bar what is snapped to now.
func (sp *Page) told() { sp.tell("%s", sp.SnapName()) }

// stepSnap goes on to what comes next.
func (sp *Page) stepSnap() {
	list := snap.Tos()[1:]
	to, _ := sp.chosenSnap()
	sp.snapTo(list[(slices.Index(list, to)+1)%len(list)])
}

// snapFrom chooses the weakest hits that are snapped to.
func (sp *Page) snapFrom(weakest snap.Strength) {
	p := sp.h.Prefs()
	p.SnapHits = string(weakest)
	p.Save()
	sp.told()
}

// snapMenu are the commands of the menu of what is snapped to.
var snapMenu = []string{"snap", "", "snap-beats", "snap-hits", "snap-both", "", "snap-strong", "snap-middle", "snap-weak"}

// openSnapMenu opens it below the row of buttons.
func (sp *Page) openSnapMenu() {
	r := sp.drawn.Transport
	r.Min.X += sp.h.UI().Px(buttonsLeft)
	r.Max.X = r.Min.X
	sp.h.UI().OpenMenu("snap-menu", r)
	sp.h.Again()
}

// needHits says why hits cannot be snapped to, or "".
func (sp *Page) needHits() string {
	if why := sp.NeedSong(); why != "" {
		return why
	}
	if sp.work().InView().Audio.Path == "" {
		return "the song has no recording in which hits could be heard"
	}
	return ""
}

// SnapCommands say what is snapped to.
func (sp *Page) SnapCommands() []page.Command {
	to := func(id, name, help string, t snap.To, off func() string) page.Command {
		return page.Command{ID: id, Name: name, Help: help, Group: "View", Off: off, Run: func() { sp.snapTo(t) }}
	}
	from := func(id, name, help string, s snap.Strength) page.Command {
		return page.Command{ID: id, Name: name, Help: help, Group: "View", Off: page.Free, Run: func() { sp.snapFrom(s) }}
	}
	return []page.Command{
		{ID: "snap", Name: "Snap on or off", Help: "draws what is moved to grid or hits, marks, cues and playhead", Group: "View", Keys: []string{"S"}, Off: page.Free, Run: sp.toggleSnap},
		{ID: "snap-next", Name: "Snap to the next", Help: "goes on from beats to hits, and to both", Group: "View", Keys: []string{"Shift+S"}, Off: page.Free, Run: sp.stepSnap},
		{ID: "snap-menu", Name: "Snap menu", Help: "opens the menu of what is snapped to", Group: "View", Keys: []string{"Alt+Shift+S"}, Off: sp.NeedSong, Run: sp.openSnapMenu},
		to("snap-beats", "Snap to beats", "draws what is moved to the steps of the grid", snap.Beats, page.Free),
		to("snap-hits", "Snap to hits", "draws what is moved to what is heard to begin in the recording, from farther where it is stronger", snap.Hits, sp.needHits),
		to("snap-both", "Snap to beats and hits", "draws what is moved to the grid and to what is heard, whichever is nearer", snap.Both, sp.needHits),
		from("snap-strong", "Strong hits only", "snaps to the strongest quarter of the hits", snap.Strong),
		from("snap-middle", "Strong and middle hits", "snaps to hits that are not weak", snap.Middle),
		from("snap-weak", "All hits", "snaps to every hit that is heard", snap.Weak),
	}
}

// snapOn reports whether a command of the menu is what is chosen.
func (sp *Page) snapOn(command string) bool {
	to, weakest := sp.chosenSnap()
	switch command {
	case "snap-beats", "snap-hits", "snap-both":
		return sp.h.Prefs().Snap && command == fmt.Sprintf("snap-%s", to)
	case "snap-strong", "snap-middle", "snap-weak":
		return command == fmt.Sprintf("snap-%s", weakest)
	}
	return false
}
