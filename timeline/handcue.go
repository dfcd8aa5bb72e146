package timeline

import "emberbeat/timeline/field"

// HandCue is a cue without a place in timecode: a numbered key of the
// operator's printed plan. It never has a command time. The plan, the rules and
// the sheets count it; nothing numbered drives anything.
type HandCue struct {
	Base
	Key     int // number on the operator's plan; 0 = none yet
	Name    string
	Targets []ID // placed effects and groups
	Article ID   // "" = what stands there
	Open    Time // how long it is held open; 0 = the article's
	Presses int  // how often it is pressed at most
	Set     ID   // running order it belongs to; "" = all
	Song    ID   // song it is meant for; "" = none
	Section string
	When    string // the standby, in words
	Caller  string // who calls it
	ArmBy   string // who raises the arm and switches on what must run before
	Note    string
}

func (h *HandCue) defaults() { h.Presses = 1 }

func init() {
	type H = HandCue
	register("handcue", "handcues", "a cue without timecode: a numbered key of the operator's printed plan, on paper only", showPart,
		func(s *Show, _ ID) []*H { return s.HandCues },
		func(d *Draft, _ ID) *[]*H { return &d.show.HandCues },
		field.Whole("key", "its number on the operator's plan; 0 = none yet", 0, 999, func(h *H) *int { return &h.Key }),
		field.Text("name", "what the crew calls it", func(h *H) *string { return &h.Name }),
		refListField("targets", "placed effects and groups it is meant for", func(h *H) *[]ID { return &h.Targets }, "placed", "group"),
		refField("article", "article, where it differs from what stands there", func(h *H) *ID { return &h.Article }, "article"),
		spanField("open", "how long it is held open; 0 = the article's", func(h *H) *Time { return &h.Open }),
		field.Whole("presses", "how often it is pressed at most, for levels and loads", 1, 1000, func(h *H) *int { return &h.Presses }),
		refField("set", "running order it belongs to; none = all", func(h *H) *ID { return &h.Set }, "set"),
		refField("song", "song it is meant for; none = any time of the show", func(h *H) *ID { return &h.Song }, "song"),
		field.Text("section", "section of that song, by name or id; empty = the whole song", func(h *H) *string { return &h.Section }),
		field.Text("when", "the standby in words: when it is meant", func(h *H) *string { return &h.When }),
		field.Text("caller", "who calls it", func(h *H) *string { return &h.Caller }),
		field.Text("arm-by", "who raises the arm and switches on what must run before: no timecode does", func(h *H) *string { return &h.ArmBy }),
		field.Text("note", "", func(h *H) *string { return &h.Note }),
	)
}

// HandCue finds a hand cue by id, or nil.
func (s *Show) HandCue(id ID) *HandCue { return findRecord(s.HandCues, id) }
