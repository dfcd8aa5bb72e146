package shows

import (
	"io"
	"io/fs"
	"path"
)

// CopyIn puts a file from elsewhere into a show folder, in the place of one that
// is there: whole, or not at all, and on the disk when it returns. right, which
// may be nil, is asked when all of from has been read and before the file takes
// its name; its error leaves everything as it was.
func CopyIn(st Storage, to string, from io.Reader, right func() error) error {
	if err := st.MkdirAll(dirOf(to)); err != nil {
		return err
	}
	beside := path.Join(dirOf(to), "."+path.Base(to)+".new")
	err := st.Write(beside, from)
	if err == nil && right != nil {
		err = right()
	}
	if err == nil {
		err = st.Rename(beside, to)
	}
	if err != nil {
		_ = st.Remove(beside) // it is only too much
		return err
	}
	return syncAbove(st, to)
}

// CopyTree puts all files of a tree into a folder where none of them is yet; they
// are on the disk when it returns.
func CopyTree(st Storage, from fs.FS) error {
	var names []string
	err := fs.WalkDir(from, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		f, err := from.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		if err := st.MkdirAll(dirOf(name)); err != nil {
			return err
		}
		names = append(names, name)
		return st.Write(name, f)
	})
	if err != nil {
		return err
	}
	return syncAbove(st, names...)
}

// syncAbove waits until every folder above some files is on the disk, each once
// and those below first.
func syncAbove(st Storage, names ...string) error {
	synced := map[string]bool{}
	for _, name := range names {
		for dir := dirOf(name); !synced[dir]; dir = dirOf(dir) {
			if err := st.SyncDir(dir); err != nil {
				return err
			}
			if synced[dir] = true; dir == "" {
				break
			}
		}
	}
	return nil
}
