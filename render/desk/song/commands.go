package song

import (
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// EditCommands change what is selected, or the selection.
func (sp *Page) EditCommands() []page.Command {
	return []page.Command{
		{ID: "cut", Name: "Cut", Help: "copies the selected cues and deletes them", Group: "Edit", Keys: []string{"Ctrl+X"}, Off: sp.needCues, Run: sp.cutCues},
		{ID: "copy", Name: "Copy", Help: "copies the selected cues", Group: "Edit", Keys: []string{"Ctrl+C"}, Off: sp.needSelection, Run: sp.copyCues},
		{ID: "paste", Name: "Paste at playhead", Help: "puts the copied cues at the playhead, on the same lanes", Group: "Edit", Keys: []string{"Ctrl+V"}, Off: sp.needClip, Run: sp.pasteCues},
		{ID: "paste-same", Name: "Paste at the same bars", Help: "puts the copied cues at the bars they came from, also in another song", Group: "Edit", Keys: []string{"Ctrl+Shift+V"}, Off: sp.needClip, Run: sp.pasteSame},
		{ID: "duplicate", Name: "Duplicate", Help: "copies the selected cues right after themselves, by whole bars", Group: "Edit", Keys: []string{"Ctrl+D"}, Off: sp.needCues, Run: sp.duplicate},
		{ID: "delete", Name: "Delete", Help: "deletes the selected cues; nothing else moves", Group: "Edit", Keys: []string{"Delete"}, Off: sp.needCues, Run: sp.deleteCues},
		{ID: "remove-time", Name: "Remove time…", Help: "takes the loop's stretch out of the plan; later cues come earlier", Group: "Edit", Keys: []string{"Shift+Delete"}, Off: sp.needLoopEdit, Run: sp.askRemoveTime},
		{ID: "select-all", Name: "Select all", Help: "selects all cues of the lane, then of the song", Group: "Edit", Keys: []string{"Ctrl+A"}, Off: sp.NeedSong, Run: sp.selectAll},
		{ID: "select-none", Name: "Select none", Help: "empties the selection", Group: "Edit", Keys: []string{"Ctrl+Shift+A"}, Off: sp.NeedSong, Run: func() { sp.work().View().Choose() }},
		{ID: "select-on", Name: "Select from playhead on", Help: "selects all cues after the playhead", Group: "Edit", Keys: []string{"Shift+End"}, Off: sp.NeedSong, Run: func() { sp.selectSide(true) }},
		{ID: "select-back", Name: "Select up to playhead", Help: "selects all cues before the playhead", Group: "Edit", Keys: []string{"Shift+Home"}, Off: sp.NeedSong, Run: func() { sp.selectSide(false) }},
	}
}

// CueCommands place cues and say what they do.
func (sp *Page) CueCommands() []page.Command {
	place := operation.Find("place", "")
	return []page.Command{
		{ID: "place", Name: "Place at playhead", Help: "puts a cue on the lane in focus at the playhead", Group: "Cue", Keys: []string{"Enter"}, Off: sp.needLaneEdit, Run: sp.placeHere},
		page.Does(place, page.Command{ID: "place-cues", Group: "Cue", Off: sp.NeedSongEdit, Run: func() { sp.askPlacing(place) }}),
		{ID: "tap", Name: "Tap a cue in", Help: "puts a cue on the lane in focus at what is heard now", Group: "Cue", Keys: []string{"T"}, Off: sp.needLaneEdit, Run: sp.tap},
		{ID: "tap-1", Name: "Tap into lane 1", Help: "puts a cue on the first lane at what is heard now; 2 to 9 likewise", Group: "Cue", Keys: []string{"1"}, Off: sp.needLaneEdit, Run: sp.tapInto(1)},
		{ID: "tap-2", Name: "Tap into lane 2", Help: "puts a cue on the second lane at what is heard now", Group: "Cue", Keys: []string{"2"}, Off: sp.needLaneEdit, Run: sp.tapInto(2)},
		{ID: "tap-3", Name: "Tap into lane 3", Help: "puts a cue on the third lane at what is heard now", Group: "Cue", Keys: []string{"3"}, Off: sp.needLaneEdit, Run: sp.tapInto(3)},
		{ID: "tap-4", Name: "Tap into lane 4", Help: "puts a cue on the fourth lane at what is heard now", Group: "Cue", Keys: []string{"4"}, Off: sp.needLaneEdit, Run: sp.tapInto(4)},
		{ID: "tap-5", Name: "Tap into lane 5", Help: "puts a cue on the fifth lane at what is heard now", Group: "Cue", Keys: []string{"5"}, Off: sp.needLaneEdit, Run: sp.tapInto(5)},
		{ID: "tap-6", Name: "Tap into lane 6", Help: "puts a cue on the sixth lane at what is heard now", Group: "Cue", Keys: []string{"6"}, Off: sp.needLaneEdit, Run: sp.tapInto(6)},
		{ID: "tap-7", Name: "Tap into lane 7", Help: "puts a cue on the seventh lane at what is heard now", Group: "Cue", Keys: []string{"7"}, Off: sp.needLaneEdit, Run: sp.tapInto(7)},
		{ID: "tap-8", Name: "Tap into lane 8", Help: "puts a cue on the eighth lane at what is heard now", Group: "Cue", Keys: []string{"8"}, Off: sp.needLaneEdit, Run: sp.tapInto(8)},
		{ID: "tap-9", Name: "Tap into lane 9", Help: "puts a cue on the ninth lane at what is heard now", Group: "Cue", Keys: []string{"9"}, Off: sp.needLaneEdit, Run: sp.tapInto(9)},
		{ID: "nudge-back", Name: "Move a frame earlier", Help: "moves the selected cues one frame earlier", Group: "Cue", Keys: []string{"Alt+Left", ","}, Repeats: true, Off: sp.needCues, Run: func() { sp.nudge(-1) }},
		{ID: "nudge-on", Name: "Move a frame later", Help: "moves the selected cues one frame later", Group: "Cue", Keys: []string{"Alt+Right", "."}, Repeats: true, Off: sp.needCues, Run: func() { sp.nudge(1) }},
		{ID: "nudge-beat-back", Name: "Move a beat earlier", Help: "moves the selected cues one step of the grid earlier", Group: "Cue", Keys: []string{"Alt+Shift+Left"}, Repeats: true, Off: sp.needCues, Run: func() { sp.nudgeBeat(-1) }},
		{ID: "nudge-beat-on", Name: "Move a beat later", Help: "moves the selected cues one step of the grid later", Group: "Cue", Keys: []string{"Alt+Shift+Right"}, Repeats: true, Off: sp.needCues, Run: func() { sp.nudgeBeat(1) }},
		{ID: "lane-above", Name: "Move to the lane above", Help: "moves the selected cues to the lane above", Group: "Cue", Keys: []string{"Alt+Up"}, Off: sp.needCues, Run: func() { sp.shiftLane(-1) }},
		{ID: "lane-below", Name: "Move to the lane below", Help: "moves the selected cues to the lane below", Group: "Cue", Keys: []string{"Alt+Down"}, Off: sp.needCues, Run: func() { sp.shiftLane(1) }},
		page.Does(operation.Find("quantise", ""), page.Command{Group: "Cue", Keys: []string{"Q"}, Off: sp.needCues, Run: sp.quantiseCues}),
		{ID: "group", Name: "Group", Help: "joins the selected cues", Group: "Cue", Keys: []string{"Ctrl+G"}, Off: sp.needCues, Run: func() { sp.group(true) }},
		{ID: "ungroup", Name: "Ungroup", Help: "parts the selected cues", Group: "Cue", Keys: []string{"Ctrl+Shift+G"}, Off: sp.needCues, Run: func() { sp.group(false) }},
		{ID: "lock", Name: "Lock or unlock", Help: "keeps the selected cues where they are", Group: "Cue", Keys: []string{"Ctrl+L"}, Off: sp.needCues, Run: func() {
			sp.flip(func(c *timeline.Cue) *bool { return &c.Locked }, "lock", "unlock")
		}},
		{ID: "lock-lane", Name: "Lock or unlock lane", Help: "keeps all cues of the lane in focus where they are", Group: "Cue", Keys: []string{"Ctrl+Shift+L"}, Off: sp.needLaneEdit, Run: sp.lockLane},
		{ID: "disable", Name: "Disable or enable", Help: "keeps the selected cues but leaves them out of plan and checks", Group: "Cue", Keys: []string{"H"}, Off: sp.needCues, Run: func() {
			sp.flip(func(c *timeline.Cue) *bool { return &c.Disabled }, "disable", "enable")
		}},
		{ID: "marker", Name: "Add marker", Help: "puts a marker at the playhead", Group: "Cue", Keys: []string{"M"}, Off: sp.NeedSongEdit, Run: sp.addMarker},
		{ID: "section", Name: "Section of the loop or selection", Help: "makes a section of the loop, or of the selection's stretch", Group: "Cue", Keys: []string{"Ctrl+Shift+M"}, Off: sp.NeedSongEdit, Run: sp.addSection},
		{ID: "add-lane", Name: "Add lane…", Help: "adds a lane for a placed effect or group", Group: "Cue", Keys: []string{"Ctrl+Shift+N"}, Off: sp.NeedSongEdit, Run: sp.askLane},
	}
}

// PlayCommands are about what is heard.
func (sp *Page) PlayCommands() []page.Command {
	return []page.Command{
		{ID: "play", Name: "Play or pause", Help: "plays from the playhead, or pauses", Group: "Play", Keys: []string{"Space"}, Off: sp.NeedSong, Run: sp.playPause},
		{ID: "stop", Name: "Stop", Help: "stops and goes back to where play began", Group: "Play", Keys: []string{"R"}, Off: sp.NeedSong, Run: sp.stop},
		{ID: "play-selection", Name: "Play selection", Help: "plays from 2 s before the selection to 1 s after it", Group: "Play", Keys: []string{"Shift+Space"}, Off: sp.needSelection, Run: sp.playSelection},
		{ID: "loop", Name: "Loop on or off", Help: "repeats the loop", Group: "Play", Keys: []string{"L"}, Off: sp.NeedSong, Run: sp.toggleLoop},
		{ID: "loop-selection", Name: "Loop the selection", Help: "makes the selection's stretch the loop", Group: "Play", Keys: []string{"Shift+L"}, Off: sp.needSelection, Run: sp.loopSelection},
		{ID: "loop-start", Name: "Loop starts here", Help: "puts the loop's start at the playhead", Group: "Play", Keys: []string{"I"}, Off: sp.NeedSong, Run: func() { sp.loopEdge(false) }},
		{ID: "loop-end", Name: "Loop ends here", Help: "puts the loop's end at the playhead", Group: "Play", Keys: []string{"O"}, Off: sp.NeedSong, Run: func() { sp.loopEdge(true) }},
		{ID: "click", Name: "Click on or off", Help: "sounds a click on every beat", Group: "Play", Keys: []string{"K"}, Off: sp.NeedSong, Run: sp.toggleClick},
		{ID: "half-speed", Name: "Half speed", Help: "plays at half speed, at the song's own pitch", Group: "Play", Keys: []string{"Shift+K"}, Off: sp.NeedSong, Run: func() { sp.toggleSpeed(halfSpeed) }},
		{ID: "three-quarter-speed", Name: "Three-quarter speed", Help: "plays at three quarters of the speed, at the song's own pitch", Group: "Play", Keys: []string{"Ctrl+K"}, Off: sp.NeedSong, Run: func() { sp.toggleSpeed(threeQuarterSpeed) }},
		{ID: "count-in", Name: "Count-in on or off", Help: "counts a bar in, in the grid's metre, before it plays", Group: "Play", Keys: []string{"Alt+K"}, Off: sp.NeedSong, Run: sp.toggleCountIn},
		{ID: "count-play", Name: "Count in and play", Help: "counts a bar in and plays, once, such as for tapping", Group: "Play", Keys: []string{"Shift+J"}, Off: sp.NeedSong, Run: sp.countAndPlay},
		{ID: "cue-ticks", Name: "Cue ticks on or off", Help: "sounds a tick on each hit of the lanes that the stage shows", Group: "Play", Keys: []string{"Alt+Shift+K"}, Off: sp.NeedSong, Run: sp.toggleTicks},
		{ID: "measure-taps", Name: "Measure delay and tap lead…", Help: "measures by taps along with ticks how late sound is heard and how late you tap", Group: "Play", Off: sp.NeedSong, Run: sp.askTaps},
		{ID: "take-timecode", Name: takeStart, Help: "starts the song at the timecode that a channel of its recording holds; that channel is never played", Group: "Play", Off: sp.needTimecode, Run: sp.takeTimecode},
	}
}

// GoCommands move the playhead, the focus and the selection.
func (sp *Page) GoCommands() []page.Command {
	return []page.Command{
		{ID: "frame-back", Name: "Previous frame", Help: "moves the playhead one frame back", Group: "Go", Keys: []string{"Left"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.stepFrame(-1) }},
		{ID: "frame-on", Name: "Next frame", Help: "moves the playhead one frame on", Group: "Go", Keys: []string{"Right"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.stepFrame(1) }},
		{ID: "beat-back", Name: "Previous beat", Help: "moves the playhead one step of the grid back", Group: "Go", Keys: []string{"Shift+Left"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.stepBeat(-1) }},
		{ID: "beat-on", Name: "Next beat", Help: "moves the playhead one step of the grid on", Group: "Go", Keys: []string{"Shift+Right"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.stepBeat(1) }},
		{ID: "mark-back", Name: "Previous marker or section", Help: "moves the playhead to the marker or section before", Group: "Go", Keys: []string{"Ctrl+Left"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.stepMark(-1) }},
		{ID: "mark-on", Name: "Next marker or section", Help: "moves the playhead to the next marker or section", Group: "Go", Keys: []string{"Ctrl+Right"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.stepMark(1) }},
		{ID: "song-start", Name: "Start of the song", Help: "moves the playhead to the song's start", Group: "Go", Keys: []string{"Home"}, Off: sp.NeedSong, Run: func() { sp.goEnd(false) }},
		{ID: "song-end", Name: "End of the song", Help: "moves the playhead to the song's end", Group: "Go", Keys: []string{"End"}, Off: sp.NeedSong, Run: func() { sp.goEnd(true) }},
		{ID: "page-back", Name: "Previous page of time", Help: "shows the page of time before", Group: "Go", Keys: []string{"PgUp"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.page(-1) }},
		{ID: "page-on", Name: "Next page of time", Help: "shows the next page of time", Group: "Go", Keys: []string{"PgDn"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.page(1) }},
		{ID: "song-back", Name: "Previous song", Help: "goes to the song before", Group: "Go", Keys: []string{"Ctrl+PgUp"}, Off: sp.NeedSong, Run: func() { sp.stepSong(-1) }},
		{ID: "song-on", Name: "Next song", Help: "goes to the next song", Group: "Go", Keys: []string{"Ctrl+PgDn"}, Off: sp.NeedSong, Run: func() { sp.stepSong(1) }},
		{ID: "song-first", Name: "First song", Help: "goes to the first song", Group: "Go", Keys: []string{"Ctrl+Home"}, Off: sp.NeedSong, Run: func() { sp.stepSong(-1 << 20) }},
		{ID: "song-last", Name: "Last song", Help: "goes to the last song", Group: "Go", Keys: []string{"Ctrl+End"}, Off: sp.NeedSong, Run: func() { sp.stepSong(1 << 20) }},
		{ID: "go-to", Name: "Go to…", Help: "goes to a bar, a time, a timecode, a distance such as +2 bars, or a name", Group: "Go", Keys: []string{"G"}, Off: sp.NeedSong, Run: sp.askGo},
		{ID: "lane-up", Name: "Lane above", Help: "moves the lane focus up", Group: "Go", Keys: []string{"Up"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.focusLane(-1) }},
		{ID: "lane-down", Name: "Lane below", Help: "moves the lane focus down", Group: "Go", Keys: []string{"Down"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.focusLane(1) }},
		{ID: "cue-on", Name: "Next cue in lane", Help: "selects the next cue of the lane", Group: "Go", Keys: []string{"Tab"}, Repeats: true, Off: sp.needLane, Run: func() { sp.stepCue(1, false) }},
		{ID: "cue-back", Name: "Previous cue in lane", Help: "selects the cue before in the lane", Group: "Go", Keys: []string{"Shift+Tab"}, Repeats: true, Off: sp.needLane, Run: func() { sp.stepCue(-1, false) }},
		{ID: "cue-all-back", Name: "Previous cue of all lanes", Help: "selects the cue before over all lanes", Group: "Go", Keys: []string{"Ctrl+Up"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.stepCue(-1, true) }},
		{ID: "cue-all-on", Name: "Next cue of all lanes", Help: "selects the next cue over all lanes", Group: "Go", Keys: []string{"Ctrl+Down"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.stepCue(1, true) }},
	}
}

// ViewCommands are about how the song is looked at.
func (sp *Page) ViewCommands() []page.Command {
	return append(sp.SnapCommands(), []page.Command{
		{ID: "zoom-in", Name: "Zoom in", Help: "shows less time, about the playhead if it is in view", Group: "View", Keys: []string{"+"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.zoomKey(-2) }},
		{ID: "zoom-out", Name: "Zoom out", Help: "shows more time", Group: "View", Keys: []string{"-"}, Repeats: true, Off: sp.NeedSong, Run: func() { sp.zoomKey(2) }},
		{ID: "zoom-song", Name: "Fit the song", Help: "shows the whole song", Group: "View", Keys: []string{"0"}, Off: sp.NeedSong, Run: sp.zoomSong},
		{ID: "zoom-selection", Name: "Zoom to selection", Help: "shows the selection, or the loop", Group: "View", Keys: []string{"Z"}, Off: sp.NeedSong, Run: sp.zoomSelection},
		{ID: "zoom-back", Name: "Previous zoom", Help: "shows what was shown before the last zoom to a selection", Group: "View", Keys: []string{"Shift+Z"}, Off: sp.NeedSong, Run: sp.zoomBack},
		{ID: "follow", Name: "Follow the playhead", Help: "pages along while the song plays", Group: "View", Keys: []string{"F"}, Off: sp.NeedSong, Run: sp.toggleFollow},
		{ID: "stage-turn", Name: "Turn the stage", Help: "shows the stage preview from above, or from the front again", Group: "View", Keys: []string{"V"}, Off: sp.NeedSong, Run: sp.turnStage},
		{ID: "stage-large", Name: "Large stage", Help: "gives the stage from the front the place of the lanes, with the courses of what comes; again: back", Group: "View", Keys: []string{"Shift+F5"}, Off: sp.NeedSong, Run: sp.enlargeStage},
		{ID: "stage-selection", Name: "Selection alone on stage", Help: "shows only the selected cues in the stage preview, as long as any are", Group: "View", Off: sp.NeedSong, Run: func() { sp.selected = !sp.selected }},
		{ID: "stage-heights", Name: "Heights on stage", Help: "writes in the stage preview how high effects are and how they lean", Group: "View", Off: sp.NeedSong, Run: func() { sp.view.Hide.Heights = !sp.view.Hide.Heights }},
		{ID: "stage-reach", Name: "Reach on stage", Help: "draws in the stage preview how high what comes will be, dotted", Group: "View", Off: sp.NeedSong, Run: func() { sp.view.Hide.Reach = !sp.view.Hide.Reach }},
		{ID: "stage-zones", Name: "Zones on stage", Help: "draws clear zones in the stage preview while they are closed, and says for how long", Group: "View", Off: sp.NeedSong, Run: func() { sp.view.Hide.Zones = !sp.view.Hide.Zones }},
		{ID: "still", Name: "Reduced motion", Help: "nothing slides or drifts, and effects stand at their full height while they are open", Group: "View", Off: page.Free, Run: sp.toggleStill},
		{ID: "grid-coarser", Name: "Coarser grid", Help: "makes the grid's step larger", Group: "View", Keys: []string{"["}, Off: page.Free, Run: func() { sp.stepGrid(-1) }},
		{ID: "grid-finer", Name: "Finer grid", Help: "makes the grid's step smaller", Group: "View", Keys: []string{"]"}, Off: page.Free, Run: func() { sp.stepGrid(1) }},
	}...)
}

// PhraseCommands run figures over groups.
func (sp *Page) PhraseCommands() []page.Command {
	run, remove := operation.Find("phrase", ""), operation.Find("unphrase", "")
	return []page.Command{
		page.Does(run, page.Command{Group: "Cue", Keys: []string{"P"}, Off: sp.needPhrase, Run: func() { sp.askPhrase(run) }}),
		page.Does(remove, page.Command{ID: "phrase-remove", Off: sp.needPhraseRow, Run: func() { sp.removePhrase(remove) }}),
		{ID: "phrase-go", Name: "Go to the phrase", Help: "shows the cues of the chosen phrase on the timeline, selected", Group: "Book", Off: sp.needPhraseRow, Run: sp.goPhrase},
	}
}
