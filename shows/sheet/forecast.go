package sheet

import (
	"maps"
	"slices"
	"strconv"

	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// Forecast is what a change comes to, counted in one way for all who ask: the
// window before it makes one, and verbs when they try or make one.
type Forecast struct {
	Changes  timeline.Changes // of records
	Cues     int              // that play otherwise
	Findings *FindingsDiff
	Moved    []MovedCue    // commanded at another timecode, by song in running order
	Rests    *Consequences // where stock changes that was there before; else nil
}

// Compare says what it comes to when one plan takes the place of another. Each
// plan's findings are those of the same facts.
func Compare(was, is *timeline.Plan, before, after []rule.Finding) *Forecast {
	f := &Forecast{Changes: timeline.Diff(was.Show, is.Show), Cues: len(otherwise(was, is)), Findings: NewFindingsDiff(was, is, before, after)}
	for i := range is.Songs {
		if song := is.Songs[i].Song.ID; songIn(is, song) == &is.Songs[i] {
			f.Moved = append(f.Moved, NewMoved(was, is, song)...)
		}
	}
	if refs := StockChanged(f.Changes); len(refs) > 0 {
		f.Rests = newConsequences(was, is, refs, f.Findings)
	}
	return f
}

// cueKey is a cue of a song that a set plays.
type cueKey struct{ song, cue timeline.ID }

// otherwise gives the cues that two plans do not play alike: on other effects,
// with another article, by other outputs or devices in service, or not at all.
func otherwise(was, is *timeline.Plan) map[cueKey]bool {
	before, after := played(was), played(is)
	cues := map[cueKey]bool{}
	for key, deeds := range before {
		if !slices.Equal(after[key], deeds) {
			cues[key] = true
		}
	}
	for key := range after {
		if _, ok := before[key]; !ok {
			cues[key] = true
		}
	}
	return cues
}

// played gives what each cue plays: effect, article and the outputs in service
// that drive it, by effect; of an arm window, its devices in service.
func played(p *timeline.Plan) map[cueKey][]string {
	m := map[cueKey][]string{}
	live := liveOutputs(p.Units)
	for i := range p.Songs {
		ps := &p.Songs[i]
		for k := range ps.Commands {
			c := &ps.Commands[k]
			key := cueKey{ps.Song.ID, c.Cue.ID}
			m[key] = append(m[key], string(c.Unit.Placed.ID)+" "+string(c.Article.ID)+live[c.Unit])
		}
		for k := range ps.Windows {
			w := &ps.Windows[k]
			key := cueKey{ps.Song.ID, w.Cue.ID}
			m[key] = append(m[key], windowDevice(p.Night, w))
		}
	}
	for list := range maps.Values(m) {
		slices.Sort(list)
	}
	return m
}

// liveOutputs gives of each effect the outputs in service that drive it, each
// after a space.
func liveOutputs(units *timeline.Units) map[*timeline.Unit]string {
	all := make(map[*timeline.Unit]string, len(units.All))
	for _, u := range units.All {
		text := ""
		for _, d := range u.Drives {
			if !d.Dead {
				text += " " + string(d.Wire.Unit) + "." + strconv.Itoa(d.Wire.Output)
			}
		}
		all[u] = text
	}
	return all
}

// windowDevice names the device of an arm window; "" where it is out of service
// or out of the night's rig.
func windowDevice(night *timeline.Night, w *timeline.Window) string {
	if w.Device.Dead || takenOut(night, "device", w.Device.ID) {
		return ""
	}
	return string(w.Device.ID)
}
