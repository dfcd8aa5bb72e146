package app

import "emberbeat/render/desk/export"

func showCommands() []command {
	return []command{
		{id: "new-show", name: "New show…", help: "makes an empty show in a new folder", group: "Show", keys: []string{"Ctrl+N"}, run: (*App).askNew},
		{id: "open-show", name: "Open show…", help: "opens a show from a folder", group: "Show", keys: []string{"Ctrl+O"}, run: (*App).askOpen},
		{id: "open-example", name: "Open the example", help: "copies the playable example into your home folder and opens it", group: "Show", run: (*App).openExample},
		{id: "save", name: "Save", help: "writes all edits into the show's folder", group: "Show", keys: []string{"Ctrl+S"}, off: needEdit, run: (*App).save},
		{id: "saves", name: "Older saves…", help: "lists what the show was before its last saves, to be looked at or restored", group: "Show", off: needShow, run: (*App).askSaves},
		{id: "merge", name: "Merge a copy…", help: "joins another person's edits of this show from a folder, as a step that can be undone; what both did in two ways is asked", group: "Show", off: needEdit, run: (*App).askMerge},
		{id: "import", name: "Add audio…", help: "adds a song from an audio file; it is listened to for beats and sections", group: "Show", keys: []string{"Ctrl+I"}, off: needEdit, run: (*App).askAudio},
		{id: "export", name: "Export…", help: "writes a sheet, a timecode stripe, ticks, a MIDI file or a picture", group: "Show", keys: []string{"Ctrl+E"}, off: needShow, run: (*App).askExport},
		{id: "export-all", name: "Export all sheets…", help: "writes every sheet of the night in view into a folder", group: "Show", keys: []string{"Ctrl+Shift+E"}, off: needShow,
			run: func(a *App) { a.askExportOf(export.All) }},
		{id: "export-timecode", name: "Export timecode…", help: "writes the linear timecode of the set or of a song as a sound file", group: "Show", off: needShow,
			run: func(a *App) { a.askExportOf("ltc") }},
		{id: "export-crew", name: "Export crew page…", help: "writes one HTML file for phones: songs, times, pictures, next cues, sheets of the night in view", group: "Show", off: needShow,
			run: func(a *App) { a.askExportOf(export.CrewPage) }},
		{id: "import-notes", name: "Take in notes…", help: "takes in what the crew has written on a crew page: each note stands at its bar until it is done", group: "Show", off: needEdit, run: (*App).askNotes},
		{id: "edit-copy", name: "Edit a copy", help: "copies the folder of a show that another program has open, and opens the copy", group: "Show", off: needElsewhere, run: (*App).editCopy},
		{id: "relink", name: "Find missing audio…", help: "looks in a folder for the recordings that are missing, by content", group: "Show", off: needEdit, run: (*App).askRelink},
		{id: "preferences", name: "Preferences…", help: "output delay, theme, size, keys", group: "Show", keys: []string{"Ctrl+,"}, run: (*App).askPreferences},
		{id: "close-show", name: "Close show", help: "goes back to the start page", group: "Show", off: needShow, run: (*App).closeShow},
		{id: "quit", name: "Quit", help: "ends the program; unsaved edits are asked about", group: "Show", keys: []string{"Ctrl+Q"}, run: (*App).askQuit},
	}
}

func helpCommands() []command {
	return []command{
		{id: "palette", name: "Command palette…", help: "finds any command by its name", group: "Help", keys: []string{"Ctrl+Shift+P"}, run: (*App).askCommand},
		{id: "help", name: "Help for this panel", help: "says what can be done here and how", group: "Help", keys: []string{"F1"}, run: (*App).askHelp},
		{id: "keys", name: "Keys valid now", help: "lists every key with what it does, and why some do nothing now", group: "Help", keys: []string{"?"}, run: (*App).askKeys},
		{id: "context", name: "Menu of the selection", help: "opens the menu for what is selected", group: "Help", keys: []string{"Shift+F10", "Menu"}, off: needSong, run: func(a *App) { a.song.OpenContext() }},
	}
}
