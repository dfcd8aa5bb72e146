package song

import (
	"fmt"

	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// removeDialog says what removing time moves, before it does.
type removeDialog struct{}

func (d *removeDialog) draw(sp *Page) bool {
	v, song := sp.work().View(), sp.work().InView()
	c, gone, moved := timeRemoved(song, v.Loop.From, v.Loop.To)
	q := widget.Question{Title: "Remove time",
		Text: fmt.Sprintf("Take %s to %s out of the plan: %s in it go, and %s after it come %s s earlier. The recording stays as it is.",
			v.Loop.From.Clock(2), v.Loop.To.Clock(2), timeline.Counted(gone, "cue"), timeline.Counted(moved, "cue"), (v.Loop.To - v.Loop.From).Text(2)),
		Choices: []widget.Choice{{Label: "Cancel"}, {Label: "Remove", Main: true}}}
	choice, ok := sp.h.UI().Ask("remove-time", q)
	if ok && choice == 1 {
		sp.do(c)
	}
	return ok
}

func (sp *Page) askRemoveTime() { sp.open(&removeDialog{}) }
