package keymap

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/render/widget"
)

// File is the name of the file of keys in the user's state folder.
const File = "keys.txt"

// Command is what can have keys.
type Command struct {
	ID    string
	Group string   // the menu it stands in
	Keys  []string // as people write them: Ctrl+Shift+Z
}

// Map says which key runs which command.
type Map struct {
	table    []Command
	bound    map[press]string    // id of the command
	keys     map[string][]string // of a command, by its id
	problems []string
}

// press is a key with modifiers.
type press struct {
	key  widget.Key
	mods widget.Mods
}

func pressOf(p widget.Press) press { return press{p.Key, p.Mods} }

// New binds all commands to the keys of the table.
func New(table []Command) *Map {
	m := &Map{table: table, bound: map[press]string{}, keys: map[string][]string{}}
	for _, c := range table {
		m.bind(c.ID, c.Keys)
	}
	return m
}

// Load reads the user's keys, in a folder, over those of the table. A folder or
// file that is not there changes nothing.
func Load(dir string, table []Command) *Map {
	m := New(table)
	if dir == "" {
		return m
	}
	b, err := os.ReadFile(filepath.Join(dir, File))
	if err == nil {
		m.Read(string(b))
	}
	return m
}

// Of gives the id of the command that a press runs, or "".
func (m *Map) Of(p widget.Press) string { return m.bound[pressOf(p)] }

// Words names the keys of a command.
func (m *Map) Words(id string) []string { return m.keys[id] }

// Problems lists what of the user's file could not be read, a line each.
func (m *Map) Problems() []string { return m.problems }

// bind gives keys to a command; a key that another has goes over to it.
func (m *Map) bind(id string, keys []string) {
	m.keys[id] = nil
	for _, k := range keys {
		w, ok := ParsePress(k)
		if !ok {
			m.problems = append(m.problems, fmt.Sprintf("%s: there is no key %q", id, k))
			continue
		}
		p := pressOf(w)
		if other := m.bound[p]; other != "" && other != id {
			m.keys[other] = slices.DeleteFunc(m.keys[other], func(text string) bool { return text == w.String() })
		}
		m.bound[p] = id
		m.keys[id] = append(m.keys[id], w.String())
	}
}

// unbind takes all keys from a command.
func (m *Map) unbind(id string) {
	for p, o := range m.bound {
		if o == id {
			delete(m.bound, p)
		}
	}
}

// ParsePress reads a key as people write it, Ctrl+Shift+Z; false for what is none.
func ParsePress(text string) (widget.Press, bool) {
	var p widget.Press
	rest := strings.TrimSpace(text)
	for {
		word, after, ok := strings.Cut(rest, "+")
		mod := map[string]widget.Mods{"ctrl": widget.Ctrl, "cmd": widget.Ctrl, "alt": widget.Alt, "shift": widget.Shift}[strings.ToLower(word)]
		if !ok || mod == 0 {
			break
		}
		p.Mods |= mod
		rest = after
	}
	k, ok := widget.KeyNamed(rest)
	p.Key = k
	return p, ok
}

// Read takes lines of the form "command = key key". An empty right side takes the
// command's keys away; a line that starts with # is a comment. What cannot be read
// is a problem, and changes nothing.
func (m *Map) Read(text string) {
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		id, keys, ok := strings.Cut(line, "=")
		id = strings.TrimSpace(id)
		if !ok || !slices.ContainsFunc(m.table, func(c Command) bool { return c.ID == id }) {
			m.problems = append(m.problems, fmt.Sprintf("%s:%d: there is no command %q", File, n+1, id))
			continue
		}
		m.unbind(id)
		m.bind(id, splitKeys(keys))
	}
}

// splitKeys splits a list of keys at spaces; a comma alone, or after a modifier, is
// the key of that name.
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

// Write gives the keys as they stand, group by group, to be edited and read again.
func (m *Map) Write(groups []string) string {
	var b strings.Builder
	b.WriteString("# Keys of emberbeat: command = key key …  Keys are separated by spaces; an empty right side means none.\n")
	for _, g := range groups {
		fmt.Fprintf(&b, "\n# %s\n", g)
		for _, c := range m.table {
			if c.Group == g {
				fmt.Fprintf(&b, "%s = %s\n", c.ID, strings.Join(m.Words(c.ID), " "))
			}
		}
	}
	return b.String()
}
