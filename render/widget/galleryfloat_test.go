package widget

import (
	"path"
	"strings"
)

// floats builds the dialogs that stand open.
func (g *Gallery) floats(u *UI) {
	if g.ask {
		choice, done := u.Ask("ask", Question{
			Title: "Leave with unsaved edits?", Text: "37 edits since 14:02 are not saved. They are kept in the journal either way and come back when the show is opened again.",
			Choices: []Choice{{Label: "Leave"}, {Label: "Stay"}, {Label: "Save and leave", Main: true}},
		})
		if done {
			g.ask, g.last = false, "answered "+[]string{"nothing", "leave", "stay", "save"}[choice+1]
		}
	}
	if g.help {
		g.help = !u.Help("keys", "Keys", galleryHelp)
	}
	if g.palette != nil {
		if id, done := u.Palette("commands", g.palette, "Commands", galleryCommands); done {
			g.palette, g.last = nil, "command "+id
		}
	}
	if g.browser != nil {
		if file, done := u.Browse("files", g.browser, g.Files); done {
			g.browser, g.last = nil, "opened "+file
		}
	}
}

var galleryHelp = []HelpPart{
	{"Playback", []HelpRow{{"Space", "play, pause"}, {"R", "stop, back to where play began"}, {"L", "loop on and off"}}},
	{"Cues", []HelpRow{{"Enter", "place the armed effect"}, {"Alt+←", "one frame earlier"}, {"Ctrl+D", "duplicate right after"}, {"H", "disable, enable"}}},
	{"View", []HelpRow{{"Z", "zoom to the selection"}, {"0", "fit the song"}, {"F6", "next panel"}, {"F9", "next theme"}}},
}

var galleryCommands = []Command{
	{ID: "export", Label: "Export cue list", Place: "Show", Keys: "Ctrl+E"},
	{ID: "next", Label: "Next finding", Place: "Go", Keys: "F8"},
	{ID: "quantise", Label: "Quantise selected cues", Place: "Cues", Keys: "Q", Off: "no cue is selected"},
	{ID: "loop", Label: "Loop the selection", Place: "Playback", Keys: "Shift+L"},
	{ID: "duplicate", Label: "Duplicate cues right after", Place: "Cues", Keys: "Ctrl+D"},
}

// sampleFiles are three invented folders.
type sampleFiles struct{}

func (sampleFiles) List(folder string) ([]File, error) {
	switch folder {
	case "/shows":
		return []File{
			{Name: "demos", Path: "/shows/demos", Folder: true},
			{Name: "harbour-tour", Path: "/shows/harbour-tour", Folder: true, Kind: "show", Note: "12 songs"},
			{Name: "lantern-street", Path: "/shows/lantern-street", Folder: true, Kind: "show", Note: "25 songs"},
			{Name: "notes.txt", Path: "/shows/notes.txt", Note: "2 kB", Off: "this is not a show; shows are folders with a show.toml"},
		}, nil
	case "/":
		return []File{{Name: "shows", Path: "/shows", Folder: true}}, nil
	}
	return nil, nil
}

func (sampleFiles) Parent(folder string) string {
	if folder == "/" || !strings.HasPrefix(folder, "/") {
		return ""
	}
	return path.Dir(folder)
}

func (sampleFiles) Join(folder, name string) string { return path.Join(folder, name) }

func (sampleFiles) Places() []File {
	return []File{{Name: "Shows", Path: "/shows"}, {Name: "Outermost", Path: "/"}}
}
