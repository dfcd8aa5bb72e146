package permit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// Song is one song of the sequence.
type Song struct {
	Number   int             `json:"number"`
	Title    string          `json:"title"`
	Start    string          `json:"start"`
	Duration wording.Seconds `json:"duration"`
	Commands int             `json:"commands"`
	First    string          `json:"first_command"` // timecode; "" = none
	Last     string          `json:"last_close"`
	Effects  []string        `json:"effects"` // each article with its commands
	Alt      string          `json:"alt,omitempty"`
}

func permitSongs(p *timeline.Plan) []Song {
	list := []Song{}
	for i := range p.Songs {
		ps := &p.Songs[i]
		s := Song{Number: ps.Number, Title: ps.Song.FullTitle(), Start: ps.Rate.Label(ps.Start), Duration: wording.Seconds(ps.Duration), Commands: len(ps.Commands), Effects: []string{}, Alt: ps.Entry.Alt}
		count := map[*timeline.Article]int{}
		var order []*timeline.Article
		last := int64(0)
		for k := range ps.Commands {
			c := &ps.Commands[k]
			if count[c.Article]++; count[c.Article] == 1 {
				order = append(order, c.Article)
			}
			last = max(last, c.Close)
		}
		for _, a := range order {
			s.Effects = append(s.Effects, fmt.Sprintf("%d × %s", count[a], p.Called(a)))
		}
		if len(ps.Commands) > 0 {
			s.First, s.Last = ps.Rate.Label(ps.Commands[0].Frame), ps.Rate.Label(last)
		}
		list = append(list, s)
	}
	return list
}

// Control is how one placed effect is commanded, and how often.
type Control struct {
	Effect   string `json:"effect"`
	Position string `json:"position"`
	Article  string `json:"article"`
	Outputs  string `json:"outputs"`
	How      string `json:"how"`
	Commands int    `json:"commands"`
	Lead     string `json:"lead"` // seconds from command to hit
	Open     string `json:"open"` // seconds, from the shortest to the longest
	First    string `json:"first_command"`
	Song     string `json:"first_song"`
	State    string `json:"state"`
}

func permitControl(p *timeline.Plan, site *timeline.OnSite) []Control {
	list := []Control{}
	names := report.NewLabeller(p.Show)
	open := openTimes(p)
	for i := range site.Loads {
		l := &site.Loads[i]
		if l.Article == nil {
			continue
		}
		line := Control{Effect: l.Unit.Name, Position: report.PositionName(l.Unit), Article: p.Called(l.Article), How: howDriven(l.Unit), Commands: l.Commands}
		switch {
		case l.First != nil:
			ps := &p.Songs[l.Song]
			line.Outputs = report.LabelsOf(names.Hit(l.First))
			line.Lead, line.First, line.Song = wording.Short(wording.Seconds(l.First.Lead)), ps.Rate.Label(l.First.Frame), fmt.Sprintf("%d %s", ps.Number, ps.Song.FullTitle())
			line.Open = open[loadKey{l.Unit, l.Article}].String()
		case l.Unit.Placed.Spare:
			line.Outputs, line.State = l.Unit.OutputsText(), "spare"
		default:
			line.Outputs, line.State = l.Unit.OutputsText(), "on site, not commanded"
		}
		list = append(list, line)
	}
	slices.SortStableFunc(list, func(a, b Control) int {
		return cmp.Or(strings.Compare(a.Position, b.Position), strings.Compare(a.Article, b.Article))
	})
	return list
}

// loadKey is one article on one unit.
type loadKey struct {
	unit    *timeline.Unit
	article *timeline.Article
}

// span is from the shortest to the longest of some times.
type span struct{ least, most timeline.Time }

// String writes it in seconds.
func (s span) String() string {
	if s.least == s.most {
		return wording.Short(wording.Seconds(s.least))
	}
	return wording.Short(wording.Seconds(s.least)) + " to " + wording.Short(wording.Seconds(s.most))
}

func openTimes(p *timeline.Plan) map[loadKey]span {
	times := map[loadKey]span{}
	for i := range p.Songs {
		for k := range p.Songs[i].Commands {
			c := &p.Songs[i].Commands[k]
			key := loadKey{c.Unit, c.Article}
			s, seen := times[key]
			if !seen {
				s = span{c.Open, c.Open}
			}
			times[key] = span{min(s.least, c.Open), max(s.most, c.Open)}
		}
	}
	return times
}

// howDriven says in words what commands a unit: igniter pulses, relays, slots
// with what must be up before.
func howDriven(u *timeline.Unit) string {
	var words []string
	add := func(w string) {
		if !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	for _, d := range u.Drives {
		switch {
		case d.BankType != nil:
			add(string(d.BankType.Kind) + " output")
		case d.DeviceType != nil:
			add("DMX slots")
			for _, role := range []timeline.SlotRole{timeline.ArmSlot, timeline.ConditionSlot, timeline.WarmUpSlot} {
				if len(d.DeviceType.Find(role, d.Wire.Output)) > 0 {
					add("with " + string(role))
				}
			}
		}
	}
	if len(words) == 0 {
		return "not wired"
	}
	return strings.Join(words, " ")
}
