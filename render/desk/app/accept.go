package app

import (
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// needAccept says why the finding last gone to cannot be accepted. A tour accepts nothing: what is seen and taken is one night's.
func needAccept(a *App) string {
	if why := needEdit(a); why != "" {
		return why
	}
	f := a.chosenFinding()
	switch {
	case a.work.Night == "":
		return "choose a night first: a finding is accepted for one night"
	case f == nil:
		return "go to a finding first, with " + a.key("finding-on")
	case f.Accepted != nil:
		return "it is accepted already, by " + f.Accepted.By + ": " + f.Accepted.Reason
	}
	return ""
}

// askAccept asks why the finding last gone to is accepted, and by whom: as it was when asked, since checks go on beside.
func (a *App) askAccept(o *operation.Operation) {
	x := *a.chosenFinding()
	a.AskFor(o, timeline.Ref{Kind: "night", ID: a.work.Night}, page.Form{About: x.Rule + ": " + x.Text, Given: map[string]string{"by": a.prefs.Name},
		Begin: func(args any) { *args.(*timeline.Acceptance) = x.Acceptance("", "") },
		Done: func(args any) {
			a.prefs.Name = args.(*timeline.Acceptance).By
			a.prefs.Save()
			a.say("accepted %s", x.Rule)
		}})
}

// needCues says why the cues of the song in view cannot be confirmed, or nothing.
func needCues(a *App) string {
	if off := needEdit(a); off != "" {
		return off
	}
	return needSong(a)
}

// askConfirm asks whether the cues of the song in view stand right on the recording it names.
func (a *App) askConfirm(o *operation.Operation) {
	given := map[string]string{}
	if song := a.work.InView(); song != nil {
		given["song"] = string(song.ID)
	}
	a.AskFor(o, timeline.Ref{}, page.Form{Given: given, About: "Hear the cues against the recording first, and move those that are off. Until then the finding stays."})
}
