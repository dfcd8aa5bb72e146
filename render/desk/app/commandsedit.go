package app

func undoCommands() []command {
	return []command{
		{id: "undo", name: "Undo", help: "takes back the last step", group: "Edit", keys: []string{"Ctrl+Z"}, repeats: true, off: needUndo, run: (*App).undo},
		{id: "redo", name: "Redo", help: "makes the step again that was taken back", group: "Edit", keys: []string{"Ctrl+Shift+Z", "Ctrl+Y"}, repeats: true, off: needRedo, run: (*App).redo},
	}
}

func findCommands() []command {
	return []command{
		{id: "find", name: "Find…", help: "finds songs, cues, lanes, sections and records by name or note", group: "Edit", keys: []string{"Ctrl+F"}, off: needShow, run: (*App).askFind},
		{id: "find-next", name: "Find next", help: "goes to the next place found", group: "Edit", keys: []string{"F3"}, off: needFound, run: (*App).findNext},
		{id: "edit-values", name: "Edit values", help: "goes to the inspector's first field", group: "Edit", keys: []string{"Ctrl+Enter"}, off: needSong, run: (*App).toInspector},
		{id: "rename", name: "Rename", help: "goes to the name or note of what is selected", group: "Edit", keys: []string{"F2"}, off: needSong, run: (*App).toInspector},
	}
}

func findingCommands() []command {
	return []command{
		{id: "fix", name: "Apply the finding's fix", help: "makes the change that solves the finding last gone to", group: "Cue", keys: []string{"Ctrl+F8"}, off: needFix, run: (*App).applyFix},
		{id: "fix-all", name: "Fix the whole group", help: "makes the change that solves every finding of the group chosen in the list of findings, as one step", group: "Cue", keys: []string{"Ctrl+Shift+F8"}, off: needFixAll, run: (*App).applyFixAll},
		operationCommand("night", "accept", command{id: "accept", group: "Cue", off: needAccept}, (*App).askAccept),
		operationCommand("confirm", "", command{id: "confirm-cues", group: "Cue", off: needCues}, (*App).askConfirm),
		{id: "carry-undo", name: "Undo carrying over", help: "makes the song in view what it was before it was carried over to a new recording, as the older saves have it", group: "Cue", off: needRecording, run: (*App).undoCarrying},
		operationCommand("bring-back", "", command{id: "bring-back", group: "Cue", off: needAsides}, (*App).askBringBack),
	}
}

func stepCommands() []command {
	return []command{
		{id: "finding-on", name: "Next finding", help: "goes to the next finding, or with the beat strip open to the next doubt about the beats", group: "Go", keys: []string{"F8"}, repeats: true, off: needStep, run: func(a *App) { a.stepFinding(1) }},
		{id: "finding-back", name: "Previous finding", help: "goes to the finding before, or with the beat strip open to the doubt before", group: "Go", keys: []string{"Shift+F8"}, repeats: true, off: needStep, run: func(a *App) { a.stepFinding(-1) }},
	}
}

func viewCommands() []command {
	return []command{
		{id: "findings", name: "List of findings", help: "opens or closes the list of findings", group: "View", keys: []string{"F7"}, off: needShow, run: (*App).toggleFindings},
		{id: "side", name: "Side panel", help: "opens or closes the panel at the right", group: "View", keys: []string{"F5"}, off: needShow, run: (*App).toggleSide},
		{id: "records", name: "Records", help: "lists every kind of record: stock, rig, sets, venues, nights, rules", group: "View", keys: []string{"F4"}, off: needShow, run: (*App).showRecords},
		{id: "night", name: "Next night", help: "plans for the next night, after the last for the tour itself", group: "View", off: needShow, run: (*App).stepNight},
		{id: "set", name: "Next set", help: "makes the next running order the show's own", group: "View", off: needEdit, run: (*App).stepSet},
		{id: "larger", name: "Larger interface", help: "makes everything larger", group: "View", keys: []string{"Ctrl+Alt++"}, run: func(a *App) { a.resize(1) }},
		{id: "dimmer", name: "Dimmer", help: "makes the theme Night darker", group: "View", keys: []string{"Ctrl+Shift+Down"}, repeats: true, run: func(a *App) { a.dim(-5) }},
		{id: "brighter", name: "Brighter", help: "makes the theme Night brighter", group: "View", keys: []string{"Ctrl+Shift+Up"}, repeats: true, run: func(a *App) { a.dim(5) }},
		{id: "smaller", name: "Smaller interface", help: "makes everything smaller", group: "View", keys: []string{"Ctrl+Alt+-"}, run: func(a *App) { a.resize(-1) }},
		{id: "theme", name: "Next theme", help: "changes between Dark, Night and Day", group: "View", keys: []string{"F9"}, run: (*App).stepTheme},
		{id: "full-screen", name: "Full screen", help: "fills the screen, or gives it back", group: "View", keys: []string{"F11"}, run: (*App).toggleFull},
		{id: "counters", name: "Counters", help: "shows what the window's frames cost: making and painting them, compiling, checking, garbage", group: "View", keys: []string{"Ctrl+F12"}, run: (*App).toggleCost},
		{id: "panel-on", name: "Next panel", help: "moves the focus to the next panel", group: "View", keys: []string{"F6"}, run: (*App).panelTaken},
		{id: "panel-back", name: "Previous panel", help: "moves the focus to the panel before", group: "View", keys: []string{"Shift+F6"}, run: (*App).panelTaken},
		{id: "timeline", name: "Back to the timeline", help: "leaves page, panel, field or selection for the timeline", group: "View", keys: []string{"Esc"}, off: needShow, run: (*App).toTimeline},
	}
}
