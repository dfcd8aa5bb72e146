package sheet

import (
	"cmp"
	"slices"
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
			if line.FirstAt == "" {
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
	Supply  string        `json:"supply"` // id
	Name    string        `json:"name"`
	Medium  string        `json:"medium"`
	Weighed bool          `json:"weighed"` // the night gives the fill
	Usable  float64       `json:"usable_kg"`
	Reserve float64       `json:"reserve_kg"`
	Share   float64       `json:"reserve_share"`
	Uses    float64       `json:"uses_kg"`
	Left    float64       `json:"left_kg"` // at the end, after the swaps
	Short   bool          `json:"short"`   // one hit takes more than a full one holds above its reserve
	Swaps   []TonightSwap `json:"swaps"`
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
		line.Weighed = p.Night != nil && slices.ContainsFunc(p.Night.Fills, func(f timeline.Fill) bool { return f.Supply == s.Supply.ID })
		for i := range s.Points {
			line.Swaps = append(line.Swaps, tonightSwap(p, &s.Points[i]))
		}
		list = append(list, line)
	}
	return list
}

// tonightSwap names a swap point, which always has a draw before it.
func tonightSwap(p *timeline.Plan, pt *timeline.SwapPoint) TonightSwap {
	song, next := &p.Songs[pt.After.Song], &p.Songs[pt.Before.Song]
	return TonightSwap{SongNumber: song.Number, SongTitle: song.Song.FullTitle(), Hit: pt.Hit, Timecode: song.Rate.Label(pt.After.Command.Frame), Left: pt.LeftKg,
		NextNumber: next.Number, NextTitle: next.Song.FullTitle(), NextAt: next.Rate.Label(pt.Before.Command.Frame), Free: Seconds(pt.Free)}
}

// kilograms writes a mass to the gram.
func kilograms(kg float64) string {
	text := strconv.FormatFloat(kg, 'f', 3, 64)
	return strings.TrimRight(strings.TrimRight(text, "0"), ".") + " kg"
}
