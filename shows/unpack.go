package shows

import (
	"archive/zip"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"emberbeat/shows/archive"
	"emberbeat/timeline"
)

// UnpackLimits bound what an archive may hold.
type UnpackLimits = archive.Limits

// UsualLimits are far above every real show.
func UsualLimits() UnpackLimits { return archive.Usual() }

// Unpacked says what came out of an archive.
type Unpacked struct {
	Show    *Loaded
	Files   []string // as they stand in the folder, sorted
	Skipped []string // files in the archive that no show has; they were left there
}

// HostileError says why an archive was refused. Nothing of it was unpacked.
type HostileError = archive.HostileError

// Unpack makes the folder of a show from an archive that Pack, or any program
// that makes ZIP archives, has written; the show may stand in one folder of the
// archive. The folder must be new or empty (*NotEmptyError). All names and
// sizes are looked at before the first byte is written, and the folder appears
// once the show in it has been read: an archive with a path that leaves the
// folder, a link, a device, two files of one name, encryption, or more than the
// limits allow is a *HostileError, and a show that cannot be read gives the
// errors of Load. Either leaves nothing behind, and so does a context that ends
// the work.
func Unpack(ctx context.Context, r io.ReaderAt, size int64, dir string, limits UnpackLimits) (*Unpacked, error) {
	files, err := archive.Open(r, size, limits, IsSound)
	if err != nil {
		return nil, err
	}
	u := &unpacker{ctx: ctx, out: &Unpacked{}}
	if err := u.choose(files); err != nil {
		return nil, err
	}
	if err := u.into(dir); err != nil {
		return nil, err
	}
	return u.out, nil
}

type unpacker struct {
	ctx    context.Context
	wanted []wantedFile
	out    *Unpacked
}

// wantedFile is a file of the archive and its name in the show's folder.
type wantedFile struct {
	name string
	file *zip.File
}

// choose takes the files of a show, from the folder of the archive where
// show.toml stands, and names the others.
func (u *unpacker) choose(files []*zip.File) error {
	top, found := "", false
	for _, f := range files {
		if dir, base := path.Split(f.Name); base == showFile && strings.Count(dir, "/") <= 1 && (!found || len(dir) < len(top)) {
			top, found = dir, true
		}
	}
	if !found {
		return &NoShowError{"the archive", fs.ErrNotExist}
	}
	for _, f := range files {
		name, inside := strings.CutPrefix(f.Name, top)
		switch {
		case strings.HasSuffix(f.Name, "/"):
		case inside && (isShowFile(name) || isNote(name) || timeline.IsPlanPicture(name) || IsSound(name) && !hidden(path.Base(name))):
			u.wanted = append(u.wanted, wantedFile{name, f})
			u.out.Files = append(u.out.Files, name)
		default:
			u.out.Skipped = append(u.out.Skipped, f.Name)
		}
	}
	slices.Sort(u.out.Files)
	slices.Sort(u.out.Skipped)
	return nil
}

// into unpacks beside the folder and puts it there once the show can be read.
func (u *unpacker) into(dir string) (err error) {
	if err := vacant(dir); err != nil {
		return err
	}
	parent := filepath.Dir(filepath.Clean(dir))
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return &FileError{File: dir, Doing: "made", Err: err}
	}
	beside, err := os.MkdirTemp(parent, ".emberbeat-*")
	if err != nil {
		return &FileError{File: dir, Doing: "made", Err: err}
	}
	defer os.RemoveAll(beside) // a folder that was put in place is no longer there
	if err := u.write(OS(beside)); err != nil {
		return err
	}
	if u.out.Show, err = Load(beside); err != nil {
		return err
	}
	if err := putInPlace(beside, dir); err != nil {
		return err
	}
	return sureOf(dir)
}

// write unpacks all files; they are on the disk when it returns.
func (u *unpacker) write(st Storage) error {
	var names []string
	for _, w := range u.wanted {
		if err := w.write(u.ctx, st); err != nil {
			return err
		}
		names = append(names, w.name)
	}
	if err := syncAbove(st, names...); err != nil {
		return &FileError{File: names[0], Doing: "made sure of", Err: err}
	}
	return nil
}

// vacant gives an error unless a folder is missing or empty.
func vacant(dir string) error {
	found, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return &FileError{File: dir, Doing: "used for a show", Err: err}
	}
	for _, e := range found {
		if !hidden(e.Name()) {
			return &NotEmptyError{dir, e.Name()}
		}
	}
	return nil
}

// putInPlace makes a finished folder the one asked for.
func putInPlace(beside, dir string) error {
	if err := os.Chmod(beside, 0o755); err != nil {
		return &FileError{File: dir, Doing: "made", Err: err}
	}
	if err := os.Remove(dir); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return &FileError{File: dir, Doing: "replaced", Safe: "it is as it was", Err: err}
	}
	if err := os.Rename(beside, dir); err != nil {
		return &FileError{File: dir, Doing: "made", Err: err}
	}
	return nil
}

// write unpacks one file, no more of it than it said it has.
func (w wantedFile) write(ctx context.Context, st Storage) error {
	from, err := archive.Unpack(w.file)
	if err != nil {
		return err
	}
	defer from.Close()
	if err = st.MkdirAll(dirOf(w.name)); err == nil {
		err = st.Write(w.name, untilDone{ctx, from})
	}
	var hostile *HostileError
	if errors.As(err, &hostile) {
		return hostile
	}
	if err != nil && !errors.Is(err, context.Canceled) {
		return &FileError{File: w.name, Doing: "written", Err: err}
	}
	return err
}
