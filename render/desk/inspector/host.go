package inspector

import (
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// Host is what the inspector needs of the window around it, beside what every page needs.
type Host interface {
	page.Host

	// Work is the open show, nil while none is.
	Work() *openshow.Work
	// Beside shows a record in the inspector; an empty reference leaves it to what is selected.
	Beside(r timeline.Ref)
}
