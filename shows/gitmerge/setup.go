package gitmerge

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/shows"
)

// Done says what setting up or undoing has changed, each a sentence.
type Done []string

const (
	driver     = "emberbeat"
	section    = "merge." + driver
	attributes = ".gitattributes"
	firstLine  = "# emberbeat merges the files of the show: emberbeat merge SHOW --git-off takes this out"
)

// patterns are the files of a show below its folder.
var patterns = []string{"show.toml", "stock.toml", "rig.toml", "rules.toml", "venues/*.toml", "nights/*.toml", "songs/*/song.toml", "songs/*/cues.toml"}

// SetUp makes git merge the files of the show in a folder with a program, by
// what it writes into the .gitattributes and the settings of the repository that
// the folder is in. Where all of it stands there already nothing is done.
func SetUp(dir, program string) (Done, error) {
	top, below, err := repository(dir)
	if err != nil {
		return nil, err
	}
	var done Done
	command := quoteForShell(program) + " merge --driver %O %A %B %P"
	for _, set := range [][2]string{{section + ".name", "files of a show"}, {section + ".driver", command}} {
		if was, _ := shows.Git(top, "config", "--local", "--get", set[0]); strings.TrimSpace(was) == set[1] {
			continue
		}
		if _, err := shows.Git(top, "config", "--local", set[0], set[1]); err != nil {
			return done, err
		}
		done = append(done, fmt.Sprintf("set %s to %q in the repository's own settings", set[0], set[1]))
	}
	name := filepath.Join(top, attributes)
	text, err := os.ReadFile(name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return done, err
	}
	lines := ourLines(below)
	old := splitLines(string(text))
	var add []string
	for _, l := range lines {
		if !slices.Contains(old, l) {
			add = append(add, l)
		}
	}
	if len(add) == 0 {
		return done, nil
	}
	if !slices.Contains(old, firstLine) {
		add = append([]string{firstLine}, add...)
	}
	out := string(text)
	if out != "" && !strings.HasSuffix(out, "\n") {
		out += "\n"
	}
	out += strings.Join(add, "\n") + "\n"
	if err := replace(name, out); err != nil {
		return done, err
	}
	return append(done, fmt.Sprintf("added %d lines to %s; commit it, so that it goes where the show goes", len(add), attributes)), nil
}

// Undo takes out what SetUp has put in. The settings stay where other shows of
// the repository still use them.
func Undo(dir string) (Done, error) {
	top, below, err := repository(dir)
	if err != nil {
		return nil, err
	}
	var done Done
	name := filepath.Join(top, attributes)
	text, err := os.ReadFile(name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	lines := ourLines(below)
	old := splitLines(string(text))
	rest := slices.DeleteFunc(slices.Clone(old), func(l string) bool { return slices.Contains(lines, l) })
	used := slices.ContainsFunc(rest, func(l string) bool { return strings.HasSuffix(l, " merge="+driver) })
	if !used {
		rest = slices.DeleteFunc(rest, func(l string) bool { return l == firstLine })
	}
	if n := len(old) - len(rest); n > 0 {
		if len(rest) == 0 {
			err = os.Remove(name)
		} else {
			err = replace(name, strings.Join(rest, "\n")+"\n")
		}
		if err != nil {
			return nil, err
		}
		done = append(done, fmt.Sprintf("took %d lines out of %s", n, attributes))
	}
	if used {
		return append(done, "left the repository's settings, which other shows in it use"), nil
	}
	if _, err := shows.Git(top, "config", "--local", "--remove-section", section); err == nil {
		done = append(done, "took "+section+" out of the repository's own settings")
	}
	return done, nil
}

// repository gives the folder of the repository that a show is in, and the show's
// below it, with '/', or "".
func repository(dir string) (top, below string, err error) {
	if _, err := shows.OS(dir).ReadFile("show.toml"); err != nil {
		return "", "", &shows.NoShowError{Dir: dir, Err: err}
	}
	out, err := shows.Git(dir, "rev-parse", "--show-toplevel")
	if err != nil {
		return "", "", fmt.Errorf("%s is in no git repository; make one there with git init: %w", dir, err)
	}
	top = filepath.FromSlash(strings.TrimRight(out, "\r\n"))
	out, err = shows.Git(dir, "rev-parse", "--show-prefix")
	return top, strings.TrimSuffix(strings.TrimRight(out, "\r\n"), "/"), err
}

// ourLines are the lines for a show in .gitattributes, with its folder.
func ourLines(below string) []string {
	var lines []string
	for _, p := range patterns {
		p = "/" + path.Join(escaped(below), p)
		if strings.ContainsAny(p, " \t\"") {
			p = `"` + strings.ReplaceAll(p, `"`, `\"`) + `"`
		}
		lines = append(lines, p+" merge="+driver)
	}
	return lines
}

// escaped writes a folder's name so that no letter of it is a pattern.
func escaped(name string) string {
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(name)
}

func splitLines(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n")
}

// replace writes a file whole or not at all.
func replace(name, text string) error {
	if err := os.WriteFile(name+".new", []byte(text), 0o644); err != nil {
		return err
	}
	return os.Rename(name+".new", name)
}

// quoteForShell writes a program's path as the shell takes it that git starts
// drivers with, on every system.
func quoteForShell(program string) string {
	return "'" + strings.ReplaceAll(filepath.ToSlash(program), "'", `'\''`) + "'"
}
