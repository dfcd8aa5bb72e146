package shows

import (
	"emberbeat/timeline"

	"github.com/pelletier/go-toml/v2/unstable"
)

// laneMark stands, in names of what is kept about a lane's array of cues,
// between the lane's id and the key.
const laneMark = ":"

// readCues reads the lanes of cues.toml, each an array of inline tables.
func (r *fileReader) readCues() {
	lane, in := timeline.ID(""), false
	for i := range r.doc.blocks {
		b := &r.doc.blocks[i]
		switch {
		case len(b.path) == 1 && b.path[0] == laneTable && b.array:
			lane, in = r.readLane(b), true
		case len(b.path) > 1 && b.path[0] == laneTable && in:
			r.keep.unknown(string(lane)+laneMark+b.name(), r.doc.raw(b), timeline.KeptKey{Above: b.note.Above})
		case len(b.path) == 1 && (b.path[0] == laneTable || b.path[0] == "cue"):
			in = false
			r.problem(b.at, `write [[lane]] with id = "…" and cues = [ … ], one { … } for each cue`, "%s is not how cues are written", b.name())
		default:
			in = false
			r.unknownTable(b)
		}
	}
}

func (r *fileReader) readLane(b *block) timeline.ID {
	lane, at := timeline.ID(""), -1
	if kv := findPair(b.pairs, "id"); kv != nil {
		lane, at = timeline.ID(kv.value.text), kv.at
		if kv.value.kind != unstable.String || lane != "" && !lane.Valid() {
			r.problem(kv.at, wantID, "lane %s is no id", kv.raw)
			return ""
		}
	}
	if at < 0 {
		r.problem(b.at, "write the id of one of the lanes in "+songFile, "the lane has no id")
		return ""
	}
	key := string(lane) + laneMark
	r.keep.note(key, b.note)
	for i := range b.pairs {
		kv := &b.pairs[i]
		switch {
		case twice(b.pairs[:i], kv):
			r.problem(kv.at, "keep one of them", "the key %s is given twice", kv.text)
		case kv.plain && kv.key == "id":
			r.keep.note(key+"id", kv.note)
		case kv.plain && kv.key == cuesKey:
			r.readCueArray(lane, kv)
		default:
			r.keep.unknown(key+kv.text, kv.raw, kv.note)
			r.noteUnknown(kv, " of lane")
		}
	}
	return lane
}

func (r *fileReader) readCueArray(lane timeline.ID, kv *pair) {
	const want = `write cues = [ … ] with one { id = "…", at = "17.1" } for each cue`
	if kv.value.kind != unstable.Array {
		r.problem(kv.at, want, "cues is %s, not a list", typeWords[kv.value.kind])
		return
	}
	note, end := kv.listNote()
	r.keep.note(string(lane)+laneMark+cuesKey, note)
	r.keep.note(string(lane)+laneMark+cuesKey+lastMark, timeline.KeptKey{Above: end})
	k := timeline.KindOf("cue")
	laneField := k.Field("lane")
	for i := range kv.value.items {
		it := &kv.value.items[i]
		if it.kind != unstable.InlineTable {
			r.problem(max(it.at, kv.at), want, "the cue is %s, not a table", typeWords[it.kind])
			continue
		}
		rr := recordReader{fileReader: r, kind: k, rec: k.New(""), at: it.at, keep: &keeper{}, inline: true, lane: lane}
		rr.keep.kept.Above = append(it.note.Above, it.inner...)
		rr.keep.kept.Beside = it.note.Beside
		rr.read(it.pairs)
		if err := laneField.Set(rr.rec, timeline.Value{Text: string(lane)}); err != nil {
			r.problem(it.at, wantID, "lane %q is no id", lane)
		}
		timeline.SetKept(rr.rec, rr.keep.done())
		r.records = append(r.records, placedRecord{k, rr.rec, r.doc.line(it.at)})
	}
}
