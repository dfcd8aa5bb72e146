package page

import (
	"image"

	"emberbeat/shows/report"
	"emberbeat/shows/report/night"
	"emberbeat/timeline"
)

// Nights is what a page needs of the shell about the night that is planned for.
type Nights interface {
	// ChooseNight plans for a night, "" for the tour itself; NightChoice draws the choice of one.
	ChooseNight(id timeline.ID)
	NightChoice(r image.Rectangle)
	// Tonight is what the crew of that night reads first, made beside the window once the plan was checked: nil until then, and with an
	// error where it cannot be made. Prints says how the sheets of that night stand to what was printed last.
	Tonight() (*night.Tonight, error)
	Prints() []report.PrintState
}
