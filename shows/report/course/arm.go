package course

import (
	"cmp"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Arm is when arm slots of a kind of device are up, as planned by timecode. What a person raises by hand is not in it.
type Arm struct {
	Type *timeline.DeviceType
	Name string
	Up   []Raised // by song and time
}

// Raised is a time in which at least one arm slot is up, from the start of a song's audio.
type Raised struct {
	Song     int
	From, To timeline.Time
	Over     bool // the song is over, and nothing has taken it down: it stays up in the changeover
}

// arms gathers the arm windows of all songs.
func (c *Course) arms() {
	at := map[*timeline.DeviceType]int{}
	for i := range c.Songs {
		s := &c.Songs[i]
		for k := range s.Windows {
			w := &s.Windows[k]
			if w.Role != timeline.ArmSlot {
				continue
			}
			n, known := at[w.Type]
			if !known {
				n = len(c.Arms)
				at[w.Type] = n
				c.Arms = append(c.Arms, Arm{Type: w.Type, Name: c.Plan.Called(w.Type)})
			}
			down := max(s.Long, w.Up) + s.Entry.Gap // to the next song, where nothing takes it down
			if w.Closes() {
				down = w.Down
			}
			c.Arms[n].Up = append(c.Arms[n].Up, Raised{Song: i, From: w.Up, To: min(down, s.Long)}, Raised{Song: i, From: max(s.Long, w.Up), To: down, Over: true})
		}
	}
	for i := range c.Arms {
		c.Arms[i].Up = joined(c.Arms[i].Up)
	}
	slices.SortStableFunc(c.Arms, func(a, b Arm) int { return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
}

// joined sorts times, makes one of those that overlap or touch and are alike, and drops what is none.
func joined(list []Raised) []Raised {
	list = slices.DeleteFunc(list, func(r Raised) bool { return r.To <= r.From })
	slices.SortFunc(list, func(a, b Raised) int {
		return cmp.Or(cmp.Compare(a.Song, b.Song), cmp.Compare(rank(a.Over), rank(b.Over)), cmp.Compare(a.From, b.From))
	})
	var all []Raised
	for _, r := range list {
		if n := len(all); n > 0 && all[n-1].Song == r.Song && all[n-1].Over == r.Over && r.From <= all[n-1].To {
			all[n-1].To = max(all[n-1].To, r.To)
			continue
		}
		all = append(all, r)
	}
	return all
}

func rank(over bool) int {
	if over {
		return 1
	}
	return 0
}

// UpAt reports whether an arm is up at a place.
func (a *Arm) UpAt(p Place) bool {
	return slices.ContainsFunc(a.Up, func(r Raised) bool { return r.Song == p.Song && r.From <= p.At && p.At < r.To })
}
