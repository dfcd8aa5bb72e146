package sheet

import (
	"emberbeat/shows/report/changed"
	"emberbeat/shows/report/load"
)

// Rewiring makes pages of the rewire sheet between any two plans; the Kind of
// that name has that between the tour and a night.
func Rewiring(r *load.RewireSheet) Sheet { return rewireSheet{r} }

// Changes makes pages of a change report.
func Changes(r *changed.Report) Sheet { return changeReport{r} }
