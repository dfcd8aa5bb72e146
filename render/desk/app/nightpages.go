package app

// nightPages are the pages of running orders, places and nights.
func nightPages() []page {
	return []page{
		{id: "stage-plan", name: "Stage plan", part: "Nights", keys: []string{"Ctrl+0"}, draw: (*App).floorPage, acts: floorActs(),
			help: "the stage from above, to scale: drag positions, lines and marks; needed and planned distances"},
	}
}
