package report

import (
	"cmp"
	"io"
	"math"
	"slices"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
	"emberbeat/timeline/figure"
	"emberbeat/timeline/reach"
	"emberbeat/timeline/rule"
	"emberbeat/timeline/units"
)

// SpotterSheet is what each spotter sees when, position by position.
type SpotterSheet struct {
	Head
	Positions []SpotterPosition `json:"positions"`
	Words     []string          `json:"words"`

	shapes *rule.Shapes
}

// SpotterPosition is one position that something is commanded at.
type SpotterPosition struct {
	Position string          `json:"position"` // id; "" = effects that have no position
	Name     string          `json:"name"`
	X        float64         `json:"x"` // m
	Y        float64         `json:"y"`
	Z        float64         `json:"z"`
	Effects  []SpotterEffect `json:"effects"`
	Moments  []SpotterMoment `json:"moments"`

	ID timeline.ID `json:"-"`
}

// SpotterEffect is an article that plays at a position.
type SpotterEffect struct {
	Effects []string `json:"effects"` // placed effects
	Article string   `json:"article"`
	Points  string   `json:"points"` // where they point
	Height  float64  `json:"height"` // m; 0 = not given, and so below
	Fallout float64  `json:"fallout"`
	Clear   float64  `json:"clear_zone"`
}

// SpotterMoment is what goes at one hit, and who stands near then.
type SpotterMoment struct {
	SongNumber int             `json:"song_number"`
	Timecode   string          `json:"timecode"` // of the first command
	Bar        string          `json:"bar"`
	What       []string        `json:"what"`
	Open       wording.Seconds `json:"open"`
	Zone       float64         `json:"zone"` // m: the larger of clear zone and fallout radius; 0 = not given
	Near       []string        `json:"near"` // performers' marks with their distances, the nearest first
	Song       string          `json:"song_title"`
	Section    string          `json:"section"`
	Height     float64         `json:"height"` // m, of the highest; 0 = not given for one of them
	Inside     []string        `json:"inside"` // of Near, whose marks reach into the zone
	Outside    []string        `json:"beside"` // the others of them
	Units      []string        `json:"effects"`
}

// spotterWords are what a spotter says (common practice, no source).
var spotterWords = []string{
	"Say clear only while the whole zone is in sight. Say hold, your position and why, at once when: somebody is in the zone; you lose sight of it; a performer is off the mark; " +
		"the crowd is over the barrier; something lies in the zone that should not; you smell gas; nobody answers you.",
	"After a hold nothing here goes late. Say clear again only when asked, and only if it is. A misfire stays where it is and nobody goes near until the operator says so.",
}

// NewSpotterSheet gives the spotter sheets of the songs a filter shows. A choice
// of bars has no meaning here and is not looked at.
func NewSpotterSheet(p *timeline.Plan, f Filter) (*SpotterSheet, error) {
	if err := StartsRight(p, f); err != nil {
		return nil, err
	}
	out := &SpotterSheet{Head: HeadOf(p).Showing(p, Filter{Song: f.Song}), Positions: []SpotterPosition{}, Words: spotterWords, shapes: rule.ShapesOf(p)}
	for i := range p.Songs {
		if ps := &p.Songs[i]; f.Shows(ps.Song.ID) {
			for _, m := range momentsOf(ps) {
				out.add(p, ps, &m)
			}
		}
	}
	slices.SortStableFunc(out.Positions, func(a, b SpotterPosition) int { return ByName(a.Name, b.Name) })
	return out, nil
}

// add puts a moment on the sheet of every position it has commands at.
func (s *SpotterSheet) add(plan *timeline.Plan, ps *timeline.PlanSong, m *moment) {
	at := map[timeline.ID]*moment{}
	var order []timeline.ID
	for _, c := range m.commands {
		id := timeline.ID("")
		if c.Unit.Position != nil {
			id = c.Unit.Position.ID
		}
		here := at[id]
		if here == nil {
			here = &moment{hit: m.hit, from: c.At, frame: c.Frame}
			at[id] = here
			order = append(order, id)
		}
		here.commands, here.open = append(here.commands, c), max(here.open, c.Open)
	}
	for _, id := range order {
		p := s.position(plan, id, at[id].commands[0].Unit.Position)
		p.Moments = append(p.Moments, at[id].spotted(plan, ps, s.shapes))
		for _, c := range at[id].commands {
			p.effect(plan, c)
		}
	}
}

// position finds the sheet of a position, or begins it.
func (s *SpotterSheet) position(plan *timeline.Plan, id timeline.ID, pos *timeline.StagePosition) *SpotterPosition {
	i := slices.IndexFunc(s.Positions, func(p SpotterPosition) bool { return p.ID == id })
	if i >= 0 {
		return &s.Positions[i]
	}
	p := SpotterPosition{Position: string(id), ID: id}
	if pos != nil {
		p.Name, p.X, p.Y, p.Z = plan.Called(pos), pos.X, pos.Y, pos.Z
	}
	s.Positions = append(s.Positions, p)
	return &s.Positions[len(s.Positions)-1]
}

func (p *SpotterPosition) effect(plan *timeline.Plan, c *timeline.Command) {
	name := plan.Called(c.Article)
	points := reach.Printed(c.Unit, c.Article)
	i := slices.IndexFunc(p.Effects, func(e SpotterEffect) bool { return e.Article == name && e.Points == points })
	if i < 0 {
		i = len(p.Effects)
		p.Effects = append(p.Effects, SpotterEffect{Article: name, Points: points, Height: c.Article.Height, Fallout: c.Article.Fallout, Clear: c.Article.Clear})
	}
	p.Effects[i].Effects = wording.AddOnce(p.Effects[i].Effects, c.Unit.Name)
}

func (m *moment) spotted(p *timeline.Plan, ps *timeline.PlanSong, shapes *rule.Shapes) SpotterMoment {
	s := SpotterMoment{SongNumber: ps.Number, Timecode: ps.Rate.Label(m.frame), Bar: m.bar(ps), What: m.what(ps), Open: wording.Seconds(m.open), Near: []string{}, Inside: []string{}, Outside: []string{}, Song: ps.Song.FullTitle()}
	parts := PartsOf(ps)
	s.Section = parts[PartAt(parts, m.hit)].Name
	known := true
	for _, c := range m.commands {
		s.Zone = max(s.Zone, c.Article.Clear, c.Article.Fallout)
		s.Height, known = max(s.Height, c.Article.Height), known && c.Article.Height > 0
		s.Units = wording.AddOnce(s.Units, c.Unit.Name)
	}
	if !known {
		s.Height = 0
	}
	if pos := m.commands[0].Unit.Position; pos != nil && p.Venue != nil {
		by := rule.NearBy.Plain(p.Show, ps.Song)
		from, to := m.from, m.hit+m.open
		for _, who := range near(p.Show.Told(), p.Venue, ps.Song.ID, from, to, s.Zone, by, func(m timeline.PlanMark) float64 {
			return max(0, math.Hypot(m.At.X-pos.X, m.At.Y-pos.Y)-m.Radius)
		}) {
			if s.Near = append(s.Near, who.said(s.Zone)); who.away < s.Zone {
				s.Inside = append(s.Inside, who.text())
			} else {
				s.Outside = append(s.Outside, who.text())
			}
		}
		var leaning []string
		for _, c := range m.commands {
			if reach.Printed(c.Unit, c.Article) != "upright" {
				zone := max(c.Article.Clear, c.Article.Fallout)
				along := near(p.Show.Told(), p.Venue, ps.Song.ID, from, to, zone, by, func(m timeline.PlanMark) float64 { return shapes.FromAxis(c.Unit, c.Article, m) })
				leaning = wording.AddOnce(leaning, c.Unit.Name+" "+reach.Aim(c.Unit, c.Article)+alongAxis(along, zone))
			}
		}
		s.Near, s.Outside = append(s.Near, leaning...), append(s.Outside, leaning...) // what it comes near to is not what its unit does
	}
	return s
}

// alongAxis says what an effect that leans comes near to.
func alongAxis(near []nearby, zone float64) string {
	if len(near) == 0 {
		return ": look along it; other distances here are from its place"
	}
	list := make([]string, len(near))
	for i, n := range near {
		list[i] = n.said(zone)
	}
	return ": look along it; from its axis " + strings.Join(list, ", ")
}

// nearby is a performers' mark and how far its edge is away.
type nearby struct {
	name string
	away float64 // metres
	told units.System
}

// text names it with its distance.
func (n nearby) text() string { return n.name + " " + n.told.Down("m", figure.RoundedDown(n.away), 1) }

// said says also whether it is inside a zone.
func (n nearby) said(zone float64) string {
	if n.away < zone {
		return n.text() + ", inside the zone"
	}
	return n.text()
}

// near gives the performers' marks that count at a time and whose edges lie near
// to something or inside its zone, the nearest first. What is unknown is not near.
func near(told units.System, v *timeline.Venue, song timeline.ID, from, to timeline.Time, zone, nearBy float64, awayFrom func(timeline.PlanMark) float64) []nearby {
	var marks []nearby
	for _, m := range v.Performers {
		if away := awayFrom(m); away <= max(zone, nearBy) && m.During(song, from, to) {
			marks = append(marks, nearby{m.Name, away, told})
		}
	}
	slices.SortStableFunc(marks, func(a, b nearby) int { return cmp.Compare(a.away, b.away) })
	return marks
}

// wording.WriteJSON writes the spotter sheets as one JSON object.
func (s *SpotterSheet) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, s) }
