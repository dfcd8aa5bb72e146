package timeline

import (
	"strconv"

	"emberbeat/timeline/field"
)

// Shape says how a phrase runs over its group.
type Shape string

// The shapes. Every one but sustained takes one step at each place.
const (
	Chase      Shape = "chase"     // one after the other, round and round
	FanOut     Shape = "fan"       // the middle first, then the pairs outwards
	Mirror     Shape = "mirror"    // both ends first, then the pairs inwards
	Alternate  Shape = "alternate" // the odd ones, then the even ones
	Burst      Shape = "burst"     // all of them, every time
	Sustained  Shape = "sustained" // all of them, open from start to end
	RandomPick Shape = "random"    // each once in a shuffled order, then anew; the seed repeats it
)

// Shapes lists the shapes.
func Shapes() []Shape {
	return []Shape{Chase, FanOut, Mirror, Alternate, Burst, Sustained, RandomPick}
}

// Phrase is a figure over a group: its settings. The cues it made are ordinary
// cues that name it as their group, until it is run again with other settings.
type Phrase struct {
	Base
	Name  string
	Lane  ID
	Group ID // group or placed effect
	Shape Shape
	Order Order
	At    Moment
	Until Moment // the last place, included
	Every Stride
	Open  Time // 0 = the lane's, then the article's
	Level int  // percent; 0 = the article's
	Seed  int
	Note  string
}

func (p *Phrase) defaults() {
	p.Shape, p.Order, p.Every = Chase, OrderAll, Stride{Beats: NewRat(1, 1)}
}

func init() {
	registerInSong("phrase", "phrases", "a figure over a group, and the settings its cues were made with",
		func(s *Song) *[]*Phrase { return &s.Phrases },
		field.Text("name", "what the crew calls it", func(p *Phrase) *string { return &p.Name }),
		refField("lane", "the lane its cues stand on", func(p *Phrase) *ID { return &p.Lane }, "lane"),
		refField("target", "group or placed effect it runs over", func(p *Phrase) *ID { return &p.Group }, "group", "placed"),
		field.Choice("shape", "how it runs over the group", func(p *Phrase) *Shape { return &p.Shape }, Shapes()),
		field.Choice("order", "in which order the group is taken", func(p *Phrase) *Order { return &p.Order }, Orders()),
		momentField("at", "the first place", func(p *Phrase) *Moment { return &p.At }),
		momentField("to", "the last place, included", func(p *Phrase) *Moment { return &p.Until }),
		field.Parsed("every", "one step each: 1/2 beat, 1 bar, 0.5s", func(p *Phrase) *Stride { return &p.Every }, Stride.String, ParseStride),
		spanField("open", "open time; 0 = the lane's, then the article's", func(p *Phrase) *Time { return &p.Open }),
		field.Whole("level", "percent; 0 = the article's", 0, 100, func(p *Phrase) *int { return &p.Level }),
		field.Whole("seed", "which of the random orders", 0, 1_000_000, func(p *Phrase) *int { return &p.Seed }),
		field.Text("note", "", func(p *Phrase) *string { return &p.Note }),
	)
}

// steps says which of n members, by index, each of so many places commands.
func (p *Phrase) steps(n, places int) [][]int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	figure := [][]int{all}
	switch p.Shape {
	case Chase:
		figure = singles(all)
	case FanOut:
		figure = rings(all)
	case Mirror:
		figure = reversed(rings(all))
	case Alternate:
		figure = [][]int{everySecond(all, 0), everySecond(all, 1)}
	case RandomPick:
		return singles(shuffled(n, places, uint64(p.Seed)))
	case Sustained:
		places = min(places, 1)
	}
	var steps [][]int
	for k := range places {
		steps = append(steps, figure[k%len(figure)])
	}
	return steps
}

func singles(list []int) [][]int {
	all := make([][]int, len(list))
	for i := range list {
		all[i] = list[i : i+1]
	}
	return all
}

func reversed(lists [][]int) [][]int {
	var all [][]int
	for i := len(lists) - 1; i >= 0; i-- {
		all = append(all, lists[i])
	}
	return all
}

// shuffled gives so many members, each once in a round in an order that the
// seed gives, and never one twice in a row.
func shuffled(n, places int, seed uint64) []int {
	var all []int
	for len(all) < places {
		round := make([]int, n)
		for i := range round {
			round[i] = i
		}
		for i := n - 1; i > 0; i-- {
			j := int(nextRandom(&seed) % uint64(i+1))
			round[i], round[j] = round[j], round[i]
		}
		if len(all) > 0 && n > 1 && round[0] == all[len(all)-1] {
			round[0], round[n-1] = round[n-1], round[0]
		}
		all = append(all, round...)
	}
	return all[:places]
}

// nextRandom is the splitmix64 generator (Steele, Lea and Flood 2014, from
// memory): the same seed gives the same numbers on every machine.
func nextRandom(state *uint64) uint64 {
	*state += 0x9e3779b97f4a7c15
	z := *state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Title names the phrase for people.
func (p *Phrase) Title() string {
	if p.Name != "" {
		return p.Name
	}
	return string(p.Shape) + " every " + p.Every.String() + seedText(p.Seed)
}

func seedText(seed int) string {
	if seed == 0 {
		return ""
	}
	return " seed " + strconv.Itoa(seed)
}
