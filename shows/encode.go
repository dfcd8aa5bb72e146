package shows

import (
	"strconv"

	"emberbeat/timeline"
)

// written is one show file in its canonical form.
type written struct {
	kind  *fileKind
	name  string
	bytes []byte // nil when there is nothing to say: then there is no such file
	lines map[timeline.Ref]int
	of    *timeline.Show // as in its fileJob
}

// fileJob is one file that a show may have.
type fileJob struct {
	kind *fileKind
	name string
	song *timeline.Song  // of song and cues files
	own  timeline.Record // the file's own record, or nil
	of   *timeline.Show  // that is kept of a played night, or nil for the show itself
}

// filesOf lists the files that a show may have.
func filesOf(s *timeline.Show) []fileJob {
	jobs := []fileJob{{kind: showKind, name: showFile, own: s.Head}, {kind: stockKind, name: stockFile},
		{kind: rigKind, name: rigFile}, {kind: rulesKind, name: rulesFile}}
	for _, v := range s.Venues {
		jobs = append(jobs, fileJob{kind: venueKind, name: venuesDir + "/" + v.Slug + ".toml", own: v})
	}
	for _, n := range s.Nights {
		jobs = append(jobs, fileJob{kind: nightKind, name: nightsDir + "/" + n.Slug + ".toml", own: n})
	}
	for _, g := range s.Songs {
		jobs = append(jobs, fileJob{kind: songKind, name: songPath(g.Slug, songFile), song: g, own: &g.SongHead},
			fileJob{kind: cuesKind, name: songPath(g.Slug, cuesFile), song: g}, fileJob{kind: notesKind, name: songPath(g.Slug, notesFile), song: g})
	}
	return append(jobs, playedFiles(s)...)
}

// kept gives what the file says beyond the model.
func (j fileJob) kept(s *timeline.Show) keptPart {
	owner := j.own
	if owner == nil {
		owner = s.Head
		if j.song != nil {
			owner = &j.song.SongHead
		}
	}
	return keptPart{timeline.KeptOf(owner), j.kind.prefix}
}

// write gives the file's canonical bytes.
func (j fileJob) write(s *timeline.Show) written {
	if j.of != nil {
		s = j.of
	}
	w := newFileWriter()
	kept := j.kept(s)
	song := timeline.ID("")
	if j.song != nil {
		song = j.song.ID
	}
	if j.own != nil {
		k := timeline.KindOfRecord(j.own)
		w.schema(j.kind, timeline.KeptKey{Above: kept.aboveRecord(), Beside: kept.besideRecord()})
		w.place(k, song, j.own.RecordID())
		w.record(k, j.own, kept)
	} else {
		w.schema(j.kind, kept.note("schema"))
		w.unknownPairs(kept)
	}
	empty := j.own == nil && kept.empty()
	if j.kind == cuesKind {
		lanes := lanesOf(s, j.song, kept)
		empty = empty && len(lanes) == 0
		w.cues(j.song, lanes, kept)
	} else {
		for _, name := range j.kind.tables {
			n := w.tables(timeline.KindOf(name), s, song)
			empty = empty && n == 0
		}
	}
	if empty {
		return written{kind: j.kind, name: j.name, of: j.of}
	}
	w.unknownTables(kept)
	if end := kept.note(endMark).Above; len(end) > 0 {
		w.gap()
		w.above("", end)
	}
	return written{j.kind, j.name, w.b, w.lines, j.of}
}

func (w *fileWriter) schema(fk *fileKind, note timeline.KeptKey) {
	w.above("", note.Above)
	w.add("schema = ", strconv.Itoa(fk.schema()))
	w.endLine(note.Beside)
}

// tables writes all records of a kind and gives their number.
func (w *fileWriter) tables(k *timeline.Kind, s *timeline.Show, song timeline.ID) int {
	recs := ordered(k, s, song)
	for _, r := range recs {
		kept := keptPart{kept: timeline.KeptOf(r)}
		w.gap()
		w.above("", kept.aboveRecord())
		w.place(k, song, r.RecordID())
		w.add("[[", k.Name, "]]")
		w.endLine(kept.besideRecord())
		w.record(k, r, kept)
		w.unknownTables(kept)
	}
	return len(recs)
}

func (p keptPart) aboveRecord() []string {
	if p.kept == nil {
		return nil
	}
	return p.kept.Above
}

func (p keptPart) besideRecord() string {
	if p.kept == nil {
		return ""
	}
	return p.kept.Beside
}
