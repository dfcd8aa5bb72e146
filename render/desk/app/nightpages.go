package app

// nightPages are the pages of running orders, places and nights.
func nightPages() []page {
	return []page{
		{id: "sets", name: "Sets", part: "Nights", keys: []string{"Ctrl+6"}, kind: "set", draw: (*App).orderPage, acts: orderActs(),
			help: "running orders: drag songs or move them with Alt+↑ ↓; which findings come and go stands below"},
		timecodePage(),
		{id: "venues", name: "Venues", part: "Nights", keys: []string{"Ctrl+7"}, kind: "venue", draw: (*App).venuePage, acts: venueActs(),
			help: "places: trim height, lines and marks, bans, quiet windows, volume, wind, conditions, rule set and distances; nothing is assumed"},
		{id: "nights", name: "Nights", part: "Nights", keys: []string{"Ctrl+8"}, kind: "night", draw: (*App).nightPage, acts: nightActs(),
			help: "one date: set and venue, cuts and swaps, conditions, fills and acceptances; the tour stays as it is"},
		{id: "tonight", name: "Tonight", part: "Nights", keys: []string{"Ctrl+9"}, draw: (*App).tonightPage, acts: map[string]act{},
			help: "what the crew of a night reads first: songs, cuts, loads, supplies, signatures; every line leads to where it is mended"},
		{id: "stage-plan", name: "Stage plan", part: "Nights", keys: []string{"Ctrl+0"}, draw: (*App).floorPage, acts: floorActs(),
			help: "the stage from above, to scale: drag positions, lines and marks; needed and planned distances"},
	}
}

// nightPageCommands are the commands of these pages.
func nightPageCommands() []command {
	return join(floorCommands, orderCommands, venueCommands, nightCommands)
}
