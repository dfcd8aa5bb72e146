package app

import (
	"strings"

	"emberbeat/render/widget"
	"emberbeat/timeline/operation"
)

// command is one thing the user can do. The table of commands serves keys, menus, palette, help and the page of keys, so that nothing can
// be done in one way and not in the others.
type command struct {
	id      string // permanent; names it in the key file
	name    string // as menu and palette show it
	help    string // what it does, one sentence without its name
	group   string
	keys    []string // as long as the user has not changed them
	repeats bool     // while its key is held
	off     func(*App) string
	run     func(*App)
	op      *operation.Operation // that it does, nil where it is none of the model
}

// groups are the menus, in order.
var groups = []string{"Show", "Edit", "Cue", "Play", "Go", "Book", "View", "Help"}

// table holds all commands in the order of menus. It is filled once, before anything runs.
var table []command

func init() {
	fillPages()
	table = join(showCommands, editCommands, cueCommands, playCommands, goCommands,
		bookCommands, rowCommands, ruleCommands,
		stockCommands, slotCommands, patchCommands, wireCommands,
		phraseCommands,
		nightPageCommands,
		viewCommands, helpCommands)
}

func join(lists ...func() []command) []command {
	var all []command
	for _, l := range lists {
		all = append(all, l()...)
	}
	return all
}

// byID gives the command with an id, or nil.
func byID(id string) *command {
	for i := range table {
		if table[i].id == id {
			return &table[i]
		}
	}
	return nil
}

// why says why a command cannot be used now; "" means that it can.
func (a *App) why(c *command) string {
	if own, ok := a.actOf(c); ok {
		return own.off(a)
	}
	if c.off == nil {
		return ""
	}
	return c.off(a)
}

// use runs a command, or says why not.
func (a *App) use(c *command) {
	if why := a.why(c); why != "" {
		a.note = note{text: c.name + ": " + why, bad: true}
		a.again = true
		a.say("off %s: %s", c.id, why)
		return
	}
	a.lastOne = c.id
	if own, ok := a.actOf(c); ok {
		own.run(a)
	} else {
		c.run(a)
	}
	a.again = true
}

// Use runs the command with an id, for what lies beside the window; false when there is none.
func (a *App) Use(id string) bool {
	c := byID(id)
	if c != nil {
		a.use(c)
	}
	return c != nil
}

// dispatch gives keys that no control took to the commands.
func (a *App) dispatch(keys []widget.Press) {
	for _, p := range keys {
		if c := a.keys.of(p); c != nil && (c.repeats || !p.Repeat) {
			a.use(c)
		}
	}
}

// keysText names a command's keys, or "".
func (a *App) keysText(c *command) string { return strings.Join(a.keys.words(c), ", ") }

// key names the first key of the command with an id, for help in sentences.
func (a *App) key(id string) string {
	if c := byID(id); c != nil {
		if w := a.keys.words(c); len(w) > 0 {
			return w[0]
		}
	}
	return ""
}

// Reasons why a command cannot be used.

func needShow(a *App) string {
	if a.work == nil {
		return "open a show first"
	}
	return ""
}

func needEdit(a *App) string {
	switch {
	case a.work == nil:
		return "open a show first"
	case a.work.s.ReadOnly():
		return "the show is open read-only: another program has it"
	}
	return ""
}

func needSong(a *App) string {
	switch {
	case a.work == nil:
		return "open a show first"
	case a.work.data == nil:
		return "the show has no song yet: drop an audio file on the window"
	}
	return ""
}

func needSongEdit(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	return needSong(a)
}

func needCues(a *App) string {
	if why := needSongEdit(a); why != "" {
		return why
	}
	if len(a.work.view().selected) == 0 {
		return "select a cue first"
	}
	return ""
}

func needSelection(a *App) string {
	if why := needSong(a); why != "" {
		return why
	}
	if len(a.work.view().selected) == 0 {
		return "select a cue first"
	}
	return ""
}

func needLane(a *App) string {
	if why := needSong(a); why != "" {
		return why
	}
	if a.work.lane(a.work.view().focus) < 0 {
		return "the song has no lane in focus: choose one with ↑ and ↓"
	}
	return ""
}

func needLaneEdit(a *App) string {
	if why := needSongEdit(a); why != "" {
		return why
	}
	return needLane(a)
}

func needFindings(a *App) string {
	if why := needShow(a); why != "" {
		return why
	}
	if len(a.work.findings) == 0 {
		return "no findings"
	}
	return ""
}
