package shows

import (
	"bytes"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// longest is the number of bytes up to which a list of plain words stands on
// one line.
const longest = 100

// fileWriter writes one show file in its canonical form.
type fileWriter struct {
	b     []byte
	lines map[timeline.Ref]int
	line  int // number of the line that comes next
	count int // bytes of b that line counts
}

func newFileWriter() *fileWriter { return &fileWriter{lines: map[timeline.Ref]int{}, line: 1} }

// place remembers that a record starts on the line that comes next.
func (w *fileWriter) place(k *timeline.Kind, song, id timeline.ID) {
	w.line += bytes.Count(w.b[w.count:], []byte("\n"))
	w.count = len(w.b)
	if !k.InSong {
		song = ""
	}
	w.lines[timeline.Ref{Kind: k.Name, Song: song, ID: id}] = w.line
}

func (w *fileWriter) add(parts ...string) {
	for _, p := range parts {
		w.b = append(w.b, p...)
	}
}

// above writes comments, each on its line.
func (w *fileWriter) above(indent string, comments []string) {
	for _, c := range comments {
		if c = asComment(c); c != "" {
			w.add(indent, c)
		}
		w.add("\n")
	}
}

// endLine ends a line, with the comment beside it.
func (w *fileWriter) endLine(beside string) {
	if beside = asComment(beside); beside != "" {
		w.add(" ", beside)
	}
	w.add("\n")
}

// gap leaves an empty line, except at the start.
func (w *fileWriter) gap() {
	if len(w.b) > 0 {
		w.add("\n")
	}
}

// record writes the keys of a record, each on its own line.
func (w *fileWriter) record(k *timeline.Kind, r timeline.Record, kept keptPart) {
	w.scalar("id", timeline.TextField, string(r.RecordID()), kept.note("id"))
	for i := range k.Fields {
		f := &k.Fields[i]
		if f.Name == "slug" {
			continue // the name of the file
		}
		v := f.Get(r)
		if f.Type == timeline.ListField {
			w.list(f, v, kept)
		} else if !v.Equal(f.Default) || kept.has(f.Name) {
			w.scalar(f.Name, f.Type, v.Text, kept.note(f.Name))
		}
	}
	w.unknownPairs(kept)
}

func (w *fileWriter) scalar(key string, t timeline.FieldType, text string, note timeline.KeptKey) {
	w.above("", note.Above)
	w.add(key, " = ")
	w.value(t, text)
	w.endLine(note.Beside)
}

func (w *fileWriter) value(t timeline.FieldType, text string) {
	if t == timeline.TextField {
		w.b = appendText(w.b, text)
	} else {
		w.add(text)
	}
}

func (w *fileWriter) unknownPairs(kept keptPart) {
	for _, u := range kept.unknown(false) {
		w.above("", u.Note.Above)
		w.add(u.Key, " = ", u.Raw)
		w.endLine(u.Note.Beside)
	}
}

func (w *fileWriter) unknownTables(kept keptPart) {
	for _, u := range kept.unknown(true) {
		w.gap()
		w.above("", u.Note.Above)
		w.add(u.Raw, "\n")
	}
}

// list writes a list: plain words on one line, items with a structure of their
// own on a line each.
func (w *fileWriter) list(f *timeline.Field, v timeline.Value, kept keptPart) {
	notes, lost := itemNotes(f, v, kept)
	end := kept.note(f.Name + lastMark).Above
	note := kept.note(f.Name)
	if v.Equal(f.Default) && !kept.has(f.Name) && len(lost) == 0 && len(end) == 0 {
		return
	}
	w.above("", note.Above)
	w.above("", lost)
	if len(notes) == 0 && len(end) == 0 && w.shortList(f.Name, v.Items) {
		w.endLine(note.Beside)
		return
	}
	w.add(f.Name, " = [")
	w.endLine(note.Beside)
	for _, item := range v.Items {
		n := notes[item]
		delete(notes, item) // a second item of the same text has no comments
		w.above("  ", n.Above)
		w.add("  ")
		w.b = appendText(w.b, item)
		w.add(",")
		w.endLine(n.Beside)
	}
	w.above("  ", end)
	w.add("]\n")
}

// shortList writes a list on one line if it fits there.
func (w *fileWriter) shortList(key string, items []string) bool {
	start := len(w.b)
	w.add(key, " = [")
	for i, item := range items {
		if i > 0 {
			w.add(", ")
		}
		w.b = appendText(w.b, item)
		if strings.Contains(item, " ") || len(w.b)-start >= longest {
			w.b = w.b[:start]
			return false
		}
	}
	w.add("]")
	return true
}

// itemNotes gives the comments of a list's items, and those of items that are
// no longer there.
func itemNotes(f *timeline.Field, v timeline.Value, kept keptPart) (notes map[string]timeline.KeptKey, lost []string) {
	if kept.kept == nil {
		return nil, nil
	}
	var gone []string
	for name, note := range kept.kept.Keys {
		item, ok := strings.CutPrefix(name, kept.prefix+f.Name+itemMark)
		switch {
		case !ok:
		case slices.Contains(v.Items, item):
			if notes == nil {
				notes = map[string]timeline.KeptKey{}
			}
			notes[item] = note
		default:
			gone = append(gone, name)
		}
	}
	slices.Sort(gone)
	for _, name := range gone {
		note := kept.kept.Keys[name]
		lost = append(lost, note.Above...)
		if note.Beside != "" {
			lost = append(lost, note.Beside)
		}
	}
	return notes, lost
}
