package shows

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"emberbeat/timeline"
)

// versionsKept is the number of older versions kept of a show.
const versionsKept = 10

// Version is an older version of a show, kept outside its folder when the
// show was saved over it.
type Version struct {
	Path string    // of a ZIP archive of the show's files, recordings excepted
	Time time.Time // when it was replaced, or committed
	Rev  string    // of a revision in a git repository; else ""

	st Storage // of a revision
}

const versionStamp = "20060102-150405.000000000"

// KeepVersion keeps the show in a storage as an older version, and drops those
// beyond ten. It is for SaveOptions.Keep. A storage that holds no show, or one
// that cannot be understood, gives nothing to keep. Show files hold no dates; the
// names of older versions do.
func KeepVersion(st Storage) error {
	dir, err := StateDir()
	if err != nil {
		return err
	}
	return keepVersion(st, filepath.Join(dir, "versions"), time.Now())
}

func keepVersion(st Storage, dir string, now time.Time) error {
	in, err := findFiles(st)
	if err != nil {
		return nil // no show yet
	}
	archive, id := packFiles(st, in.jobs)
	if id == "" {
		return nil
	}
	dir = filepath.Join(dir, string(id))
	name := filepath.Join(dir, now.UTC().Format(versionStamp)+".zip")
	err = os.MkdirAll(dir, 0o755)
	if err == nil {
		err = errors.Join(os.WriteFile(name+".new", archive, 0o644), os.Rename(name+".new", name))
	}
	if err != nil {
		return &FileError{File: dir, Doing: "used to keep the older version", Err: err}
	}
	list := listVersions(dir)
	for _, v := range list[min(versionsKept, len(list)):] {
		_ = os.Remove(v.Path)
	}
	return nil
}

// packFiles makes a ZIP of show files and tells the show's id.
func packFiles(st Storage, jobs []readJob) (archive []byte, id timeline.ID) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	if dir, ok := st.(osStorage); ok {
		_ = z.SetComment(realFolder(string(dir))) // too long a path is not known later
	}
	z.RegisterCompressor(zip.Deflate, newCompressor())
	for _, j := range jobs {
		data, err := st.ReadFile(j.name)
		if err != nil {
			return nil, ""
		}
		if j.kind == showKind {
			if f := readFile(j.kind, j.name, "", data); f.owner != nil {
				id = f.owner.RecordID()
			}
		}
		w, err := z.Create(j.name)
		if err != nil {
			return nil, ""
		}
		if _, err := w.Write(data); err != nil {
			return nil, ""
		}
	}
	if z.Close() != nil {
		return nil, ""
	}
	return b.Bytes(), id
}

// newCompressor gives one quick compressor for all files of an archive, which
// are written one after the other: it is large, and slow to make.
func newCompressor() zip.Compressor {
	var used *flate.Writer
	return func(w io.Writer) (io.WriteCloser, error) {
		if used != nil {
			used.Reset(w)
			return used, nil
		}
		var err error
		used, err = flate.NewWriter(w, flate.BestSpeed)
		return used, err
	}
}

// Versions lists the older versions kept of a show, newest first.
func Versions(id timeline.ID) ([]Version, error) {
	dir, err := StateDir()
	if err != nil {
		return nil, err
	}
	return listVersions(filepath.Join(dir, "versions", string(id))), nil
}

func listVersions(dir string) (list []Version) {
	found, _ := os.ReadDir(dir)
	for _, e := range found {
		name, ok := strings.CutSuffix(e.Name(), ".zip")
		at, err := time.Parse(versionStamp, name)
		if ok && err == nil {
			list = append(list, Version{Path: filepath.Join(dir, e.Name()), Time: at})
		}
	}
	slices.SortFunc(list, func(a, b Version) int { return b.Time.Compare(a.Time) })
	return list
}

// String names the version for people: when it was saved over, or its revision.
func (v Version) String() string {
	if v.Rev != "" {
		return "revision " + v.Rev
	}
	return "the save of " + v.Time.Local().Format("2006-01-02 15:04:05")
}

// Load reads the older version.
func (v Version) Load() (*Loaded, error) {
	st, err := v.Storage()
	if err != nil {
		return nil, err
	}
	return LoadFrom(st)
}

// Storage gives the files of the older version, to be read alone.
func (v Version) Storage() (Storage, error) {
	if v.st != nil {
		return v.st, nil
	}
	b, err := os.ReadFile(v.Path)
	if err == nil {
		var z *zip.Reader
		if z, err = zip.NewReader(bytes.NewReader(b), int64(len(b))); err == nil {
			return FS(fs.FS(z)), nil
		}
	}
	return nil, fmt.Errorf("older version %s cannot be read: %w", v.Path, err)
}

// From names the folder that was saved over: copies of a show have one id, and
// their versions stand together. It is "" where that is not known.
func (v Version) From() string {
	z, err := zip.OpenReader(v.Path)
	if err != nil {
		return ""
	}
	defer z.Close()
	return z.Comment
}

// realFolder gives the one path of a folder.
func realFolder(dir string) string {
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	return dir
}

// VersionsIn lists the older versions that were kept when the show in this very
// folder was saved, newest first, with the number that each is named by.
func VersionsIn(dir string) (list []Version, numbers []int, err error) {
	all, err := VersionsOf(dir)
	for i, v := range all {
		if v.From() == realFolder(dir) {
			list, numbers = append(list, v), append(numbers, i+1)
		}
	}
	return list, numbers, err
}

// VersionsOf lists the older versions of the show in a folder, newest first,
// though its other files cannot be read.
func VersionsOf(dir string) ([]Version, error) {
	data, err := OS(dir).ReadFile("show.toml")
	if err != nil {
		return nil, &NoShowError{Dir: dir}
	}
	f := readFile(showKind, "show.toml", "", data)
	if f.owner == nil || f.owner.RecordID() == "" {
		return nil, fmt.Errorf("%s: show.toml does not say which show it is: its id is missing or cannot be read", dir)
	}
	return Versions(f.owner.RecordID())
}

// shortRevision is how many digits git shows at least of a revision.
const shortRevision = 7

// Named takes the name of a show, as a person writes it, apart: a folder, or a
// folder, @ and the number of one of its older versions, 1 the newest, or @ and a
// revision of the git repository it is in. There is no version where a folder has
// the whole name.
func Named(name string) (dir string, v *Version, err error) {
	i := strings.LastIndexByte(name, '@')
	if _, missing := os.Stat(name); missing == nil || i <= 0 {
		return name, nil, nil
	}
	n, err := strconv.Atoi(name[i+1:])
	// One revision in thirty begins with seven digits and no letter: no show has as many saves.
	if err != nil || len(name[i+1:]) >= shortRevision {
		v, git := revision(name[:i], name[i+1:])
		if v != nil {
			return name[:i], v, nil
		}
		if err != nil || git != nil {
			return name, nil, git
		}
	}
	list, err := VersionsOf(name[:i])
	if err != nil {
		return name, nil, err
	}
	if n < 1 || n > len(list) {
		return name, nil, fmt.Errorf("%s: the show has no save %d; it has %d, of which @1 is the newest", name, n, len(list))
	}
	return name[:i], &list[n-1], nil
}
