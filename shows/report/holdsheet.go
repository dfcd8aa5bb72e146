package report

import (
	"fmt"
	"io"
	"strings"

	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// HoldSheet is what the crew does when the show is held: what stands open where
// timecode stops, the safe state of everything, who may release, and where to
// go on.
type HoldSheet struct {
	Head
	Songs    []HoldSong   `json:"songs"`
	Safe     []SafeState  `json:"safe_states"`
	Holds    []HoldReason `json:"holds"`
	Aborts   []string     `json:"aborts"`
	Cautions []string     `json:"notes"`
}

// HoldSong is one song, section by section.
type HoldSong struct {
	Number   int           `json:"number"`
	Song     string        `json:"song"` // id
	Title    string        `json:"title"`
	Start    string        `json:"start"`
	End      string        `json:"end"`
	Sections []HoldSection `json:"sections"`
}

// HoldSection is what a hold in a section of a song means.
type HoldSection struct {
	Timecode string     `json:"timecode"`
	Bar      string     `json:"bar"`
	Name     string     `json:"name"`
	Open     []HoldOpen `json:"left_open"` // if timecode stops in it
	Arms     []string   `json:"arms"`      // arms, conditions and warm-ups that are on in it
	ArmNames []string   `json:"-"`         // those without their times
	ReEntry  string     `json:"re_entry"`  // "" = with the next song
}

// HoldOpen is an output that timecode would have closed: its effect, how often
// it opens in the section, and the longest open time.
type HoldOpen struct {
	Effect  string          `json:"effect"`
	Outputs string          `json:"outputs"`
	Times   int             `json:"times"`
	Open    wording.Seconds `json:"open"`
	Last    string          `json:"last_close"` // timecode at which the last one closes
}

// HoldReason is why the show is held. Who may release it is written by hand.
type HoldReason struct {
	Reason string `json:"reason"`
	By     string `json:"called_by"`
}

// Holds and aborts (common practice, no source). Whoever sees it calls it.
var (
	HoldReasons = []HoldReason{
		{"somebody is in a zone", "spotter"}, {"a spotter has lost sight of the zone", "spotter"}, {"a performer is off the mark", "spotter"},
		{"the crowd is over the barrier", "spotter"}, {"a misfire lies in a zone", "spotter or operator"}, {"wind is over the limit", "who reads the wind"},
		{"detectors are not isolated", "house"}, {"ventilation is off", "house"}, {"a CO2 alarm sounds, or gas is smelt", "anybody"},
		{"talk-back is lost", "anybody"}, {"timecode is lost or has jumped", "operator or playback"}, {"lightning", "stage manager"},
	}
	abortReasons = []string{"fire", "injury", "evacuation", "the structure gives way", "the officer says so"}
	holdRules    = []string{
		"Hold: everything to its safe state, what stands open is closed by hand, arms go down, keys out. Whoever sees the reason says hold; only the person named for it releases it.",
		"A cue missed in a hold is never fired late. Go on at the re-entry point, with arms set again by hand, once every spotter has said clear.",
	}
)

// NewHoldSheet gives the hold sheet of the songs a filter shows. A choice of
// bars has no meaning here and is not looked at.
func NewHoldSheet(p *timeline.Plan, f Filter) (*HoldSheet, error) {
	if err := StartsRight(p, f); err != nil {
		return nil, err
	}
	out := &HoldSheet{Head: HeadOf(p).Showing(p, Filter{Song: f.Song}), Songs: []HoldSong{}, Holds: HoldReasons, Aborts: abortReasons, Cautions: holdRules, Safe: safeStates(p)}
	label := NewLabeller(p.Show)
	for i := range p.Songs {
		if ps := &p.Songs[i]; f.Shows(ps.Song.ID) {
			out.Songs = append(out.Songs, holdSong(ps, label))
		}
	}
	return out, nil
}

func holdSong(ps *timeline.PlanSong, label Labeller) HoldSong {
	s := HoldSong{Number: ps.Number, Song: string(ps.Song.ID), Title: ps.Song.FullTitle(), Start: ps.Label(0), End: ps.Rate.Label(ps.Last())}
	rows, left := runningRows(ps), ps.LeftOpen(0)
	for i, p := range PartsOf(ps) {
		sec := HoldSection{Timecode: rows[i].Timecode, Bar: rows[i].Bar, Name: p.Name, ReEntry: rows[i].ReEntry}
		standing := standingIn(left, p.Section, i == 0)
		sec.Open, sec.Arms, sec.ArmNames = openIn(ps, label, standing), armsIn(ps, standing), armNamesIn(ps, standing)
		s.Sections = append(s.Sections, sec)
	}
	return s
}

// standingIn lists what is left open in a section, and for the first one what
// is before the sections as well, each thing once.
func standingIn(left []timeline.PartOpen, section *timeline.Section, first bool) []timeline.Standing {
	var list []timeline.Standing
	seen := map[timeline.Standing]bool{}
	for _, p := range left {
		if p.Section != section && !(first && p.Section == nil) {
			continue
		}
		for _, x := range p.Open {
			if !seen[x] {
				seen[x] = true
				list = append(list, x)
			}
		}
	}
	return list
}

// openIn lists the outputs among standing things, by unit.
func openIn(ps *timeline.PlanSong, label Labeller, standing []timeline.Standing) []HoldOpen {
	list := []HoldOpen{}
	place := map[*timeline.Unit]int{}
	for _, x := range standing {
		c := x.Command
		if c == nil {
			continue
		}
		k, known := place[c.Unit]
		if !known {
			k = len(list)
			place[c.Unit] = k
			list = append(list, HoldOpen{Effect: c.Unit.Name, Outputs: ShortLabels(label.Hit(c))})
		}
		o := &list[k]
		o.Times, o.Open, o.Last = o.Times+1, max(o.Open, wording.Seconds(c.Open)), ps.Rate.Label(c.Close)
	}
	return list
}

// armsIn lists the windows among standing things, with when they are on.
func armsIn(ps *timeline.PlanSong, standing []timeline.Standing) []string {
	var arms wording.Alike
	for _, x := range standing {
		w := x.Window
		if w == nil {
			continue
		}
		until := ", never closed"
		if w.Closes() {
			until = " to " + ps.Rate.Label(w.DownFrame)
		}
		arms.Add(windowName(ps, w), " "+ps.Rate.Label(w.UpFrame)+until)
	}
	return arms.Texts()
}

// armNamesIn names the windows among standing things, each once.
func armNamesIn(ps *timeline.PlanSong, standing []timeline.Standing) []string {
	var names []string
	for _, x := range standing {
		if x.Window != nil {
			names = wording.AddOnce(names, windowName(ps, x.Window))
		}
	}
	if len(names) == 0 {
		return nil
	}
	return strings.Split(wording.JoinNames(names), ", ")
}

// OpenTexts says what stands open, units that are alike as one.
func (s *HoldSection) OpenTexts() []string {
	var same wording.Alike
	for _, o := range s.Open {
		times := ""
		if o.Times > 1 {
			times = fmt.Sprintf(", %d times", o.Times)
		}
		same.Add(o.Effect, fmt.Sprintf(" · %s s%s", wording.Short(o.Open), times))
	}
	return same.Texts()
}

// SafeState is what a bank or device is set to in a hold.
type SafeState struct {
	Unit     string   `json:"unit"`
	Position string   `json:"position"`
	Effects  string   `json:"effects"`
	States   []string `json:"states"`
}

// safeStates lists the banks and devices that drive something in a plan.
func safeStates(p *timeline.Plan) []SafeState {
	list := []SafeState{}
	label := NewLabeller(p.Show)
	for _, b := range SortedBanks(p.Show) {
		s := SafeState{Unit: p.Called(b), Position: PositionNamed(p.Show, b.Position), Effects: effectsOn(p, b.ID), States: []string{"every relay open"}}
		if t := p.Show.Stock.BankType(b.Type); t == nil || t.Kind == timeline.IgniterBank {
			s.States = []string{"arm off, key out, no output triggered"}
		}
		list = append(list, s)
	}
	for _, v := range SortedDevices(p.Show) {
		s := SafeState{Unit: p.Called(v), Position: PositionNamed(p.Show, v.Position), Effects: effectsOn(p, v.ID), States: []string{}}
		if t := p.Show.Stock.DeviceTypeOf(v); t != nil {
			s.States = slotStates(v, t, label)
		}
		list = append(list, s)
	}
	return withEffects(list)
}

// slotStates gives the off values of a device's slots. What must run for others
// to be safe, such as a fan, is left to the maker.
func slotStates(v *timeline.Device, t *timeline.DeviceType, label Labeller) []string {
	list := []string{}
	for _, s := range t.Slots {
		switch s.Role {
		case timeline.EffectSlot, timeline.LevelSlot, timeline.ArmSlot:
			list = append(list, fmt.Sprintf("%s %s at %d", s.Role, label.slot(v, s), s.Off))
		case timeline.ConditionSlot, timeline.WarmUpSlot:
			list = append(list, fmt.Sprintf("%s %s as the maker says", s.Role, label.slot(v, s)))
		}
	}
	return list
}

func effectsOn(p *timeline.Plan, unit timeline.ID) string {
	var names []string
	for _, u := range p.Units.All {
		for _, d := range u.Drives {
			if d.Wire.Driver == unit {
				names = append(names, u.Name)
				break
			}
		}
	}
	return wording.JoinNames(names)
}

func withEffects(list []SafeState) []SafeState {
	kept := list[:0]
	for _, s := range list {
		if s.Effects != "" {
			kept = append(kept, s)
		}
	}
	return kept
}

// wording.WriteJSON writes the hold sheet as one JSON object.
func (s *HoldSheet) WriteJSON(w io.Writer) error { return wording.WriteJSON(w, s) }
