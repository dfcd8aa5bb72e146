package shows

import (
	"errors"
	"fmt"
	"strings"

	"emberbeat/timeline"

	"github.com/pelletier/go-toml/v2/unstable"
)

// recordReader fills one record from its keys.
type recordReader struct {
	*fileReader
	kind   *timeline.Kind
	rec    timeline.Record
	at     int // offset of the record
	keep   *keeper
	inline bool        // a cue: its comments all go above it
	lane   timeline.ID // of a cue: the lane whose array it stands in
}

const wantID = "write an id of up to 40 characters of a-z, 0-9 and -, such as k3v9q2ma"

func (r *recordReader) read(pairs []pair) {
	hasID := false
	for i := range pairs {
		kv := &pairs[i]
		if twice(pairs[:i], kv) {
			r.problem(kv.at, "keep one of them", "the key %s is given twice", kv.text)
			continue
		}
		if kv.key == "id" && kv.plain {
			hasID = true
			r.readID(kv)
		} else {
			r.readKey(kv)
		}
	}
	if !hasID {
		r.problem(r.at, wantID, "the %s has no id", r.kind.Name)
	}
}

func twice(before []pair, kv *pair) bool {
	for i := range before {
		if before[i].key == kv.key && before[i].plain == kv.plain {
			return true
		}
	}
	return false
}

func (r *recordReader) readID(kv *pair) {
	r.note("id", kv.note)
	id := timeline.ID(kv.value.text)
	if kv.value.kind != unstable.String || !id.Valid() {
		r.problem(kv.at, wantID, "%s is no id", kv.raw)
		return
	}
	timeline.SetID(r.rec, id)
}

// note keeps a key's comments.
func (r *recordReader) note(key string, note timeline.KeptKey) {
	if r.inline {
		r.noteAbove(note)
		return
	}
	r.keep.note(key, note)
}

// noteAbove keeps comments above the record, for there is no room inside.
func (r *recordReader) noteAbove(note timeline.KeptKey) {
	above := &r.keep.kept.Above
	*above = append(*above, note.Above...)
	if note.Beside != "" {
		*above = append(*above, note.Beside)
	}
}

func (r *recordReader) readKey(kv *pair) {
	f := r.kind.Field(kv.key)
	switch {
	case f == nil || !kv.plain:
		r.readUnknown(kv)
	case f.Name == "slug":
		r.checkSlug(kv)
	case r.inline && f.Name == "lane":
		r.checkLane(kv)
	default:
		r.readField(f, kv)
	}
}

func (r *recordReader) readUnknown(kv *pair) {
	if r.rec.RecordID() == "" && !r.inline && r.misplaced(kv) {
		return
	}
	note := kv.note
	if r.inline {
		r.noteAbove(note)
		note = timeline.KeptKey{}
	}
	r.keep.unknown(kv.text, kv.raw, note)
	r.noteUnknown(kv, " of "+r.kind.Name)
}

// checkSlug compares a slug that is written down with the name on disk, which
// is the one that counts.
func (r *recordReader) checkSlug(kv *pair) {
	r.note("id", kv.note)
	if kv.value.kind != unstable.String || kv.value.text != r.slug {
		r.problem(kv.at, "rename the folder or file, and leave this key out", "slug is %s, but the name on disk is %q", kv.raw, r.slug)
	}
}

func (r *recordReader) checkLane(kv *pair) {
	r.noteAbove(kv.note)
	if kv.value.kind != unstable.String || timeline.ID(kv.value.text) != r.lane {
		r.problem(kv.at, "move the cue to the lane it belongs to, and leave this key out", "the cue stands on lane %q, but says lane = %s", r.lane, kv.raw)
	}
}

func (r *recordReader) readField(f *timeline.Field, kv *pair) {
	if f.Type != timeline.ListField {
		r.note(f.Name, kv.note)
	}
	v, ok := r.fieldValue(f, kv)
	if !ok {
		return
	}
	if err := f.Set(r.rec, v); err != nil {
		r.refused(f, kv, err)
		return
	}
	if f.Type == timeline.ListField {
		r.noteItems(f, kv)
	}
}

// refused reports a value that the field does not take, at the item that is at
// fault where it is a list.
func (r *recordReader) refused(f *timeline.Field, kv *pair, err error) {
	want := err.Error()
	var ve *timeline.ValueError
	if errors.As(err, &ve) {
		want = ve.Want
	}
	if f.Type != timeline.ListField {
		r.problem(kv.at, "", "%s %s = %s: %s", r.kind.Name, f.Name, kv.raw, want)
		return
	}
	at, n := kv.at, 0
	if _, err := fmt.Sscanf(want, "item %d,", &n); err == nil && n >= 1 && n <= len(kv.value.items) {
		at = kv.value.items[n-1].at
	}
	r.problem(at, "", "%s %s: %s", r.kind.Name, f.Name, want)
}

// noteItems keeps the comments of a list's items under their canonical text.
func (r *recordReader) noteItems(f *timeline.Field, kv *pair) {
	note, end := kv.listNote()
	r.note(f.Name, note)
	r.note(f.Name+lastMark, timeline.KeptKey{Above: end})
	items := f.Get(r.rec).Items
	for i, it := range kv.value.items {
		if i < len(items) {
			r.note(f.Name+itemMark+items[i], it.note)
		}
	}
}

// fieldValue gives a key's value in canonical text, if it has the field's
// type.
func (r *recordReader) fieldValue(f *timeline.Field, kv *pair) (timeline.Value, bool) {
	v := &kv.value
	switch f.Type {
	case timeline.ListField:
		return r.listValue(f, kv)
	case timeline.NumberField:
		if v.kind == unstable.Integer || v.kind == unstable.Float {
			return timeline.Value{Text: plainNumber(v.text)}, true
		}
	case timeline.IntegerField:
		if v.kind == unstable.Integer {
			return timeline.Value{Text: plainNumber(v.text)}, true
		}
	case timeline.FlagField:
		if v.kind == unstable.Bool {
			return timeline.Value{Text: v.text}, true
		}
	default:
		if v.kind == unstable.String {
			return timeline.Value{Text: v.text}, true
		}
	}
	r.wrongType(f, kv)
	return timeline.Value{}, false
}

func plainNumber(s string) string { return strings.ReplaceAll(s, "_", "") }

func (r *recordReader) wrongType(f *timeline.Field, kv *pair) {
	want := ""
	switch f.Type {
	case timeline.NumberField, timeline.IntegerField:
		want = fmt.Sprintf("write a %s without quotes, such as %s = %s", f.Type, f.Name, f.Default.Text)
	case timeline.FlagField:
		want = fmt.Sprintf("write %s = true or %s = false", f.Name, f.Name)
	default:
		want = fmt.Sprintf("write text in quotes, such as %s = %s", f.Name, appendText(nil, exampleOf(f, kv)))
	}
	r.problem(kv.at, want, "%s %s is %s, not a %s", r.kind.Name, f.Name, typeWords[kv.value.kind], f.Type)
}

// exampleOf gives a text that a text field could have been meant to hold.
func exampleOf(f *timeline.Field, kv *pair) string {
	switch kv.value.kind {
	case unstable.Integer, unstable.Float, unstable.Bool, unstable.LocalDate:
		return kv.value.text
	}
	return f.Default.Text
}

var typeWords = map[unstable.Kind]string{
	unstable.String: "text", unstable.Bool: "yes or no", unstable.Float: "a number", unstable.Integer: "a whole number",
	unstable.LocalDate: "a date", unstable.LocalTime: "a time of day", unstable.LocalDateTime: "a date and time",
	unstable.DateTime: "a date and time", unstable.Array: "a list", unstable.InlineTable: "a table",
}

func (r *recordReader) listValue(f *timeline.Field, kv *pair) (timeline.Value, bool) {
	if kv.value.kind != unstable.Array {
		r.problem(kv.at, fmt.Sprintf(`write a list of texts, such as %s = ["…"]`, f.Name), "%s %s is %s, not a list", r.kind.Name, f.Name, typeWords[kv.value.kind])
		return timeline.Value{}, false
	}
	var v timeline.Value
	for i := range kv.value.items {
		it := &kv.value.items[i]
		if it.kind != unstable.String {
			r.problem(max(it.at, kv.at), "write each item as text in quotes", "item %d of %s is %s, not text", i+1, f.Name, typeWords[it.kind])
			return v, false
		}
		v.Items = append(v.Items, it.text)
	}
	return v, true
}
