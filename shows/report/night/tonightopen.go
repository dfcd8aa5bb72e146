package night

import (
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// Open is an output that timecode does not close within its song.
type Open struct {
	SongNumber int             `json:"song_number"`
	SongTitle  string          `json:"song_title"`
	What       string          `json:"what"` // placed effect or device
	Role       string          `json:"role"` // "effect", "arm" …
	Outputs    []report.Output `json:"outputs"`
	Opened     string          `json:"opened"` // timecode
	Closes     string          `json:"closes"` // timecode after the song's end; "" = never
	Cue        string          `json:"cue"`
}

// byHand lists what is still open when a song's audio ends: playback may stop
// there, and then nothing closes it.
func byHand(p *timeline.Plan) []Open {
	list := []Open{}
	label := report.NewLabeller(p.Show)
	for i := range p.Songs {
		ps := &p.Songs[i]
		for _, s := range ps.StandsOpen(ps.Duration) {
			list = append(list, openLine(ps, s, label))
		}
	}
	return list
}

func openLine(ps *timeline.PlanSong, s timeline.Standing, label report.Labeller) Open {
	o := Open{SongNumber: ps.Number, SongTitle: ps.Song.FullTitle(), Role: "effect"}
	if c := s.Command; c != nil {
		o.What, o.Outputs, o.Cue = c.Unit.Name, label.Hit(c), string(c.Cue.ID)
		o.Opened, o.Closes = ps.Rate.Label(c.Frame), ps.Rate.Label(c.Close)
		return o
	}
	w := s.Window
	o.What, o.Role, o.Outputs, o.Cue = ps.Units.Called(w.Device), string(w.Role), label.Window(w, false), string(w.Cue.ID)
	o.Opened = ps.Rate.Label(w.UpFrame)
	if w.Closes() {
		o.Closes = ps.Rate.Label(w.DownFrame)
	}
	return o
}
