package shows

import (
	"crypto/sha256"
	"fmt"
	"strconv"
	"strings"

	"emberbeat/timeline"

	"github.com/pelletier/go-toml/v2/unstable"
)

// fileRead is one show file turned into records.
type fileRead struct {
	kind     *fileKind
	name     string
	slug     string // of song, venue and night files, from the name
	schema   int
	print    Print
	owner    timeline.Record // the file's own record, or nil
	records  []placedRecord  // those in tables, and the owner
	kept     *timeline.Kept  // about the file, for a record that stands elsewhere
	problems []Problem
	notes    []Problem
	newer    *NewerError
}

// placedRecord is a record and the line it starts on.
type placedRecord struct {
	kind *timeline.Kind
	rec  timeline.Record
	line int
}

// Print is the SHA-256 of a file's bytes.
type Print [sha256.Size]byte

// readFile turns the bytes of a show file into records.
func readFile(fk *fileKind, name, slug string, data []byte) *fileRead {
	f := &fileRead{kind: fk, name: name, slug: slug, print: sha256.Sum256(data)}
	r := &fileReader{fileRead: f, keep: keeper{prefix: fk.prefix}}
	r.doc, f.problems = parse(name, data)
	if len(f.problems) > 0 {
		return f
	}
	if !r.readSchema() {
		return f
	}
	fk.upgrade(r.doc, f.schema)
	r.readHead()
	if fk == cuesKind {
		r.readCues()
	} else {
		r.readTables()
	}
	r.keep.note(endMark, timeline.KeptKey{Above: r.doc.end})
	r.finish()
	return f
}

// fileReader reads one document.
type fileReader struct {
	*fileRead
	doc        *document
	keep       keeper // of the file
	schemaNote timeline.KeptKey
}

func (r *fileReader) problem(at int, want, what string, args ...any) {
	r.problems = append(r.problems, Problem{r.name, r.doc.line(at), fmt.Sprintf(what, args...), want})
}

// readSchema takes the schema out of the head and reports whether the file
// can be read on.
func (r *fileReader) readSchema() bool {
	head := &r.doc.head
	known := r.kind.schema()
	want := fmt.Sprintf("write schema = %d in the first line", known)
	for i := range head.pairs {
		kv := &head.pairs[i]
		if kv.key != "schema" || !kv.plain {
			continue
		}
		n, err := strconv.Atoi(kv.value.text)
		switch {
		case kv.value.kind != unstable.Integer || err != nil || n < 1:
			r.problem(kv.at, want, "schema is %s, not a whole number from 1", kv.raw)
			return false
		case n > known:
			r.newer = &NewerError{r.name, r.doc.line(kv.at), n, known}
			return false
		}
		r.schema, r.schemaNote = n, kv.note
		head.pairs = append(head.pairs[:i:i], head.pairs[i+1:]...)
		return true
	}
	r.problem(0, want, "the file gives no schema")
	return false
}

// readHead reads the keys before the first table: of the file's own record, or
// unknown ones.
func (r *fileReader) readHead() {
	if r.kind.record == "" {
		r.keep.note("schema", r.schemaNote)
		for i := range r.doc.head.pairs {
			kv := &r.doc.head.pairs[i]
			if r.misplaced(kv) {
				continue
			}
			r.keep.unknown(kv.text, kv.raw, kv.note)
			r.noteUnknown(kv, "")
		}
		return
	}
	k := timeline.KindOf(r.kind.record)
	r.keep.kept.Above, r.keep.kept.Beside = r.schemaNote.Above, r.schemaNote.Beside
	rr := recordReader{fileReader: r, kind: k, keep: &r.keep}
	rr.rec = k.New("")
	rr.at = 0
	if id := findPair(r.doc.head.pairs, "id"); id != nil {
		rr.at = id.at
	}
	rr.read(r.doc.head.pairs)
	if f := k.Field("slug"); f != nil {
		if err := f.Set(rr.rec, timeline.Value{Text: r.slug}); err != nil || r.slug == "" {
			r.problem(0, "rename it to up to 40 characters of a-z, 0-9 and -", "the name %q is none a show uses", r.slug)
		}
	}
	r.owner = rr.rec
	r.records = append(r.records, placedRecord{k, rr.rec, r.doc.line(rr.at)})
}

// misplaced reports a key that names a kind of record: such records stand in
// tables.
func (r *fileReader) misplaced(kv *pair) bool {
	if !kv.plain || timeline.KindOf(kv.key) == nil {
		return false
	}
	r.problem(kv.at, fmt.Sprintf("write one [[%s]] for each of them", kv.key), "%s is a kind of record", kv.key)
	return true
}

// readTables reads the arrays of tables.
func (r *fileReader) readTables() {
	var last *recordReader // the record that sub-tables belong to
	for i := range r.doc.blocks {
		b := &r.doc.blocks[i]
		switch k := r.tableKind(b); {
		case len(b.path) > 1 && last != nil && b.path[0] == last.kind.Name:
			last.keep.table(r.doc, b)
		case k == nil:
			last = nil
			r.unknownTable(b)
		default:
			last = r.readTable(k, b)
		}
	}
}

// tableKind gives the kind whose record a table holds, or nil.
func (r *fileReader) tableKind(b *block) *timeline.Kind {
	if len(b.path) != 1 || !b.array {
		return nil
	}
	for _, t := range r.kind.tables {
		if t == b.path[0] {
			return timeline.KindOf(t)
		}
	}
	return nil
}

// conflictTable is the name of a table in which a merge keeps what nobody has
// decided yet (timeline/merge). It is kept like what is not known.
const conflictTable = "[[conflict]]"

// unknownTable keeps a table, unless it is one of ours in the wrong place.
func (r *fileReader) unknownTable(b *block) {
	k := timeline.KindOf(b.path[0])
	home := ""
	if k != nil {
		home = homeOf(k.Name)
	}
	switch {
	case b.name() == conflictTable:
		r.keep.table(r.doc, b)
		r.notes = append(r.notes, Problem{r.name, r.doc.line(b.at), openConflict, "settle it with emberbeat merge SHOW --resolve"})
	case home == "" || len(b.path) > 1:
		r.keep.table(r.doc, b)
		r.notes = append(r.notes, Problem{r.name, r.doc.line(b.at), "the table " + b.name() + " is not known", "it is kept as it is"})
	case home == r.kind.name+".toml":
		r.problem(b.at, fmt.Sprintf("write [[%s]]", k.Name), "%s is one table, and there may be many", b.name())
	default:
		r.problem(b.at, "move it to "+home, "[[%s]] does not belong in this file", k.Name)
	}
}

func (r *fileReader) readTable(k *timeline.Kind, b *block) *recordReader {
	rr := &recordReader{fileReader: r, kind: k, rec: k.New(""), at: b.at, keep: &keeper{}}
	rr.keep.kept.Above, rr.keep.kept.Beside = b.note.Above, b.note.Beside
	rr.read(b.pairs)
	timeline.SetKept(rr.rec, &rr.keep.kept) // sub-tables may still come
	r.records = append(r.records, placedRecord{k, rr.rec, r.doc.line(b.at)})
	return rr
}

// finish hands what was kept to the records, or to the file where its owner
// stands elsewhere.
func (r *fileReader) finish() {
	for _, p := range r.records {
		if k := timeline.KeptOf(p.rec); k != nil {
			timeline.SetKept(p.rec, (&keeper{kept: *k}).done())
		}
	}
	if r.owner != nil {
		timeline.SetKept(r.owner, r.keep.done())
		return
	}
	r.kept = r.keep.done()
}

func (r *fileReader) noteUnknown(kv *pair, where string) {
	what := "the key " + kv.text + where + " is not known"
	r.notes = append(r.notes, Problem{r.name, r.doc.line(kv.at), what, "it is kept as it is"})
}

// slugOf gives the name that a song, venue or night has from its file.
func slugOf(fk *fileKind, name string) string {
	parts := strings.Split(name, "/")
	switch fk {
	case songKind, cuesKind, notesKind:
		return parts[len(parts)-2]
	case venueKind, nightKind:
		return strings.TrimSuffix(parts[len(parts)-1], ".toml")
	}
	return ""
}
