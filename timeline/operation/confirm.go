package operation

import (
	"emberbeat/timeline"
)

// confirmOperations say of what stands that it stands right.
func confirmOperations() []*Operation { return []*Operation{confirm()} }

// confirmed names the song whose cues are confirmed.
type confirmed struct{ Song timeline.ID }

func confirm() *Operation {
	song := id("song", "the song: title, folder, id or number", func(a *confirmed) *timeline.ID { return &a.Song }, "song")
	return does(Operation{Verb: "confirm", Menu: "Confirm cues…", Title: "Confirm cues on their recording", Button: "Confirm",
		Tip:  "says that the cues of a song stand right on the recording it names now",
		Help: "says that the cues of a song stand right on the recording it names now",
		Args: []Argument{{Field: song, Word: "SONG", Label: "Song", Need: "no song is chosen"}}},
		func(_ At, a *confirmed) (timeline.Edit, error) { return timeline.ConfirmCues(a.Song), nil },
		func(s *timeline.Show, a *confirmed) string {
			return "confirm the cues of " + s.Named("song", a.Song) + " on their recording"
		})
}
