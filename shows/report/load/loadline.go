package load

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/reach"
)

// Line is one article at one placed effect.
type Line struct {
	Output      int      `json:"output"`  // 0 = not wired
	Outputs     string   `json:"outputs"` // all that drive it
	Placed      string   `json:"placed"`
	PlacedName  string   `json:"placed_name"`
	Position    string   `json:"position"`
	Points      string   `json:"points"` // "upright", "pan 0°, tilt −80°: leans 80° to the audience"
	Article     string   `json:"article"`
	ArticleName string   `json:"article_name"`
	Commands    int      `json:"commands"`
	Pieces      int      `json:"pieces"` // to load
	NEC         float64  `json:"nec_grams"`
	Division    string   `json:"division"`
	FirstSong   string   `json:"first_song,omitempty"`
	FirstAt     string   `json:"first_timecode,omitempty"` // of the command
	Circuit     string   `json:"circuit,omitempty"`
	Expected    *float64 `json:"expected_ohms"` // null = not known
	Missing     []string `json:"not_given,omitempty"`
	State       []string `json:"state"`                    // "spare", "not used", "output dead", "out tonight", "counted at …"
	Presses     int      `json:"presses,omitempty"`        // of keys of the operator's plan, at most
	Already     int      `json:"already_loaded,omitempty"` // of Pieces: left unfired by an earlier night
	Misfire     bool     `json:"open_misfire,omitempty"`   // of an earlier night, nobody has cleared it
	Igniter     bool     `json:"-"`
	spare       bool
	reading     string // what a meter should show, in words
}

// add adds a line for each article on site at one of a unit's drives, or an
// empty one for what stands there. It is counted at the first drive alone.
func (l *loader) add(lines *[]Line, used *report.Totals, u *timeline.Unit, drive int) {
	loads := l.loads[u]
	if len(loads) == 0 { // out tonight, or in another part of the plan
		loads = []*timeline.Load{{Unit: u, Article: u.Article}}
	}
	for _, load := range loads {
		if len(loads) > 1 && load.First == nil && load.Hand == nil && load.Pieces == 0 {
			continue // it is there to play what others are asked of it
		}
		line := l.line(u, load.Article)
		line.Points = reach.Printed(u, load.Article)
		l.driven(&line, u, drive)
		if load.First != nil {
			line.first(l.plan, load)
		}
		if load.Hand != nil {
			line.State = append(line.State, "by hand: "+load.Hand.Cue.Label())
		}
		if load.First == nil && load.Hand == nil {
			line.State = append(line.State, "not used")
		}
		l.before(&line, load)
		switch {
		case drive == 0:
			line.Commands, line.Pieces, line.NEC, line.Presses = load.Commands, load.Pieces, load.NEC(), load.Presses
			AddLine(used, &line)
		case load.First != nil || load.Hand != nil || load.Pieces > 0:
			line.State = append(line.State, "counted at "+u.Drives[0].Label(timeline.EffectSlot))
		}
		if drive > 0 {
			line.Already = 0 // as its pieces are
		}
		*lines = append(*lines, line)
	}
}

// before says what earlier nights have left where a load stands.
func (l *loader) before(line *Line, load *timeline.Load) {
	for _, x := range l.loaded {
		switch {
		case x.Placed != load.Unit.Placed.ID:
		case string(x.Article) == line.Article:
			line.State = append(line.State, "still loaded: not fired on "+NightDay(x.Night))
			line.Already = min(x.Pieces, load.Pieces)
		case load.Stands:
			line.State = append(line.State, "take out first: "+l.articleName(x.Article)+", not fired on "+NightDay(x.Night))
		}
	}
	for _, x := range l.misfires {
		if x.Placed == load.Unit.Placed.ID {
			line.State = append(line.State, "OPEN MISFIRE of "+NightDay(x.Night)+": do not load before it is cleared")
			line.Misfire = true
		}
	}
}

func (l *loader) articleName(id timeline.ID) string { return l.plan.Show.CalledBy(id, "article") }

// NightDay names a night by its date, or by its name where it has none.
func NightDay(n *timeline.Night) string { return cmp.Or(n.Date, n.Name, n.Slug) }

func (l *loader) line(u *timeline.Unit, a *timeline.Article) Line {
	line := Line{Placed: string(u.Placed.ID), PlacedName: u.Name, State: []string{}}
	if u.Position != nil {
		line.Position = l.plan.Called(u.Position)
	}
	if a != nil {
		line.Article, line.ArticleName, line.Division = string(a.ID), l.plan.Called(a), a.Division
		line.Igniter = a.Control == timeline.IgniterControl
	} else {
		line.Article, line.State = string(u.Placed.Article), append(line.State, "article is lost")
	}
	if line.spare = u.Placed.Spare; line.spare {
		line.State = append(line.State, "spare")
	}
	if u.Out {
		line.State = append(line.State, "out tonight")
	}
	return line
}

// driven says what drives the line.
func (l *loader) driven(line *Line, u *timeline.Unit, drive int) {
	var all []string
	for _, d := range u.Drives {
		all = append(all, d.Label(timeline.EffectSlot))
	}
	line.Outputs = strings.Join(all, " + ")
	if len(u.Drives) == 0 {
		line.State = append(line.State, "not wired")
		return
	}
	d := u.Drives[drive]
	line.Output = d.Wire.Output
	line.Igniter = d.BankType != nil && d.BankType.Kind == timeline.IgniterBank
	if d.Dead {
		line.State = append(line.State, "output dead")
	}
	line.State = append(line.State, l.sharing(u, d)...)
	if c := l.plan.Show.Rig.Circuit(d.Wire.Circuit); c != nil {
		line.circuit(l.plan.Show, c, d.BankType)
	}
}

// sharing says what fires with a unit because it hangs on the same output.
func (l *loader) sharing(u *timeline.Unit, d timeline.Drive) []string {
	for i := range l.plan.Units.Shared {
		s := &l.plan.Units.Shared[i]
		if at := s.Drives[0].Wire; at.Driver != d.Wire.Driver || at.Output != d.Wire.Output || !slices.Contains(s.Units, u) {
			continue
		}
		var others []string
		for _, o := range s.Units {
			if o != u {
				others = append(others, o.Name)
			}
		}
		text := "fires with " + wording.JoinNames(others)
		if !s.Declared {
			text += ", which nobody has said is meant"
		}
		return []string{text}
	}
	return nil
}

// circuit gives what a meter should show. A circuit that cannot be worked out
// keeps what stands in the way.
func (line *Line) circuit(s *timeline.Show, c *timeline.Circuit, t *timeline.BankType) {
	line.Circuit = s.Called(c)
	load, err := s.CircuitLoad(c, t)
	if err != nil {
		line.Missing = []string{err.Error()}
		return
	}
	line.Missing = load.Unstated
	line.reading = load.Reading()
	if load.Expected > 0 {
		line.Expected = &load.Expected
	}
}

func (line *Line) first(p *timeline.Plan, load *timeline.Load) {
	song := &p.Songs[load.Song]
	line.FirstSong = strconv.Itoa(song.Number) + " " + song.Song.FullTitle()
	line.FirstAt = song.Rate.Label(load.First.Frame)
}

// ExpectedText writes what a meter should show.
func (line *Line) ExpectedText() string {
	if line.Circuit == "" {
		return ""
	}
	return cmp.Or(line.reading, "not given")
}

// Nec writes the net explosive mass of what is to be loaded; what is not used up
// has none.
func (line *Line) Nec() string {
	if line.Pieces == 0 {
		return ""
	}
	return wording.Grams(line.NEC)
}

// AddLine counts a line of a load plan.
func AddLine(t *report.Totals, line *Line) {
	t.Commands += line.Commands
	t.Presses += line.Presses
	if line.Pieces == 0 {
		return
	}
	t.Pieces += line.Pieces
	switch {
	case line.spare:
		t.Spares += line.Pieces
	case line.Commands+line.Presses == 0:
		t.Unused += line.Pieces
	}
	i := slices.IndexFunc(t.Divisions, func(d report.DivisionTotal) bool { return d.Division == line.Division })
	if i < 0 {
		t.Divisions = append(t.Divisions, report.DivisionTotal{Division: line.Division})
		i = len(t.Divisions) - 1
	}
	t.Divisions[i].Pieces += line.Pieces
	t.Divisions[i].NEC = wording.RoundGrams(t.Divisions[i].NEC + line.NEC)
	t.NEC = wording.RoundGrams(t.NEC + line.NEC)
}
