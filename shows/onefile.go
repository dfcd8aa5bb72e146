package shows

import (
	"fmt"
	"path"
	"strings"

	"emberbeat/timeline"
)

// A file of a show read by itself, as version control hands it over: what stands
// in the other files is not known.

// loneSong stands for the song of a cues.toml or notes.toml, whose record is in another file.
const loneSong timeline.ID = "lone"

// OneFile is what one file of a show says.
type OneFile struct {
	Show   *timeline.Show // with nothing but the file's records
	Prefix string         // of what the file says beyond the model, in its owner's record
	Owner  timeline.Ref   // that keeps it
	Lone   bool           // the song's record stands in another file

	kind *fileKind
	slug string
}

// ReadOne reads one file of a show; its name, with '/', says what it is, and may
// lie in any folder. No bytes are a file that is not there. song is the song.toml
// beside a cues.toml, from which lanes and bars have their order; it may be nil.
// Errors: one that says it is no file of a show, *NewerError, *UnreadableError.
func ReadOne(name string, data, song []byte) (*OneFile, error) {
	fk, slug := kindAt(name)
	if fk == nil {
		return nil, fmt.Errorf("%s is no file of a show", name)
	}
	o := &OneFile{kind: fk, slug: slug, Prefix: fk.prefix}
	base := timeline.NewShow("", "", timeline.Rate25)
	o.Owner = timeline.Ref{Kind: "show", ID: base.Head.ID}
	var files []*fileRead
	if fk.besideSong() {
		o.Lone, o.Owner = true, timeline.Ref{Kind: "song", ID: loneSong}
		beside := readFile(songKind, songFile, slug, song)
		if beside.owner == nil || len(beside.problems) > 0 || beside.newer != nil {
			beside = &fileRead{kind: songKind, name: songFile, slug: slug, owner: timeline.KindOf("song").New("")}
			_ = timeline.KindOf("song").Field("slug").Set(beside.owner, timeline.Value{Text: slug})
			beside.records = []placedRecord{{timeline.KindOf("song"), beside.owner, 0}}
		}
		timeline.SetID(beside.owner, loneSong)
		timeline.SetKept(beside.owner, nil)
		files = append(files, beside)
	}
	if len(data) > 0 {
		f := readFile(fk, name, slug, data)
		if f.newer != nil {
			return nil, f.newer
		}
		if len(f.problems) > 0 {
			return nil, &UnreadableError{f.problems}
		}
		files = append(files, f)
	}
	var a assembler
	l := a.assemble(files)
	if len(a.problems) > 0 {
		return nil, &UnreadableError{a.problems}
	}
	// What a file without a record of its own says beyond the model is kept by the
	// show's, which is none here.
	for _, f := range files {
		if f.kept != nil && !fk.besideSong() {
			timeline.SetKept(l.Show.Head, f.kept)
		}
	}
	o.Show = l.Show
	if fk.record != "" && len(files) > 0 {
		k := timeline.KindOf(fk.record)
		if list := k.List(l.Show, ""); len(list) == 1 {
			o.Owner = timeline.Ref{Kind: k.Name, ID: list[0].RecordID()}
		}
	}
	return o, nil
}

// kindAt tells what kind of show file has a name, and the slug in it.
func kindAt(name string) (*fileKind, string) {
	dir, file := path.Split(name)
	parent := path.Base(path.Clean(dir))
	for _, fk := range []*fileKind{showKind, stockKind, rigKind, rulesKind} {
		if file == fk.name+".toml" {
			return fk, ""
		}
	}
	switch {
	case file == songFile:
		return songKind, parent
	case file == cuesFile:
		return cuesKind, parent
	case file == notesFile:
		return notesKind, parent
	case !strings.HasSuffix(file, ".toml"):
	case parent == venuesDir:
		return venueKind, strings.TrimSuffix(file, ".toml")
	case parent == nightsDir:
		return nightKind, strings.TrimSuffix(file, ".toml")
	}
	return nil, ""
}

// Write gives the file's bytes in canonical form, once its records are those of
// another show, which was merged from such files. An error says that these do not
// stand in one file.
func (o *OneFile) Write(show *timeline.Show) ([]byte, error) {
	for _, j := range filesOf(show) {
		if j.kind != o.kind {
			continue
		}
		if o.kind.record != "" && o.kind != showKind {
			if n := len(timeline.KindOf(o.kind.record).List(show, "")); n > 1 {
				return nil, fmt.Errorf("there would be %d records of the kind %s in one file", n, o.kind.record)
			}
		}
		return j.write(show).bytes, nil
	}
	return nil, nil
}
