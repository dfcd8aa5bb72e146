package song

import (
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// askPlacing asks for cues of the song in view: on the lane in focus, from the playhead on.
func (sp *Page) askPlacing(o *operation.Operation) {
	song, v := sp.work().InView(), sp.work().View()
	given := map[string]string{"at": timeline.AtTime(v.Playhead).String()}
	if !song.Beats.Empty() {
		given["at"] = timeline.AtBar(song.Beats.Snap(v.Playhead, timeline.NewRat(1, 1))).String()
	}
	if l := song.Lane(v.Focus); l != nil && !l.Window() && !l.Locked {
		given["lane"] = sp.work().Show.CalledIn(sp.work().Song, l)
	}
	sp.h.AskFor(o, timeline.Ref{Kind: "song", ID: sp.work().Song}, page.Form{Title: "Place cues in " + song.FullTitle(), Given: given})
}
