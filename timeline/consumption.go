package timeline

import (
	"math"
	"slices"
	"strings"
)

// Draw is what one command uses up of its article's medium, in milligrams:
// whole ones, so that the order of adding does not matter.
func (c *Command) Draw() int64 {
	return milligrams(c.Article.UseEach + c.Article.UseRate*c.Open.Seconds())
}

func milligrams(kg float64) int64 { return int64(math.Round(kg * 1e6)) }

func kilos(mg int64) float64 { return float64(mg) / 1e6 }

// Holds reports whether the supply can feed an article: the same medium, or
// one of them does not say.
func (s *Supply) Holds(a *Article) bool {
	return s.Medium == "" || a.Medium == "" || strings.EqualFold(s.Medium, a.Medium)
}

// Feeds says which supplies of a rig feed which units.
type Feeds struct {
	Supplies []*Supply
	of       [][]int // places in Supplies, by Unit.Index
}

// FeedsOf joins a rig's supplies with its units.
func FeedsOf(rig *Rig, units *Units) *Feeds {
	f := &Feeds{rig.Supplies, make([][]int, len(units.All))}
	for i, s := range rig.Supplies {
		for _, id := range s.Feeds {
			if u := units.Of(id); u != nil && !slices.Contains(f.of[u.Index], i) { // named twice, it is fed once
				f.of[u.Index] = append(f.of[u.Index], i)
			}
		}
	}
	return f
}

// Of lists the supplies that are joined to a unit, by their places.
func (f *Feeds) Of(u *Unit) []int { return f.of[u.Index] }

// Feed reports whether a supply, by its place, feeds a command: it is joined
// to its unit and holds what its article uses.
func (f *Feeds) Feed(supply int, c *Command) bool {
	return slices.Contains(f.of[c.Unit.Index], supply) && f.Supplies[supply].Holds(c.Article)
}

// Drawn adds up what a song takes from each supply, in milligrams.
func (f *Feeds) Drawn(p *SongPlan) []int64 {
	sum := make([]int64, len(f.Supplies))
	for i := range p.Commands {
		c := &p.Commands[i]
		for _, s := range f.of[c.Unit.Index] {
			if f.Supplies[s].Holds(c.Article) {
				sum[s] += c.Draw()
			}
		}
	}
	return sum
}

// Usable gives what can be drawn tonight from a supply at the start, and the
// reserve below which it should be swapped, in milligrams; see FillOf.
func (p *Plan) Usable(s *Supply) (usable, reserve int64) {
	kg, _ := p.FillOf(s)
	return s.usable(kg)
}

// Choices gives for each song the word it shares with its alternatives, of
// which one is played; "" for a song that is surely played.
func (p *Plan) Choices() []string {
	choice, members := make([]string, len(p.Songs)), map[string]int{}
	for i := range p.Songs {
		choice[i] = p.Songs[i].Entry.Alt
		members[choice[i]]++
	}
	for i, alt := range choice {
		if members[alt] == 1 {
			choice[i] = "" // an alternative to nothing is played
		}
	}
	return choice
}

// Worst gives the songs of the worst case for an amount that each song uses:
// all that are surely played, and of each choice the first that uses most. The
// words are those of Plan.Choices.
func Worst[N int | int64 | float64](choices []string, used []N) []bool {
	best := map[string]int{}
	plays := make([]bool, len(choices))
	for i, alt := range choices {
		j, seen := best[alt]
		switch {
		case alt == "" || !seen:
		case used[i] > used[j]:
			plays[j] = false
		default:
			continue
		}
		best[alt], plays[i] = i, true
	}
	return plays
}

// WorstBefore adds up the most that can have been used before song j is
// played: by songs that are surely played, and of each choice that j is not
// part of, by the one that uses most of those that come before.
func WorstBefore(choices []string, used []int64, j int) int64 {
	var sum int64
	most := map[string]int64{}
	for i, alt := range choices[:j] {
		switch alt {
		case "":
			sum += used[i]
		case choices[j]:
		default:
			most[alt] = max(most[alt], used[i])
		}
	}
	for _, n := range most {
		sum += n
	}
	return sum
}

// Level is a supply's state after one command of a plan.
type Level struct {
	Song    int     // index into Plan.Songs
	At      Time    // exact command time in that song
	LeftKg  float64 // in the worst case; see SupplyRun
	Command *Command
}

// SupplyPlan is what a plan draws from one supply.
type SupplyPlan struct {
	Supply  *Supply
	Usable  float64 // kg at the start
	Reserve float64 // kg below which it should be swapped
	Used    float64 // kg over the whole plan, in the worst case
	ByHand  float64 // kg, so much more than without the keys of the operator's plan
	Levels  []Level // after every command it feeds, in order

	run *SupplyRun
}

// Supplies computes how every supply empties over the plan, in the rig's order:
// level = fill × units × usable − Σ(use per hit + use per second × open time).
// The fill is that of FillOf; a planned refill that surely happens starts anew.
// An article that uses another medium than the supply holds, after a swap, draws
// nothing. Of songs that are alternatives the one that draws most counts, and a
// key of the operator's plan with all its presses. Masses are estimates.
func (p *Plan) Supplies() []SupplyPlan {
	f := FeedsOf(p.Show.Rig, p.Units)
	drawn := make([][]int64, len(f.Supplies)) // by supply, then song
	for i := range p.Songs {
		for s, mg := range f.Drawn(p.Songs[i].SongPlan) {
			drawn[s] = append(drawn[s], mg)
		}
	}
	var out []SupplyPlan
	for i, s := range f.Supplies {
		run := p.Run(s, drawn[i])
		usable, reserve := p.Usable(s)
		sp := SupplyPlan{Supply: s, Usable: kilos(usable), Reserve: kilos(reserve), Used: kilos(run.Used()), ByHand: kilos(run.Used() - worstSum(run.choices, drawn[i])), run: run}
		for j := range p.Songs {
			sp.Levels = append(sp.Levels, p.levels(f, i, j, run.Before(j))...)
		}
		out = append(out, sp)
	}
	return out
}

// levels gives a supply's levels in song j, with so much left before it.
func (p *Plan) levels(f *Feeds, supply, j int, left int64) []Level {
	var list []Level
	for i := range p.Songs[j].Commands {
		if c := &p.Songs[j].Commands[i]; f.Feed(supply, c) {
			left -= c.Draw()
			list = append(list, Level{Song: j, At: c.At, LeftKg: kilos(left), Command: c})
		}
	}
	return list
}

// MediumUse is how much of one medium a plan uses in the worst case.
type MediumUse struct {
	Medium string
	Kg     float64 // by everything that uses it
	Fed    float64 // kg, of that what a supply feeds
}

// mediaCount gathers what is used of each medium, by its name in small letters.
type mediaCount struct {
	songs int
	names map[string]string
	all   map[string][]int64 // by song; what belongs to none comes last
	fed   map[string][]int64
}

// add counts an amount in a song, or in none of them for -1.
func (m *mediaCount) add(medium string, song int, mg int64, fed bool) {
	if medium == "" || mg == 0 {
		return
	}
	key := strings.ToLower(medium)
	if m.names[key] == "" {
		m.names[key], m.all[key], m.fed[key] = medium, make([]int64, m.songs+1), make([]int64, m.songs+1)
	}
	if song < 0 {
		song = m.songs
	}
	m.all[key][song] += mg
	if fed {
		m.fed[key][song] += mg
	}
}

// Media adds up what a plan uses of each medium, by its name, whether a supply
// feeds it or not, keys of the operator's plan with all their presses. Of songs
// that are alternatives the one that uses most counts, for each medium on its
// own.
func (p *Plan) Media() []MediumUse {
	f := FeedsOf(p.Show.Rig, p.Units)
	m := mediaCount{len(p.Songs), map[string]string{}, map[string][]int64{}, map[string][]int64{}}
	fed := func(u *Unit, a *Article) bool {
		return slices.ContainsFunc(f.of[u.Index], func(s int) bool { return f.Supplies[s].Holds(a) })
	}
	for i := range p.Songs {
		for k := range p.Songs[i].Commands {
			c := &p.Songs[i].Commands[k]
			m.add(c.Article.Medium, i, c.Draw(), fed(c.Unit, c.Article))
		}
	}
	for i := range p.Keys {
		for _, u := range p.Keys[i].Uses {
			m.add(u.Article.Medium, p.Keys[i].Song, u.Draw()*int64(p.Keys[i].Cue.Presses), fed(u.Unit, u.Article))
		}
	}
	var out []MediumUse
	choices := append(p.Choices(), "")
	for key, name := range m.names {
		out = append(out, MediumUse{name, kilos(worstSum(choices, m.all[key])), kilos(worstSum(choices, m.fed[key]))})
	}
	slices.SortFunc(out, func(a, b MediumUse) int { return strings.Compare(strings.ToLower(a.Medium), strings.ToLower(b.Medium)) })
	return out
}

func worstSum(choices []string, used []int64) (sum int64) {
	for i, plays := range Worst(choices, used) {
		if plays {
			sum += used[i]
		}
	}
	return sum
}
