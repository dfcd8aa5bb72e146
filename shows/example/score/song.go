package score

import (
	"embed"
	"fmt"
	"hash/fnv"
)

// Artist and Tour are invented for the example show.
const (
	Artist = "Brindle Semaphore"
	Tour   = "Copper Weather Tour"
)

// Song is the truth about one song, and what Render plays. All times count
// from the first sample of its file.
type Song struct {
	Title, Slug, Key string
	Digest           string // of the text, to tell whether a sound file is of this version
	Metre            Metre
	Length           Tick      // of the whole file, silence and tail included
	Anchors          []Anchor  // beat map, the last one after the last bar
	Sections         []Section // without gaps, from the first beat to the last bar's end
	Hits             []Hit     // drum hits by time, then by name
	Stops            []Stop    // one pulse or more in which nothing is struck or held

	chart chart
	notes []note
}

// Section is a named part of the song. A pick-up is a section in bar 0.
type Section struct {
	Name      string
	Bar, Bars int
	From, To  Tick
}

// Hit is one drum struck. Force is 1 for soft, 2 for plain, 3 for accented.
type Hit struct {
	At    Tick
	Drum  string
	Force int
}

// Stop is a rest of the whole band inside the song; only reverberation sounds.
type Stop struct{ From, To Tick }

//go:embed songs/*.score
var texts embed.FS

// order is the running order of the album, by slug.
var order = []string{"slow-matches", "tidewater-engine", "lanterns-over-the-weir", "kettle-lightning"}

// Songs gives the songs of the example show in a fixed order. The texts are
// part of the program; one that does not parse is a fault of ours and panics.
func Songs() []Song {
	songs := make([]Song, len(order))
	for i, slug := range order {
		text, err := texts.ReadFile("songs/" + slug + ".score")
		if err != nil {
			panic(err)
		}
		if songs[i], err = Parse(string(text)); err != nil {
			panic(fmt.Sprintf("songs/%s.score: %v", slug, err))
		}
	}
	return songs
}

// Parse reads a song's text, in the form that the files in songs show. The
// error names the line.
func Parse(text string) (Song, error) {
	c, err := parse(text)
	if err != nil {
		return Song{}, err
	}
	tempo := c.tempoMap()
	end := c.endStep()
	s := Song{
		Title: c.title, Slug: c.slug, Key: c.keyName, Metre: c.metre,
		Digest:  digest(text),
		Length:  tempo.at(end) + c.tail,
		Anchors: tempo.anchors(end),
		chart:   c, notes: perform(c),
	}
	s.Sections = sections(c, tempo)
	s.Hits = hits(s.notes)
	s.Stops = stops(s.notes, tempo)
	return s, checkNotes(s)
}

func digest(text string) string {
	h := fnv.New64a()
	h.Write([]byte(text))
	return fmt.Sprintf("%016x", h.Sum64())
}

// checkNotes finds notes ahead of the first beat, which a pick-up makes possible.
func checkNotes(s Song) error {
	for _, n := range s.notes {
		if n.at < s.Anchors[0].At {
			return fmt.Errorf("%s plays ahead of the pick-up", n.instrument)
		}
	}
	return nil
}
