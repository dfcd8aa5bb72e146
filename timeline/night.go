package timeline

import (
	"fmt"
	"strconv"

	"emberbeat/timeline/field"
)

// Selector chooses what a cut or swap of a night touches: the first given one
// of family, article, placed effect, lane, cue or song.
type Selector struct {
	What string // "family", "article", "placed", "lane", "cue", "song"
	ID   string
}

var selectorWords = []string{"family", "article", "placed", "lane", "cue", "song"}

func (r *itemReader) selector() (s Selector) {
	for _, w := range selectorWords {
		if v := r.value(w); v != "" && r.err == nil {
			if s.What != "" {
				r.err = fmt.Errorf("names both %s and %s; name one", s.What, w)
			}
			s = Selector{w, v}
		}
	}
	if s.What == "" && r.err == nil {
		r.err = fmt.Errorf("names nothing; write one of family= article= placed= lane= cue= song=")
	}
	return s
}

// Cut takes cues out of one night; the tour keeps them.
type Cut struct {
	Selector
	Reason string
}

// String writes the item form: `family=propane-flame reason="house rule"`.
func (c Cut) String() string {
	var w itemWriter
	w.pair(c.What, c.ID)
	w.pair("reason", c.Reason)
	return w.String()
}

// ParseCut reads the item form of a cut.
func ParseCut(s string) (Cut, error) {
	r := readItem(s)
	c := Cut{Selector: r.selector(), Reason: r.value("reason")}
	return c, r.done("family= article= placed= lane= cue= song= reason=")
}

// Swap puts another article in the place of those chosen, on the same hits.
type Swap struct {
	Selector
	To     ID // article
	Reason string
}

// String writes the item form: `family=propane-flame to=co2-jet`.
func (s Swap) String() string {
	var w itemWriter
	w.pair(s.What, s.ID)
	w.pair("to", string(s.To))
	w.pair("reason", s.Reason)
	return w.String()
}

// ParseSwap reads the item form of a swap.
func ParseSwap(text string) (Swap, error) {
	r := readItem(text)
	s := Swap{Selector: r.selector(), To: take(r, "to", parseID), Reason: r.value("reason")}
	if s.To == "" && r.err == nil {
		r.err = fmt.Errorf("names no article; write to=article-id")
	}
	return s, r.done("family= article= placed= lane= cue= song= to= reason=")
}

// RigChange takes a placed effect, bank or device out of one night's rig, or
// plugs a wire, or all of a placed effect, into another output for that night.
type RigChange struct {
	Kind   string // "placed", "bank", "device" or "wire"
	ID     ID
	Out    bool
	Driver ID  // bank or device it is plugged into; "" where something is taken out
	Output int // of that unit, from 1
	Why    string
}

// String writes the item form: `bank=b4 out why="dead at sound-check"`,
// `wire=w3 unit=b5 output=2`.
func (c RigChange) String() string {
	var w itemWriter
	w.pair(c.Kind, string(c.ID))
	w.flag("out", c.Out)
	w.pair("unit", string(c.Driver))
	if c.Output != 0 {
		w.pair("output", strconv.Itoa(c.Output))
	}
	w.pair("why", c.Why)
	return w.String()
}

const rigChangeWords = "placed= bank= device= out, or placed= wire= unit= output=, why="

// ParseRigChange reads the item form of a rig change.
func ParseRigChange(s string) (RigChange, error) {
	r := readItem(s)
	var c RigChange
	for _, kind := range []string{"placed", "bank", "device", "wire"} {
		if id := take(r, kind, parseID); id != "" {
			c.Kind, c.ID = kind, id
		}
	}
	c.Out, c.Driver, c.Why = r.flag("out"), take(r, "unit", parseID), r.value("why")
	c.Output = take(r, "output", parseOutput)
	if r.err == nil {
		r.err = c.shape()
	}
	return c, r.done(rigChangeWords)
}

// shape says what is missing for the change to mean anything.
func (c RigChange) shape() error {
	plugs := c.Driver != "" || c.Output != 0
	switch {
	case c.Kind == "" || !c.Out && !plugs:
		return fmt.Errorf("changes nothing; write placed=, bank= or device= and out, or placed= or wire= with unit= and output=")
	case c.Out && plugs:
		return fmt.Errorf("is out and plugged in; write one of both")
	case c.Out && c.Kind == "wire":
		return fmt.Errorf("takes a wire out; take its placed effect out instead")
	case plugs && (c.Driver == "" || c.Output == 0):
		return fmt.Errorf("is plugged in where? write unit= and output=")
	case plugs && c.Kind != "placed" && c.Kind != "wire":
		return fmt.Errorf("plugs in a %s; only placed= and wire= are plugged in", c.Kind)
	}
	return nil
}

func parseOutput(s string) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 9999 {
		return 0, fmt.Errorf("must be the number of an output, from 1")
	}
	return n, nil
}

// Shift moves one song of a night: By moves everything because playback is
// late or early, Start gives the song another timecode.
type Shift struct {
	Song  ID
	By    Time
	Start *Timecode
}

// String writes the item form: `song=ember by=0.1200 start=05:00:00:00`.
func (s Shift) String() string {
	var w itemWriter
	w.pair("song", string(s.Song))
	if s.By != 0 {
		w.pair("by", s.By.String())
	}
	if s.Start != nil {
		w.pair("start", s.Start.String())
	}
	return w.String()
}

// ParseShift reads the item form of a shift.
func ParseShift(text string) (Shift, error) {
	r := readItem(text)
	s := Shift{Song: take(r, "song", parseID)}
	s.By = take(r, "by", ParseTime).RoundTo(EntryStep)
	s.Start = take(r, "start", func(t string) (*Timecode, error) {
		tc, err := ParseTimecode(t)
		return &tc, err
	})
	if s.Song == "" && r.err == nil {
		r.err = fmt.Errorf("names no song; write song=song-id")
	}
	return s, r.done("song= by= start=")
}

// Acceptance says that somebody has looked at a finding and takes it for this
// night. It holds as long as the finding's values stay the same.
type Acceptance struct {
	Rule   string
	Record string // the finding's record, as Ref.String writes it
	Values string // digest of the finding's values
	By     string
	Reason string
}

// String writes the item form.
func (a Acceptance) String() string {
	var w itemWriter
	w.pair("rule", a.Rule)
	w.pair("record", a.Record)
	w.pair("values", a.Values)
	w.pair("by", a.By)
	w.pair("reason", a.Reason)
	return w.String()
}

// ParseAcceptance reads the item form of an acceptance; it needs a rule, a
// name and a reason.
func ParseAcceptance(s string) (Acceptance, error) {
	r := readItem(s)
	a := Acceptance{r.value("rule"), r.value("record"), r.value("values"), r.value("by"), r.value("reason")}
	if r.err == nil && (a.Rule == "" || a.By == "" || a.Reason == "") {
		r.err = fmt.Errorf("an acceptance needs rule=, by= and reason=")
	}
	return a, r.done("rule= record= values= by= reason=")
}

// holds returns an error where a supply, called by a name, cannot hold so much: more than all the
// units that are joined when full.
func (s *Supply) holds(name string, kg float64) error {
	most := s.Fill * float64(max(s.Units, 1))
	if s.Fill <= 0 || kg <= most {
		return nil
	}
	units := ""
	if s.Units > 1 {
		units = fmt.Sprintf(" (%d units of %s kg)", s.Units, strconv.FormatFloat(s.Fill, 'f', -1, 64))
	}
	return fmt.Errorf("supply %q cannot hold %s kg: full it holds %s kg%s; weigh without the empty cylinder", name,
		strconv.FormatFloat(kg, 'f', -1, 64), strconv.FormatFloat(most, 'f', -1, 64), units)
}

// Fill is what was weighed in a supply before the night.
type Fill struct {
	Supply ID
	Kg     float64
}

// String writes the item form: `supply=c1 kg=22.7`.
func (f Fill) String() string {
	var w itemWriter
	w.pair("supply", string(f.Supply))
	w.pair("kg", field.FormatNumber(f.Kg))
	return w.String()
}

// ParseFill reads the item form of a fill.
func ParseFill(s string) (Fill, error) {
	r := readItem(s)
	f := Fill{Supply: take(r, "supply", parseID)}
	f.Kg = take(r, "kg", parseMass)
	if f.Supply == "" && r.err == nil {
		r.err = fmt.Errorf("names no supply; write supply=supply-id")
	}
	return f, r.done("supply= kg=")
}

// Night is one date's show: a set in a venue, with everything that is
// different there. The tour itself stays as it is.
type Night struct {
	Base
	Name       string
	Slug       string // name of its file
	Date       string // yyyy-mm-dd
	Begins     string // time of day at which the first song starts, HH:MM; "" = not given
	Set        ID
	Venue      ID
	Revision   string
	Cuts       []Cut
	Swaps      []Swap
	Rig        []RigChange
	Shifts     []Shift
	Versions   []TonightsVersion
	Conditions []string   // entered on the spot, in words
	Distances  []Distance // that the officer asks for
	Accepted   []Acceptance
	Fills      []Fill
	Refills    []Refill    // besides the set's, or in their place
	Outcomes   []Outcome   // after the show: what became of each load
	Weights    []Fill      // after the show: what was left in each supply
	Printed    []PrintMark // sheets that were printed, as they were then
	Times      []string    // doors, show, rehearsal, in words
	Crew       []ID        // persons who work the night
	Sponsor    string      // that asks for this night; "" = the show's
	Permits    []Permit
	Notified   string // yyyy-mm-dd on which the authority was told; "" = not yet
	Note       string
}

func parseDate(s string) (string, error) {
	if s == "" {
		return s, nil
	}
	year, okY := parseCount(s[:min(4, len(s))], 9999)
	if len(s) == len("2031-05-09") && s[4] == '-' && s[7] == '-' && okY {
		month, okM := parseCount(s[5:7], 12)
		day, okD := parseCount(s[8:], 31)
		if okM && okD && month >= 1 && day >= 1 && day <= daysOf(year, month) {
			return s, nil
		}
	}
	return "", fmt.Errorf("must be a day of the calendar such as 2031-05-09")
}

// daysOf is the length of a month of the Gregorian calendar, month from 1.
func daysOf(year, month int64) int64 {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && year%100 != 0 || year%400 == 0 {
			return 29
		}
		return 28
	}
	return 31
}

func init() {
	type N = Night
	register("night", "nights", "one date's show", nightPart,
		func(s *Show, _ ID) []*N { return s.Nights },
		func(d *Draft, _ ID) *[]*N { return &d.show.Nights },
		field.Text("name", "what the crew calls it", func(n *N) *string { return &n.Name }),
		field.Parsed("slug", "name of its file: a-z, 0-9 and -", func(n *N) *string { return &n.Slug }, func(t string) string { return t }, parseSlug),
		field.Parsed("date", "yyyy-mm-dd", func(n *N) *string { return &n.Date }, func(t string) string { return t }, parseDate),
		field.Parsed("begins", "time of day at which the first song starts, HH:MM; empty = not given", func(n *N) *string { return &n.Begins }, func(t string) string { return t }, parseClock),
		refField("set", "the running order", func(n *N) *ID { return &n.Set }, "set"),
		refField("venue", "the place", func(n *N) *ID { return &n.Venue }, "venue"),
		field.Text("revision", "the revision printed on every sheet", func(n *N) *string { return &n.Revision }),
		field.List("cuts", "cues taken out: family= article= placed= lane= cue= song= reason=", func(n *N) *[]Cut { return &n.Cuts }, Cut.String, ParseCut),
		field.List("swaps", "another article on the same hits: family= … to=article-id", func(n *N) *[]Swap { return &n.Swaps }, Swap.String, ParseSwap),
		field.List("rig-changes", "out of the rig, or plugged in elsewhere: "+rigChangeWords, func(n *N) *[]RigChange { return &n.Rig }, RigChange.String, ParseRigChange),
		field.List("shifts", "a song moved: song= by=seconds start=timecode", func(n *N) *[]Shift { return &n.Shifts }, Shift.String, ParseShift),
		withRef(field.List("versions", "another version of a song is played: "+tonightsVersionWords, func(n *N) *[]TonightsVersion { return &n.Versions }, TonightsVersion.String, ParseTonightsVersion), "song"),
		field.TextList("conditions", "the authority's conditions, entered on the spot", func(n *N) *[]string { return &n.Conditions }),
		field.List("distances", "distances the authority asks for: "+distanceWords, func(n *N) *[]Distance { return &n.Distances }, Distance.String, ParseDistance),
		field.List("accepted", "accepted findings: rule= record= values= by= reason=", func(n *N) *[]Acceptance { return &n.Accepted }, Acceptance.String, ParseAcceptance),
		field.List("fills", "weighed supplies: supply= kg=", func(n *N) *[]Fill { return &n.Fills }, Fill.String, ParseFill),
		withRef(field.List("refills", "planned in the gaps, besides the set's: "+refillWords, func(n *N) *[]Refill { return &n.Refills }, Refill.String, ParseRefill), "supply"),
		field.List("outcomes", "after the show, what became of each load: "+outcomeWords, func(n *N) *[]Outcome { return &n.Outcomes }, Outcome.String, ParseOutcome),
		field.List("weights", "after the show, what was left in each supply: supply= kg=", func(n *N) *[]Fill { return &n.Weights }, Fill.String, ParseFill),
		field.List("printed", "sheets that were printed, as they were then: "+printMarkWords, func(n *N) *[]PrintMark { return &n.Printed }, PrintMark.String, ParsePrintMark),
		field.TextList("times", "doors, show, rehearsal, in words", func(n *N) *[]string { return &n.Times }),
		refListField("crew", "persons who work the night", func(n *N) *[]ID { return &n.Crew }, "person"),
		field.Text("sponsor", "that asks for this night; empty = the show's", func(n *N) *string { return &n.Sponsor }),
		field.List("permits", "of this night: "+permitWords, func(n *N) *[]Permit { return &n.Permits }, Permit.String, ParsePermit),
		field.Parsed("notified", "yyyy-mm-dd on which the authority was told; empty = not yet", func(n *N) *string { return &n.Notified }, func(t string) string { return t }, parseDate),
		field.Text("note", "", func(n *N) *string { return &n.Note }),
	)
}

// Setting changes how one rule works in this show. Its id is the rule's name.
type Setting struct {
	Base
	Off      bool
	Severity string   // "", error, warning, note
	Values   []string // "name=value" for the rule's own settings
	Scope    []string // "song=…", "family=…", "placed=…": where it applies; none = everywhere
	Reason   string
	By       string // who says so
}

func init() {
	register("setting", "settings", "how one rule works in this show; its id is the rule's name", rulePart,
		func(s *Show, _ ID) []*Setting { return s.Settings },
		func(d *Draft, _ ID) *[]*Setting { return &d.show.Settings },
		field.Flag("off", "the rule is not checked", func(s *Setting) *bool { return &s.Off }),
		field.Parsed("severity", "error, warning or note; empty = the rule's own", func(s *Setting) *string { return &s.Severity }, func(t string) string { return t },
			func(t string) (string, error) {
				switch t {
				case "", "error", "warning", "note":
					return t, nil
				}
				return "", fmt.Errorf("must be error, warning or note")
			}),
		field.TextList("values", "name=value for the rule's own settings", func(s *Setting) *[]string { return &s.Values }),
		field.TextList("scope", "song=… family=… placed=…: where it applies; none = everywhere", func(s *Setting) *[]string { return &s.Scope }),
		field.Text("reason", "why", func(s *Setting) *string { return &s.Reason }),
		field.Text("by", "who says so", func(s *Setting) *string { return &s.By }),
	)
}
