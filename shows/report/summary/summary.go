// Package summary is the page in front of all sheets of a night, or of the tour: what
// is played, what is open, what stands loaded, which sheets there are and who signs
// them.
//
// Its one rule: it adds up what the other reports say, and says nothing that none of
// them says.
package summary

import (
	"io"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/night"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Summary is the page in front of all sheets. Its JSON keys are relied on: they only
// grow.
type Summary struct {
	report.Head
	Songs     []Song               `json:"songs"`
	Length    wording.Seconds      `json:"length"` // of the set, of alternatives the longest
	NotPlayed []night.NotPlayed    `json:"not_played"`
	Cues      *Cues                `json:"cues"`    // against the tour; null for the tour itself
	Changes   []report.NightChange `json:"changes"` // cuts, swaps, rig, starts
	Banks     []Bank               `json:"banks"`
	Devices   int                  `json:"devices"`      // that something hangs on
	Out       []string             `json:"out"`          // devices among them that are out of service
	Loose     int                  `json:"not_wired"`    // placed effects
	Media     []load.Medium        `json:"media"`        // gas and liquids
	Used      report.Totals        `json:"totals"`       //
	Sheets    []Sheet              `json:"sheets"`       // in the order in which they follow
	Pages     int                  `json:"pages"`        // of all of them, with this one
	One       bool                 `json:"in_one_file"`  // they follow in one file, whose pages are counted through
	Paper     string               `json:"paper"`        // that pages are counted for
	NoData    int                  `json:"not_compared"` // what is not given, and so was compared with nothing
	Off       []string             `json:"rules_off"`    // rules that the show has otherwise
}

// Song is a song that is played.
type Song struct {
	Number   int             `json:"number"`
	Song     string          `json:"song"` // id
	Title    string          `json:"title"`
	Start    string          `json:"start"` // timecode of the start of its audio
	Duration wording.Seconds `json:"duration"`
	Commands int             `json:"commands"`
}

// Cues counts the cues of a night against the tour's.
type Cues struct {
	Tour    int `json:"of_tour"`
	Played  int `json:"played"`
	Cut     int `json:"cut"`     // wholly
	Swapped int `json:"swapped"` // on any unit
	Lost    int `json:"lost"`    // wholly, for another reason than a cut
	Partly  int `json:"partly"`  // played, but not on all their units
}

// Bank is what hangs on one bank.
type Bank struct {
	Name    string  `json:"name"`
	Kind    string  `json:"kind"`
	Dead    bool    `json:"dead,omitempty"`
	Outputs int     `json:"outputs"` // 0 = not known
	Loaded  int     `json:"loaded"`  // outputs that something hangs on
	Pieces  int     `json:"pieces"`
	NEC     float64 `json:"nec_grams"`
}

// Sheet is one of the sheets behind.
type Sheet struct {
	Name  string   `json:"name"` // the word in commands and file names
	Title string   `json:"title"`
	For   string   `json:"for"`   // who holds it
	Pages int      `json:"pages"` //
	First int      `json:"first"` // page it begins on, in one file; 0 = it is a file of its own
	Sign  []string `json:"sign"`  // who signs it
}

// New adds up a plan. The sheets are those that follow, as they came out; standing is
// how the plan stands with the rules.
func New(p *timeline.Plan, standing *report.Standing, sheets []Sheet) (*Summary, error) {
	running, err := report.NewRunningSheet(p, report.Filter{})
	if err != nil {
		return nil, err
	}
	loads, err := load.NewPlan(p, report.Filter{})
	if err != nil {
		return nil, err
	}
	s := &Summary{Head: report.HeadOf(p), Songs: []Song{}, NotPlayed: []night.NotPlayed{}, Changes: report.ChangesOf(p), Banks: []Bank{}, Out: []string{},
		Media: load.Media(p), Used: loads.Used, Sheets: sheets, NoData: len(standing.NoData), Off: []string{}}
	s.Stands(standing)
	for i := range running.Songs {
		g := &running.Songs[i]
		s.Songs = append(s.Songs, Song{g.Number, g.Song, g.Title, g.Start, g.Duration, g.Commands})
	}
	_, end := p.SetTimes()
	s.Length = wording.Seconds(end)
	if p.Night != nil {
		cut, err := night.NewCutList(p)
		if err != nil {
			return nil, err
		}
		s.NotPlayed = cut.NotPlayed
		s.Cues = &Cues{Tour: cut.Tour, Played: cut.Played, Cut: cut.Cut, Swapped: cut.Swapped, Lost: cut.Lost, Partly: cut.Partly}
	}
	for _, o := range standing.Otherwise {
		s.Off = append(s.Off, o.Rule+" "+o.How)
	}
	for i := range loads.Groups {
		s.add(&loads.Groups[i])
	}
	for i := range sheets {
		s.Pages += sheets[i].Pages
	}
	return s, nil
}

// add counts a bank, a device that something hangs on, or what is not wired.
func (s *Summary) add(g *load.Group) {
	switch g.Kind {
	case "not wired":
		s.Loose = len(g.Lines)
	case "device":
		if len(g.Lines) > 0 {
			s.Devices++
			if g.Dead {
				s.Out = append(s.Out, g.Name)
			}
		}
	default:
		b := Bank{Name: g.Name, Kind: g.Kind, Dead: g.Dead, Outputs: g.Outputs, Pieces: g.Used.Pieces, NEC: g.Used.NEC}
		last := 0
		for i := range g.Lines {
			if o := g.Lines[i].Output; o != last {
				b.Loaded, last = b.Loaded+1, o
			}
		}
		s.Banks = append(s.Banks, b)
	}
}

// WriteJSON writes the summary as JSON.
func (s *Summary) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, s) }
