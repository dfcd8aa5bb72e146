package app

import "emberbeat/timeline"

func editCommands() []command {
	return []command{
		{id: "undo", name: "Undo", help: "takes back the last step", group: "Edit", keys: []string{"Ctrl+Z"}, repeats: true, off: needUndo, run: (*App).undo},
		{id: "redo", name: "Redo", help: "makes the step again that was taken back", group: "Edit", keys: []string{"Ctrl+Shift+Z", "Ctrl+Y"}, repeats: true, off: needRedo, run: (*App).redo},
		{id: "cut", name: "Cut", help: "copies the selected cues and deletes them", group: "Edit", keys: []string{"Ctrl+X"}, off: needCues, run: (*App).cutCues},
		{id: "copy", name: "Copy", help: "copies the selected cues", group: "Edit", keys: []string{"Ctrl+C"}, off: needSelection, run: (*App).copyCues},
		{id: "paste", name: "Paste at playhead", help: "puts the copied cues at the playhead, on the same lanes", group: "Edit", keys: []string{"Ctrl+V"}, off: needClip, run: (*App).pasteCues},
		{id: "paste-same", name: "Paste at the same bars", help: "puts the copied cues at the bars they came from, also in another song", group: "Edit", keys: []string{"Ctrl+Shift+V"}, off: needClip, run: (*App).pasteSame},
		{id: "duplicate", name: "Duplicate", help: "copies the selected cues right after themselves, by whole bars", group: "Edit", keys: []string{"Ctrl+D"}, off: needCues, run: (*App).duplicate},
		{id: "delete", name: "Delete", help: "deletes the selected cues; nothing else moves", group: "Edit", keys: []string{"Delete"}, off: needCues, run: (*App).deleteCues},
		{id: "remove-time", name: "Remove time…", help: "takes the loop's stretch out of the plan; later cues come earlier", group: "Edit", keys: []string{"Shift+Delete"}, off: needLoopEdit, run: (*App).askRemoveTime},
		{id: "select-all", name: "Select all", help: "selects all cues of the lane, then of the song", group: "Edit", keys: []string{"Ctrl+A"}, off: needSong, run: (*App).selectAll},
		{id: "select-none", name: "Select none", help: "empties the selection", group: "Edit", keys: []string{"Ctrl+Shift+A"}, off: needSong, run: func(a *App) { a.work.View().Choose() }},
		{id: "select-on", name: "Select from playhead on", help: "selects all cues after the playhead", group: "Edit", keys: []string{"Shift+End"}, off: needSong, run: func(a *App) { a.selectSide(true) }},
		{id: "select-back", name: "Select up to playhead", help: "selects all cues before the playhead", group: "Edit", keys: []string{"Shift+Home"}, off: needSong, run: func(a *App) { a.selectSide(false) }},
		{id: "find", name: "Find…", help: "finds songs, cues, lanes, sections and records by name or note", group: "Edit", keys: []string{"Ctrl+F"}, off: needShow, run: (*App).askFind},
		{id: "find-next", name: "Find next", help: "goes to the next place found", group: "Edit", keys: []string{"F3"}, off: needFound, run: (*App).findNext},
		{id: "edit-values", name: "Edit values", help: "goes to the inspector's first field", group: "Edit", keys: []string{"Ctrl+Enter"}, off: needSong, run: (*App).editValues},
		{id: "rename", name: "Rename", help: "goes to the name or note of what is selected", group: "Edit", keys: []string{"F2"}, off: needSong, run: (*App).rename},
	}
}

func cueCommands() []command {
	return []command{
		{id: "place", name: "Place at playhead", help: "puts a cue on the lane in focus at the playhead", group: "Cue", keys: []string{"Enter"}, off: needLaneEdit, run: (*App).placeHere},
		operationCommand("place", "", command{id: "place-cues", group: "Cue", off: needSongEdit}, (*App).askPlacing),
		{id: "tap", name: "Tap a cue in", help: "puts a cue on the lane in focus at what is heard now", group: "Cue", keys: []string{"T"}, off: needLaneEdit, run: (*App).tap},
		{id: "tap-1", name: "Tap into lane 1", help: "puts a cue on the first lane at what is heard now; 2 to 9 likewise", group: "Cue", keys: []string{"1"}, off: needLaneEdit, run: tapInto(1)},
		{id: "tap-2", name: "Tap into lane 2", help: "puts a cue on the second lane at what is heard now", group: "Cue", keys: []string{"2"}, off: needLaneEdit, run: tapInto(2)},
		{id: "tap-3", name: "Tap into lane 3", help: "puts a cue on the third lane at what is heard now", group: "Cue", keys: []string{"3"}, off: needLaneEdit, run: tapInto(3)},
		{id: "tap-4", name: "Tap into lane 4", help: "puts a cue on the fourth lane at what is heard now", group: "Cue", keys: []string{"4"}, off: needLaneEdit, run: tapInto(4)},
		{id: "tap-5", name: "Tap into lane 5", help: "puts a cue on the fifth lane at what is heard now", group: "Cue", keys: []string{"5"}, off: needLaneEdit, run: tapInto(5)},
		{id: "tap-6", name: "Tap into lane 6", help: "puts a cue on the sixth lane at what is heard now", group: "Cue", keys: []string{"6"}, off: needLaneEdit, run: tapInto(6)},
		{id: "tap-7", name: "Tap into lane 7", help: "puts a cue on the seventh lane at what is heard now", group: "Cue", keys: []string{"7"}, off: needLaneEdit, run: tapInto(7)},
		{id: "tap-8", name: "Tap into lane 8", help: "puts a cue on the eighth lane at what is heard now", group: "Cue", keys: []string{"8"}, off: needLaneEdit, run: tapInto(8)},
		{id: "tap-9", name: "Tap into lane 9", help: "puts a cue on the ninth lane at what is heard now", group: "Cue", keys: []string{"9"}, off: needLaneEdit, run: tapInto(9)},
		{id: "nudge-back", name: "Move a frame earlier", help: "moves the selected cues one frame earlier", group: "Cue", keys: []string{"Alt+Left", ","}, repeats: true, off: needCues, run: func(a *App) { a.nudge(-1) }},
		{id: "nudge-on", name: "Move a frame later", help: "moves the selected cues one frame later", group: "Cue", keys: []string{"Alt+Right", "."}, repeats: true, off: needCues, run: func(a *App) { a.nudge(1) }},
		{id: "nudge-beat-back", name: "Move a beat earlier", help: "moves the selected cues one step of the grid earlier", group: "Cue", keys: []string{"Alt+Shift+Left"}, repeats: true, off: needCues, run: func(a *App) { a.nudgeBeat(-1) }},
		{id: "nudge-beat-on", name: "Move a beat later", help: "moves the selected cues one step of the grid later", group: "Cue", keys: []string{"Alt+Shift+Right"}, repeats: true, off: needCues, run: func(a *App) { a.nudgeBeat(1) }},
		{id: "lane-above", name: "Move to the lane above", help: "moves the selected cues to the lane above", group: "Cue", keys: []string{"Alt+Up"}, off: needCues, run: func(a *App) { a.shiftLane(-1) }},
		{id: "lane-below", name: "Move to the lane below", help: "moves the selected cues to the lane below", group: "Cue", keys: []string{"Alt+Down"}, off: needCues, run: func(a *App) { a.shiftLane(1) }},
		{id: "quantise", name: "Quantise", help: "puts the selected cues on the nearest step of the grid", group: "Cue", keys: []string{"Q"}, off: needCues, run: (*App).quantiseCues},
		{id: "group", name: "Group", help: "joins the selected cues", group: "Cue", keys: []string{"Ctrl+G"}, off: needCues, run: func(a *App) { a.group(true) }},
		{id: "ungroup", name: "Ungroup", help: "parts the selected cues", group: "Cue", keys: []string{"Ctrl+Shift+G"}, off: needCues, run: func(a *App) { a.group(false) }},
		{id: "lock", name: "Lock or unlock", help: "keeps the selected cues where they are", group: "Cue", keys: []string{"Ctrl+L"}, off: needCues, run: func(a *App) {
			a.flip(func(c *timeline.Cue) *bool { return &c.Locked }, "lock", "unlock")
		}},
		{id: "lock-lane", name: "Lock or unlock lane", help: "keeps all cues of the lane in focus where they are", group: "Cue", keys: []string{"Ctrl+Shift+L"}, off: needLaneEdit, run: (*App).lockLane},
		{id: "disable", name: "Disable or enable", help: "keeps the selected cues but leaves them out of plan and checks", group: "Cue", keys: []string{"H"}, off: needCues, run: func(a *App) {
			a.flip(func(c *timeline.Cue) *bool { return &c.Disabled }, "disable", "enable")
		}},
		{id: "marker", name: "Add marker", help: "puts a marker at the playhead", group: "Cue", keys: []string{"M"}, off: needSongEdit, run: (*App).addMarker},
		{id: "section", name: "Section of the loop or selection", help: "makes a section of the loop, or of the selection's stretch", group: "Cue", keys: []string{"Ctrl+Shift+M"}, off: needSongEdit, run: (*App).addSection},
		{id: "add-lane", name: "Add lane…", help: "adds a lane for a placed effect or group", group: "Cue", off: needSongEdit, run: (*App).askLane},
		{id: "fix", name: "Apply the finding's fix", help: "makes the change that solves the finding last gone to", group: "Cue", keys: []string{"Ctrl+F8"}, off: needFix, run: (*App).applyFix},
		operationCommand("night", "accept", command{id: "accept", group: "Cue", off: needAccept}, (*App).askAccept),
	}
}
