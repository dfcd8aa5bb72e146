package app

// rigPages are the pages of what stands on stage.
func rigPages() []page {
	return []page{
		recordPage(page{id: "supplies", name: "Supplies", part: "Rig", help: "cylinders and tanks: what they hold"}, "supply",
			"No supply yet. Press Insert to add a cylinder or tank; placed effects then name it as what feeds them.",
			func() []column {
				return []column{fieldColumn("supply", "name", 160)}
			}),
		recordPage(page{id: "groups", name: "Groups", part: "Rig", help: "placed effects that cues can aim at together, in an order"}, "group",
			"No group yet. Press Insert to add one and list its placed effects; lanes and phrases can then aim at it.",
			func() []column {
				return []column{fieldColumn("group", "name", 160)}
			}),
	}
}
