package gitmerge

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path"
	"path/filepath"

	"emberbeat/shows"
	"emberbeat/timeline"
	"emberbeat/timeline/merge"
)

// Merged is what became of one file.
type Merged struct {
	Conflicts []merge.Conflict // that the file keeps to be settled
	Plain     error            // why it was left to git's own merge, or nil
	Clean     bool             // nothing is left to be decided
}

// File merges one file of a show for git, which hands over three copies of it:
// base, ours and theirs, and the file's name in the repository. The result takes
// the place of ours.
func File(base, ours, theirs, name string) (*Merged, error) {
	bytes, m, err := merged(base, ours, theirs, name)
	if err == nil {
		if err := os.WriteFile(ours, bytes, 0o644); err != nil {
			return nil, err
		}
		m.Clean = len(m.Conflicts) == 0
		return m, nil
	}
	clean, failed := plainMerge(base, ours, theirs)
	if failed != nil {
		return nil, failed
	}
	return &Merged{Plain: err, Clean: clean}, nil
}

func merged(base, ours, theirs, name string) ([]byte, *Merged, error) {
	song, _ := os.ReadFile(filepath.Join(filepath.FromSlash(path.Dir(name)), "song.toml")) // of a cues.toml; without it bars have no times
	var files [3]*shows.OneFile
	for i, from := range []string{base, ours, theirs} {
		data, err := os.ReadFile(from)
		if err != nil {
			return nil, nil, err
		}
		if files[i], err = shows.ReadOne(name, data, song); err != nil {
			return nil, nil, err
		}
	}
	b := files[0].Show
	if b.Head.ID != files[1].Show.Head.ID { // added by both: there is no show.toml before
		b = timeline.NewShow(files[1].Show.Head.ID, "", timeline.Rate25)
	}
	r, err := merge.Shows(b, files[1].Show, files[2].Show)
	if err != nil {
		return nil, nil, err
	}
	show := r.Show
	if files[1].Owner != files[2].Owner && len(r.Conflicts) == 0 {
		if show, r.Conflicts, err = two(files[1], files[2]); err != nil {
			return nil, nil, err
		}
	}
	out, err := files[1].Write(kept(show, files[1], r.Conflicts))
	return out, &Merged{Conflicts: r.Conflicts}, err
}

// two is a file that both added for something else under one name: ours stays, and
// theirs can be put beside it.
func two(ours, theirs *shows.OneFile) (*timeline.Show, []merge.Conflict, error) {
	c, err := merge.Beside(ours.Owner, ours.Show, theirs.Owner, theirs.Show)
	if err != nil {
		return nil, nil, err
	}
	return ours.Show, []merge.Conflict{*c}, nil
}

// kept gives the show with its conflicts as the file's owner keeps them.
func kept(s *timeline.Show, o *shows.OneFile, list []merge.Conflict) *timeline.Show {
	if len(list) == 0 {
		return s
	}
	d := timeline.NewDraft(s)
	k := timeline.KindOf(o.Owner.Kind)
	rec := k.Find(s, "", o.Owner.ID)
	if rec == nil {
		rec = s.Head
		k = timeline.KindOf("show")
	}
	more := timeline.Kept{}
	if was := timeline.KeptOf(rec); was != nil {
		more = *was
	}
	more.Unknown = append([]timeline.KeptPair(nil), more.Unknown...)
	for i := range list {
		if o.Lone {
			list[i].OfLoneSong()
		}
		more.Unknown = append(more.Unknown, list[i].Pair(o.Prefix))
	}
	c := k.Clone(rec)
	timeline.SetKept(c, &more)
	d.Put("", c)
	return d.Show()
}

// plainMerge is git's own merge of lines.
func plainMerge(base, ours, theirs string) (clean bool, err error) {
	var said bytes.Buffer
	cmd := exec.Command("git", "merge-file", "-L", "ours", "-L", "base", "-L", "theirs", ours, base, theirs)
	cmd.Stderr = &said
	err = cmd.Run()
	var ended *exec.ExitError
	switch {
	case err == nil:
		return true, nil
	case errors.As(err, &ended) && ended.ExitCode() > 0 && ended.ExitCode() < 128:
		return false, nil // so many conflicts
	}
	return false, fmt.Errorf("git merge-file: %w: %s", err, said.String())
}
