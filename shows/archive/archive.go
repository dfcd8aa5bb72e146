package archive

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Limits bound what an archive may hold.
type Limits struct {
	Files int   // of all kinds
	Text  int64 // bytes of one file that is read as a whole, unpacked
	Total int64 // bytes of all files, unpacked
	Ratio int64 // how many times its packed size a file may have, beyond the first MB
}

// Usual are far above everything real: 20,000 files, 64 MB for one that is read
// as a whole, 16 GB in all, 200 times the packed size (show files come to 20). They
// are a judgement; no source.
func Usual() Limits {
	return Limits{Files: 20000, Text: 64 << 20, Total: 16 << 30, Ratio: 200}
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

// Open reads the list of an archive of size bytes and looks at every file in it.
// large tells, by name, which files are not read as a whole and may have more than
// limits.Text; nil is none. The error is a *HostileError.
func Open(r io.ReaderAt, size int64, limits Limits, large func(name string) bool) ([]*zip.File, error) {
	a, err := zip.NewReader(r, size)
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return nil, &HostileError{Why: "cannot be read as a ZIP archive (" + err.Error() + ")"}
	}
	if len(a.File) > limits.Files {
		return nil, &HostileError{Why: fmt.Sprintf("holds %d files; up to %d are taken", len(a.File), limits.Files)}
	}
	if err := apart(a.File, size); err != nil {
		return nil, err
	}
	seen := map[string]string{}
	total := uint64(0)
	for _, f := range a.File {
		if why := limits.bad(f, large); why != "" {
			return nil, &HostileError{f.Name, why}
		}
		key := strings.ToLower(strings.TrimSuffix(f.Name, "/"))
		if other, twice := seen[key]; twice {
			return nil, &HostileError{f.Name, fmt.Sprintf("has the name of another one, %q, where capitals do not count", other)}
		}
		seen[key] = f.Name
		if total += f.UncompressedSize64; total > uint64(limits.Total) {
			return nil, &HostileError{Why: fmt.Sprintf("unpacks to more than %d bytes", limits.Total)}
		}
	}
	return a.File, nil
}

// bad says why a file must not be unpacked, or "".
func (l Limits) bad(f *zip.File, large func(string) bool) string {
	name, isDir := strings.CutSuffix(f.Name, "/")
	if why := BadName(name); why != "" {
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
	case full > 1<<20 && full/uint64(l.Ratio) > packed:
		return fmt.Sprintf("unpacks %d bytes to %d, more than %d times as many", packed, full, l.Ratio)
	case full > uint64(l.Text) && (large == nil || !large(name)):
		return fmt.Sprintf("unpacks to %d bytes; up to %d are taken", full, l.Text)
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

// Unpack opens a file of an archive that Open has looked at. Reading gives as many
// bytes as the file says that it has; whatever is wrong with it is a *HostileError.
func Unpack(f *zip.File) (io.ReadCloser, error) {
	from, err := f.Open()
	if err != nil {
		return nil, &HostileError{f.Name, "cannot be unpacked (" + err.Error() + ")"}
	}
	return &exactly{from: from, name: f.Name, size: int64(f.UncompressedSize64)}, nil
}

// Read unpacks a file of an archive that Open has looked at into memory.
func Read(f *zip.File) ([]byte, error) {
	r, err := Unpack(f)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return io.ReadAll(r)
}

// exactly reads as many bytes as a file says that it has; fewer or more are an
// error of the archive.
type exactly struct {
	from       io.ReadCloser
	name       string
	size, read int64
}

func (e *exactly) Read(b []byte) (int, error) {
	n, err := e.from.Read(b[:min(int64(len(b)), e.size-e.read+1)])
	e.read += int64(n)
	switch {
	case e.read > e.size || err == io.EOF && e.read < e.size:
		return 0, &HostileError{e.name, "cannot be unpacked (it holds more than it says, or less)"}
	case err != nil && err != io.EOF:
		return 0, &HostileError{e.name, "cannot be unpacked (" + err.Error() + ")"}
	}
	return n, err
}

func (e *exactly) Close() error { return e.from.Close() }
