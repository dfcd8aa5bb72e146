package app

import (
	"cmp"

	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// askPlacing asks for cues of the song in view: on the lane in focus, from the playhead on.
func (a *App) askPlacing(o *operation.Operation) {
	song, v := a.work.songInView(), a.work.view()
	given := map[string]string{"at": timeline.AtTime(v.playhead).String()}
	if !song.Beats.Empty() {
		given["at"] = timeline.AtBar(song.Beats.Snap(v.playhead, timeline.NewRat(1, 1))).String()
	}
	if l := song.Lane(v.focus); l != nil && !l.Window() && !l.Locked {
		given["lane"] = cmp.Or(l.Name, string(l.ID))
	}
	a.AskFor(o, timeline.Ref{Kind: "song", ID: a.work.song}, page.Form{Title: "Place cues in " + song.FullTitle(), Given: given})
}
