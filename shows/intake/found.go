package intake

import (
	"emberbeat/timeline"
)

// Found is what a file says about a song.
type Found struct {
	Beats    *timeline.BeatMap // nil = nothing said
	Sections []Named
	Markers  []Named
	Start    *timeline.Timecode // of the start of the audio
	// Notes says in whole sentences what was passed over or rounded.
	Notes []string
}

// Named is a named instant.
type Named struct {
	Name string
	At   timeline.Moment
}

// Empty reports whether nothing was found that a song could take.
func (f *Found) Empty() bool {
	return f.Beats.Empty() && len(f.Sections) == 0 && len(f.Markers) == 0 && f.Start == nil
}

// Edit gives the edit that puts what was found into a song: beat map and start
// replace the song's, sections replace all of its sections if there are any,
// markers are added. What stands there already stays as it is. ids makes the id
// of a new record of a kind.
func (f *Found) Edit(song *timeline.Song, ids func(kind string) timeline.ID) timeline.Edit {
	return func(d *timeline.Draft) error {
		if err := f.setHead(d, song); err != nil {
			return err
		}
		if len(f.Sections) > 0 {
			if err := f.putSections(d, song, ids); err != nil {
				return err
			}
		}
		known := map[Named]bool{}
		for _, m := range song.Markers {
			known[Named{m.Name, m.At}] = true
		}
		for _, m := range f.Markers {
			if !known[m] {
				known[m] = true
				d.Put(song.ID, &timeline.Marker{Base: timeline.Base{ID: ids("marker")}, Name: m.Name, At: m.At})
			}
		}
		return nil
	}
}

// setHead writes beat map and start.
func (f *Found) setHead(d *timeline.Draft, song *timeline.Song) error {
	ref := timeline.Ref{Kind: "song", ID: song.ID}
	if !f.Beats.Empty() && !f.Beats.Equal(song.Beats) {
		var items []string
		for _, a := range f.Beats.Anchors() {
			items = append(items, a.String())
		}
		if err := d.Set(ref, "beats", timeline.Value{Items: items}); err != nil {
			return err
		}
	}
	if f.Start != nil && *f.Start != song.Start {
		return d.Set(ref, "start", timeline.Value{Text: f.Start.String()})
	}
	return nil
}

func (f *Found) putSections(d *timeline.Draft, song *timeline.Song, ids func(kind string) timeline.ID) error {
	wanted := map[Named]bool{}
	for _, s := range f.Sections {
		wanted[s] = true
	}
	for _, s := range song.Sections {
		if key := (Named{s.Name, s.At}); wanted[key] {
			delete(wanted, key)
			continue
		}
		if err := d.Remove(timeline.Ref{Kind: "section", Song: song.ID, ID: s.ID}); err != nil {
			return err
		}
	}
	for _, s := range f.Sections {
		if wanted[s] {
			delete(wanted, s)
			d.Put(song.ID, &timeline.Section{Base: timeline.Base{ID: ids("section")}, Name: s.Name, At: s.At})
		}
	}
	return nil
}
