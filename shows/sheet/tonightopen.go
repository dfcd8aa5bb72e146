package sheet

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// TonightArm is an arm slot, condition or warm-up of a device, over the whole
// night.
type TonightArm struct {
	Device  string   `json:"device"`
	Name    string   `json:"name"`
	Role    string   `json:"role"`
	Slots   []Output `json:"slots"`
	Windows int      `json:"windows"`
	First   string   `json:"first_up"`  // timecode
	Last    string   `json:"last_down"` // timecode; "" = never
	Songs   []int    `json:"song_numbers"`
	Dead    bool     `json:"dead,omitempty"`
}

// armsOf gathers the windows of a night by device and role, as they first go up.
func armsOf(p *timeline.Plan) []TonightArm {
	list := []TonightArm{}
	label := newLabeller(p.Show.Rig)
	for i := range p.Songs {
		ps := &p.Songs[i]
		for k := range ps.Windows {
			w := &ps.Windows[k]
			n := slices.IndexFunc(list, func(a TonightArm) bool { return a.Device == string(w.Device.ID) && a.Role == string(w.Role) })
			if n < 0 {
				n = len(list)
				list = append(list, TonightArm{Device: string(w.Device.ID), Name: cmp.Or(w.Device.Name, string(w.Device.ID)), Role: string(w.Role),
					Slots: []Output{}, First: ps.Rate.Label(w.UpFrame), Songs: []int{}, Dead: w.Device.Dead || takenOut(p.Night, "device", w.Device.ID)})
			}
			list[n].add(ps, w, label)
		}
	}
	return list
}

func (a *TonightArm) add(ps *timeline.PlanSong, w *timeline.Window, label labeller) {
	a.Windows++
	a.Last = ""
	if w.Closes() {
		a.Last = ps.Rate.Label(w.DownFrame)
	}
	if !slices.Contains(a.Songs, ps.Number) {
		a.Songs = append(a.Songs, ps.Number)
	}
	for _, o := range label.window(w, true) {
		if !slices.ContainsFunc(a.Slots, func(s Output) bool { return s.Label == o.Label }) {
			a.Slots = append(a.Slots, o)
		}
	}
}

func takenOut(n *timeline.Night, kind string, id timeline.ID) bool {
	return n != nil && slices.ContainsFunc(n.Rig, func(c timeline.RigChange) bool { return c.Kind == kind && c.ID == id && c.Out })
}

// TonightOpen is an output that timecode does not close within its song.
type TonightOpen struct {
	SongNumber int      `json:"song_number"`
	SongTitle  string   `json:"song_title"`
	What       string   `json:"what"` // placed effect or device
	Role       string   `json:"role"` // "effect", "arm" …
	Outputs    []Output `json:"outputs"`
	Opened     string   `json:"opened"` // timecode
	Closes     string   `json:"closes"` // timecode after the song's end; "" = never
	Cue        string   `json:"cue"`
}

// byHand lists what is still open when a song's audio ends: playback may stop
// there, and then nothing closes it.
func byHand(p *timeline.Plan) []TonightOpen {
	list := []TonightOpen{}
	label := newLabeller(p.Show.Rig)
	for i := range p.Songs {
		ps := &p.Songs[i]
		for _, s := range ps.StandsOpen(ps.Duration) {
			list = append(list, openLine(ps, s, label))
		}
	}
	return list
}

func openLine(ps *timeline.PlanSong, s timeline.Standing, label labeller) TonightOpen {
	o := TonightOpen{SongNumber: ps.Number, SongTitle: ps.Song.FullTitle(), Role: "effect"}
	if c := s.Command; c != nil {
		o.What, o.Outputs, o.Cue = cmp.Or(c.Unit.Placed.Name, string(c.Unit.Placed.ID)), label.hit(c), string(c.Cue.ID)
		o.Opened, o.Closes = ps.Rate.Label(c.Frame), ps.Rate.Label(c.Close)
		return o
	}
	w := s.Window
	o.What, o.Role, o.Outputs, o.Cue = cmp.Or(w.Device.Name, string(w.Device.ID)), string(w.Role), label.window(w, false), string(w.Cue.ID)
	o.Opened = ps.Rate.Label(w.UpFrame)
	if w.Closes() {
		o.Closes = ps.Rate.Label(w.DownFrame)
	}
	return o
}

// labels joins the names of outputs without their values.
func labels(outputs []Output) string {
	names := make([]string, len(outputs))
	for i := range outputs {
		names[i] = outputs[i].Label
	}
	return strings.Join(names, ", ")
}
