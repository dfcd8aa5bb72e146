package export

import (
	"emberbeat/render/sheet"
	"emberbeat/shows/report/stripe"
)

// Item is one thing that can leave the program.
type Item struct {
	ID, Title, Help string
	Formats         []string
	Sheet           *sheet.Kind        // nil for others
	Sound           *stripe.SoundOffer // nil for others
}

// Ids of what is neither sheet nor sound.
const (
	All     = "all"     // every sheet, into a folder
	Bound   = "sheets"  // every sheet, in one file
	Picture = "picture" // of a song, which the window draws

	CrewPage = "crew-page" // for phones
)

// Items lists all that can leave the program, in the order of the dialog.
func Items() []Item {
	list := []Item{{ID: All, Title: "All sheets, into a folder", Help: "every sheet of the night or the tour, each as a file of its own, and a summary in front of them", Formats: []string{"pdf", "csv", "json", "xlsx"}},
		{ID: Bound, Title: "All sheets, in one PDF", Help: "every sheet of the night or the tour behind each other, with an outline; the summary in front says on which page each begins", Formats: []string{"pdf"}}}
	for _, o := range sheet.Forms() {
		list = append(list, Item{ID: o.Name, Title: o.Title, Help: o.Help, Formats: sheet.Formats(), Sheet: &o})
	}
	for _, o := range stripe.SoundOffers() {
		list = append(list, Item{ID: o.Name, Title: o.Title, Help: o.Help, Formats: []string{o.Format}, Sound: &o})
	}
	list = append(list, Item{ID: CrewPage, Title: "Crew page, for phones", Formats: []string{"html"},
		Help: "one HTML file that phones and laptops open without network: songs, times, pictures, next cues with countdown, stage, findings and sheets; without permit pack, storage and persons"})
	return append(list, Item{ID: Picture, Title: "Picture of a song", Help: "a song's lanes, cues and findings as they are drawn in the window, in the theme Day", Formats: []string{"png"}})
}

// Every reports whether an item is all sheets, into a folder or in one file.
func Every(id string) bool { return id == All || id == Bound }

// Paged reports whether a format shows one page.
func Paged(format string) bool { return format == "png" || format == "svg" }

// OnPaper reports whether a format is printed.
func OnPaper(format string) bool { return format == "pdf" || Paged(format) }
