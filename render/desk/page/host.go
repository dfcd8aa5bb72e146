package page

import (
	"time"

	"emberbeat/render"
	"emberbeat/render/widget"
	"emberbeat/timeline"
	"emberbeat/timeline/operation"
	"emberbeat/timeline/rule"
)

// Host is what a page needs of the shell, and no more. What follows from these, such as the name of a record, is a function of this
// package instead.
type Host interface {
	Operations
	Foresight
	Nights
	Recordings
	Playback

	// UI is what the page is drawn with; its Scene, Theme and Input are those of the frame.
	UI() *widget.UI
	// Again asks for the frame to be drawn once more, because something changed after it was drawn.
	Again()
	// InView gives the id of the page in view, "" while the timeline is.
	InView() string
	// Fresh reports whether the page came into view just now: what it is worked with takes the focus.
	Fresh() bool

	// Show is the show as it is drawn, nil while none is open; Plan is what it comes to for the night in view.
	Show() *timeline.Show
	Plan() *timeline.Plan
	// SongPlan is what one song comes to for that night, whether or not it is played; nil where there is no such song.
	SongPlan(id timeline.ID) *timeline.SongPlan
	// Planned is what the show would come to with edits for that night; nothing is made of them, and nothing shown.
	Planned(edits ...timeline.Edit) (*timeline.Plan, error)
	// UnderPlan gives the picture under the stage plan of a venue, nil where it has none. KeepPicture puts the one that an operation has laid there
	// into the show's folder.
	UnderPlan(v *timeline.Venue) *render.Underlay
	KeepPicture(a *operation.VenuePicture)
	// Findings are those of the plan that was checked last.
	Findings() []rule.Finding
	ReadOnly() bool

	// Do makes a change as one step and says so; where it is refused, it says why and gives false. DoAs joins it to the step before if
	// that has the same key and came just before.
	Do(label string, edits ...timeline.Edit) bool
	DoAs(key, label string, edits ...timeline.Edit) bool
	// DoAsked makes a change as one step; where anything rests on stock that it changes, it says first what that comes to. then runs once
	// it is made. It gives false where it is refused.
	DoAsked(label string, then func(), edits ...timeline.Edit) bool
	// NewIDs gives what hands out ids that nothing in the show has, each once.
	NewIDs() func(kind string, song timeline.ID) timeline.ID

	// Steps gives the steps that undo and redo walk, in the order in which they were made, and the place of the one made or gone to last; the first is
	// the show as it was opened. GoStep walks to one.
	Steps() (list []Step, now int)
	GoStep(step int)

	// Tell puts a sentence into the status bar; Warn one that says why something cannot be done.
	Tell(text string)
	Warn(text string)

	// Off says why a command cannot be used whatever the page in view makes of it, "" where it can; Use runs it.
	Off(command string) string
	Use(command string) bool
	// Key names the first key of a command, Buttons draws commands as buttons in as many rows as they need, and Menu the menu of that
	// key, while it is open, with commands and rules ("") between them.
	Key(command string) string
	Buttons(k *widget.Stack, commands ...string)
	Menu(key string, commands ...string)

	// ChooseFile lets a file be chosen whose name has one of the endings, such as ".csv".
	ChooseFile(title, verb string, endings []string, take func(path string))
	// Export opens the dialog of exports with a sheet.
	Export(sheet string)

	// Turn brings a page into view, "" the timeline; with a record, one that stands on it, on the timeline a song.
	Turn(page string, on ...timeline.Ref)
	// Go shows a record where it can be seen best; GoFinding a finding by its place in Findings.
	Go(r timeline.Ref)
	GoFinding(i int)
	// Seek shows a time of a song on the timeline.
	Seek(song timeline.ID, at timeline.Time)
	// Field draws a field of a record as the inspector does, and makes the change that is asked for there.
	Field(form *widget.Form, on timeline.Ref, field string)
	// Chosen gives the records that are chosen on the page in view, as far as they are there. Choose sets them: the inspector shows them.
	// Forget drops the record last gone to, which it shows while none is chosen.
	Chosen() []timeline.Ref
	Choose(refs ...timeline.Ref)
	Forget()
	// Rows is the table of the page in view, nil where it has none.
	Rows() Rows
	// Inspect brings the focus to the inspector's first field.
	Inspect()

	// Snap reports whether what is dragged snaps; SetSnap keeps it for the user.
	Snap() bool
	SetSnap(on bool)
	// Start begins a gesture, Drive moves the one that goes on as long as one of the buttons is held, and Dragging reports whether one does.
	Start(Gesture)
	Drive(held widget.Buttons)
	Dragging() bool
}

// Step is one of the steps that undo and redo walk.
type Step struct {
	Label   string
	At      time.Time // zero where it is not known
	Changes int       // records
	Saved   bool      // the show was saved as it stands after it
}

// Slack is how far in logical pixels a pressed pointer moves before it drags.
const Slack = 4

// Gesture is what a held pointer does on a page. What it would change is shown by the page and made when it is done.
type Gesture interface {
	// Move follows the pointer and the modifiers.
	Move(in *widget.Input)
	// Done makes the change.
	Done()
	// Cancel leaves everything as it was.
	Cancel()
	// Help says what the modifiers do.
	Help() string
}
