package rule

import (
	"fmt"
	"hash/fnv"

	"emberbeat/timeline"
)

var repetitionRule = enter(Rule{
	Name:    "repetition",
	Summary: "a song has a look that was seen in one of the songs just before it",
	Reason: "A look is what goes off at one instant: which units, with which articles, open for how long. Small ones return all the time; of a large one an audience says that it " +
		"has been seen. Alternatives are not seen on the same night. One note for each song, at the first look that returns.",
	Scope:    Neighbours,
	Severity: Note,
	Settings: []Setting{
		{Name: "songs", Default: "1", Mark: timeline.Judgement, Source: "our judgement", Help: "so many songs before are compared"},
		{Name: "units", Default: "8", Mark: timeline.Judgement, Source: "our judgement", Help: "least number of units that makes a large look"},
	},
	set: checkRepetition,
})

var (
	repeatSongs = setting("songs", "repetition")
	repeatUnits = setting("units", "repetition")
)

// look is what one instant of a song shows. Two instants with the same units,
// articles and open times have the same sum.
type look struct {
	sum   uint64
	units int
	first int32 // index of a command of it
}

// leastLook is the setting units where a song is looked at.
func (e *env) leastLook(p *timeline.SongPlan) int {
	return int(e.settings[indexOf(repetitionRule.Name)].at(p.Song, nil, nil).of(repeatUnits).plain)
}

// looksOf gives the large looks of a song, each once, by their first hit.
func looksOf(p *timeline.SongPlan, least int) []look {
	at := make(map[timeline.Time]int, len(p.Commands))
	all := make([]look, 0, len(p.Commands))
	for i := range p.Commands {
		c := &p.Commands[i]
		k, known := at[c.Hit]
		if !known {
			k = len(all)
			at[c.Hit] = k
			all = append(all, look{first: int32(i)})
		}
		all[k].sum += mix(c)
		all[k].units++
	}
	seen := map[uint64]bool{}
	large := all[:0]
	for _, l := range all {
		if l.units >= least && !seen[l.sum] {
			seen[l.sum] = true
			large = append(large, l)
		}
	}
	return large
}

// mix makes a number of what one command shows; numbers of a look are added, so
// that their order does not matter.
func mix(c *timeline.Command) uint64 {
	x := uint64(c.Unit.Index+1)*0x9e3779b97f4a7c15 ^ uint64(c.Open)*0xbf58476d1ce4e5b9
	if c.Article != c.Unit.Article {
		h := fnv.New64a()
		h.Write([]byte(c.Article.ID))
		x ^= h.Sum64()
	}
	x ^= x >> 30
	x *= 0xbf58476d1ce4e5b9
	x ^= x >> 27
	x *= 0x94d049bb133111eb
	return x ^ x>>31
}

func checkRepetition(r *setRun) {
	for j := range r.plan.Songs {
		t := r.settings.at(r.song(j).Song, nil, nil)
		if t.off {
			continue
		}
		before := map[uint64]returned{}
		for i := max(0, j-int(t.of(repeatSongs).plain)); i < j; i++ {
			if !r.order.both(i, j) {
				continue
			}
			for _, l := range r.results[i].sum.looks {
				before[l.sum] = returned{i, l}
			}
		}
		r.repeated(t, j, before)
	}
}

// returned is a look of an earlier song.
type returned struct {
	song int
	look look
}

// repeated notes the first look of song j that is among those before.
func (r *setRun) repeated(t *tuning, j int, before map[uint64]returned) {
	ps := r.song(j)
	var first look
	var was returned
	again := 0
	for _, l := range r.results[j].sum.looks {
		w, ok := before[l.sum]
		if !ok || w.look.units != l.units {
			continue
		}
		if again++; again == 1 {
			first, was = l, w
		}
	}
	if again == 0 {
		return
	}
	earlier := r.song(was.song)
	c, e := &ps.Commands[first.first], &earlier.Commands[was.look.first]
	f := about(ps.SongPlan, c.Cue, c.Hit)
	f.Others = []timeline.Ref{cueRef(earlier.SongPlan, e.Cue)}
	f.Text = fmt.Sprintf("%s at once, as in song %s at %s", timeline.Counted(first.units, "unit"), songName(earlier), earlier.Label(e.Hit))
	if again > 1 {
		f.Text += fmt.Sprintf("; %d such looks of this song have been seen", again)
	}
	f.Values = []Value{count("units", first.units), count("looks", again), word("seen in", string(earlier.Song.ID)), {Name: "songs", Text: t.of(repeatSongs).text, Number: true}}
	f.Grounds = []Ground{r.rule.fromSetting(repeatSongs, t), r.rule.fromSetting(repeatUnits, t)}
	f.Help = "change its units or its open time, move one of the songs, or leave it if it is meant so"
	r.add(t, j, "", f)
}
