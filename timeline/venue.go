package timeline

import (
	"fmt"
	"strings"

	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// Point is a place on the stage plan in metres (see StagePosition).
type Point struct{ X, Y float64 }

func (p Point) String() string { return field.FormatNumber(p.X) + "," + field.FormatNumber(p.Y) }

func parsePoint(s string) (Point, error) {
	x, y, ok := strings.Cut(s, ",")
	px, err1 := units.Metres.Read("m", x)
	py, err2 := units.Metres.Read("m", y)
	if !ok || err1 != nil || err2 != nil || !(px > -1e5 && px < 1e5 && py > -1e5 && py < 1e5) {
		return Point{}, fmt.Errorf("must be x,y in metres such as -6.5,2")
	}
	return Point{px + 0, py + 0}, nil
}

// ParsePoint reads `x,y` in metres.
func ParsePoint(text string) (Point, error) { return parsePoint(text) }

// PlanLine is a named line on the stage plan: an audience line, a barrier.
type PlanLine struct {
	Name     string
	From, To Point
}

// String writes the item form: `"front barrier" from=-12,-3 to=12,-3`.
func (l PlanLine) String() string {
	w := itemWriter{}
	w.head(l.Name)
	w.pair("from", l.From.String())
	w.pair("to", l.To.String())
	return w.String()
}

// ParsePlanLine reads the item form of a line on the stage plan.
func ParsePlanLine(s string) (PlanLine, error) {
	r := readItem(s)
	l := PlanLine{Name: r.head("a name")}
	l.From, l.To = take(r, "from", parsePoint), take(r, "to", parsePoint)
	return l, r.done("name from=x,y to=x,y")
}

// PlanMark is a named circle on the stage plan: a performer's mark, a clear
// zone. Where a song is named it counts in that song alone, between two times
// from the start of the song's audio.
type PlanMark struct {
	Name     string
	At       Point
	Radius   float64
	Song     ID // "" = always
	From, To Time
}

// During reports whether the mark counts in a song at any time between two; a
// mark without an end lasts to the end of the song.
func (m PlanMark) During(song ID, from, to Time) bool {
	return m.Song == "" || m.Song == song && to >= m.From && (m.To == 0 || from <= m.To)
}

// String writes the item form: `singer at=0,2 radius=1 song=ember from=62.0000`.
func (m PlanMark) String() string {
	w := itemWriter{}
	w.head(m.Name)
	w.pair("at", m.At.String())
	if m.Radius != 0 {
		w.pair("radius", field.FormatNumber(m.Radius))
	}
	w.pair("song", string(m.Song))
	if m.From != 0 {
		w.pair("from", m.From.String())
	}
	if m.To != 0 {
		w.pair("to", m.To.String())
	}
	return w.String()
}

// ParsePlanMark reads the item form of a circle on the stage plan.
func ParsePlanMark(s string) (PlanMark, error) {
	r := readItem(s)
	m := PlanMark{Name: r.head("a name")}
	m.At = take(r, "at", parsePoint)
	m.Radius = take(r, "radius", func(t string) (float64, error) {
		x, err := units.Metres.Read("m", t)
		if err != nil || !(x >= 0 && x < 1e4) {
			return 0, fmt.Errorf("must be a radius in metres")
		}
		return x, nil
	})
	m.Song = take(r, "song", parseID)
	m.From, m.To = take(r, "from", parseSpan), take(r, "to", parseSpan)
	switch {
	case r.err != nil:
	case m.Song == "" && (m.From != 0 || m.To != 0):
		r.err = fmt.Errorf("has times and no song; write song=song-id")
	case m.To != 0 && m.To < m.From:
		r.err = fmt.Errorf("ends at %s before it begins at %s", m.To, m.From)
	}
	return m, r.done("name at=x,y radius= song= from=seconds to=seconds")
}

// Venue is a place the tour plays in. Zero numbers mean "not given": nothing
// is assumed about a venue.
type Venue struct {
	Base
	Name       string
	Slug       string // name of its file
	Place      string
	Trim       float64  // m, lowest point of roof and rig above the stage floor
	Tolerance  float64  // added to an effect's height, part of it (our judgement: 0.2)
	Margin     float64  // m kept free below the trim height (our judgement: 1)
	Banned     []string // families or article ids that must not be used
	Audience   []PlanLine
	Performers []PlanMark
	Clear      []PlanMark    // zones that must stay clear
	Cloths     []PlanWall    // cloths, borders, screens and set pieces that could burn
	Quiet      []string      // windows without effects, in words: "22:30 to 23:00 no reports"
	Windows    []QuietWindow // the same where rules can read them
	Volume     float64       // m³ of the room
	Area       float64       // m² of the room's floor
	AirChanges float64       // per hour
	Wind       float64       // m/s, the venue's limit
	Conditions []string      // of the permit, in words
	Distances  []Distance    // that the permit asks for
	RuleSet    string
	Picture    PlanPicture // under the stage plan; no rule reads it

	// What a permit pack tells of the place.
	Address      string
	Storage      string // where what holds explosive is kept
	Assembly     string // where it is put together
	Ventilation  string
	Detectors    string     // which are isolated, by whom, how long
	Exits        []PlanMark // on the stage plan
	Extinguisher []PlanMark
	Control      []PlanMark // where the operator stands
	SpotterMarks []PlanMark
	SpotterEach  bool    // the permit asks for a spotter for every position
	NEC          float64 // g, most net explosive content on site at one time; 0 = no limit given
	FireWatch    float64 // minutes after the last effect; 0 = not given
	Permits      []Permit
	Notice       Notice // how long before a night the authority must be told
	NoticeTo     string // whom
	Emergency    []string
	Note         string
}

func (v *Venue) defaults() { v.Tolerance, v.Margin = 0.2, 1 }

func init() {
	register("venue", "venues", "a place the tour plays in", venuePart,
		func(s *Show, _ ID) []*Venue { return s.Venues },
		func(d *Draft, _ ID) *[]*Venue { return &d.show.Venues },
		field.Text("name", "the venue's name", func(v *Venue) *string { return &v.Name }),
		field.Parsed("slug", "name of its file: a-z, 0-9 and -", func(v *Venue) *string { return &v.Slug }, func(t string) string { return t }, parseSlug),
		field.Text("place", "town, country", func(v *Venue) *string { return &v.Place }),
		field.Number("trim", "m", "lowest point of roof and rig; 0 = not given", 0, 1000, func(v *Venue) *float64 { return &v.Trim }),
		field.Number("tolerance", "", "added to an effect's height, as part of it (our judgement: 0.2)", 0, 5, func(v *Venue) *float64 { return &v.Tolerance }),
		field.Number("margin", "m", "kept free below the trim height (our judgement: 1)", 0, 100, func(v *Venue) *float64 { return &v.Margin }),
		field.TextList("banned", "families or article ids that must not be used", func(v *Venue) *[]string { return &v.Banned }),
		field.List("audience", "audience lines: name from=x,y to=x,y", func(v *Venue) *[]PlanLine { return &v.Audience }, PlanLine.String, ParsePlanLine),
		field.List("performers", "performers' marks: name at=x,y radius= song= from= to=", func(v *Venue) *[]PlanMark { return &v.Performers }, PlanMark.String, ParsePlanMark),
		field.List("clear-zones", "zones that stay clear: name at=x,y radius= song= from= to=", func(v *Venue) *[]PlanMark { return &v.Clear }, PlanMark.String, ParsePlanMark),
		field.List("cloths", "cloths, borders, screens and set: "+wallWords, func(v *Venue) *[]PlanWall { return &v.Cloths }, PlanWall.String, ParsePlanWall),
		field.TextList("quiet", "windows without effects, in words", func(v *Venue) *[]string { return &v.Quiet }),
		field.List("quiet-windows", "windows without effects, or without some families: "+quietWords, func(v *Venue) *[]QuietWindow { return &v.Windows }, QuietWindow.String, ParseQuietWindow),
		field.Number("volume", "m³", "of the room; 0 = not given", 0, 1e8, func(v *Venue) *float64 { return &v.Volume }),
		field.Number("area", "m²", "of the room's floor; 0 = not given", 0, 1e7, func(v *Venue) *float64 { return &v.Area }),
		field.Number("air-changes", "1/h", "air changes per hour; 0 = not given", 0, 1000, func(v *Venue) *float64 { return &v.AirChanges }),
		field.Number("wind", "m/s", "the venue's wind limit; 0 = not given", 0, 100, func(v *Venue) *float64 { return &v.Wind }),
		field.TextList("conditions", "conditions of the permit, in words", func(v *Venue) *[]string { return &v.Conditions }),
		field.List("distances", "distances the permit asks for: "+distanceWords, func(v *Venue) *[]Distance { return &v.Distances }, Distance.String, ParseDistance),
		field.Text("rule-set", "the rule set that applies; empty = not given", func(v *Venue) *string { return &v.RuleSet }),
		field.Parsed("picture", "a picture under the stage plan, never measured: file size= at=x,y metre= turn=", func(v *Venue) *PlanPicture { return &v.Picture }, PlanPicture.String, ParsePlanPicture),
		field.Text("address", "exactly where it is", func(v *Venue) *string { return &v.Address }),
		field.Text("storage", "where what holds explosive is kept", func(v *Venue) *string { return &v.Storage }),
		field.Text("assembly", "where it is put together", func(v *Venue) *string { return &v.Assembly }),
		field.Text("ventilation", "how the room is aired", func(v *Venue) *string { return &v.Ventilation }),
		field.Text("detectors", "which are isolated, by whom, how long", func(v *Venue) *string { return &v.Detectors }),
		planMarks("exits", "ways out", func(v *Venue) *[]PlanMark { return &v.Exits }),
		planMarks("extinguishers", "extinguishers", func(v *Venue) *[]PlanMark { return &v.Extinguisher }),
		planMarks("control", "where the operator stands", func(v *Venue) *[]PlanMark { return &v.Control }),
		planMarks("spotters", "where spotters stand", func(v *Venue) *[]PlanMark { return &v.SpotterMarks }),
		field.Flag("spotter-each", "the permit asks for a spotter for every position", func(v *Venue) *bool { return &v.SpotterEach }),
		field.Number("nec-limit", "g", "most net explosive content on site at one time; 0 = not given", 0, 1e9, func(v *Venue) *float64 { return &v.NEC }),
		field.Number("fire-watch", "min", "kept after the last effect; 0 = not given", 0, 1440, func(v *Venue) *float64 { return &v.FireWatch }),
		field.List("permits", "of the place: "+permitWords, func(v *Venue) *[]Permit { return &v.Permits }, Permit.String, ParsePermit),
		field.Whole("notice", "days before a night by which the authority must be told; 0 = not given", 0, 1000, func(v *Venue) *int { return &v.Notice.Days }),
		field.Choice("notice-kind", "how they are counted; business = clear business days", func(v *Venue) *NoticeKind { return &v.Notice.Kind }, noticeKinds),
		field.Text("notice-to", "whom", func(v *Venue) *string { return &v.NoticeTo }),
		field.TextList("emergency", "what to do here in an emergency, besides the show's steps", func(v *Venue) *[]string { return &v.Emergency }),
		field.Text("note", "", func(v *Venue) *string { return &v.Note }),
	)
}

func planMarks(name, help string, at func(*Venue) *[]PlanMark) Field {
	return field.List(name, help+": name at=x,y", at, PlanMark.String, ParsePlanMark)
}
