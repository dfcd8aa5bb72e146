package shows

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"emberbeat/shows/archive"
	"emberbeat/timeline"
)

// Packed says what went into the archive of a show.
type Packed struct {
	Files []string // as named in the archive, sorted
	Bytes int64    // of all of them, unpacked
	// Missing names recordings that songs refer to, and pictures of venues, that are
	// not in the show's folder; the records keep what they say about them.
	Missing []string
}

// PackOptions says what of a show to pack.
type PackOptions struct {
	WithoutAudio bool
}

// Pack writes the show in a folder as a ZIP archive: its files, the notes
// beside them and the recordings its songs refer to. The same folder always
// gives the same bytes: no times, owners or modes of files go in. Errors are
// those of Load, *FileError for a recording that cannot be read, and that of
// the context when it ends the work.
func Pack(ctx context.Context, dir string, w io.Writer, o PackOptions) (*Packed, error) {
	l, err := Load(dir)
	if err != nil {
		return nil, err
	}
	p := &packer{ctx: ctx, dir: dir, zip: zip.NewWriter(w), packed: &Packed{}}
	names, err := p.names(l, o)
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		if err := p.add(name); err != nil {
			return nil, err
		}
	}
	return p.packed, p.zip.Close()
}

type packer struct {
	ctx    context.Context
	dir    string
	zip    *zip.Writer
	packed *Packed
	view   Storage // the files of one save
}

// names lists what goes in, sorted, and notes the recordings that are missing.
func (p *packer) names(l *Loaded, o PackOptions) (names []string, err error) {
	if p.view, err = settled(OS(p.dir)); err != nil {
		return nil, err
	}
	for name := range l.Prints {
		names = append(names, name)
	}
	top, err := p.view.List("")
	if err != nil {
		return nil, &FileError{File: p.dir, Doing: "read", Err: err}
	}
	for _, e := range top {
		if !e.Dir && isNote(e.Name) {
			names = append(names, e.Name)
		}
	}
	for _, song := range l.Show.Songs {
		name := song.Audio.Path
		switch {
		case name == "" || slices.Contains(names, name) || slices.Contains(p.packed.Missing, name):
		case Outward(p.dir, name) != nil:
			return nil, &FileError{File: name, Doing: "packed", Err: Outward(p.dir, name)}
		case !p.has(name):
			p.packed.Missing = append(p.packed.Missing, name)
		case !o.WithoutAudio:
			names = append(names, name)
		}
	}
	for _, name := range planPictures(l.Show) {
		switch {
		case Outward(p.dir, name) != nil:
			return nil, &FileError{File: name, Doing: "packed", Err: Outward(p.dir, name)}
		case !p.hasFile(name):
			p.packed.Missing = append(p.packed.Missing, name)
		default:
			names = append(names, name)
		}
	}
	slices.Sort(names)
	slices.Sort(p.packed.Missing)
	return names, nil
}

// has reports whether a recording lies in the show's folder under a name that
// can travel.
func (p *packer) has(name string) bool {
	return archive.BadName(name) == "" && IsSound(name) && p.hasFile(name)
}

// hasFile reports whether a file lies in the show's folder.
func (p *packer) hasFile(name string) bool {
	info, err := os.Stat(filepath.Join(p.dir, filepath.FromSlash(name)))
	return err == nil && info.Mode().IsRegular()
}

// add writes one file. Recordings are stored as they are: packing them again
// costs time and saves little.
func (p *packer) add(name string) error {
	head := &zip.FileHeader{Name: name, Method: zip.Deflate, Modified: firstDay}
	var from io.Reader
	if IsSound(name) || timeline.IsPlanPicture(name) {
		head.Method = zip.Store
		f, err := osStorage(p.dir).open(name)
		if err != nil {
			return &FileError{File: name, Doing: "read", Err: err}
		}
		defer f.Close()
		from = f
	} else {
		b, err := p.view.ReadFile(name)
		if err != nil {
			return &FileError{File: name, Doing: "read", Err: err}
		}
		from = bytes.NewReader(b)
	}
	to, err := p.zip.CreateHeader(head)
	if err != nil {
		return err
	}
	n, err := io.Copy(to, untilDone{p.ctx, from})
	p.packed.Files = append(p.packed.Files, name)
	p.packed.Bytes += n
	return err
}

// firstDay stands for the time of every file: the first that the format knows.
var firstDay = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// isNote reports whether a file at the top of a show folder is text for people.
func isNote(name string) bool {
	return !hidden(name) && !strings.Contains(name, "/") && slices.Contains([]string{".md", ".txt"}, strings.ToLower(path.Ext(name)))
}

// IsSound reports whether a name is one of a recording: of a format that is read, or of
// one of the kinds of WAV that broadcasters write.
func IsSound(name string) bool {
	return slices.Contains([]string{".wav", ".wave", ".bwf", ".rf64", ".flac", ".mp3", ".ogg", ".oga"}, strings.ToLower(path.Ext(name)))
}

// RecordingsIn lists the recordings in a show's folder for them, by their paths.
func RecordingsIn(st Storage) ([]string, error) {
	entries, err := st.List(AudioDir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var list []string
	for _, e := range entries {
		if !e.Dir && !hidden(e.Name) && IsSound(e.Name) {
			list = append(list, join(AudioDir, e.Name))
		}
	}
	return list, err
}

// isShowFile reports whether a name is one that a show's own files have.
func isShowFile(name string) bool {
	if dir, file := inPlayed(name); dir != "" {
		above, _ := inPlayed(file)
		return above == "" && isShowFile(file)
	}
	parts := strings.Split(name, "/")
	switch {
	case len(parts) == 1:
		return slices.Contains([]string{showFile, stockFile, rigFile, rulesFile}, name)
	case len(parts) == 2 && (parts[0] == venuesDir || parts[0] == nightsDir):
		return path.Ext(name) == ".toml"
	case len(parts) == 3 && parts[0] == songsDir:
		return parts[2] == songFile || parts[2] == cuesFile
	}
	return false
}

// untilDone reads until a context ends the work.
type untilDone struct {
	ctx context.Context
	r   io.Reader
}

func (u untilDone) Read(b []byte) (int, error) {
	if err := u.ctx.Err(); err != nil {
		return 0, err
	}
	return u.r.Read(b)
}
