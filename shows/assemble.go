package shows

import (
	"fmt"

	"emberbeat/timeline"
)

// assembler joins the records of all files into one show.
type assembler struct {
	problems []Problem
	loaded   Loaded
	seen     map[timeline.Ref]string // where each record was found first
	draft    *timeline.Draft
	songs    map[string]timeline.ID // song by folder
}

func (a *assembler) assemble(files []*fileRead) *Loaded {
	a.seen = map[timeline.Ref]string{}
	a.songs = map[string]timeline.ID{}
	a.draft = timeline.NewDraft(timeline.NewShow("", "", timeline.Rate25))
	a.loaded.Places.files = map[string]map[timeline.Ref]int{}
	a.loaded.Prints = Prints{}
	a.owners(files)
	for _, f := range files {
		a.loaded.Prints[f.name] = f.print
		a.loaded.Notes = append(a.loaded.Notes, f.notes...)
		if f.schema > 0 && f.schema < f.kind.schema() {
			a.loaded.Old = append(a.loaded.Old, f.name)
		}
		if song, ok := a.songOf(f); ok {
			a.file(f, song)
		}
	}
	a.loaded.Show = a.draft.Loaded()
	return &a.loaded
}

// owners puts in the records that whole files are about, with what other files
// keep in them.
func (a *assembler) owners(files []*fileRead) {
	kept := map[string]*timeline.Kept{} // by the slug of the song, "" for the show
	for _, f := range files {
		if f.kept != nil {
			kept[f.slug] = joinKept(kept[f.slug], f.kept)
		}
	}
	for _, f := range files {
		if f.owner == nil {
			continue
		}
		if f.kind == showKind || f.kind == songKind {
			timeline.SetKept(f.owner, joinKept(timeline.KeptOf(f.owner), kept[f.slug]))
		}
		if id := f.owner.RecordID(); id != "" && f.kind == songKind {
			a.songs[f.slug] = id
		}
	}
}

// songOf gives the song whose file it is; false for a song without an id.
func (a *assembler) songOf(f *fileRead) (timeline.ID, bool) {
	if !f.kind.inSong() {
		return "", true
	}
	id, ok := a.songs[f.slug]
	return id, ok
}

// file puts the records of a file into the show.
func (a *assembler) file(f *fileRead, song timeline.ID) {
	lines := make(map[timeline.Ref]int, len(f.records))
	recs := make([]timeline.Record, 0, len(f.records))
	for _, p := range f.records {
		ref := timeline.Ref{Kind: p.kind.Name, ID: p.rec.RecordID()}
		if ref.ID == "" {
			continue // has a problem already
		}
		if p.kind.InSong {
			ref.Song = song
		}
		at := fmt.Sprintf("%s:%d", f.name, p.line)
		if first, ok := a.seen[ref]; ok {
			a.problems = append(a.problems, Problem{f.name, p.line,
				fmt.Sprintf("the %s %q stands at %s already", ref.Kind, ref.ID, first), "give one of them another id"})
			continue
		}
		a.seen[ref] = at
		lines[ref] = p.line
		recs = append(recs, p.rec)
	}
	a.draft.Put(song, recs...)
	a.loaded.Places.files[f.name] = lines
}
