package timeline

import (
	"slices"

	"emberbeat/timeline/field"
	"emberbeat/timeline/units"
)

// Show is a whole show as one immutable value. All its slices are sorted by
// id; every kind of record is reached through Kinds as well.
type Show struct {
	Head     *Head
	Stock    *Stock
	Rig      *Rig
	Songs    []*Song
	Sets     []*Set
	HandCues []*HandCue
	Persons  []*Person
	Venues   []*Venue
	Nights   []*Night
	Settings []*Setting
	RuleSets []*RuleSet

	Played   []Played // what is kept of nights that were played, in the order in which that was entered
	lent     []lent   // what versions play of other songs; see Programmed
	playedAs ID       // the night of which this show is what was kept; see AsPlayed

	told *units.System // the reader's choice; nil = the show's own
}

// Head is the record of the show itself.
type Head struct {
	Base
	Title   string
	Artist  string
	Rate    Rate
	PreRoll Time         // timecode runs so long before a song's audio starts
	Lock    Time         // playback needs so long after the start of timecode to follow it
	Set     ID           // running order used when no night is chosen; none = the first by name
	Units   units.System // in which its sheets are printed; files stay SI

	// What a permit pack tells of the production; see Night and Venue as well.
	Company    string   // that answers for the effects
	Sponsor    string   // that asks for the show; a night's takes its place
	Insurance  []Permit // of the company
	FlameProof []string // proofs that scenery, drapes and costumes resist flame
	Emergency  []string // procedures, step by step
	Misfire    []string
	HoldSteps  []string
	Printed    []PrintMark // sheets of the tour that were printed, as they were then
	DeskList   []DeskWord  // how the list that the firing desk exports is read
	Note       string
}

func (h *Head) defaults() { h.Rate, h.Lock = Rate25, Second }

// Stock is what the crew owns or hires, reusable between tours.
type Stock struct {
	Articles    []*Article
	DeviceTypes []*DeviceType
	BankTypes   []*BankType
}

// Rig is what stands on stage and how it is driven.
type Rig struct {
	Positions []*StagePosition
	Placed    []*Placed
	Banks     []*Bank
	Devices   []*Device
	Wires     []*Wire
	Groups    []*Group
	Circuits  []*Circuit
	Supplies  []*Supply
}

// Told gives the units in which the show is told: what it was told in last, else its
// own. Whatever words a figure of the show asks here.
func (s *Show) Told() units.System {
	if s.told != nil {
		return *s.told
	}
	return s.Head.Units
}

// ToldIn gives the same show told in other units, for a screen or a terminal: nothing
// of it changes but how figures are worded.
func (s *Show) ToldIn(u units.System) *Show {
	other := *s
	other.told = &u
	return &other
}

// ToldItsOwn gives the show told in its own units, for paper and for files that others
// read, whoever prints.
func (s *Show) ToldItsOwn() *Show {
	if s.told == nil {
		return s
	}
	own := *s
	own.told = nil
	return &own
}

// NewShow gives an empty show. The id names it in caches and must be random.
func NewShow(id ID, title string, rate Rate) *Show {
	h := &Head{Base: Base{ID: id}}
	h.defaults()
	h.Title, h.Rate = title, rate
	return &Show{Head: h, Stock: &Stock{}, Rig: &Rig{}}
}

// Song finds a song by id, or nil.
func (s *Show) Song(id ID) *Song { return findRecord(s.Songs, id) }

// Set finds a set by id, or nil.
func (s *Show) Set(id ID) *Set { return findRecord(s.Sets, id) }

// Venue finds a venue by id, or nil.
func (s *Show) Venue(id ID) *Venue { return findRecord(s.Venues, id) }

// Night finds a night by id, or nil.
func (s *Show) Night(id ID) *Night { return findRecord(s.Nights, id) }

// Setting finds the setting of a rule by the rule's name, or nil.
func (s *Show) Setting(rule string) *Setting { return findRecord(s.Settings, ID(rule)) }

// Article finds an article by id, or nil.
func (k *Stock) Article(id ID) *Article { return findRecord(k.Articles, id) }

// DeviceType finds a device type by id, or nil.
func (k *Stock) DeviceType(id ID) *DeviceType { return findRecord(k.DeviceTypes, id) }

// BankType finds a bank type by id, or nil.
func (k *Stock) BankType(id ID) *BankType { return findRecord(k.BankTypes, id) }

// Position finds a stage position by id, or nil.
func (g *Rig) Position(id ID) *StagePosition { return findRecord(g.Positions, id) }

// PlacedEffect finds a placed effect by id, or nil.
func (g *Rig) PlacedEffect(id ID) *Placed { return findRecord(g.Placed, id) }

// Bank finds a bank by id, or nil.
func (g *Rig) Bank(id ID) *Bank { return findRecord(g.Banks, id) }

// Device finds a device by id, or nil.
func (g *Rig) Device(id ID) *Device { return findRecord(g.Devices, id) }

// Group finds a group by id, or nil.
func (g *Rig) Group(id ID) *Group { return findRecord(g.Groups, id) }

// Circuit finds a circuit by id, or nil.
func (g *Rig) Circuit(id ID) *Circuit { return findRecord(g.Circuits, id) }

// Supply finds a supply by id, or nil.
func (g *Rig) Supply(id ID) *Supply { return findRecord(g.Supplies, id) }

// SongsByStart gives the songs in the order of their timecode.
func (s *Show) SongsByStart() []*Song {
	songs := slices.Clone(s.Songs)
	slices.SortStableFunc(songs, func(a, b *Song) int { return a.Start.compare(b.Start) })
	return songs
}

func (a Timecode) compare(b Timecode) int {
	for _, d := range [...]int{int(a.H) - int(b.H), int(a.M) - int(b.M), int(a.S) - int(b.S), int(a.F) - int(b.F)} {
		if d != 0 {
			return d
		}
	}
	return 0
}

// PreRollOf gives how long timecode runs before the song's audio.
func (s *Show) PreRollOf(song *SongHead) Time {
	if song.PreRoll != 0 {
		return song.PreRoll
	}
	return s.Head.PreRoll
}

// MomentAt turns a position, as typed by a user, into a moment of a song: bars
// and times as they are, a timecode through the song's start.
func (s *Show) MomentAt(song *SongHead, p Position) (Moment, error) {
	if p.Kind != PositionTimecode {
		if p.Kind == PositionBar {
			return AtBar(p.Bar), nil
		}
		return AtTime(p.Time), nil
	}
	at, err := s.Head.Rate.Frame(p.TC)
	if err != nil {
		return Moment{}, err
	}
	start, err := s.Head.Rate.Frame(song.Start)
	if err != nil {
		return Moment{}, err
	}
	return AtTime(s.Head.Rate.At(at - start)), nil
}

func init() {
	registerHead(
		field.Text("title", "the tour or production", func(h *Head) *string { return &h.Title }),
		field.Text("artist", "who plays", func(h *Head) *string { return &h.Artist }),
		rateField("rate", "timecode rate of the whole show", func(h *Head) *Rate { return &h.Rate }),
		spanField("pre-roll", "timecode runs so long before a song's audio", func(h *Head) *Time { return &h.PreRoll }),
		spanField("lock", "playback needs so long to follow timecode", func(h *Head) *Time { return &h.Lock }),
		refField("main-set", "running order used when no night is chosen", func(h *Head) *ID { return &h.Set }, "set"),
		unitsField("units", "metres or feet; in which its sheets are printed, feet on Letter paper; files stay in metres", func(h *Head) *units.System { return &h.Units }),
		field.Text("company", "that answers for the effects", func(h *Head) *string { return &h.Company }),
		field.Text("sponsor", "that asks for the show; a night's takes its place", func(h *Head) *string { return &h.Sponsor }),
		field.List("insurance", "of the company: "+permitWords, func(h *Head) *[]Permit { return &h.Insurance }, Permit.String, ParsePermit),
		field.TextList("flame-proof", "proofs that scenery, drapes and costumes resist flame", func(h *Head) *[]string { return &h.FlameProof }),
		field.TextList("emergency", "what to do in an emergency, step by step", func(h *Head) *[]string { return &h.Emergency }),
		field.TextList("misfire", "what to do with a misfire, step by step", func(h *Head) *[]string { return &h.Misfire }),
		field.TextList("hold", "what to do on a hold, step by step", func(h *Head) *[]string { return &h.HoldSteps }),
		field.List("printed", "sheets of the tour that were printed, as they were then: "+printMarkWords, func(h *Head) *[]PrintMark { return &h.Printed }, PrintMark.String, ParsePrintMark),
		field.List("desk-list", "how the list that the firing desk exports is read: "+deskWords, func(h *Head) *[]DeskWord { return &h.DeskList }, DeskWord.String, ParseDeskWord),
		field.Text("note", "", func(h *Head) *string { return &h.Note }),
	)
}

func unitsField[T any](name, help string, at func(*T) *units.System) Field {
	f := field.Parsed(name, help, at, units.System.String, units.ParseSystem)
	for _, u := range units.Systems() {
		f.Choices = append(f.Choices, u.String())
	}
	return f
}

func rateField[T any](name, help string, at func(*T) *Rate) Field {
	f := field.Parsed(name, help, at, Rate.String, ParseRate)
	for _, r := range Rates() {
		f.Choices = append(f.Choices, r.String())
	}
	return f
}
