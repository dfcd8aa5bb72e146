package load

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/units"
)

// SupplyLine is one supply with its level and swaps. Masses are kg, and
// estimates.
type SupplyLine struct {
	Supply  string       `json:"supply"` // id
	Name    string       `json:"name"`
	Medium  string       `json:"medium"`
	Weighed bool         `json:"weighed"`                 // the night gives the fill
	After   string       `json:"weighed_after,omitempty"` // the earlier night that weighed what it holds
	ByHand  float64      `json:"by_hand_kg,omitempty"`    // so much more than without the keys of the operator's plan
	Usable  float64      `json:"usable_kg"`
	Reserve float64      `json:"reserve_kg"`
	Share   float64      `json:"reserve_share"`
	Uses    float64      `json:"uses_kg"`
	Left    float64      `json:"left_kg"` // at the end, after the swaps
	Short   bool         `json:"short"`   // one hit takes more than a full one holds above its reserve
	Swaps   []SwapLine   `json:"swaps"`
	Refills []RefillLine `json:"refills,omitempty"`

	told units.System
}

// RefillLine is a planned refill or change of cylinders.
type RefillLine struct {
	SongNumber int     `json:"song_number"` // it starts at the end of this song; 0 = it is not played
	SongTitle  string  `json:"song_title"`
	Holds      float64 `json:"holds_kg"` // afterwards
	Minutes    float64 `json:"minutes"`  // 0 = not given
	By         string  `json:"by"`
	Counts     bool    `json:"counts"` // it surely happens, so that levels rely on it
}

// SwapLine is a place at which a supply must have been swapped.
type SwapLine struct {
	SongNumber int             `json:"song_number"`
	SongTitle  string          `json:"song_title"`
	Hit        int             `json:"hit"`      // of the song, from 1: swap after it
	Timecode   string          `json:"timecode"` // of its command
	Left       float64         `json:"left_kg"`
	NextNumber int             `json:"next_song_number"`
	NextTitle  string          `json:"next_song_title"`
	NextAt     string          `json:"next_timecode"` // of the command that would go below the reserve
	Free       wording.Seconds `json:"free"`          // from that command to this one
}

// SuppliesOf gives the supplies of a plan with their levels, swaps and refills.
func SuppliesOf(p *timeline.Plan) []SupplyLine {
	list := []SupplyLine{}
	for _, s := range p.SwapPoints() {
		line := SupplyLine{told: p.Show.Told(), Supply: string(s.Supply.ID), Name: p.Called(s.Supply), Medium: s.Supply.Medium, Usable: wording.RoundGrams(s.Usable),
			Reserve: wording.RoundGrams(s.Reserve), Share: s.Supply.Reserve, Uses: wording.RoundGrams(s.Used), Left: s.LeftKg, Short: s.Short, Swaps: []SwapLine{}}
		_, from := p.FillOf(s.Supply)
		line.Weighed, line.ByHand = from.Weighed, wording.RoundGrams(s.ByHand)
		if from.After != nil {
			line.After = NightDay(from.After)
		}
		line.refills(p, s.Supply)
		for i := range s.Points {
			line.Swaps = append(line.Swaps, swapOf(p, &s.Points[i]))
		}
		list = append(list, line)
	}
	return list
}

func (line *SupplyLine) refills(p *timeline.Plan, s *timeline.Supply) {
	for i := range p.Refills {
		f := &p.Refills[i]
		if f.Of != s {
			continue
		}
		r := RefillLine{Holds: wording.RoundGrams(f.Holds()), Minutes: f.Minutes, By: f.By, Counts: f.Counts}
		if f.Song >= 0 {
			r.SongNumber, r.SongTitle = p.Songs[f.Song].Number, p.Songs[f.Song].Song.FullTitle()
		} else if g := p.Show.Song(f.After); g != nil {
			r.SongTitle = g.FullTitle()
		}
		line.Refills = append(line.Refills, r)
	}
}

// swapOf names a swap point; before the first draw it has no song.
func swapOf(p *timeline.Plan, pt *timeline.SwapPoint) SwapLine {
	next := &p.Songs[pt.Before.Song]
	swap := SwapLine{Hit: pt.Hit, Left: pt.LeftKg, NextNumber: next.Number, NextTitle: next.Song.FullTitle(), NextAt: next.Rate.Label(pt.Before.Command.Frame), Free: wording.Seconds(pt.Free)}
	if pt.After != nil {
		song := &p.Songs[pt.After.Song]
		swap.SongNumber, swap.SongTitle, swap.Timecode = song.Number, song.Song.FullTitle(), song.Rate.Label(pt.After.Command.Frame)
	}
	return swap
}

// WriteSwaps writes for people where the supply has to be swapped.
func (s *SupplyLine) WriteSwaps(out io.Writer) {
	if s.Short {
		fmt.Fprintf(out, "  %s: one hit takes more than a full one holds above its reserve\n", s.Name)
	}
	if s.ByHand > 0 {
		fmt.Fprintf(out, "  %s: keys of the operator's plan are counted with %s, the most they can take\n", s.Name, wording.Mass(s.told, s.ByHand))
	}
	for i := range s.Refills {
		s.Refills[i].write(out, s)
	}
	for _, p := range s.Swaps {
		if p.SongNumber == 0 {
			fmt.Fprintf(out, "  swap %s before the show, with %s left; first draw in song %d at %s\n", s.Name, wording.Mass(s.told, p.Left), p.NextNumber, p.NextAt)
			continue
		}
		fmt.Fprintf(out, "  swap %s after hit %d of song %d %q, %s, with %s left; next draw in song %d at %s, %s s later\n", s.Name, p.Hit, p.SongNumber, p.SongTitle, p.Timecode,
			wording.Mass(s.told, p.Left), p.NextNumber, p.NextAt, timeline.Time(p.Free).Text(1))
	}
}

func (r *RefillLine) write(out io.Writer, s *SupplyLine) {
	if r.SongNumber == 0 {
		fmt.Fprintf(out, "  the refill of %s after %q is not done: that song is not played\n", s.Name, r.SongTitle)
		return
	}
	minutes, by := "minutes not given", wording.Given(r.By)
	if r.Minutes > 0 {
		minutes = strconv.FormatFloat(r.Minutes, 'f', -1, 64) + " min"
	}
	text := fmt.Sprintf("  refill %s to %s after song %d %q, %s, by %s", s.Name, wording.Mass(s.told, r.Holds), r.SongNumber, r.SongTitle, minutes, by)
	if !r.Counts {
		text += "; not counted, for that song may not be played"
	}
	fmt.Fprintln(out, text)
}

// Medium is a gas, fluid or paper: what is on site in supplies, and what
// the plan uses of it in the worst case.
type Medium struct {
	Medium   string  `json:"medium"`
	Supplies int     `json:"supplies"`
	Units    int     `json:"cylinders"` // joined in them
	Spare    int     `json:"spare_cylinders"`
	Filled   float64 `json:"on_site_kg"` // all together, as filled or weighed
	Uses     float64 `json:"uses_kg"`
	Unfed    float64 `json:"unfed_kg"` // of that, what no supply feeds
	Swaps    int     `json:"swaps"`
}

// Media gives what a plan has on site and uses of each medium.
func Media(p *timeline.Plan) []Medium {
	list := []Medium{}
	of := func(medium string) *Medium {
		i := slices.IndexFunc(list, func(m Medium) bool { return strings.EqualFold(m.Medium, medium) })
		if i < 0 {
			i, list = len(list), append(list, Medium{Medium: medium})
		}
		return &list[i]
	}
	for _, use := range p.Media() {
		m := of(use.Medium)
		m.Uses, m.Unfed = use.Kg, wording.RoundGrams(use.Kg-use.Fed)
	}
	for _, s := range p.SwapPoints() {
		m := of(s.Supply.Medium)
		m.Supplies, m.Units, m.Swaps = m.Supplies+1, m.Units+s.Supply.Units, m.Swaps+len(s.Points)
		m.Spare, m.Filled = m.Spare+s.Supply.Spare, wording.RoundGrams(m.Filled+p.SupplyOnSite(s.Supply))
	}
	slices.SortFunc(list, func(a, b Medium) int { return strings.Compare(a.Medium, b.Medium) })
	return list
}
