package app

func playCommands() []command {
	return []command{
		{id: "play", name: "Play or pause", help: "plays from the playhead, or pauses", group: "Play", keys: []string{"Space"}, off: needSong, run: (*App).playPause},
		{id: "stop", name: "Stop", help: "stops and goes back to where play began", group: "Play", keys: []string{"R"}, off: needSong, run: (*App).stop},
		{id: "play-selection", name: "Play selection", help: "plays from 2 s before the selection to 1 s after it", group: "Play", keys: []string{"Shift+Space"}, off: needSelection, run: (*App).playSelection},
		{id: "loop", name: "Loop on or off", help: "repeats the loop", group: "Play", keys: []string{"L"}, off: needSong, run: (*App).toggleLoop},
		{id: "loop-selection", name: "Loop the selection", help: "makes the selection's stretch the loop", group: "Play", keys: []string{"Shift+L"}, off: needSelection, run: (*App).loopSelection},
		{id: "loop-start", name: "Loop starts here", help: "puts the loop's start at the playhead", group: "Play", keys: []string{"I"}, off: needSong, run: func(a *App) { a.loopEdge(false) }},
		{id: "loop-end", name: "Loop ends here", help: "puts the loop's end at the playhead", group: "Play", keys: []string{"O"}, off: needSong, run: func(a *App) { a.loopEdge(true) }},
		{id: "click", name: "Click on or off", help: "sounds a click on every beat", group: "Play", keys: []string{"K"}, off: needSong, run: (*App).toggleClick},
		{id: "half-speed", name: "Half speed", help: "plays at half speed, an octave lower", group: "Play", keys: []string{"Shift+K"}, off: needSong, run: (*App).toggleHalf},
		{id: "mute", name: "Mute lane in the preview", help: "leaves the lane out of the stage preview; checks and sheets do not change", group: "Play", keys: []string{"Shift+U"}, off: needLane, run: (*App).muteLane},
		{id: "solo", name: "Solo lane in the preview", help: "shows only this lane in the stage preview; checks and sheets do not change", group: "Play", keys: []string{"Shift+S"}, off: needLane, run: (*App).soloLane},
	}
}

func goCommands() []command {
	return []command{
		{id: "frame-back", name: "A frame back", help: "moves the playhead one frame back", group: "Go", keys: []string{"Left"}, repeats: true, off: needSong, run: func(a *App) { a.stepFrame(-1) }},
		{id: "frame-on", name: "A frame on", help: "moves the playhead one frame on", group: "Go", keys: []string{"Right"}, repeats: true, off: needSong, run: func(a *App) { a.stepFrame(1) }},
		{id: "beat-back", name: "A beat back", help: "moves the playhead one step of the grid back", group: "Go", keys: []string{"Shift+Left"}, repeats: true, off: needSong, run: func(a *App) { a.stepBeat(-1) }},
		{id: "beat-on", name: "A beat on", help: "moves the playhead one step of the grid on", group: "Go", keys: []string{"Shift+Right"}, repeats: true, off: needSong, run: func(a *App) { a.stepBeat(1) }},
		{id: "mark-back", name: "Previous marker or section", help: "moves the playhead to the marker or section before", group: "Go", keys: []string{"Ctrl+Left"}, repeats: true, off: needSong, run: func(a *App) { a.stepMark(-1) }},
		{id: "mark-on", name: "Next marker or section", help: "moves the playhead to the next marker or section", group: "Go", keys: []string{"Ctrl+Right"}, repeats: true, off: needSong, run: func(a *App) { a.stepMark(1) }},
		{id: "song-start", name: "Start of the song", help: "moves the playhead to the song's start", group: "Go", keys: []string{"Home"}, off: needSong, run: func(a *App) { a.goEnd(false) }},
		{id: "song-end", name: "End of the song", help: "moves the playhead to the song's end", group: "Go", keys: []string{"End"}, off: needSong, run: func(a *App) { a.goEnd(true) }},
		{id: "page-back", name: "A page back", help: "shows the page of time before", group: "Go", keys: []string{"PgUp"}, repeats: true, off: needSong, run: func(a *App) { a.page(-1) }},
		{id: "page-on", name: "A page on", help: "shows the next page of time", group: "Go", keys: []string{"PgDn"}, repeats: true, off: needSong, run: func(a *App) { a.page(1) }},
		{id: "song-back", name: "Previous song", help: "goes to the song before", group: "Go", keys: []string{"Ctrl+PgUp"}, off: needSong, run: func(a *App) { a.stepSong(-1) }},
		{id: "song-on", name: "Next song", help: "goes to the next song", group: "Go", keys: []string{"Ctrl+PgDn"}, off: needSong, run: func(a *App) { a.stepSong(1) }},
		{id: "song-first", name: "First song", help: "goes to the first song", group: "Go", keys: []string{"Ctrl+Home"}, off: needSong, run: func(a *App) { a.stepSong(-1 << 20) }},
		{id: "song-last", name: "Last song", help: "goes to the last song", group: "Go", keys: []string{"Ctrl+End"}, off: needSong, run: func(a *App) { a.stepSong(1 << 20) }},
		{id: "go-to", name: "Go to…", help: "goes to a bar, a time, a timecode, a distance such as +2 bars, or a name", group: "Go", keys: []string{"G"}, off: needSong, run: (*App).askGo},
		{id: "lane-up", name: "Lane above", help: "moves the lane focus up", group: "Go", keys: []string{"Up"}, repeats: true, off: needSong, run: func(a *App) { a.focusLane(-1) }},
		{id: "lane-down", name: "Lane below", help: "moves the lane focus down", group: "Go", keys: []string{"Down"}, repeats: true, off: needSong, run: func(a *App) { a.focusLane(1) }},
		{id: "cue-on", name: "Next cue in lane", help: "selects the next cue of the lane", group: "Go", keys: []string{"Tab"}, repeats: true, off: needLane, run: func(a *App) { a.stepCue(1, false) }},
		{id: "cue-back", name: "Previous cue in lane", help: "selects the cue before in the lane", group: "Go", keys: []string{"Shift+Tab"}, repeats: true, off: needLane, run: func(a *App) { a.stepCue(-1, false) }},
		{id: "cue-all-back", name: "Previous cue of all lanes", help: "selects the cue before over all lanes", group: "Go", keys: []string{"Ctrl+Up"}, repeats: true, off: needSong, run: func(a *App) { a.stepCue(-1, true) }},
		{id: "cue-all-on", name: "Next cue of all lanes", help: "selects the next cue over all lanes", group: "Go", keys: []string{"Ctrl+Down"}, repeats: true, off: needSong, run: func(a *App) { a.stepCue(1, true) }},
		{id: "finding-on", name: "Next finding", help: "goes to the next finding", group: "Go", keys: []string{"F8"}, repeats: true, off: needFindings, run: func(a *App) { a.stepFinding(1) }},
		{id: "finding-back", name: "Previous finding", help: "goes to the finding before", group: "Go", keys: []string{"Shift+F8"}, repeats: true, off: needFindings, run: func(a *App) { a.stepFinding(-1) }},
	}
}

func viewCommands() []command {
	return []command{
		{id: "zoom-in", name: "Zoom in", help: "shows less time, about the playhead if it is in view", group: "View", keys: []string{"+"}, repeats: true, off: needSong, run: func(a *App) { a.zoomKey(-2) }},
		{id: "zoom-out", name: "Zoom out", help: "shows more time", group: "View", keys: []string{"-"}, repeats: true, off: needSong, run: func(a *App) { a.zoomKey(2) }},
		{id: "zoom-song", name: "Fit the song", help: "shows the whole song", group: "View", keys: []string{"0"}, off: needSong, run: (*App).zoomSong},
		{id: "zoom-selection", name: "Zoom to selection", help: "shows the selection, or the loop", group: "View", keys: []string{"Z"}, off: needSong, run: (*App).zoomSelection},
		{id: "zoom-back", name: "Previous zoom", help: "shows what was shown before the last zoom to a selection", group: "View", keys: []string{"Shift+Z"}, off: needSong, run: (*App).zoomBack},
		{id: "follow", name: "Follow the playhead", help: "pages along while the song plays", group: "View", keys: []string{"F"}, off: needSong, run: (*App).toggleFollow},
		{id: "snap", name: "Snap on or off", help: "draws what is moved to grid, marks, cues and playhead", group: "View", keys: []string{"S"}, run: (*App).toggleSnap},
		{id: "grid-coarser", name: "Coarser grid", help: "makes the grid's step larger", group: "View", keys: []string{"["}, run: func(a *App) { a.stepGrid(-1) }},
		{id: "grid-finer", name: "Finer grid", help: "makes the grid's step smaller", group: "View", keys: []string{"]"}, run: func(a *App) { a.stepGrid(1) }},
		{id: "findings", name: "List of findings", help: "opens or closes the list of findings", group: "View", keys: []string{"F7"}, off: needShow, run: (*App).toggleFindings},
		{id: "side", name: "Side panel", help: "opens or closes the panel at the right", group: "View", keys: []string{"F5"}, off: needShow, run: (*App).toggleSide},
		{id: "records", name: "Records", help: "lists every kind of record: stock, rig, sets, venues, nights, rules", group: "View", keys: []string{"F4"}, off: needShow, run: (*App).showRecords},
		{id: "night", name: "Next night", help: "plans for the next night, after the last for the tour itself", group: "View", off: needShow, run: (*App).stepNight},
		{id: "set", name: "Next set", help: "makes the next running order the show's own", group: "View", off: needEdit, run: (*App).stepSet},
		{id: "larger", name: "Larger interface", help: "makes everything larger", group: "View", keys: []string{"Ctrl+Alt++"}, run: func(a *App) { a.resize(1) }},
		{id: "smaller", name: "Smaller interface", help: "makes everything smaller", group: "View", keys: []string{"Ctrl+Alt+-"}, run: func(a *App) { a.resize(-1) }},
		{id: "theme", name: "Next theme", help: "changes between Dark, Night and Day", group: "View", keys: []string{"F9"}, run: (*App).stepTheme},
		{id: "full-screen", name: "Full screen", help: "fills the screen, or gives it back", group: "View", keys: []string{"F11"}, run: (*App).toggleFull},
		{id: "panel-on", name: "Next panel", help: "moves the focus to the next panel", group: "View", keys: []string{"F6"}, run: (*App).panelTaken},
		{id: "panel-back", name: "Previous panel", help: "moves the focus to the panel before", group: "View", keys: []string{"Shift+F6"}, run: (*App).panelTaken},
		{id: "timeline", name: "Back to the timeline", help: "leaves page, panel, field or selection for the timeline", group: "View", keys: []string{"Esc"}, off: needShow, run: (*App).toTimeline},
	}
}
