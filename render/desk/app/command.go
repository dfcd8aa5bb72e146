package app

import (
	"cmp"
	"fmt"
	"strings"

	"emberbeat/render/desk/keymap"
	"emberbeat/render/desk/page"
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

// commands gives all commands in the order of menus.
func (a *App) commands() []command {
	s := a.song
	return join(showCommands, a.familyCommands(listFamily), undoCommands, a.familyCommands(stepFamily), a.songCommands(s.EditCommands), findCommands, a.songCommands(s.CueCommands), a.songCommands(s.ArrangeCommands), a.songCommands(s.BeatCommands), findingCommands,
		a.songCommands(s.PlayCommands), a.songCommands(s.SwitchCommands), a.songCommands(s.GoCommands), stepCommands, ribbonCommands,
		a.bookCommands, rowCommands, a.familyCommands(ruleFamily), a.familyCommands(conflictFamily), a.familyCommands(carryFamily), a.familyCommands(callFamily),
		a.familyCommands(stockFamily), a.familyCommands(slotFamily), a.familyCommands(patchFamily), a.familyCommands(wireFamily), a.familyCommands(rigFamily),
		a.songCommands(s.PhraseCommands), a.familyCommands(planFamily),
		a.familyCommands(setFamily), a.familyCommands(wholeFamily), a.familyCommands(venueFamily), a.familyCommands(nightFamily),
		a.songCommands(s.ViewCommands), viewCommands, helpCommands)
}

// familyCommands gives the commands of a family of pages. What they do is looked up when they are used, since a family is made anew with
// each show.
func (a *App) familyCommands(n int) func() []command {
	return func() []command {
		var list []command
		for i, c := range a.families[n].Commands {
			list = append(list, command{id: c.ID, name: c.Name, help: c.Help, group: cmp.Or(c.Group, "Book"), keys: c.Keys, repeats: c.Repeats,
				off: func(a *App) string { return a.families[n].Commands[i].Off() },
				run: func(a *App) { a.families[n].Commands[i].Run() }, op: c.Op})
		}
		return list
	}
}

// songCommands gives commands of the song page.
func (a *App) songCommands(of func() []page.Command) func() []command {
	return func() []command {
		var list []command
		for _, c := range of() {
			list = append(list, command{id: c.ID, name: c.Name, help: c.Help, group: cmp.Or(c.Group, "Book"), keys: c.Keys, repeats: c.Repeats,
				off: func(*App) string { return c.Off() }, run: func(*App) { c.Run() }, op: c.Op})
		}
		return list
	}
}

func join(lists ...func() []command) []command {
	var all []command
	for _, l := range lists {
		all = append(all, l()...)
	}
	return all
}

// byID gives the command with an id, or nil.
func (a *App) byID(id string) *command {
	for i := range a.table {
		if a.table[i].id == id {
			return &a.table[i]
		}
	}
	return nil
}

// why says why a command cannot be used now; "" means that it can.
func (a *App) why(c *command) string {
	if own, ok := a.actOf(c); ok {
		return own.Off()
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
	if own, ok := a.actOf(c); ok {
		own.Run()
	} else {
		c.run(a)
	}
	a.again = true
}

// Use runs the command with an id, for what lies beside the window; false when there is none.
func (a *App) Use(id string) bool {
	c := a.byID(id)
	if c != nil {
		a.use(c)
	}
	return c != nil
}

// dispatch gives keys that no control took to the commands.
func (a *App) dispatch(keys []widget.Press) {
	for _, p := range keys {
		if c := a.byID(a.keys.Of(p)); c != nil && (c.repeats || !p.Repeat) {
			a.use(c)
		}
	}
}

// keysOf gives what the keys know of commands.
func keysOf(table []command) []keymap.Command {
	list := make([]keymap.Command, len(table))
	for i := range table {
		list[i] = keymap.Command{ID: table[i].id, Group: table[i].group, Keys: table[i].keys}
	}
	return list
}

// KeysPage writes the page of keys of the documents, in Markdown.
func KeysPage() string {
	a := New(Options{})
	var b strings.Builder
	b.WriteString("# Keys and commands\n\nThe same table serves the window's keys, its menus, the palette and the help.\n")
	for _, g := range groups {
		fmt.Fprintf(&b, "\n## %s\n\n| command | keys | does |\n| --- | --- | --- |\n", g)
		for i := range a.table {
			if c := &a.table[i]; c.group == g {
				fmt.Fprintf(&b, "| %s | %s | %s |\n", c.name, strings.ReplaceAll(a.keysText(c), "|", `\|`), c.help)
			}
		}
	}
	return b.String()
}

// keysText names a command's keys, or "".
func (a *App) keysText(c *command) string { return strings.Join(a.keys.Words(c.id), ", ") }

// key names the first key of the command with an id, for help in sentences.
func (a *App) key(id string) string {
	if c := a.byID(id); c != nil {
		if w := a.keys.Words(c.id); len(w) > 0 {
			return w[0]
		}
	}
	return ""
}

// Reasons why a command cannot be used.

// needStep asks for findings, or for doubts about the beats while the strip of these is open.
func needStep(a *App) string {
	if why := needShow(a); why != "" {
		return why
	}
	if len(a.work.Findings) == 0 && !a.song.Strip().Open() {
		return "no findings"
	}
	return ""
}
