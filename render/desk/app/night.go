package app

import (
	"image"

	"emberbeat/render/desk/page/tonight"
	"emberbeat/timeline"
)

// What is planned for: the tour itself, or a night.

// nightChoice chooses what is planned for: the tour itself, or a night.
func (a *App) nightChoice(r image.Rectangle) {
	w := a.work
	names, at := []string{"Tour, no night"}, 0
	for i, n := range w.Show.Nights {
		name := n.Name
		if n.Date != "" {
			name = n.Date + "  " + n.Name
		}
		names = append(names, name)
		if n.ID == w.Night {
			at = i + 1
		}
	}
	r.Min.Y, r.Max.Y = r.Min.Y+a.ui.Px(2), r.Max.Y-a.ui.Px(2)
	if now, changed := a.ui.Dropdown("night", r, names, at); changed {
		id := timeline.ID("")
		if now > 0 {
			id = w.Show.Nights[now-1].ID
		}
		a.goNight(id)
	}
	a.ui.Tip("Which night is planned for: now "+names[at], a.key("night"))
}

func (a *App) goNight(id timeline.ID) {
	a.work.Night = id
	a.work.Refresh()
	a.prefs.PlansFor(a.work.Session.Dir(), string(id))
	a.note = note{text: a.notAsPlayed()}
	a.again = true
	a.say("night %s", id)
}

func (a *App) stepNight() {
	w := a.work
	nights := w.Show.Nights
	next := timeline.ID("")
	if w.Night == "" && len(nights) > 0 {
		next = nights[0].ID
	}
	for i, n := range nights {
		if n.ID == w.Night && i+1 < len(nights) {
			next = nights[i+1].ID
		}
	}
	a.goNight(next)
}

// startNight chooses the night of a show that was just opened: the one planned for last, else the one whose date is today; the page of
// tonight is then what is seen first.
func (a *App) startNight() {
	w := a.work
	id := timeline.ID(a.prefs.Planned(w.Session.Dir()))
	if w.Session.Show().Night(id) == nil {
		id = ""
		today := a.o.Now().Format("2006-01-02")
		for _, n := range w.Session.Show().Nights {
			if n.Date == today {
				id = n.ID
			}
		}
	}
	if id == "" {
		if n := len(w.Session.Show().Nights); n > 0 && a.note.text == "" {
			a.tell("%s planned: choose one at the top right, then %s shows what it needs", timeline.Counted(n, "night"), a.key("book-tonight"))
		}
		return
	}
	w.Night = id
	a.turn(tonight.ID)
}
