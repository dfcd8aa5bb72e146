package shows

import "emberbeat/timeline"

// cues writes the lanes of cues.toml.
func (w *fileWriter) cues(song *timeline.Song, lanes []cueLane, kept keptPart) {
	k := timeline.KindOf("cue")
	for _, l := range lanes {
		part := keptPart{kept.kept, kept.prefix + string(l.lane) + laneMark}
		head := part.note("")
		w.gap()
		w.above("", head.Above)
		w.add("[[", laneTable, "]]")
		w.endLine(head.Beside)
		w.scalar("id", timeline.TextField, string(l.lane), part.note("id"))
		note := part.note(cuesKey)
		end := part.note(cuesKey + lastMark).Above
		w.above("", note.Above)
		w.add(cuesKey, " = [")
		if len(l.cues) > 0 || len(end) > 0 {
			w.endLine(note.Beside)
			note.Beside = ""
		}
		for _, c := range l.cues {
			w.cue(k, song.ID, c)
		}
		w.above("  ", end)
		w.add("]")
		w.endLine(note.Beside)
		w.unknownPairs(part)
		w.unknownTables(part)
	}
}

// cue writes one cue on one line.
func (w *fileWriter) cue(k *timeline.Kind, song timeline.ID, r timeline.Record) {
	kept := keptPart{kept: timeline.KeptOf(r)}
	w.above("  ", kept.aboveRecord())
	w.place(k, song, r.RecordID())
	w.add("  { id = ")
	w.b = appendText(w.b, string(r.RecordID()))
	for i := range k.Fields {
		f := &k.Fields[i]
		if f.Name == "lane" {
			continue // the array it stands in
		}
		if v := f.Get(r); !v.Equal(f.Default) || f.Name == "at" {
			w.add(", ", f.Name, " = ")
			w.value(f.Type, v.Text)
		}
	}
	for _, u := range kept.unknown(false) {
		w.add(", ", u.Key, " = ", u.Raw)
	}
	w.add(" },")
	w.endLine(kept.besideRecord())
}
