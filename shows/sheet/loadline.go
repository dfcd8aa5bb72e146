package sheet

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"emberbeat/timeline"
)

// LoadLine is one article at one placed effect.
type LoadLine struct {
	Output      int      `json:"output"`  // 0 = not wired
	Outputs     string   `json:"outputs"` // all that drive it
	Placed      string   `json:"placed"`
	PlacedName  string   `json:"placed_name"`
	Position    string   `json:"position"`
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
	State       []string `json:"state"` // "spare", "not used", "output dead", "out tonight", "counted at …"
	Igniter     bool     `json:"-"`
}

// add adds a line for each article a unit plays on one of its drives, or one
// for the article that stands there if it plays none. Its commands are counted
// at the first drive alone.
func (l *loader) add(lines *[]LoadLine, used *Totals, u *timeline.Unit, drive int) {
	articles := l.articles[u]
	if len(articles) == 0 {
		articles = []*timeline.Article{u.Article}
	}
	for _, a := range articles {
		line := l.line(u, a)
		l.driven(&line, u, drive)
		switch use := l.uses[loadKey{u, a}]; {
		case use == nil:
			line.State = append(line.State, "not used")
		case drive > 0:
			line.State = append(line.State, "counted at "+u.Drives[0].Label(timeline.EffectSlot))
			line.first(use)
		default:
			line.first(use)
			line.count(a, use.commands)
			used.add(a, use.commands)
		}
		*lines = append(*lines, line)
	}
}

func (l *loader) line(u *timeline.Unit, a *timeline.Article) LoadLine {
	line := LoadLine{Placed: string(u.Placed.ID), PlacedName: cmp.Or(u.Placed.Name, string(u.Placed.ID)), State: []string{}}
	if u.Position != nil {
		line.Position = cmp.Or(u.Position.Name, string(u.Position.ID))
	}
	if a != nil {
		line.Article, line.ArticleName, line.Division = string(a.ID), cmp.Or(a.Name, string(a.ID)), a.Division
		line.Igniter = a.Control == timeline.IgniterControl
	} else {
		line.Article, line.State = string(u.Placed.Article), append(line.State, "article is lost")
	}
	if u.Placed.Spare {
		line.State = append(line.State, "spare")
	}
	if u.Out {
		line.State = append(line.State, "out tonight")
	}
	return line
}

// driven says what drives the line.
func (l *loader) driven(line *LoadLine, u *timeline.Unit, drive int) {
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
	if c := l.plan.Show.Rig.Circuit(d.Wire.Circuit); c != nil {
		line.circuit(c, d.BankType)
	}
}

// circuitCelsius is the temperature of the cable for which a load plan works
// circuits out; its sheets say so.
const circuitCelsius = 20

// circuit gives what a meter should show. A circuit that cannot be worked out
// keeps what stands in the way.
func (line *LoadLine) circuit(c *timeline.Circuit, t *timeline.BankType) {
	line.Circuit = cmp.Or(c.Name, string(c.ID))
	load, err := c.Load(t, circuitCelsius)
	if err != nil {
		line.Missing = []string{err.Error()}
		return
	}
	for _, m := range load.Missing { // what a meter's reading rests on
		if slices.Contains([]string{"ohms of an igniter", "cable", "section"}, m) {
			line.Missing = append(line.Missing, m)
		}
	}
	if !slices.Contains(line.Missing, "ohms of an igniter") {
		line.Expected = &load.Expected
	}
}

func (line *LoadLine) first(use *loadUse) {
	line.FirstSong = strconv.Itoa(use.song.Number) + " " + use.song.Song.FullTitle()
	line.FirstAt = use.song.Rate.Label(use.first.Frame)
}

func (line *LoadLine) count(a *timeline.Article, commands int) {
	line.Commands = commands
	if usedUp(a) {
		line.Pieces = commands
		line.NEC = roundGrams(a.NEC * float64(commands))
	}
}

// expected writes what a meter should show.
func (line *LoadLine) expected() string {
	switch {
	case line.Expected != nil && len(line.Missing) > 0:
		return ohms(*line.Expected) + " without cable"
	case line.Expected != nil:
		return ohms(*line.Expected)
	case line.Circuit != "":
		return "not given"
	}
	return ""
}

// pieces writes how many are to be loaded; what is not used up has none.
func (line *LoadLine) pieces() (pieces, nec string) {
	if line.Pieces == 0 {
		return "", ""
	}
	return strconv.Itoa(line.Pieces), grams(line.NEC)
}
