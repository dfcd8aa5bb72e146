package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// moment is all that a song commands for one hit: what is called with one word.
type moment struct {
	hit      timeline.Time
	from     timeline.Time // earliest exact command
	frame    int64         // of that command
	open     timeline.Time // of the output that stays open longest
	commands []*timeline.Command
}

// momentsOf gives the moments of a song in the order they are called.
func momentsOf(ps *timeline.PlanSong) []moment {
	byHit := map[timeline.Time]*moment{}
	var list []*moment
	for i := range ps.Commands {
		c := &ps.Commands[i]
		m := byHit[c.Hit]
		if m == nil {
			m = &moment{hit: c.Hit, from: c.At, frame: c.Frame}
			byHit[c.Hit] = m
			list = append(list, m)
		}
		m.commands = append(m.commands, c)
		m.open = max(m.open, c.Open)
	}
	slices.SortStableFunc(list, func(a, b *moment) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.hit, b.hit)) })
	moments := make([]moment, len(list))
	for i, m := range list {
		moments[i] = *m
	}
	return moments
}

// bar writes the bar and beat of the hit; "" without a beat map.
func (m *moment) bar(ps *timeline.PlanSong) string {
	return BarAt(ps.Song, m.commands[0].Cue, m.hit)
}

// what names what the moment commands, units with the same article as one:
// "Jet 1–4 · Cold jet, 6 m".
func (m *moment) what(ps *timeline.PlanSong) []string {
	var same wording.Alike
	for _, c := range m.commands {
		same.Add(c.Unit.Name, " · "+ps.Units.Called(c.Article))
	}
	return same.Texts()
}

// notes joins the notes of the moment's cues, each once.
func (m *moment) notes() string {
	var list []string
	for _, c := range m.commands {
		if n := c.Cue.Note; n != "" && !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return strings.Join(list, "; ")
}

// markers joins the names of the song's markers within reach of the hit: words
// the crew knows the place by.
func (m *moment) markers(ps *timeline.PlanSong, reach timeline.Time) string {
	var list []string
	for _, k := range ps.Song.Markers {
		if at, ok := k.At.In(ps.Song.Beats); ok && k.Name != "" && at >= m.hit-reach && at <= m.hit+reach {
			list = wording.AddOnce(list, k.Name)
		}
	}
	return strings.Join(list, ", ")
}

// ArmsNeeded names the arms, conditions and warm-ups that some commands of a song need,
// those that are not on at them with a word that says so.
func ArmsNeeded(ps *timeline.PlanSong, commands []*timeline.Command) []string {
	var same wording.Alike
	type need struct {
		device *timeline.Device
		role   timeline.SlotRole
	}
	seen := map[need]bool{}
	for _, c := range commands {
		for _, d := range c.Unit.Drives {
			if d.DeviceType == nil {
				continue
			}
			for _, role := range []timeline.SlotRole{timeline.ArmSlot, timeline.ConditionSlot, timeline.WarmUpSlot} {
				slots := d.DeviceType.Find(role, d.Wire.Output)
				if key := (need{d.Device, role}); len(slots) == 0 || seen[key] {
					continue
				} else {
					seen[key] = true
				}
				said := ""
				if !allUp(ps, d.Device, slots, c.At) {
					said = " (not on in timecode)"
				}
				same.Add(string(role)+" of "+ps.Units.Called(d.Device), said)
			}
		}
	}
	return same.Texts()
}

func allUp(ps *timeline.PlanSong, v *timeline.Device, slots []timeline.Slot, at timeline.Time) bool {
	for _, s := range slots {
		if !slotUp(ps, v, s, at) {
			return false
		}
	}
	return true
}

// Part is a section of a song, from its start to before the next one's.
type Part struct {
	Name     string
	Section  *timeline.Section // nil for what comes before the first
	From, To timeline.Time
}

// PartsOf gives the sections in order; the first holds all before it, the last
// all after.
func PartsOf(ps *timeline.PlanSong) []Part {
	var list []Part
	for _, sec := range ps.Song.Sections {
		if at, ok := sec.At.In(ps.Song.Beats); ok {
			list = append(list, Part{Name: cmp.Or(sec.Name, "section"), Section: sec, From: at})
		}
	}
	slices.SortStableFunc(list, func(a, b Part) int { return cmp.Compare(a.From, b.From) })
	if len(list) == 0 || list[0].From > 0 {
		list = slices.Insert(list, 0, Part{Name: "start"})
	}
	for i := range list {
		list[i].To = ps.Duration
		if i+1 < len(list) {
			list[i].To = list[i+1].From
		}
	}
	return list
}

// PartAt gives the index of the part that holds a time.
func PartAt(parts []Part, at timeline.Time) int {
	i := 0
	for i+1 < len(parts) && parts[i+1].From <= at {
		i++
	}
	return i
}

// Place says where in a part a time stands, in bars from its start.
func (p *Part) Place(song *timeline.Song, at timeline.Time) string {
	if song.Beats.Empty() || at < p.From {
		return p.Name
	}
	bars := song.Beats.Named(at).Bar - song.Beats.Named(p.From).Bar + 1
	return fmt.Sprintf("%s, bar %d", p.Name, bars)
}
