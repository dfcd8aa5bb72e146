package shows

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// found is what is in a show folder.
type found struct {
	jobs     []readJob
	problems []Problem
	copies   []Problem // files that look like a second copy of one of the show's
	strays   []string  // what interrupted work left behind
	kept     bool      // of a played night
}

// findFiles lists the files of a show, and those kept of nights that were played.
// Only show.toml must be there.
func findFiles(st Storage) (*found, error) { return findShow(st, false) }

// findShow is findFiles; what is kept of a played night may be no more than what
// is left of its folder, and has no played nights.
func findShow(st Storage, kept bool) (*found, error) {
	top, err := st.List("")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &NoShowError{".", err}
	}
	if err != nil {
		return nil, &FileError{File: "the show folder", Doing: "read", Err: err}
	}
	if !hasEntry(top, showFile, false) && !kept {
		return nil, &NoShowError{".", fs.ErrNotExist}
	}
	in := &found{kept: kept}
	for _, j := range []readJob{{showKind, showFile}, {stockKind, stockFile}, {rigKind, rigFile}, {rulesKind, rulesFile}} {
		if hasEntry(top, j.name, false) {
			in.jobs = append(in.jobs, j)
		}
	}
	in.look("", top, showFile, stockFile, rigFile, rulesFile)
	for _, d := range []readJob{{venueKind, venuesDir}, {nightKind, nightsDir}, {songKind, songsDir}, {nil, AudioDir}} {
		if !hasEntry(top, d.name, true) {
			continue
		}
		list, err := st.List(d.name)
		if err != nil && d.kind == nil {
			continue // recordings are looked at one by one
		}
		if err != nil {
			return nil, &FileError{File: d.name, Doing: "read", Err: err}
		}
		if err := in.folder(st, d, list); err != nil {
			return nil, err
		}
	}
	if kept && len(in.jobs) > 0 && in.jobs[0].kind != showKind {
		in.problems = append(in.problems, Problem{showFile, 0, "it is missing from what is kept of a played night", "put it back, or move the folder away"})
	}
	return in, nil
}

// folder finds the files in one of the folders of a show.
func (in *found) folder(st Storage, d readJob, list []Entry) error {
	in.look(d.name, list)
	for _, e := range list {
		switch name := d.name + "/" + e.Name; {
		case hidden(e.Name) || d.kind == nil:
		case d.kind != songKind && !e.Dir && strings.HasSuffix(e.Name, ".toml"):
			in.jobs = append(in.jobs, readJob{d.kind, name})
		case d.kind == nightKind && e.Dir && !in.kept:
			if err := in.played(st, name); err != nil {
				return err
			}
		case d.kind == songKind && e.Dir:
			inside, err := st.List(name)
			if err != nil {
				return &FileError{File: name, Doing: "read", Err: err}
			}
			in.song(name, inside)
		}
	}
	return nil
}

// song finds the files in the folder of a song.
func (in *found) song(name string, inside []Entry) {
	song := hasEntry(inside, songFile, false)
	if song {
		in.jobs = append(in.jobs, readJob{songKind, name + "/" + songFile})
	}
	for _, beside := range []readJob{{cuesKind, cuesFile}, {notesKind, notesFile}} {
		if !hasEntry(inside, beside.name, false) {
			continue
		}
		file := name + "/" + beside.name
		in.jobs = append(in.jobs, readJob{beside.kind, file})
		if !song {
			in.problems = append(in.problems, Problem{file, 0, "there is no " + songFile + " beside it", "put the song's file back, or remove the folder"})
		}
	}
	in.look(name, inside, songFile, cuesFile, notesFile)
}

// look finds, among the files of a folder, what interrupted work left behind and
// what looks like a second copy of one of its files.
func (in *found) look(dir string, list []Entry, ours ...string) {
	for _, e := range list {
		if e.Dir {
			continue
		}
		if isStray(dir, e.Name) {
			in.strays = append(in.strays, join(dir, e.Name))
		}
		if of := copyOf(e.Name, ours); of != "" {
			in.copies = append(in.copies, Problem{join(dir, e.Name), 0, "looks like a second copy of " + of + ", as a synchronised folder makes when two computers have changed it",
				"compare it with " + of + ", and delete it once nothing in it is missed"})
		}
	}
}

// isStray reports whether a file of a folder is one that waits there only while
// the show is saved, or a recording is copied in.
func isStray(dir, name string) bool {
	if dir == "" && (name == pendingFile || name == besideName(pendingFile)) {
		return true // a list that is whole is looked through, and not seen here
	}
	base, ok := strings.CutSuffix(strings.TrimPrefix(name, "."), ".new")
	if !ok || !hidden(name) {
		return false
	}
	return isShowFile(join(dir, base)) || dir == AudioDir && IsSound(base)
}

// copyOf names the file of which another one looks like a copy, or gives "": the
// name of that file, and behind it something that is no letter.
func copyOf(name string, ours []string) string {
	if path.Ext(name) != ".toml" || slices.Contains(ours, name) {
		return ""
	}
	for _, of := range ours {
		rest, ok := strings.CutPrefix(strings.TrimSuffix(name, ".toml"), strings.TrimSuffix(of, ".toml"))
		if ok && rest != "" && strings.IndexByte(" (-_.~0123456789", rest[0]) >= 0 {
			return of
		}
	}
	return ""
}

func hasEntry(list []Entry, name string, dir bool) bool {
	return slices.Contains(list, Entry{name, dir})
}

// sweep takes away what interrupted saves left behind. Only who has the folder
// locked may, and nothing may wait to be put in place.
func sweep(st Storage) {
	in, err := findFiles(st)
	if err != nil {
		return // no show here yet, or one that the save will speak of
	}
	for _, name := range in.strays {
		if dirOf(name) != AudioDir { // a recording may be coming in right now
			_ = st.Remove(name) // what stays is harmless, and named the next time
		}
	}
}

// SweepAudio takes away half copies of recordings. It is for who has just locked
// the folder, when nobody can be making one.
func SweepAudio(st Storage, l *Loaded) {
	for _, name := range l.Strays {
		if dirOf(name) == AudioDir {
			_ = st.Remove(name)
		}
	}
}
