package shows

import (
	"fmt"
	"path"
	"strings"

	"emberbeat/timeline"
)

// What is kept of a night that was played is a show of its own, in a folder
// beside the night's file: nights/<slug>/played-<revision>/. It has all files of a
// show but the recordings, and no nights kept within it.

// playedName begins the name of such a folder.
const playedName = "played"

// playedDir names the folder of what is kept of a night.
func playedDir(n *timeline.Night, kept *timeline.Show) string {
	name := playedName
	if was := kept.Night(n.ID); was != nil {
		if revision := timeline.SlugOf(was.Revision); revision != "" {
			name += "-" + revision
		}
	}
	return nightsDir + "/" + n.Slug + "/" + name
}

func isPlayedName(name string) bool {
	return name == playedName || strings.HasPrefix(name, playedName+"-")
}

// inPlayed parts the name of a file into the folder of a played night and the
// name in it; a file of the show itself has no such folder.
func inPlayed(name string) (dir, file string) {
	parts := strings.SplitN(name, "/", 4)
	if len(parts) == 4 && parts[0] == nightsDir && isPlayedName(parts[2]) {
		return strings.Join(parts[:3], "/"), parts[3]
	}
	return "", name
}

// played finds what is kept of a night in the night's folder.
func (in *found) played(st Storage, name string) error {
	list, err := st.List(name)
	if err != nil {
		return &FileError{File: name, Doing: "read", Err: err}
	}
	first := ""
	for _, e := range list {
		dir := name + "/" + e.Name
		if !e.Dir || !isPlayedName(e.Name) {
			continue
		}
		kept, err := findShow(folderOf{st, dir}, true)
		switch {
		case err != nil:
			return err
		case len(kept.jobs) == 0: // what a removal has left of it, or a save that did not come about
		case first != "":
			in.problems = append(in.problems, Problem{dir, 0, "the night is kept as it was played in " + first + " already", "move one of the two folders away"})
			continue
		default:
			first = dir
		}
		in.below(dir, kept)
	}
	return nil
}

// below adds what was found in a folder of the show.
func (in *found) below(dir string, kept *found) {
	for _, j := range kept.jobs {
		in.jobs = append(in.jobs, readJob{j.kind, dir + "/" + j.name})
	}
	for _, p := range kept.problems {
		p.File = dir + "/" + p.File
		in.problems = append(in.problems, p)
	}
	for _, p := range kept.copies {
		p.File = dir + "/" + p.File
		in.copies = append(in.copies, p)
	}
	for _, name := range kept.strays {
		if name == pendingFile || name == besideName(pendingFile) {
			continue // of somebody who saves that folder as a show
		}
		in.strays = append(in.strays, dir+"/"+name)
	}
}

// folderOf is a folder of a storage, to be read.
type folderOf struct {
	Storage
	dir string
}

func (w folderOf) ReadFile(name string) ([]byte, error) {
	return w.Storage.ReadFile(w.dir + "/" + name)
}
func (w folderOf) List(dir string) ([]Entry, error) { return w.Storage.List(join(w.dir, dir)) }

// partPlayed parts the files of a show from those of its played nights, which it
// gives by their folder, in the order in which they were found.
func partPlayed(files []*fileRead) (own []*fileRead, kept map[string][]*fileRead, dirs []string) {
	kept = map[string][]*fileRead{}
	for _, f := range files {
		dir, _ := inPlayed(f.name)
		if dir == "" {
			own = append(own, f)
			continue
		}
		if kept[dir] == nil {
			dirs = append(dirs, dir)
		}
		kept[dir] = append(kept[dir], f)
	}
	return own, kept, dirs
}

// played puts what is kept of played nights into the show.
func (l *Loaded) played(kept map[string][]*fileRead, dirs []string) (problems []Problem) {
	for _, dir := range dirs {
		var a assembler
		was := a.assemble(kept[dir])
		problems = append(problems, a.problems...)
		slug := path.Base(path.Dir(dir))
		var night *timeline.Night
		for _, n := range l.Show.Nights {
			if n.Slug == slug {
				night = n
			}
		}
		switch {
		case night == nil:
			problems = append(problems, Problem{dir, 0, fmt.Sprintf("there is no %s.toml beside its folder", slug), "put the night's file back, or move the folder away"})
			continue
		case was.Show.Night(night.ID) == nil:
			problems = append(problems, Problem{dir, 0, fmt.Sprintf("it does not hold the night %q", night.ID), "put the files back that were kept, or move the folder away"})
			continue
		}
		l.Show.Played = append(l.Show.Played, timeline.Played{Night: night.ID, Show: was.Show})
		l.Notes, l.Old = append(l.Notes, was.Notes...), append(l.Old, was.Old...)
		for name, print := range was.Prints {
			l.Prints[name] = print
		}
	}
	return problems
}

// playedFiles lists the files of what is kept of played nights.
func playedFiles(s *timeline.Show) (jobs []fileJob) {
	for _, k := range s.Played {
		n := s.Night(k.Night)
		if n == nil {
			continue
		}
		dir := playedDir(n, k.Show)
		for _, j := range filesOf(k.Show) {
			j.name, j.of = dir+"/"+j.name, k.Show
			jobs = append(jobs, j)
		}
	}
	return jobs
}

// playedUnchanged reports whether a file of a played night is in another show as
// well: what is kept never changes, but it may have been put elsewhere.
func (j fileJob) playedUnchanged(before *timeline.Show) bool {
	for _, k := range before.Played {
		if n := before.Night(k.Night); k.Show == j.of && n != nil {
			dir, _ := inPlayed(j.name)
			return dir == playedDir(n, k.Show)
		}
	}
	return false
}
