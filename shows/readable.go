package shows

import (
	"errors"
	"fmt"

	"emberbeat/timeline"
)

// readable reads the files that are about to be written as they would be read
// from the disk, and refuses a save that could not be opened again, or would
// come back as another show. Edits are held against what a file can keep, so
// that nobody should meet this; it stands between a mistake of ours and a show.
func (s *saver) readable(show *timeline.Show) error {
	errs := make([]error, len(s.todo))
	each(len(s.todo), func(i int) { errs[i] = s.todo[i].readable(show) })
	return errors.Join(errs...)
}

func (w written) readable(show *timeline.Show) error {
	if w.of != nil {
		show = w.of
	}
	f := readFile(w.kind, w.name, slugOf(w.kind, w.name), w.bytes)
	if len(f.problems) > 0 {
		return fmt.Errorf("the show could not be opened again: %s; nothing was saved: undo or change that, and save again", f.problems[0])
	}
	if len(f.records) != len(w.lines) {
		return fmt.Errorf("%s would come back with %d records, and has %d; nothing was saved", w.name, len(f.records), len(w.lines))
	}
	song := timeline.ID("")
	was := make(map[timeline.Ref]bool, len(w.lines))
	for ref := range w.lines {
		was[timeline.Ref{Kind: ref.Kind, ID: ref.ID}] = true
		if k := timeline.KindOf(ref.Kind); k.InSong {
			song = ref.Song
		}
	}
	for _, p := range f.records {
		if err := p.same(show, song, was); err != nil {
			return fmt.Errorf("%s: %w; nothing was saved", w.name, err)
		}
	}
	return nil
}

// same compares a record that was read with that of the show.
func (p placedRecord) same(show *timeline.Show, song timeline.ID, was map[timeline.Ref]bool) error {
	ref := timeline.Ref{Kind: p.kind.Name, ID: p.rec.RecordID()}
	if !was[ref] {
		return fmt.Errorf("%s would come back, and is not in the show", ref)
	}
	if p.kind.InSong {
		ref.Song = song
	}
	rec := p.kind.Find(show, ref.Song, ref.ID)
	for i := range p.kind.Fields {
		if f := &p.kind.Fields[i]; !f.Get(rec).Equal(f.Get(p.rec)) {
			return fmt.Errorf("%s of %s would come back as %q, and is %q", f.Name, ref, f.Get(p.rec), f.Get(rec))
		}
	}
	return nil
}
