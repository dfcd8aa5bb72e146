package shows

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// UnpackLimits bound what an archive may hold.
type UnpackLimits struct {
	Files int   // of all kinds
	Text  int64 // bytes of one show file, unpacked
	Total int64 // bytes of all files, unpacked
	Ratio int64 // how many times its packed size a file may have, beyond the first MB
}

// UsualLimits are far above every real show: 20,000 files, 64 MB for one show
// file, 16 GB in all, 200 times the packed size (show files come to 20).
func UsualLimits() UnpackLimits {
	return UnpackLimits{Files: 20000, Text: 64 << 20, Total: 16 << 30, Ratio: 200}
}

// Unpacked says what came out of an archive.
type Unpacked struct {
	Show    *Loaded
	Files   []string // as they stand in the folder, sorted
	Skipped []string // files in the archive that no show has; they were left there
}

// HostileError says why an archive was refused. Nothing of it was unpacked.
type HostileError struct {
	Name string // of the file in the archive; "" = the archive itself
	Why  string
}

func (e *HostileError) Error() string {
	if e.Name == "" {
		return "the archive is refused: it " + e.Why
	}
	return fmt.Sprintf("the archive is refused: its file %q %s", e.Name, e.Why)
}

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
	a, err := zip.NewReader(r, size)
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return nil, &HostileError{Why: "cannot be read as a ZIP archive (" + err.Error() + ")"}
	}
	u := &unpacker{ctx: ctx, limits: limits, out: &Unpacked{}}
	if err := u.look(a, size); err != nil {
		return nil, err
	}
	if err := u.into(dir); err != nil {
		return nil, err
	}
	return u.out, nil
}

type unpacker struct {
	ctx    context.Context
	limits UnpackLimits
	wanted []wantedFile
	out    *Unpacked
}

// wantedFile is a file of the archive and its name in the show's folder.
type wantedFile struct {
	name string
	file *zip.File
}

// look checks the whole list of files and chooses those of a show.
func (u *unpacker) look(a *zip.Reader, size int64) error {
	if len(a.File) > u.limits.Files {
		return &HostileError{Why: fmt.Sprintf("holds %d files; up to %d are taken", len(a.File), u.limits.Files)}
	}
	if err := apart(a.File, size); err != nil {
		return err
	}
	seen := map[string]string{}
	total := uint64(0)
	for _, f := range a.File {
		if why := u.badFile(f); why != "" {
			return &HostileError{f.Name, why}
		}
		key := strings.ToLower(strings.TrimSuffix(f.Name, "/"))
		if other, twice := seen[key]; twice {
			return &HostileError{f.Name, fmt.Sprintf("has the name of another one, %q, where capitals do not count", other)}
		}
		seen[key] = f.Name
		if total += f.UncompressedSize64; total > uint64(u.limits.Total) {
			return &HostileError{Why: fmt.Sprintf("unpacks to more than %d bytes", u.limits.Total)}
		}
	}
	return u.choose(a.File)
}

// badFile says why a file must not be unpacked, or "".
func (u *unpacker) badFile(f *zip.File) string {
	name, isDir := strings.CutSuffix(f.Name, "/")
	if why := badName(name); why != "" {
		return why
	}
	mode := f.Mode()
	packed, full := f.CompressedSize64, f.UncompressedSize64
	switch {
	case mode.IsDir() != isDir || !isDir && !mode.IsRegular():
		return fmt.Sprintf("is no plain file (%s)", mode.Type())
	case f.Flags&1 != 0:
		return "is encrypted"
	case f.Method != zip.Store && f.Method != zip.Deflate:
		return fmt.Sprintf("is packed by method %d; 0 (stored) and 8 (deflate) are read", f.Method)
	case f.Method == zip.Store && packed != full:
		return "gives two sizes for the same bytes"
	case full > 1<<20 && full/uint64(u.limits.Ratio) > packed:
		return fmt.Sprintf("unpacks %d bytes to %d, more than %d times as many", packed, full, u.limits.Ratio)
	case full > uint64(u.limits.Text) && !IsSound(name):
		return fmt.Sprintf("unpacks to %d bytes; up to %d are taken", full, u.limits.Text)
	}
	return ""
}

// apart checks that no two files share bytes of the archive, which is how a
// small archive can hold a great many large files.
func apart(files []*zip.File, size int64) error {
	type span struct {
		from, to int64
		name     string
	}
	var spans []span
	for _, f := range files {
		from, err := f.DataOffset()
		if err != nil || f.CompressedSize64 > uint64(size) || from+int64(f.CompressedSize64) > size {
			return &HostileError{f.Name, "lies outside the archive"}
		}
		spans = append(spans, span{from, from + int64(f.CompressedSize64), f.Name})
	}
	slices.SortFunc(spans, func(a, b span) int { return int(min(max(a.from-b.from, -1), 1)) })
	for i := 1; i < len(spans); i++ {
		if spans[i].from < spans[i-1].to {
			return &HostileError{spans[i].name, fmt.Sprintf("shares its bytes with %q", spans[i-1].name)}
		}
	}
	return nil
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
		case inside && (isShowFile(name) || isNote(name) || IsSound(name) && !hidden(path.Base(name))):
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
	from, err := w.file.Open()
	if err != nil {
		return &HostileError{w.file.Name, "cannot be unpacked (" + err.Error() + ")"}
	}
	defer from.Close()
	if err = st.MkdirAll(dirOf(w.name)); err == nil {
		err = st.Write(w.name, &exactly{from: untilDone{ctx, unpacking{from}}, size: int64(w.file.UncompressedSize64)})
	}
	var unpacking *unpackError
	if errors.As(err, &unpacking) {
		return &HostileError{w.file.Name, "cannot be unpacked (" + unpacking.err.Error() + ")"}
	}
	if err != nil && !errors.Is(err, context.Canceled) {
		return &FileError{File: w.name, Doing: "written", Err: err}
	}
	return err
}

// unpackError is an error of the archive, not of the disk.
type unpackError struct{ err error }

func (e *unpackError) Error() string { return e.err.Error() }

// unpacking marks the errors of what is read.
type unpacking struct{ r io.Reader }

func (u unpacking) Read(b []byte) (int, error) {
	n, err := u.r.Read(b)
	if err != nil && err != io.EOF {
		err = &unpackError{err}
	}
	return n, err
}

// exactly reads as many bytes as a file says that it has; fewer or more are an
// error of the archive.
type exactly struct {
	from       io.Reader
	size, read int64
}

func (e *exactly) Read(b []byte) (int, error) {
	n, err := e.from.Read(b[:min(int64(len(b)), e.size-e.read+1)])
	if e.read += int64(n); e.read > e.size || err == io.EOF && e.read < e.size {
		return 0, &unpackError{errTooMuch}
	}
	return n, err
}
