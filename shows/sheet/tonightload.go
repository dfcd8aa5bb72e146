package sheet

import (
	"cmp"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// TonightBank is a bank or device with the pieces that have to be loaded at it.
type TonightBank struct {
	Name  string        `json:"name"`
	ID    string        `json:"id,omitempty"`
	Dead  bool          `json:"dead,omitempty"`
	Units []TonightUnit `json:"units"`
	Used  Totals        `json:"totals"`
}

// TonightUnit is one piece, or several of one article, at one output.
type TonightUnit struct {
	Bank        string   `json:"bank"`
	Output      int      `json:"output"` // 0 = not wired
	Placed      string   `json:"placed"`
	PlacedName  string   `json:"placed_name"`
	Position    string   `json:"position"`
	Article     string   `json:"article"`
	ArticleName string   `json:"article_name"`
	Pieces      int      `json:"pieces"`
	NEC         float64  `json:"nec_grams"`
	Division    string   `json:"division"`
	State       []string `json:"state"`
}

// load takes what is used up from the load plan, so that both count alike.
func (t *Tonight) load(p *timeline.Plan, plan *LoadPlan) {
	t.Load, t.Unused = []TonightBank{}, []TonightUnit{}
	for i := range plan.Groups {
		g := &plan.Groups[i]
		bank := TonightBank{Name: g.Name, ID: g.ID, Dead: g.Dead}
		for k := range g.Lines {
			line := &g.Lines[k]
			a := p.Show.Stock.Article(timeline.ID(line.Article))
			if a == nil || !a.UsedUp() {
				continue
			}
			unit := tonightUnit(g, line)
			if line.FirstAt == "" && line.Presses == 0 {
				t.Unused = append(t.Unused, unit)
				continue
			}
			bank.Units = append(bank.Units, unit)
			bank.Used.add(line)
		}
		if bank.Used.done(); len(bank.Units) > 0 {
			t.Load = append(t.Load, bank)
		}
	}
}

func tonightUnit(g *LoadGroup, line *LoadLine) TonightUnit {
	return TonightUnit{Bank: g.Name, Output: line.Output, Placed: line.Placed, PlacedName: line.PlacedName, Position: line.Position, Article: line.Article,
		ArticleName: line.ArticleName, Pieces: line.Pieces, NEC: line.NEC, Division: line.Division, State: line.State}
}

// TonightSupply is one supply with its level and swaps. Masses are kg, and
// estimates.
type TonightSupply struct {
	Supply  string          `json:"supply"` // id
	Name    string          `json:"name"`
	Medium  string          `json:"medium"`
	Weighed bool            `json:"weighed"`                 // the night gives the fill
	After   string          `json:"weighed_after,omitempty"` // the earlier night that weighed what it holds
	ByHand  float64         `json:"by_hand_kg,omitempty"`    // so much more than without the keys of the operator's plan
	Usable  float64         `json:"usable_kg"`
	Reserve float64         `json:"reserve_kg"`
	Share   float64         `json:"reserve_share"`
	Uses    float64         `json:"uses_kg"`
	Left    float64         `json:"left_kg"` // at the end, after the swaps
	Short   bool            `json:"short"`   // one hit takes more than a full one holds above its reserve
	Swaps   []TonightSwap   `json:"swaps"`
	Refills []TonightRefill `json:"refills,omitempty"`
}

// TonightRefill is a planned refill or change of cylinders.
type TonightRefill struct {
	SongNumber int     `json:"song_number"` // it starts at the end of this song; 0 = it is not played
	SongTitle  string  `json:"song_title"`
	Holds      float64 `json:"holds_kg"` // afterwards
	Minutes    float64 `json:"minutes"`  // 0 = not given
	By         string  `json:"by"`
	Counts     bool    `json:"counts"` // it surely happens, so that levels rely on it
}

// TonightSwap is a place at which a supply must have been swapped.
type TonightSwap struct {
	SongNumber int     `json:"song_number"`
	SongTitle  string  `json:"song_title"`
	Hit        int     `json:"hit"`      // of the song, from 1: swap after it
	Timecode   string  `json:"timecode"` // of its command
	Left       float64 `json:"left_kg"`
	NextNumber int     `json:"next_song_number"`
	NextTitle  string  `json:"next_song_title"`
	NextAt     string  `json:"next_timecode"` // of the command that would go below the reserve
	Free       Seconds `json:"free"`          // from that command to this one
}

func suppliesOf(p *timeline.Plan) []TonightSupply {
	list := []TonightSupply{}
	for _, s := range p.SwapPoints() {
		line := TonightSupply{Supply: string(s.Supply.ID), Name: cmp.Or(s.Supply.Name, string(s.Supply.ID)), Medium: s.Supply.Medium, Usable: roundGrams(s.Usable),
			Reserve: roundGrams(s.Reserve), Share: s.Supply.Reserve, Uses: roundGrams(s.Used), Left: s.LeftKg, Short: s.Short, Swaps: []TonightSwap{}}
		_, from := p.FillOf(s.Supply)
		line.Weighed, line.ByHand = from.Weighed, roundGrams(s.ByHand)
		if from.After != nil {
			line.After = nightDay(from.After)
		}
		line.refills(p, s.Supply)
		for i := range s.Points {
			line.Swaps = append(line.Swaps, tonightSwap(p, &s.Points[i]))
		}
		list = append(list, line)
	}
	return list
}

func (line *TonightSupply) refills(p *timeline.Plan, s *timeline.Supply) {
	for i := range p.Refills {
		f := &p.Refills[i]
		if f.Of != s {
			continue
		}
		r := TonightRefill{Holds: roundGrams(f.Holds()), Minutes: f.Minutes, By: f.By, Counts: f.Counts}
		if f.Song >= 0 {
			r.SongNumber, r.SongTitle = p.Songs[f.Song].Number, p.Songs[f.Song].Song.FullTitle()
		} else if g := p.Show.Song(f.After); g != nil {
			r.SongTitle = g.FullTitle()
		}
		line.Refills = append(line.Refills, r)
	}
}

// tonightSwap names a swap point; before the first draw it has no song.
func tonightSwap(p *timeline.Plan, pt *timeline.SwapPoint) TonightSwap {
	next := &p.Songs[pt.Before.Song]
	swap := TonightSwap{Hit: pt.Hit, Left: pt.LeftKg, NextNumber: next.Number, NextTitle: next.Song.FullTitle(), NextAt: next.Rate.Label(pt.Before.Command.Frame), Free: Seconds(pt.Free)}
	if pt.After != nil {
		song := &p.Songs[pt.After.Song]
		swap.SongNumber, swap.SongTitle, swap.Timecode = song.Number, song.Song.FullTitle(), song.Rate.Label(pt.After.Command.Frame)
	}
	return swap
}

// kilograms writes a mass to the gram.
func kilograms(kg float64) string {
	text := strconv.FormatFloat(kg, 'f', 3, 64)
	return strings.TrimRight(strings.TrimRight(text, "0"), ".") + " kg"
}
