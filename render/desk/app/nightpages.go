package app

import (
	"slices"

	"emberbeat/render/desk/page"
)

// nightPages are the pages of running orders, places and nights.
func (a *App) nightPages() []page.Page {
	return slices.Concat(a.families[setFamily].Pages, a.families[clockFamily].Pages, a.families[venueFamily].Pages, []page.Page{
		{ID: "nights", Name: "Nights", Part: "Nights", Keys: []string{"Ctrl+8"}, Kind: "night", Draw: a.nightPage, Acts: a.nightActs(),
			Help: "one date: set and venue, cuts and swaps, conditions, fills and acceptances; the tour stays as it is"},
		{ID: "tonight", Name: "Tonight", Part: "Nights", Keys: []string{"Ctrl+9"}, Draw: a.tonightPage, Acts: map[string]page.Act{},
			Help: "what the crew of a night reads first: songs, cuts, loads, supplies, signatures; every line leads to where it is mended"},
	})
}

// nightPageCommands are the commands of these pages.
func nightPageCommands() []command {
	return nightCommands()
}
