package report

import (
	"cmp"
	"io"
	"slices"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
	"emberbeat/timeline/rule"
)

// InspectorSheet is what an inspector and a local crew read: each song on a page,
// with what plays in it, where, when, and how far from people.
type InspectorSheet struct {
	Head
	Songs     []InspectorSong `json:"songs"`
	Used      Totals          `json:"totals"`
	Distances string          `json:"distance_caution"`
}

// InspectorSong is one song.
type InspectorSong struct {
	Number   int             `json:"number"`
	Song     string          `json:"song"` // id
	Title    string          `json:"title"`
	Start    string          `json:"start"` // timecode of the audio
	First    string          `json:"first"` // timecode of the first command; "" = none
	Last     string          `json:"last"`  // timecode at which the last output closes
	Duration wording.Seconds `json:"duration"`
	Lines    []InspectorLine `json:"lines"`
	Used     Totals          `json:"totals"`

	plan *timeline.PlanSong
}

// InspectorLine is one article at one position in one song. Lengths are metres.
type InspectorLine struct {
	Position   string          `json:"position"`
	Effects    []string        `json:"effects"`
	Article    string          `json:"article"`
	Category   string          `json:"category,omitempty"`
	UN         string          `json:"un,omitempty"`
	Division   string          `json:"division,omitempty"`
	Commands   int             `json:"commands"`
	NEC        float64         `json:"nec_grams"`
	First      string          `json:"first"` // timecode
	Last       string          `json:"last"`
	From       wording.Seconds `json:"from"`  // of the first command, from the start of the audio
	To         wording.Seconds `json:"to"`    // until the last output closes
	Top        float64         `json:"top"`   // how high it reaches above the stage, with the venue's tolerance; 0 = height not given
	Needs      float64         `json:"needs"` // least trim height for it
	Trim       float64         `json:"trim"`  // the venue's; 0 = not given
	Audience   InspectorSpace  `json:"audience"`
	Performers InspectorSpace  `json:"performers"`
	Aim        []string        `json:"aim"`                   // where its effects point: "upright", "leans 80° to the audience"
	Pyro       string          `json:"pyrotechnic,omitempty"` // what says that it is pyrotechnic; "" = nothing does
	Mark       string          `json:"mark"`                  // how well the article's numbers are known

	units    []*timeline.Unit
	position *timeline.StagePosition
	article  *timeline.Article
}

// InspectorSpace is a distance to people.
type InspectorSpace struct {
	Required float64  `json:"required"`          // 0 = nothing gives one
	Governs  string   `json:"governs,omitempty"` // what asks for it
	Planned  *float64 `json:"planned,omitempty"` // on the plan; nil = cannot be measured
	Nearest  string   `json:"nearest,omitempty"`
	Short    bool     `json:"short"` // planned is less than required
}

// distanceCaution stands wherever distances are shown.
const distanceCaution = "Distances are taken from the plan and compared with what this show gives. Measure them on site. Label, permit and authority come first."

// NewInspectorSheet gives the inspector's sheet of the songs a filter shows. A
// choice of bars has no meaning here and is not looked at.
func NewInspectorSheet(p *timeline.Plan, f Filter) (*InspectorSheet, error) {
	if err := StartsRight(p, f); err != nil {
		return nil, err
	}
	out := &InspectorSheet{Head: HeadOf(p).Showing(p, Filter{Song: f.Song}), Songs: []InspectorSong{}, Used: totalsOf(p, Filter{Song: f.Song}), Distances: distanceCaution}
	spaces := spacesOf(p)
	for i := range p.Songs {
		if ps := &p.Songs[i]; f.Shows(ps.Song.ID) {
			out.Songs = append(out.Songs, inspectorSong(p, ps, spaces))
		}
	}
	return out, nil
}

type spaceKey struct {
	unit    *timeline.Unit
	article *timeline.Article
	to      timeline.DistanceTo
}

// spacesOf gives the distances of every unit and article to people.
func spacesOf(p *timeline.Plan) map[spaceKey]InspectorSpace {
	spaces := map[spaceKey]InspectorSpace{}
	clearances := rule.Clearances(p)
	for i := range clearances {
		c := &clearances[i]
		s := InspectorSpace{Required: c.Required, Nearest: c.Nearest, Short: c.Short()}
		if len(c.Asked) > 0 {
			s.Governs = c.Asked[0].By
		}
		if c.Measured {
			planned := c.Planned
			s.Planned = &planned
		}
		spaces[spaceKey{c.Unit, c.Article, c.To}] = s
	}
	return spaces
}

func inspectorSong(p *timeline.Plan, ps *timeline.PlanSong, spaces map[spaceKey]InspectorSpace) InspectorSong {
	s := InspectorSong{Number: ps.Number, Song: string(ps.Song.ID), Title: ps.Song.FullTitle(), Start: ps.Label(0), Duration: wording.Seconds(ps.Duration),
		Lines: []InspectorLine{}, Used: totalsOf(p, Filter{Song: ps.Song.ID}), plan: ps}
	var end int64
	for i := range ps.Commands {
		c := &ps.Commands[i]
		if i == 0 {
			s.First = ps.Rate.Label(c.Frame)
		}
		if c.Close > end {
			end = c.Close
			s.Last = ps.Rate.Label(end)
		}
		s.add(p, c, spaces)
	}
	slices.SortStableFunc(s.Lines, func(a, b InspectorLine) int {
		return cmp.Or(cmp.Compare(wording.OneIf(a.Pyro == ""), wording.OneIf(b.Pyro == "")), ByName(a.Position, b.Position), ByName(a.Article, b.Article))
	})
	return s
}

// add counts a command on the line of its article and position, and of how the
// unit points: what leans reaches elsewhere.
func (s *InspectorSong) add(p *timeline.Plan, c *timeline.Command, spaces map[spaceKey]InspectorSpace) {
	points := wording.AddOnce(nil, reach.Printed(c.Unit, c.Article))
	i := slices.IndexFunc(s.Lines, func(l InspectorLine) bool {
		return l.article == c.Article && l.position == c.Unit.Position && slices.Equal(l.Aim, points)
	})
	if i < 0 {
		i = len(s.Lines)
		s.Lines = append(s.Lines, newInspectorLine(p, c))
		s.Lines[i].First, s.Lines[i].From = s.plan.Rate.Label(c.Frame), wording.Seconds(c.At)
	}
	l := &s.Lines[i]
	l.Last = s.plan.Rate.Label(c.Frame)
	l.To = max(l.To, wording.Seconds(c.End()))
	l.Commands++
	if !slices.Contains(l.units, c.Unit) {
		l.Aim = points
		l.units, l.Effects = append(l.units, c.Unit), append(l.Effects, c.Unit.Name)
		if c.Article.UsedUp() {
			l.NEC = wording.RoundGrams(l.NEC + c.Article.NEC) // a piece stands at a unit once, however often it is commanded
		}
	}
	l.Audience = worse(l.Audience, spaces[spaceKey{c.Unit, c.Article, timeline.ToAudience}])
	l.Performers = worse(l.Performers, spaces[spaceKey{c.Unit, c.Article, timeline.ToPerformers}])
}

func newInspectorLine(p *timeline.Plan, c *timeline.Command) InspectorLine {
	a := c.Article
	l := InspectorLine{Article: p.Called(a), Category: a.Category, UN: a.UN, Division: a.Division, Pyro: a.Pyrotechnic(rule.RuleSetOf(p.Show, p.Venue)), Mark: string(cmp.Or(a.Mark, timeline.CommonPractice)), position: c.Unit.Position, article: a}
	if pos := c.Unit.Position; pos != nil {
		l.Position = p.Called(pos)
	}
	if top, needs, ok := rule.Reach(p, c.Unit, a); ok {
		l.Top, l.Needs, l.Trim = figure.RoundedUp(top), figure.RoundedUp(needs), p.Venue.Trim
	}
	return l
}

// worse keeps of two distances the one that is short, or has less to spare.
func worse(a, b InspectorSpace) InspectorSpace {
	switch {
	case a.Planned == nil && !a.Short && a.Required == 0:
		return b
	case b.Planned == nil, a.Short && !b.Short:
		return a
	case a.Planned == nil, b.Short && !a.Short, *b.Planned-b.Required < *a.Planned-a.Required:
		return b
	}
	return a
}

// wording.WriteJSON writes the sheet as one JSON object.
func (s *InspectorSheet) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, s) }
