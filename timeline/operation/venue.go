package operation

import "emberbeat/timeline"

// venueOperations describe a place that the tour plays in.
func venueOperations() []*Operation {
	return []*Operation{venueDistance()}
}

func venueDistance() *Operation {
	return asksDistance(Operation{Verb: "venue", On: "venue", Name: "distance", Menu: "Permit's distance…", Title: "Distance the permit asks for", Button: "Enter",
		Tip: "enters a distance that the permit of the venue shown asks for"},
		func(at At, d timeline.Distance) timeline.Edit { return timeline.DistanceInVenue(at.On.ID, d) })
}
