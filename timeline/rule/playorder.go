package rule

import "emberbeat/timeline"

// playOrder says which songs of a plan can follow each other, and how soon.
// Entries of a running order with the same word are alternatives: one of them
// is played, so that songs after them may come earlier than the plan's set
// times say.
type playOrder struct {
	at   []timeline.Time   // set time of each song's start, where there are no alternatives
	soon [][]timeline.Time // soon[i][j]: shortest time from the start of i to that of j; nil without alternatives
	alt  []string
}

func newPlayOrder(p *timeline.Plan) *playOrder {
	o := &playOrder{at: make([]timeline.Time, len(p.Songs)), alt: p.Choices()}
	members := map[string]int{}
	for i := range p.Songs {
		o.at[i] = p.Songs[i].At
		if o.alt[i] != "" {
			members[o.alt[i]]++
		}
	}
	if len(members) > 0 {
		o.measure(p, members)
	}
	return o
}

// both reports whether two songs can be played on the same night.
func (o *playOrder) both(i, j int) bool { return o.alt[i] == "" || o.alt[i] != o.alt[j] }

// surely reports whether a song is played whatever is chosen.
func (o *playOrder) surely(i int) bool { return o.alt[i] == "" }

// between gives the shortest time from the start of song i to that of a later
// song j. It adds up over songs that are surely played.
func (o *playOrder) between(i, j int) timeline.Time {
	if o.soon == nil {
		return o.at[j] - o.at[i]
	}
	return o.soon[i][j]
}

// measure fills soon. From i to j passes what i lasts, every song between that
// is surely played, and of each choice that lies wholly between, its shortest
// member; a choice with a member outside may be played there.
func (o *playOrder) measure(p *timeline.Plan, members map[string]int) {
	type choice struct {
		seen     int
		shortest timeline.Time
	}
	length := func(i int) timeline.Time { return p.Songs[i].Duration + p.Songs[i].Entry.Gap }
	o.soon = make([][]timeline.Time, len(p.Songs))
	for i := range p.Songs {
		o.soon[i] = make([]timeline.Time, len(p.Songs))
		sure := length(i)
		choices := map[string]choice{}
		for j := i + 1; j < len(p.Songs); j++ {
			t := sure
			for alt, c := range choices {
				if c.seen == members[alt] && alt != o.alt[i] && alt != o.alt[j] {
					t += c.shortest
				}
			}
			o.soon[i][j] = t
			switch alt := o.alt[j]; {
			case alt == "":
				sure += length(j)
			case choices[alt].seen == 0:
				choices[alt] = choice{1, length(j)}
			default:
				choices[alt] = choice{choices[alt].seen + 1, min(choices[alt].shortest, length(j))}
			}
		}
	}
}
