package shows

import (
	"errors"
	"io/fs"
	"path"
	"strings"
	"syscall"

	"emberbeat/timeline"
)

// Names in a show folder.
const (
	showFile  = "show.toml"
	stockFile = "stock.toml"
	rigFile   = "rig.toml"
	rulesFile = "rules.toml"
	songFile  = "song.toml"
	cuesFile  = "cues.toml"
	notesFile = "notes.toml"

	songsDir  = "songs"
	venuesDir = "venues"
	nightsDir = "nights"
	// AudioDir is the folder for recordings in a show folder.
	AudioDir = "audio"
)

// fileKind is one kind of show file: what stands in it and how.
type fileKind struct {
	name   string   // in prefixes of what is kept, and in errors
	record string   // kind whose one record stands in the keys before the first table, or ""
	tables []string // kinds whose records stand in arrays of tables, in this order
	prefix string   // of what is kept about the file in its owner's record
	steps  []step   // from each older schema to the next
}

// schema is the newest version of the file kind.
func (fk *fileKind) schema() int { return 1 + len(fk.steps) }

// The file kinds. What a file without a record of its own says about itself
// (its first comment, unknown tables) is kept in the show's record, and for
// cues.toml and notes.toml in the song's.
var (
	showKind  = &fileKind{name: "show", record: "show", tables: []string{"set", "handcue", "person"}, steps: []step{mainSet}}
	stockKind = &fileKind{name: "stock", tables: []string{"article", "devicetype", "banktype"}, prefix: "stock:"}
	rigKind   = &fileKind{name: "rig", prefix: "rig:",
		tables: []string{"position", "placed", "group", "bank", "device", "wire", "circuit", "supply"}}
	rulesKind = &fileKind{name: "rules", tables: []string{"setting", "ruleset"}, prefix: "rules:"}
	venueKind = &fileKind{name: "venue", record: "venue"}
	nightKind = &fileKind{name: "night", record: "night"}
	songKind  = &fileKind{name: "song", record: "song", tables: []string{"section", "marker", "lane", "phrase", "aside"}}
	cuesKind  = &fileKind{name: "cues", tables: []string{laneTable}, prefix: "cues:"}
	notesKind = &fileKind{name: "notes", tables: []string{"note"}, prefix: "notes:"} // of a song
)

// besideSong reports whether files of the kind stand beside a song.toml, in whose song
// their records live.
func (fk *fileKind) besideSong() bool { return fk == cuesKind || fk == notesKind }

// inSong reports whether files of the kind stand in the folder of a song.
func (fk *fileKind) inSong() bool { return fk == songKind || fk.besideSong() }

// laneTable and cuesKey are the words of cues.toml, where cues stand in an
// array of inline tables, one array for each lane.
const (
	laneTable = "lane"
	cuesKey   = "cues"
)

var fileKinds = []*fileKind{showKind, stockKind, rigKind, rulesKind, venueKind, nightKind, songKind, cuesKind, notesKind}

// homeOf names the file in which records of a kind stand.
func homeOf(kind string) string {
	if kind == "cue" {
		return cuesFile
	}
	for _, fk := range fileKinds {
		if fk == cuesKind {
			continue
		}
		for _, t := range fk.tables {
			if t == kind {
				return fk.name + ".toml"
			}
		}
	}
	return ""
}

func songPath(slug, file string) string { return songsDir + "/" + slug + "/" + file }

// FileOf names the file in which a record of a show is stored, or "".
func FileOf(s *timeline.Show, r timeline.Ref) string {
	k := timeline.KindOf(r.Kind)
	if k == nil {
		return ""
	}
	switch k.Part {
	case timeline.ShowPart:
		return showFile
	case timeline.StockPart:
		return stockFile
	case timeline.RigPart:
		return rigFile
	case timeline.RulePart:
		return rulesFile
	case timeline.VenuePart:
		if v := s.Venue(r.ID); v != nil {
			return venuesDir + "/" + v.Slug + ".toml"
		}
	case timeline.NightPart:
		if n := s.Night(r.ID); n != nil {
			return nightsDir + "/" + n.Slug + ".toml"
		}
	case timeline.SongPart:
		return songFileOf(s, k, r)
	}
	return ""
}

func songFileOf(s *timeline.Show, k *timeline.Kind, r timeline.Ref) string {
	id := r.ID
	if k.InSong {
		id = r.Song
	}
	song := s.Song(id)
	switch {
	case song == nil:
		return ""
	case k.Name == "cue":
		return songPath(song.Slug, cuesFile)
	case k.Name == "note":
		return songPath(song.Slug, notesFile)
	}
	return songPath(song.Slug, songFile)
}

func join(dir, name string) string {
	if dir == "" {
		return name
	}
	return path.Join(dir, name)
}

// hidden reports whether a name is none of a show's own files: ours while
// saving, or another program's.
func hidden(name string) bool { return strings.HasPrefix(name, ".") }

// plainCause says why a storage failed, without repeating the name.
func plainCause(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "it does not exist"
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return "it is read-only; make it writable or use a copy"
	case errors.Is(err, syscall.ENOSPC):
		return "the disk is full; make room and try again"
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}
