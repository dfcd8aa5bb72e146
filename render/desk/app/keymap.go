package app

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/render/widget"
)

// keysFile is the name of the file of keys in the user's state folder.
const keysFile = "keys.txt"

// keymap says which key runs which command.
type keymap struct {
	table    []command
	bound    map[press]*command
	of1      map[string][]string // keys of a command by its id
	problems []string            // of the user's file, a line each
}

// press is a key with modifiers.
type press struct {
	key  widget.Key
	mods widget.Mods
}

// newKeymap binds all commands to the keys of the table.
func newKeymap(table []command) *keymap {
	m := &keymap{table: table, bound: map[press]*command{}, of1: map[string][]string{}}
	for i := range m.table {
		m.bind(&table[i], table[i].keys)
	}
	return m
}

// bind gives keys to a command; a key that another has goes over to it.
func (m *keymap) bind(c *command, keys []string) {
	m.of1[c.id] = nil
	for _, k := range keys {
		p, ok := parsePress(k)
		if !ok {
			m.problems = append(m.problems, fmt.Sprintf("%s: there is no key %q", c.id, k))
			continue
		}
		if other := m.bound[p]; other != nil && other != c {
			m.of1[other.id] = slices.DeleteFunc(m.of1[other.id], func(w string) bool { return w == pressText(p) })
		}
		m.bound[p] = c
		m.of1[c.id] = append(m.of1[c.id], pressText(p))
	}
}

// unbind takes all keys from a command.
func (m *keymap) unbind(c *command) {
	for p, o := range m.bound {
		if o == c {
			delete(m.bound, p)
		}
	}
}

// of gives the command of a press, or nil.
func (m *keymap) of(p widget.Press) *command { return m.bound[press{p.Key, p.Mods}] }

// words names the keys of a command.
func (m *keymap) words(c *command) []string { return m.of1[c.id] }

// parsePress reads a key as people write it, Ctrl+Shift+Z.
func parsePress(text string) (press, bool) {
	var p press
	rest := strings.TrimSpace(text)
	for {
		word, after, ok := strings.Cut(rest, "+")
		mod := map[string]widget.Mods{"ctrl": widget.Ctrl, "cmd": widget.Ctrl, "alt": widget.Alt, "shift": widget.Shift}[strings.ToLower(word)]
		if !ok || mod == 0 {
			break
		}
		p.mods |= mod
		rest = after
	}
	k, ok := widget.KeyNamed(rest)
	p.key = k
	return p, ok
}

func pressText(p press) string { return widget.Press{Key: p.key, Mods: p.mods}.String() }

// loadKeys reads the user's keys over those of the table. A folder or file that is not there changes nothing.
func loadKeys(dir string, table []command) *keymap {
	m := newKeymap(table)
	if dir == "" {
		return m
	}
	b, err := os.ReadFile(filepath.Join(dir, keysFile))
	if err == nil {
		m.read(string(b))
	}
	return m
}

// read takes lines of the form "command = key, key". An empty right side takes the command's keys away; a line that starts with # is a
// comment.
func (m *keymap) read(text string) {
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		id, keys, ok := strings.Cut(line, "=")
		at := slices.IndexFunc(m.table, func(c command) bool { return c.id == strings.TrimSpace(id) })
		if !ok || at < 0 {
			m.problems = append(m.problems, fmt.Sprintf("%s:%d: there is no command %q", keysFile, n+1, strings.TrimSpace(id)))
			continue
		}
		c := &m.table[at]
		m.unbind(c)
		m.bind(c, splitKeys(keys))
	}
}

// splitKeys splits a list of keys at commas; a comma alone, or after a modifier, is the key of that name.
func splitKeys(text string) []string {
	var list []string
	for _, part := range strings.Split(strings.TrimSpace(text), " ") {
		part = strings.TrimSpace(part)
		if len(part) > 1 && !strings.HasSuffix(part, "+,") {
			part = strings.TrimSuffix(part, ",")
		}
		if part != "" {
			list = append(list, part)
		}
	}
	return list
}

// file writes the keys as they stand, to be edited.
func (m *keymap) file() string {
	var b strings.Builder
	b.WriteString("# Keys of emberbeat: command = key key …  Keys are separated by spaces; an empty right side means none.\n")
	for _, g := range groups {
		fmt.Fprintf(&b, "\n# %s\n", g)
		for i := range m.table {
			if c := &m.table[i]; c.group == g {
				fmt.Fprintf(&b, "%s = %s\n", c.id, strings.Join(m.words(c), " "))
			}
		}
	}
	return b.String()
}

// KeysPage writes the page of keys of the documents, in Markdown.
func KeysPage() string {
	m := New(Options{}).keys
	var b strings.Builder
	b.WriteString("# Keys and commands\n\nThe same table serves the window's keys, its menus, the palette and the help.\n")
	for _, g := range groups {
		fmt.Fprintf(&b, "\n## %s\n\n| command | keys | does |\n| --- | --- | --- |\n", g)
		for i := range m.table {
			if c := &m.table[i]; c.group == g {
				fmt.Fprintf(&b, "| %s | %s | %s |\n", c.name, strings.ReplaceAll(strings.Join(m.words(c), ", "), "|", `\|`), c.help)
			}
		}
	}
	return b.String()
}
