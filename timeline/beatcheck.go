package timeline

import "fmt"

// checkBeats refuses a place on a beat that its bar does not have, where an edit
// has put it there: beat 5 of a bar of 4/4 is a slip, and the first beat of the
// next bar is written as that.
func (d *Draft) checkBeats(r Ref, rec, before Record) error {
	song := d.show.Song(r.Song)
	if song == nil || song.Beats.Empty() {
		return nil
	}
	var was []Moment
	if before != nil {
		was = momentsOf(before)
	}
	for i, m := range momentsOf(rec) {
		if !m.OnBeat || was != nil && m == was[i] {
			continue
		}
		metre := song.Beats.MetreAt(m.Bar.Bar)
		if m.Bar.Beat.Floor() < int64(metre.Num) {
			continue
		}
		return &ValueError{Kind: r.Kind, Field: []string{"at", "to"}[i], Value: m.String(), Want: fmt.Sprintf("is past the end of its bar: bar %d is %s and has beats 1 to %d; that place is %s", m.Bar.Bar, metre, metre.Num, song.Beats.Named(song.Beats.At(m.Bar)))}
	}
	return nil
}

// momentsOf gives the places in a song that a record has: of its fields at and to.
func momentsOf(rec Record) []Moment {
	switch x := rec.(type) {
	case *Cue:
		return []Moment{x.At}
	case *Marker:
		return []Moment{x.At}
	case *Section:
		return []Moment{x.At, x.To}
	case *Phrase:
		return []Moment{x.At, x.Until}
	}
	return nil
}
