package app

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/keymap"
	"emberbeat/render/widget"
)

func TestEveryCommandHasAllItNeeds(t *testing.T) {
	ids, names := map[string]bool{}, map[string]bool{}
	for _, c := range New(Options{}).table {
		require.Regexp(t, regexp.MustCompile(`^[a-z0-9-]+$`), c.id)
		require.NotEmpty(t, c.name, c.id)
		require.NotEmpty(t, c.help, c.id)
		require.NotRegexp(t, `\.$`, c.help, "%s: help is a clause", c.id)
		require.Contains(t, groups, c.group, c.id)
		require.NotNil(t, c.run, c.id)
		require.False(t, ids[c.id], "two commands %s", c.id)
		require.False(t, names[c.name], "two commands named %s", c.name)
		ids[c.id], names[c.name] = true, true
		for _, k := range c.keys {
			_, ok := keymap.ParsePress(k)
			require.True(t, ok, "%s: %s", c.id, k)
		}
	}
}

// No default key serves two commands, and every command keeps the keys the table gives it.
func TestDefaultKeysAreDistinct(t *testing.T) {
	seen := map[widget.Press]string{}
	a := New(Options{})
	m, table := a.keys, a.table
	require.Empty(t, m.Problems())
	for i := range table {
		for _, k := range table[i].keys {
			p, _ := keymap.ParsePress(k)
			require.Empty(t, seen[p], "%s and %s have %s", seen[p], table[i].id, k)
			seen[p] = table[i].id
			require.Equal(t, table[i].id, m.Of(p))
		}
	}
}

// conventional are the keys that the program promises. Lock lane has Ctrl+Shift+L, because Shift+L makes a loop of the selection.
var conventional = strings.Fields(`Space R Shift+Space Left Right Shift+Left Shift+Right Ctrl+Left Ctrl+Right Home End Ctrl+Home Ctrl+End
	Ctrl+PgUp Ctrl+PgDn PgUp PgDn G L Shift+L I O F Up Down Tab Shift+Tab Ctrl+Up Ctrl+Down F8 Shift+F8 Enter T 1 2 3 4 5 6 7 8 9 M Ctrl+Shift+M
	+ - 0 Z Shift+Z Ctrl+Alt++ Ctrl+Alt+- F9 F11 Alt+Left Alt+Right , . Alt+Shift+Left Alt+Shift+Right Alt+Up Alt+Down Ctrl+C Ctrl+X Ctrl+V
	Ctrl+Shift+V Ctrl+D Delete Shift+Delete Ctrl+G Ctrl+Shift+G Ctrl+L Ctrl+Shift+L H Ctrl+U Ctrl+Shift+U Q S [ ] Ctrl+Z Ctrl+Shift+Z Ctrl+Y Ctrl+A
	Ctrl+Shift+A Shift+End Shift+Home Ctrl+F F3 Ctrl+Enter F2 Ctrl+I Ctrl+E Ctrl+S Ctrl+O Ctrl+N Ctrl+, Ctrl+Q Ctrl+Shift+P F1 ? F6 Shift+F6 Esc
	Shift+F10 Menu`)

// Every command can be used, or says why not, on the start page and in a show; none of them ends in a panic.
func TestEveryCommandRunsOrSaysWhyNot(t *testing.T) {
	for _, c := range New(Options{}).table {
		t.Run(c.id, func(t *testing.T) {
			h := newHand(t)
			c := h.a.byID(c.id)
			if why := h.a.why(c); why != "" {
				h.a.use(c)
				require.Contains(t, h.a.note.text, why)
			}
		})
	}
	h := withExample(t)
	for i := range h.a.table {
		if c := &h.a.table[i]; c.id != "quit" && c.id != "close-show" && c.id != "open-example" {
			h.a.work.View().Choose(h.a.work.InView().Cues[0].ID)
			h.a.use(c)
			h.step()
			h.a.dialog = nil
			h.key("Esc")
			require.NotNil(t, h.a.work, c.id)
		}
	}
}

func TestMenusAndPaletteHoldEveryCommand(t *testing.T) {
	h := newHand(t)
	h.a.in.Pressed = widget.Primary
	seen := map[string]int{}
	var walk func(menu string, items []widget.Item)
	walk = func(menu string, items []widget.Item) {
		require.LessOrEqual(t, len(items), 18, "%s is too long to be read at once", menu)
		for _, it := range items {
			if it.ID != "" {
				seen[it.ID]++
			}
			if it.Sub != nil {
				walk(menu+", "+it.Label, it.Sub)
			}
		}
	}
	for _, m := range h.a.menus() {
		walk(m.Label, m.Sub)
	}
	require.Len(t, seen, len(h.a.table))
	for id, n := range seen {
		require.Equal(t, 1, n, id)
	}
	h.key("Ctrl+Shift+P")
	h.typed("next theme")
	h.key("Enter")
	require.Equal(t, "Night", h.a.Theme().Name)
}

// The page of keys in the documents is made from the table. EMBERBEAT_UPDATE=1 writes it anew.
func TestPageOfKeysIsUpToDate(t *testing.T) {
	const name = "../KEYS.md"
	if os.Getenv("EMBERBEAT_UPDATE") == "1" {
		require.NoError(t, os.WriteFile(name, []byte(KeysPage()), 0o644))
	}
	b, err := os.ReadFile(name)
	require.NoError(t, err)
	require.Equal(t, KeysPage(), string(b), "run the test with EMBERBEAT_UPDATE=1")
}
