package night

import (
	"slices"
	"strconv"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// Arm is an arm slot, condition or warm-up of a device, over the whole
// night.
type Arm struct {
	Device  string          `json:"device"`
	Name    string          `json:"name"`
	Role    string          `json:"role"`
	Slots   []report.Output `json:"slots"`
	Windows int             `json:"windows"`
	First   string          `json:"first_up"`  // timecode
	Last    string          `json:"last_down"` // timecode; "" = never
	Songs   []int           `json:"song_numbers"`
	Dead    bool            `json:"dead,omitempty"`
}

// armsOf gathers the windows of a night by device and role, as they first go up:
// those in which the device has something to do, and those in which it has not,
// because the night has cut or swapped it all.
func armsOf(p *timeline.Plan) (needed, idle []Arm) {
	needed, idle = []Arm{}, []Arm{}
	label := report.NewLabeller(p.Show)
	for i := range p.Songs {
		ps := &p.Songs[i]
		for k := range ps.Windows {
			w := &ps.Windows[k]
			list := &needed
			if !serves(p, i, w) {
				list = &idle
			}
			n := slices.IndexFunc(*list, func(a Arm) bool { return a.Device == string(w.Device.ID) && a.Role == string(w.Role) })
			if n < 0 {
				n = len(*list)
				*list = append(*list, Arm{Device: string(w.Device.ID), Name: p.Called(w.Device), Role: string(w.Role),
					Slots: []report.Output{}, First: ps.Rate.Label(w.UpFrame), Songs: []int{}, Dead: w.Device.Dead || p.Night.TakesOut("device", w.Device.ID)})
			}
			(*list)[n].add(ps, w, label)
		}
	}
	return needed, idle
}

// serves reports whether a device plays anything while a window of it is up: an
// effect that is driven by slots, not one that a night has put in its place. What
// warms up serves whatever comes later.
func serves(p *timeline.Plan, song int, w *timeline.Window) bool {
	if w.Role == timeline.WarmUpSlot {
		for i := song; i < len(p.Songs); i++ {
			if slices.ContainsFunc(p.Songs[i].Commands, func(c timeline.Command) bool { return driven(&c, w.Device) && (i > song || c.End() >= w.Up) }) {
				return true
			}
		}
		return false
	}
	return slices.ContainsFunc(p.Songs[song].Commands, func(c timeline.Command) bool {
		return driven(&c, w.Device) && c.End() >= w.Up && (!w.Closes() || c.At <= w.Down)
	})
}

// driven reports whether a command goes out through a device.
func driven(c *timeline.Command, v *timeline.Device) bool {
	return c.Article.Control == timeline.SlotControl && slices.ContainsFunc(c.Unit.Drives, func(d timeline.Drive) bool { return d.Device == v })
}

func (a *Arm) add(ps *timeline.PlanSong, w *timeline.Window, label report.Labeller) {
	a.Windows++
	a.Last = ""
	if w.Closes() {
		a.Last = ps.Rate.Label(w.DownFrame)
	}
	if !slices.Contains(a.Songs, ps.Number) {
		a.Songs = append(a.Songs, ps.Number)
	}
	for _, o := range label.Window(w, true) {
		if !slices.ContainsFunc(a.Slots, func(s report.Output) bool { return s.Label == o.Label }) {
			a.Slots = append(a.Slots, o)
		}
	}
}

// cells writes an arm for people.
func (a *Arm) cells() []string {
	name, last := a.Name, a.Last
	if a.Dead {
		name += " (out of service)"
	}
	if last == "" {
		last = "never"
	}
	return []string{name, a.Role, report.Labels(a.Slots), strconv.Itoa(a.Windows), joinNumbers(a.Songs), a.First, last}
}
