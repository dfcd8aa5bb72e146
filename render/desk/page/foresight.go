package page

import (
	"emberbeat/render/widget"
	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// Foresight is what a page needs of the shell to say what is found, and what changes do to the findings. A row that is used leads to its
// finding.
type Foresight interface {
	// Summary counts the findings, or says that there are none yet.
	Summary() string
	// Groups gives the findings by their cause, worst first, nil while there are none yet.
	Groups() []report.FindingGroup
	// Delta draws what the last change did to them, in words and as a table; empty stands in the table where none came or went.
	Delta(k *widget.Stack, rows *widget.Selection, empty string)
	// Foresee draws in the place of that what edits would do, as soon as it is known; key names what they do.
	Foresee(k *widget.Stack, rows *widget.Selection, key string, edits ...timeline.Edit)
	// Would says in a line what edits would do, once that is known; what was asked for last is looked at.
	Would(key string, edits ...timeline.Edit) (text string, known bool)
	// Joined draws the findings that the last merge has made and neither of the two shows had, in at most so many rows; it draws nothing
	// where there are none, and reports whether there are any.
	Joined(k *widget.Stack, sel *widget.Selection, rows int) bool
}
